"""What stands in the ladder: the work of one option by groups, opened to lines and their build-up.

A row is a plain value, so that the widget that shows it is only drawn again when its row changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.desktop.language import _, counted
from estimator.desktop.money import saying
from estimator.documents import formats
from estimator.money import Money, total
from estimator.pricing.offer import Group, Offer, OfferLine, Rung
from estimator.takeoff.lines import Item, Surety
from estimator.units import Quantity, Unit

LEADING: dict[Group, tuple[Item, ...]] = {
    Group.BEDS: (Item.CUT_SLOT,),
    Group.BARS: (Item.SET_BAR,),
    Group.CRACK: (Item.POINT_SLOT, Item.POINT_CRACK_BED),
    Group.PANEL: (Item.REPOINT,),
}
"""The items whose quantity stands for a group."""
RUNGS, SEEN = "rungs", "seen"
NOT_RUNGS = ("net", "tax", "total")
"""Steps that stand in the ladder as sums already."""
SUMS = "sum/"


@dataclass(frozen=True, slots=True)
class LadderRow:
    """One row as it is shown."""

    key: str
    title: str
    amount: str = ""
    quantity: str = ""
    note: str = ""
    """A second line under the title, quieter."""
    level: int = 0
    marks: frozenset[str] = frozenset()
    is_open: bool | None = None
    """None for a row that does not open."""
    is_sum: bool = False
    is_struck: bool = False
    """Whether a line is struck above it."""

    @property
    def said(self) -> str:
        """The row in words, for a screen reader."""
        parts = [self.title, self.quantity, self.amount, self.note]
        if self.is_open is not None:
            parts.append(_("open") if self.is_open else _("closed"))
        return ", ".join(part for part in parts if part)


def group_title(group: Group, offer: Offer) -> str:
    """Return what a group of lines is called on the screen."""
    if group is Group.BEDS:
        return counted("Cut, clean and damp {n} bed", "Cut, clean and damp {n} beds", _bars(offer))
    if group is Group.BARS:
        return counted("{n} bar in grout", "{n} bars in grout", _bars(offer))
    return _plain_titles()[group]


def _plain_titles() -> dict[Group, str]:
    return {
        Group.CRACK: _("Rake and point crack and cuts"),
        Group.PANEL: _("Rake out and repoint the panel"),
        Group.BRICKS: _("Cracked bricks"),
        Group.PROTECT: _("Dust, sheets, waste away"),
        Group.ACCESS: _("Access"),
        Group.VISITS: _("Travel and setting up"),
        Group.PRELIMINARIES: _("Preliminaries and risk"),
    }


def _bars(offer: Offer) -> int:
    set_bar = Item.SET_BAR.value
    return len({mark for line in offer.lines if line.item == set_bar for mark in line.marks})


def rows_of(
    offer: Offer,
    opened: Iterable[str],
    *,
    firm: bool,
    note: str = "",
    whole: frozenset[str] = frozenset(),
) -> tuple[LadderRow, ...]:
    """Return the rows of an option's ladder, those within opened ones included.

    Args:
        offer: The option, priced.
        opened: Keys of the rows that are open.
        firm: Whether the price is a fixed one, and so in pence.
        note: What stands under the total.
        whole: The marks of the sides worked on, which carry what no other mark does.
    """
    rows = _rows(offer, frozenset(opened), firm=firm, note=note)
    return tuple(
        replace(row, marks=whole) if whole and _is_unmarked(row, offer) else row for row in rows
    )


def _is_unmarked(row: LadderRow, offer: Offer) -> bool:
    """Whether a row stands for lines that belong to no mark of their own."""
    return not row.marks and bool(lines_of(offer, row.key))


def _rows(offer: Offer, opened: frozenset[str], *, firm: bool, note: str) -> Iterator[LadderRow]:
    groups = [group for group in Group if any(line.group is group for line in offer.lines)]
    lines = [[line for line in offer.lines if line.group is group] for group in groups]
    sums = _shown([total(line.amount for line in one) for one in lines], firm=firm)
    for group, within, amount in zip(groups, lines, sums, strict=True):
        key = group.name
        yield LadderRow(
            key,
            group_title(group, offer),
            _money(amount, firm=firm),
            _group_quantity(group, within, offer),
            marks=frozenset(mark for line in within for mark in line.marks),
            is_open=key in opened,
        )
        if key in opened:
            yield from _line_rows(key, within, opened, whole=amount, firm=firm)
    yield from _sum_rows(offer, firm=firm, note=note)
    yield LadderRow(RUNGS, _("From cost to price"), is_open=RUNGS in opened)
    if RUNGS in opened:
        yield from _rung_rows(offer.rungs, firm=firm)


def _line_rows(
    group: str, lines: Sequence[OfferLine], opened: frozenset[str], *, whole: Money, firm: bool
) -> Iterator[LadderRow]:
    shown = _shown([line.amount for line in lines], firm=firm)
    # The group's figure was rounded among its neighbours; its first line takes up the odd pound.
    shown = (shown[0] + (whole - total(shown)), *shown[1:])
    for place, (line, amount) in enumerate(zip(lines, shown, strict=True)):
        key = f"{group}/{place}"
        is_open = key in opened
        yield LadderRow(
            key,
            line.description,
            _money(amount, firm=firm),
            _line_quantity(line),
            _rate_note(line) if is_open else "",
            level=1,
            marks=frozenset(line.marks),
            is_open=is_open if line.parts else None,
        )
        if is_open:
            yield from _part_rows(key, line)


def _part_rows(key: str, line: OfferLine) -> Iterator[LadderRow]:
    marks = frozenset(line.marks)
    for place, part in enumerate(line.parts):
        amount = _pence(part.amount) if part.amount else ""
        yield LadderRow(
            f"{key}/{place}", part.title, amount, note=part.working, level=2, marks=marks
        )


def _sum_rows(offer: Offer, *, firm: bool, note: str) -> Iterator[LadderRow]:
    net = offer.net if firm else _to_pound(offer.net)
    yield LadderRow(
        f"{SUMS}net",
        saying.before_tax(offer),
        _money(net, firm=firm),
        is_sum=True,
        is_struck=True,
    )
    for place, tax in enumerate(offer.taxes):
        charged = tax.amount if firm else _to_pound(offer.total) - net
        if tax.charged and (firm or place == 0):
            yield LadderRow(
                f"{SUMS}tax{place}", _tax_title(offer, tax.title), _money(charged, firm=firm)
            )
        elif not tax.charged:
            yield LadderRow(f"{SUMS}tax{place}", tax.title, note=_("not in the total"))
    if offer.taxes:
        yield LadderRow(
            f"{SUMS}total",
            _("Total to pay") if firm else _("With all at its likeliest"),
            _money(offer.total if firm else _to_pound(offer.total), firm=firm),
            note=note,
            is_sum=True,
        )
    if offer.deduction:
        kept = _money(offer.deduction if firm else _to_pound(offer.deduction), firm=firm)
        yield LadderRow(f"{SUMS}kept", _("Kept back for the tax office"), kept)


def _tax_title(offer: Offer, title: str) -> str:
    return title if len(offer.taxes) == 1 else _("VAT")


def _rung_rows(rungs: Sequence[Rung], *, firm: bool) -> Iterator[LadderRow]:
    steps = [rung for rung in rungs if rung.key not in NOT_RUNGS]
    shown = _shown([rung.amount for rung in steps], firm=firm)
    for rung, amount in zip(steps, shown, strict=True):
        if amount:
            yield LadderRow(
                f"{RUNGS}/{rung.key}",
                rung.title,
                _money(amount, firm=firm),
                note=rung.working,
                level=1,
            )


def seen_rows(sentences: Sequence[str], opened: Iterable[str]) -> Iterator[LadderRow]:
    """Yield a row that opens to all that will be seen, where a card has not room for it."""
    if len(sentences) <= saying.ON_A_CARD:
        return
    is_open = SEEN in opened
    yield LadderRow(SEEN, _("All that will be seen on the wall"), is_open=is_open)
    if is_open:
        for place, sentence in enumerate(sentences):
            yield LadderRow(f"{SEEN}/{place}", sentence, level=1)


def _group_quantity(group: Group, lines: Sequence[OfferLine], offer: Offer) -> str:
    if group is Group.VISITS:
        visits = sum(not step.is_wait for step in offer.programme)
        return counted("{n} visit", "{n} visits", visits)
    if group is Group.BRICKS:
        return _brick_quantity(lines)
    leading = {item.value for item in LEADING.get(group, ())}
    kept = [line.quantity for line in lines if line.item in leading]
    alike = [one for one in kept if one.unit is kept[0].unit]
    if not alike:
        return ""
    summed = sum((one.amount for one in alike), Decimal(0))
    return formats.quantity(Quantity(summed, alike[0].unit))


def _brick_quantity(lines: Sequence[OfferLine]) -> str:
    """Say how many bricks are seen, and how many more are allowed for."""
    bricks = [line for line in lines if line.quantity.unit is Unit.NUMBER]
    allowed = sum(
        (int(one.quantity.amount) for one in bricks if one.item == Item.ALLOWED_BRICK.value), 0
    )
    measured = {item.value for item in Item} - {Item.ALLOWED_BRICK.value, Item.TOOTH_IN.value}
    seen = sum((int(one.quantity.amount) for one in bricks if one.item in measured), 0)
    if allowed and seen:
        return _("{seen}, allow {more}").format(seen=seen, more=allowed)
    return _("allow {more}").format(more=allowed) if allowed else _("{seen} nr").format(seen=seen)


def _line_quantity(line: OfferLine) -> str:
    shown = formats.quantity(line.quantity)
    return _("allow {quantity}").format(quantity=shown) if _is_allowed(line) else shown


def _is_allowed(line: OfferLine) -> bool:
    return line.surety is Surety.ALLOWED


def _rate_note(line: OfferLine) -> str:
    """Say what one unit sells for and how the quantity was come by."""
    rate = _pence(line.rate)
    if line.quantity.unit is Unit.ITEM:
        return _("One sum")
    gaps = {"rate": rate, "unit": line.quantity.unit.symbol, "surety": line.surety.value}
    if line.item not in {item.value for item in Item}:
        return _("{rate} for each {unit}, built up like this").format(**gaps)
    return _("{rate} for each {unit} ({surety}), built up like this").format(**gaps)


def _pence(pounds: Decimal) -> str:
    return formats.money(Money.of(pounds))


def _to_pound(amount: Money) -> Money:
    return saying.in_whole_pounds([amount])[0]


def _shown(amounts: Sequence[Money], *, firm: bool) -> tuple[Money, ...]:
    return tuple(amounts) if firm else saying.in_whole_pounds(amounts)


def _money(amount: Money, *, firm: bool) -> str:
    return formats.money(amount) if firm else saying.whole(amount)


def places_of(offer: Offer, key: str) -> tuple[int, ...]:
    """Return which lines of the offer a row of the ladder stands for; none for a sum."""
    group, _slash, rest = key.partition("/")
    within = [n for n, line in enumerate(offer.lines) if line.group.name == group]
    if not rest:
        return tuple(within)
    return (within[int(rest.partition("/")[0])],) if within else ()


def lines_of(offer: Offer, key: str) -> tuple[OfferLine, ...]:
    """Return the lines a row of the ladder stands for; none for a sum."""
    return tuple(offer.lines[n] for n in places_of(offer, key))
