"""A quotation as one JSON object, for other programs.

Money, hours and quantities are text, so that nobody's floats get at them; lengths of bars are whole
millimetres. Work, bars and buying stand once at the top, each entry naming the options it belongs
to, because most of it is shared between them. The keys are a promise: they may be added to, and are
neither renamed nor taken away.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from estimator.notices import Notice
from estimator.pricing.offer import Bought, OfferLine, TaxLine
from estimator.quoting.quotation import Option, Quotation, Spread
from estimator.takeoff.lines import Bar, Line, Need, Reach
from estimator.takeoff.rules import Rules
from estimator.units import Quantity

Json = dict[str, Any]


def of(quotation: Quotation, rules: Rules) -> Json:
    """Return everything a quotation says, ready for ``json.dumps``."""
    assessment, options = quotation.assessment, quotation.options
    return {
        "reference": quotation.survey.reference,
        "paper": quotation.paper.value if options else None,
        "number": quotation.number,
        "date": quotation.date,
        "valid_until": quotation.valid_until,
        "damage_category": assessment.category,
        "damage_category_name": assessment.category_name,
        "route": assessment.route.value,
        "words": [
            {"id": outcome.id, "title": outcome.title, "text": outcome.words}
            | {"because": outcome.because, "source": outcome.source}
            for outcome in assessment.outcomes
        ],
        "currency": quotation.currency,
        "rates_confirmed": quotation.rates_confirmed,
        "notices": [_notice(notice) for notice in all_notices(quotation)],
        "quantities": _shared(options, lambda option: map(_line, option.measure.lines)),
        "options": [_option(option) for option in options],
        "bars": _bars(options, rules),
        "materials": _shared(options, lambda option: map(_need, option.measure.needs)),
        "access": _shared(options, lambda option: map(_reach, option.measure.reaches)),
        "buying": _shared(options, lambda option: map(_bought, option.offer.buying)),
    }


def all_notices(quotation: Quotation) -> tuple[Notice, ...]:
    """Return every notice once, the loudest first, in the order they were given."""
    said = list(quotation.assessment.notices)
    for option in quotation.options:
        said += [*option.measure.notices, *option.offer.notices]
    return tuple(sorted(dict.fromkeys(said), key=lambda notice: -notice.severity))


def _shared(options: Sequence[Option], entries: Callable[[Option], Iterable[Json]]) -> list[Json]:
    """Return the entries of all options, each once, with the keys of the options that have it."""
    found: list[Json] = []
    owners: list[list[str]] = []
    for option in options:
        for entry in entries(option):
            if entry not in found:
                found.append(entry)
                owners.append([])
            owners[found.index(entry)].append(option.measure.scope.key)
    return [
        {**entry, "options": list(dict.fromkeys(keys))}
        for entry, keys in zip(found, owners, strict=True)
    ]


def _notice(notice: Notice) -> Json:
    return {
        "code": notice.code,
        "severity": notice.severity.name.lower(),
        "text": notice.text,
        "source": notice.source,
    }


def _amount(quantity: Quantity) -> str:
    return f"{quantity.amount:f}"


def _line(line: Line) -> Json:
    return {
        "item": line.item.value,
        "elevation": line.elevation,
        "unit": line.quantity.unit.symbol,
        "quantity": _amount(line.quantity),
        "working": line.working,
        "marks": list(line.marks),
        "surety": line.surety.value,
    }


def _need(need: Need) -> Json:
    """Return a material before it is pooled into packs, with its reckoning; waste is in."""
    return {
        "material": need.material,
        "for": need.item.value,
        "unit": need.quantity.unit.symbol,
        "quantity": _amount(need.quantity),
        "working": need.working,
    }


def _reach(reach: Reach) -> Json:
    return {
        "elevation": reach.elevation,
        "means": reach.means,
        "height_mm": f"{reach.top_mm:.0f}",
        "width_mm": f"{reach.width_mm:.0f}",
        "working": reach.reason,
    }


def _option(option: Option) -> Json:
    offer = option.offer
    return {
        "key": offer.scope.key,
        "title": offer.scope.title,
        "lines": [_offer_line(line) for line in offer.lines],
        "net": str(offer.net),
        "tax": [_tax(tax) for tax in offer.taxes],
        "total": str(offer.total),
        "deduction": str(offer.deduction),
        "further_brick": str(offer.further_brick),
        "labour_hours": f"{offer.labour_hours:f}",
        "working_days": f"{offer.working_days:f}",
        "programme": [
            {"title": step.title, "days": f"{step.days:f}", "is_wait": step.is_wait}
            for step in offer.programme
        ],
        "build_up": [
            {"key": rung.key, "title": rung.title, "amount": str(rung.amount)}
            for rung in offer.rungs
        ],
        "range": _range(option.spread),
        "left_visible": list(offer.visible),
        "mixing": [
            {
                "material": mixed.title,
                "mixes": mixed.mixes,
                "at_once": _amount(mixed.at_once),
                "unit": mixed.at_once.unit.symbol,
                "working_minutes": mixed.working_minutes,
            }
            for mixed in offer.mixing
        ],
    }


def _offer_line(line: OfferLine) -> Json:
    return {
        "item": line.item,
        "description": line.description,
        "quantity": _amount(line.quantity),
        "unit": line.quantity.unit.symbol,
        "rate": f"{line.rate:f}",
        "amount": str(line.amount),
        "marks": list(line.marks),
        "surety": line.surety.value,
    }


def _tax(tax: TaxLine) -> Json:
    return {
        "title": tax.title,
        "rate": f"{tax.rate:f}",
        "base": str(tax.base),
        "amount": str(tax.amount),
        "charged": tax.charged,
    }


def _range(spread: Spread | None) -> Json | None:
    if spread is None:
        return None
    return {
        "low": str(spread.low),
        "likely": str(spread.likely),
        "high": str(spread.high),
        "confidence": spread.confidence,
    }


def _bars(options: Sequence[Option], rules: Rules) -> Json:
    """Return the bars of the first option that stitches; all that do set the same ones."""
    stitched = next((option for option in options if option.measure.bars), None)
    bars = stitched.measure.bars if stitched else ()
    cut = stitched.offer.cutting if stitched else None
    lengths = Counter(bar.stock_mm for bar in cut.bars) if cut else Counter[int]()
    return {
        "diameter_mm": f"{rules.bar_mm:g}",
        "pieces_mm": [piece for bar in bars for piece in bar.pieces_mm],
        "stock": [{"length_mm": mm, "count": count} for mm, count in sorted(lengths.items())],
        "offcut_mm": cut.offcut_mm if cut else 0,
        "bound_gap": f"{cut.bound_gap:.2f}" if cut else "0.00",
        "set": [_bar(bar) for bar in bars],
    }


def _bar(bar: Bar) -> Json:
    return {
        "id": bar.id,
        "elevation": bar.elevation,
        "course": bar.course,
        "length_mm": f"{bar.length_mm:.0f}",
        "slot_depth_mm": bar.slot_depth_mm,
        "cracks": list(bar.cracks),
        "reasons": [reason.text for reason in bar.reasons],
    }


def _bought(bought: Bought) -> Json:
    return {
        "material": bought.material,
        "title": bought.title,
        "needed": _amount(bought.needed),
        "unit": bought.needed.unit.symbol,
        "packs": str(bought.packs),
        "pack_size": f"{bought.pack_size:f}",
        "cost": str(bought.cost),
    }
