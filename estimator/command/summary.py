"""A quotation as the contractor reads it on a terminal: what was found, what it costs, why."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator

from estimator.command.as_json import all_notices
from estimator.money import Money
from estimator.notices import Severity
from estimator.pricing.offer import Offer, OfferLine
from estimator.pricing.price_book import SYMBOLS
from estimator.quoting.quotation import Option, Paper, Quotation
from estimator.sources import all_sources

WIDTH = 96
FIGURES = 12
"""Width of a column of money."""
LOUDNESS = {
    Severity.NOTE: "Note",
    Severity.CAUTION: "Caution",
    Severity.REFER: "Refer",
    Severity.STOP: "Stop",
}


def of(quotation: Quotation) -> str:
    """Return the whole summary as text."""
    parts = [
        _heading(quotation),
        _words(quotation),
        *(
            _option(chr(ord("A") + n), option, SYMBOLS[quotation.currency])
            for n, option in enumerate(quotation.options)
        ),
        _bars(quotation),
        _buying(quotation),
        _notices(quotation),
    ]
    return "\n\n".join("\n".join(lines) for lines in map(list, parts) if lines)


def _heading(quotation: Quotation) -> Iterator[str]:
    survey, assessment = quotation.survey, quotation.assessment
    yield f"{survey.title} ({survey.reference})"
    yield f"Damage category {assessment.category}, {assessment.category_name.lower()}"
    yield f"Route: {assessment.route.value}"
    if not quotation.options:
        yield "No price is given."
    elif quotation.paper is Paper.ESTIMATE:
        yield f"Estimate {quotation.number}, {quotation.date}; not a fixed price"
    else:
        yield f"Quotation {quotation.number}, {quotation.date}, open until {quotation.valid_until}"
    if quotation.options and not quotation.rates_confirmed:
        yield "The price book still holds illustrative rates; put your own in before you send this."


def _words(quotation: Quotation) -> Iterator[str]:
    """The words to say, each with what made them due."""
    said = [outcome for outcome in quotation.assessment.outcomes if outcome.words]
    if said:
        yield "What to say"
    for outcome in said:
        yield from _wrapped(f"{outcome.title} ({outcome.because})", "  ")
        yield from _wrapped(f"“{outcome.words}”", "    ")


def _option(letter: str, option: Option, sign: str) -> Iterator[str]:
    offer = option.offer
    yield _two(f"{letter}  {offer.scope.title}", _headline(option, sign))
    for line in offer.lines:
        yield from _line(line, sign if option.spread is None else "")
    if option.spread is None:
        yield _two("   Before tax", _sum(offer.net, sign))
        for tax in offer.taxes:
            left_out = "" if tax.charged else " (not in the total)"
            yield _two(f"   {tax.title}{left_out}", _sum(tax.amount, sign))
        yield _two("   Total", _sum(offer.total, sign))
        if offer.deduction:
            kept = _sum(offer.deduction, sign)
            yield _two("   Kept back by the customer for the tax office", kept)
    else:
        yield from _wrapped(option.spread.confidence, "   ")
    yield from _time(offer)
    for sentence in offer.visible:
        yield from _wrapped(sentence, "   ")


def _headline(option: Option, sign: str) -> str:
    """An exact sum for a quotation; for an estimate a range, and never pence."""
    taxed = _taxed(option.offer)
    if option.spread is None:
        return f"{_sum(option.offer.total, sign)}, {taxed}"
    low, likely, high = (
        f"{sign}{end.pounds:,.0f}"
        for end in (option.spread.low, option.spread.likely, option.spread.high)
    )
    return f"{low} to {high}, most likely {likely}, {taxed}"


def _taxed(offer: Offer) -> str:
    if not offer.taxes:
        return "no tax"
    is_charged = all(tax.charged for tax in offer.taxes)
    return "all tax in" if is_charged else "tax paid by the customer"


def _line(line: OfferLine, sign: str) -> Iterator[str]:
    """A line with its money, or without where there is no sign for it."""
    quantity = f"{line.quantity} × {line.rate:,f}" if sign else str(line.quantity)
    figures = f"{quantity:>26}" + (f"{_sum(line.amount, sign):>{FIGURES}}" if sign else "")
    first, *rest = _wrapped(line.description, "   ", width=WIDTH - len(figures) - 1)
    yield _two(first, figures)
    yield from rest


def _time(offer: Offer) -> Iterator[str]:
    visits = sum(not step.is_wait for step in offer.programme)
    waits = [step for step in offer.programme if step.is_wait]
    hours, days = offer.labour_hours.normalize(), offer.working_days.normalize()
    words = (
        f"About {hours:f} hours in {days:f} working day{'s' * (days != 1)}, "
        f"{visits} visit{'s' * (visits != 1)}"
    )
    if waits:
        words += f"; waits: {', '.join(step.title.lower() for step in waits)}"
    yield from _wrapped(f"{words}.", "   ")


def _bars(quotation: Quotation) -> Iterator[str]:
    """Every bar with its reasons, then what to buy for them."""
    stitched = next((option for option in quotation.options if option.measure.bars), None)
    if stitched is None:
        return
    yield "Bars"
    for bar in stitched.measure.bars:
        reasons = " ".join(f"{reason.text.rstrip('.')}." for reason in bar.reasons)
        yield from _wrapped(
            f"{bar.id}: {bar.length_mm:,.0f} mm in the bed under course {bar.course}. {reasons}",
            "  ",
        )
    cut = stitched.offer.cutting
    stock = Counter(bar.stock_mm for bar in cut.bars)
    bought = ", ".join(f"{count} of {mm:,} mm" for mm, count in sorted(stock.items()))
    proof = "proved least" if cut.is_exact else f"within {cut.bound_gap:.1f} % of the least"
    yield from _wrapped(f"Cut from {bought}; {cut.offcut_mm:,} mm left over; cost {proof}.", "  ")


def _buying(quotation: Quotation) -> Iterator[str]:
    for option in quotation.options:
        if option.offer.buying:
            yield f"To buy for {option.offer.scope.title.lower()}"
        for bought in option.offer.buying:
            size = f"{bought.pack_size.normalize():f} {bought.needed.unit.symbol}"
            yield _two(
                f"  {bought.title}: {bought.needed} needed, {bought.packs} × {size}",
                _sum(bought.cost, SYMBOLS[quotation.currency]),
            )
        for mixed in option.offer.mixing:
            times = "1 mix" if mixed.mixes == 1 else f"{mixed.mixes} mixes"
            yield from _wrapped(
                f"{mixed.title}: {times} of no more than {mixed.at_once}, each placed within"
                f" {mixed.working_minutes} minutes or what the bag says.",
                "  ",
            )


def _notices(quotation: Quotation) -> Iterator[str]:
    said = {outcome.words for outcome in quotation.assessment.outcomes}
    notices = [notice for notice in all_notices(quotation) if notice.text not in said]
    if notices:
        yield "Notices"
    for notice in notices:
        known = all_sources().get(notice.source)
        source = f" [{known}]" if known and known.is_print else ""
        yield from _wrapped(f"{LOUDNESS[notice.severity]}: {notice.text}{source}", "  ")


def _sum(sum_: Money, sign: str) -> str:
    return f"{sign}{sum_.pounds:,}"


def _two(left: str, right: str) -> str:
    """Set two texts on one line, the second against the right edge."""
    return f"{left}{right:>{max(len(right) + 1, WIDTH - len(left))}}"


def _wrapped(text: str, indent: str, *, width: int = WIDTH) -> Iterable[str]:
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + "  ") or [
        indent
    ]
