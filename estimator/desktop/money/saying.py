"""A price in words: what a card, the head and the foot of the money say of a ``Sight``.

Nothing here draws; it only chooses sentences, so it can be tried without a window.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise

from estimator.desktop.language import _, counted
from estimator.desktop.state import Sight
from estimator.documents import formats
from estimator.money import Money
from estimator.pricing.offer import Offer
from estimator.pricing.risk import Band
from estimator.quoting.quotation import Option
from estimator.survey.ranges import settled
from estimator.takeoff.scope import LOCAL, PANEL

HALF_DAY = Decimal("0.5")
ABOUT = Money.of(10)
"""A price that is only told about is said in whole steps of this."""
ON_A_CARD = 2
"""Sentences on a card; all of them stand in the ladder where there are more."""
NEAR = Money.of(20)
"""Two likely prices nearer than this are about the same."""


@lru_cache(maxsize=4096)
def whole(amount: Money) -> str:
    """Return a sum in whole pounds; kept, since the same sums are shown over and over.

    >>> whole(Money.of("1488.60"))
    '£1,489'
    """
    return formats.whole_money(amount)


def is_firm(sight: Sight) -> bool:
    """Whether a fixed price may be given: the route allows one and nothing is a range.

    The same question that the paper's flow decides by.
    """
    survey = sight.work.survey
    return sight.assessment.route.allows_fixed_price and settled(survey) is survey


def band_of(sight: Sight, option: Option) -> Band | None:
    """Return the range of an option, or None while there is none or it needs none."""
    if sight.outlook is None or is_firm(sight):
        return None
    keys = [scope.key for scope in sight.work.scopes]
    key = option.measure.scope.key
    if key not in keys or len(keys) != len(sight.outlook.bands):
        return None
    return sight.outlook.bands[keys.index(key)]


def about(amount: Money) -> Money:
    """Return a sum to the nearest ten pounds, for one that nobody holds us to.

    >>> str(about(Money.of("758.40")))
    '760.00'
    """
    return Money((amount.pence + ABOUT.pence // 2) // ABOUT.pence * ABOUT.pence)


def price(option: Option, band: Band | None, *, firm: bool) -> str:
    """Return the price as the big sentence of a card."""
    if firm:
        return formats.money(option.offer.total)
    if band is None:
        return _("about {likely}").format(likely=whole(about(option.offer.total)))
    low, high = whole(band.low), whole(band.high)
    return low if low == high else _("{low} to {high}").format(low=low, high=high)


def likely(band: Band | None) -> str:
    """Return what stands beside a range; nothing without one."""
    if band is None:
        return ""
    return _("likely {likely}").format(likely=whole(band.likely))


def above(band: Band | None) -> str:
    """Return where the middle of a range lies, beside a sum of likely sizes."""
    if band is None:
        return ""
    middle = whole(band.likely)
    return _("Half of jobs like this one end above {middle}.").format(middle=middle)


def range_said(option: Option, band: Band | None, *, firm: bool) -> str:
    """Return the painted band in words, for who cannot see it."""
    if firm:
        return _("Firm price {price}").format(price=formats.money(option.offer.total))
    if band is None:
        return _("About {likely}; the range is not worked out yet.").format(
            likely=whole(about(option.offer.total))
        )
    return _("From {low} to {high}, likely {likely}. {confidence}").format(
        low=whole(band.low),
        high=whole(band.high),
        likely=whole(band.likely),
        confidence=band.confidence,
    )


def tax_note(options: Sequence[Option]) -> str:
    """Return what stands beside the head: whether tax is in the prices."""
    taxes = [tax for option in options for tax in option.offer.taxes]
    if not options:
        return ""
    if not taxes:
        return _("no VAT to pay")
    if not all(tax.charged for tax in taxes):
        return _("VAT accounted for by the customer")
    return _("with VAT") if any(tax.amount for tax in taxes) else _("VAT at nothing")


def problem(sight: Sight) -> tuple[str, str]:
    """Return why there is no price where one may be given, as heading and words."""
    if sight.options or not sight.assessment.route.allows_price:
        return "", ""
    if sight.problem:
        return _("No price yet"), sight.problem[:1].upper() + sight.problem[1:]
    return (
        _("Nothing to price yet"),
        _("Say where the crack runs, or offer other work: none of it is needed here."),
    )


def before_tax(offer: Offer) -> str:
    """Return what the struck sum is called."""
    return _("Before VAT") if offer.taxes else _("Total, no VAT to pay")


def all_seen(option: Option) -> tuple[str, ...]:
    """Return every sentence on what the customer will still see on the wall."""
    return option.offer.visible or option.measure.visible


def seen(option: Option) -> str:
    """Return what the customer will still see, short enough for a card."""
    sentences = all_seen(option)
    more = len(sentences) - ON_A_CARD
    if more <= 0:
        return " ".join(sentences)
    rest = counted("And one thing more.", "And {n} things more.", more)
    return " ".join((*sentences[:ON_A_CARD], rest))


def time(offer: Offer) -> str:
    """Return how many visits, how long, and what is waited for."""
    visits = sum(not step.is_wait for step in offer.programme)
    parts = [counted("{n} visit", "{n} visits", visits), _days(offer.working_days)]
    told = _("{visits}, {days}").format(visits=parts[0], days=parts[1])
    after = _afterwards(offer)
    return _("{time} · {after}").format(time=told, after=after) if after else told


def _days(days: Decimal) -> str:
    if days <= HALF_DAY:
        return _("half a day")
    if days == 1:
        return _("about a day")
    return _("{days} days").format(days=formats.plain(days))


def _afterwards(offer: Offer) -> str:
    """Say what the wall asks for when the last visit is over."""
    last = max((n for n, step in enumerate(offer.programme) if not step.is_wait), default=-1)
    between = sum((step.days for step in offer.programme[:last] if step.is_wait), Decimal(0))
    after = sum((step.days for step in offer.programme[last + 1 :]), Decimal(0))
    said = []
    if between:
        said.append(counted("{n} day between", "{n} days between", int(between)))
    if after:
        said.append(counted("kept damp {n} day after", "kept damp {n} days after", int(after)))
    return " · ".join(said)


def difference(options: Sequence[Option], sight: Sight) -> str:
    """Return how the first two options differ, in one sentence; nothing for fewer."""
    if len(options) < 2:
        return ""
    first, second = options[0], options[1]
    sums = [_likely_of(sight, one) for one in (first, second)]
    gap = Money(abs(sums[1].pence - sums[0].pence))
    if gap < NEAR:
        return _("Both cost about the same.")
    firm = is_firm(sight)
    shown = formats.money(gap) if firm else whole(about(gap))
    gaps = {
        "gap": shown if firm else _("about {gap}").format(gap=shown),
        "first": first.offer.scope.title,
        "second": second.offer.scope.title,
    }
    if (first.offer.scope.key, second.offer.scope.key) == (LOCAL.key, PANEL.key):
        more, less = _panel_difference(second)
    else:
        more, less = (
            _("“{second}” costs {gap} more than “{first}”."),
            _("“{second}” costs {gap} less than “{first}”."),
        )
    return (more if sums[1] > sums[0] else less).format(**gaps)


def _panel_difference(panel: Option) -> tuple[str, str]:
    """Return how a whole panel differs; that it hides the cuts only where nothing else is seen."""
    if panel.measure.panels and len(all_seen(panel)) == 1:
        return (
            _("Repointing the whole panel costs {gap} more, and no cut or crack line is seen."),
            _("Repointing the whole panel costs {gap} less, and no cut or crack line is seen."),
        )
    return (
        _("Repointing the whole panel costs {gap} more."),
        _("Repointing the whole panel costs {gap} less."),
    )


def _likely_of(sight: Sight, option: Option) -> Money:
    band = band_of(sight, option)
    return option.offer.total if band is None else band.likely


def further_brick(offer: Offer, *, firm: bool) -> str:
    """Return the promise about bricks found cracked once work starts; nothing without a rate."""
    rate = offer.further_brick
    if not rate:
        return ""
    shown = formats.money(rate) if firm else whole(rate)
    if offer.taxes:
        return _("Provisional: each further cracked brick {rate}, before VAT").format(rate=shown)
    return _("Provisional: each further cracked brick {rate}").format(rate=shown)


def carried(marks: frozenset[str], amount: Money, lines: int, *, firm: bool, taxed: bool) -> str:
    """Return what marks on the wall carry of the price, as a sentence."""
    gaps = {
        "money": formats.money(amount) if firm else whole(amount),
        "lines": counted("{n} line", "{n} lines", lines),
    }
    sentence = _carried(marks) if taxed else _carried_whole(marks)
    return sentence.format(**gaps)


def kind_of(marks: frozenset[str]) -> str:
    """Return what marks pointed at together are: a crack brings its perpends with it.

    >>> kind_of(frozenset({"front/bar/1"})), kind_of(frozenset({"front/bar/1", "front/bar/2"}))
    ('bar', '')
    """
    kinds = {mark.split("/")[1] if "/" in mark else "side" for mark in marks}
    cracks = sum("/crack/" in mark for mark in marks)
    if cracks == 1 and kinds <= {"crack", "perpend", "bed"}:
        return "crack"
    return kinds.pop() if len(marks) == 1 else ""


def _carried(marks: frozenset[str]) -> str:
    return {
        "bar": _("This bar: {money} of the price before VAT, in {lines}"),
        "crack": _("This crack: {money} of the price before VAT, in {lines}"),
        "brick": _("This brick: {money} of the price before VAT, in {lines}"),
        "area": _("This area: {money} of the price before VAT, in {lines}"),
    }.get(kind_of(marks), _("Pointed at: {money} of the price before VAT, in {lines}"))


def _carried_whole(marks: frozenset[str]) -> str:
    return {
        "bar": _("This bar: {money} of the price, in {lines}"),
        "crack": _("This crack: {money} of the price, in {lines}"),
        "brick": _("This brick: {money} of the price, in {lines}"),
        "area": _("This area: {money} of the price, in {lines}"),
    }.get(kind_of(marks), _("Pointed at: {money} of the price, in {lines}"))


def in_whole_pounds(amounts: Sequence[Money]) -> tuple[Money, ...]:
    """Return amounts in whole pounds that still add up to their rounded sum.

    The running total is rounded, so each figure is less than a pound from its amount.

    >>> [str(one) for one in in_whole_pounds([Money.of("1.50"), Money.of("1.50")])]
    ['2.00', '1.00']
    """
    running, struck = 0, [0]
    for amount in amounts:
        running += amount.pence
        struck.append((running + 50) // 100 * 100)
    return tuple(Money(after - before) for before, after in pairwise(struck))


def scale_end(sums: Sequence[Money]) -> Money:
    """Return where one scale for all prices ends: a round sum some way above the dearest.

    It moves in steps, so that answering a question does not stretch it each time.

    >>> str(scale_end([Money.of(980), Money.of(1850)]))
    '2400.00'
    """
    most = max((one.pence for one in sums), default=0)
    step = 10_000
    while True:
        for times in (10, 12, 16, 20, 24, 32, 40, 50, 64, 80):
            if step * times // 10 >= most * 115 // 100:
                return Money(step * times // 10)
        step *= 10
