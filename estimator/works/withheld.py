"""What the wall shows and no agreed paper covers: told to the gang, and never claimed as done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from estimator.contract.agreed_work import agreed_work, not_agreed
from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.taken_off import covered_last
from estimator.contract.variation import Valued
from estimator.pricing.price_book import PriceBook
from estimator.pricing.work_lines import describe
from estimator.takeoff.lines import Bar, Item, Line, Mark
from estimator.units import Quantity, Unit
from estimator.works import marks
from estimator.works.noted import built_now, shared_mm
from estimator.works.site_work import SiteWork, site_work

OF_BARS = {
    one.value
    for one in (
        *(Item.CUT_SLOT, Item.SET_BAR, Item.TURN_BAR, Item.LAP_BAR),
        *(Item.SKIM_ARRIS, Item.POINT_SLOT),
    )
}
"""Work that goes with a bar: told once, with the bar."""
ASIDE = {Item.MAKE_GOOD.value, Item.PROTECT.value, Item.CLEAR_WASTE.value}
"""Work that follows of itself from the rest."""
WORK = {one.value for one in Item} - ASIDE


@dataclass(frozen=True, slots=True)
class Withheld:
    """One kind of work on the wall that is not agreed, as a change of what is."""

    item: Item
    words: str
    """As the papers on money describe it."""
    amount: Quantity
    """How much more the wall shows than is agreed; less than nothing where it shows less."""
    marks: tuple[Mark, ...] = ()
    """Where it is; none where nobody can tell it from work that is agreed."""
    places: tuple[str, ...] = ()
    """The marks in words."""

    @property
    def is_more(self) -> bool:
        """Whether it would be built on top of what is agreed, and not left out."""
        return self.amount.amount > 0

    @property
    def is_some_of(self) -> bool:
        """Whether only some of the places are meant, and nothing says which."""
        return self.amount.unit is Unit.NUMBER and len(self.marks) > abs(self.amount.amount)


def withheld(so_far: SoFar) -> tuple[Withheld, ...]:
    """Return the work that the wall of the agreed work shows and no agreed paper covers.

    >>> withheld(SoFar())
    ()
    """
    if so_far.contract is None:
        return ()
    return _withheld(so_far.contract, so_far.agreed)


def withheld_marks(found: Iterable[Withheld]) -> frozenset[Mark]:
    """Return the places at which all of the work is withheld, and no doubt about it.

    >>> withheld_marks(())
    frozenset()
    """
    sure = (one for one in found if one.is_more and not one.is_some_of)
    return frozenset(mark for one in sure for mark in one.marks)


def work_agreed(so_far: SoFar) -> SiteWork:
    """Return the work of the site without what is withheld, so that nobody claims it.

    Raises:
        ValueError: before anything was accepted.

    >>> work_agreed(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    work = site_work(so_far)
    found = [one for one in not_agreed(so_far) if one.item in WORK | ASIDE and one.change > 0]
    if not found:
        return work
    gone = withheld_marks(withheld(so_far)) - {one.mark for one in built_now(so_far)}
    lines = list(work.measure.lines)
    for one in found:
        lines = list(_less(lines, one, gone, work.book))
    bars = tuple(bar for bar in work.measure.bars if bar.id not in gone)
    return replace(work, measure=replace(work.measure, lines=tuple(lines), bars=bars))


def _less(
    lines: Iterable[Line], valued: Valued, gone: frozenset[Mark], book: PriceBook
) -> Iterator[Line]:
    """Yield lines with less of what is not agreed: first of the very kind, then of any alike."""
    item = Item(valued.item)
    if item is Item.ALLOWED_BRICK:
        # Bricks found are priced as further bricks and stand in the wall as bricks replaced.
        item = Item.REPLACE_BRICK

    def is_other(line: Line) -> bool:
        return describe(book.output(line.item), line.conditions) != valued.description

    left = valued.change
    alike = [line for line in lines if line.item is item]
    kept: dict[int, Decimal] = {}
    for line in sorted(alike, key=is_other):
        kept[id(line)] = max(line.quantity.amount - left, Decimal(0))
        left = max(left - line.quantity.amount, Decimal(0))
    for line in lines:
        amount = kept.get(id(line), line.quantity.amount)
        if amount:
            stay = tuple(mark for mark in line.marks if mark not in gone)
            yield replace(line, quantity=Quantity(amount, line.quantity.unit), marks=stay)


@lru_cache(maxsize=8)
def _withheld(contract: Contract, agreed: tuple[Varied, ...]) -> tuple[Withheld, ...]:
    so_far = SoFar(contract=contract, variations=agreed)
    lines = [one for one in not_agreed(so_far) if one.item in WORK and one.change]
    if not lines:
        return ()
    bars = {bar.id: bar for bar in agreed_work(so_far).measure.bars}
    covered = _Covered(contract, agreed)
    return tuple(_told(one, bars, covered) for one in _once(lines))


def _once(lines: Iterable[Valued]) -> Iterator[Valued]:
    """Yield lines; of those that go with a bar only the bars themselves, where any are set."""
    lines = list(lines)
    is_set = any(one.item == Item.SET_BAR.value for one in lines)
    for one in lines:
        if not is_set or one.item not in OF_BARS or one.item == Item.SET_BAR.value:
            yield one


def _told(one: Valued, bars: Mapping[Mark, Bar], covered: _Covered) -> Withheld:
    new = tuple(mark for mark in one.marks if not covered.has(mark, bars.get(mark)))
    found = new if one.change > 0 else ()
    places = tuple(marks.bar_words(bars[at]) if at in bars else marks.words(at) for at in found)
    amount = Quantity(one.change, one.unit)
    return Withheld(Item(one.item), one.description, amount, found, places)


class _Covered:
    """The places that the contract and the variations agreed have paid for."""

    def __init__(self, contract: Contract, agreed: tuple[Varied, ...]) -> None:
        self._marks = {mark for line in contract.lines for mark in line.marks}
        self._bars = list(covered_last(contract, ()).measure.bars)
        for varied in agreed:
            told = {mark for line in varied.variation.lines for mark in line.marks}
            self._marks |= told
            then = covered_last(contract, (varied,)).measure.bars
            self._bars += [bar for bar in then if bar.id in told]

    def has(self, mark: Mark, bar: Bar | None) -> bool:
        """Whether something is agreed there; bars go by their bed, for their numbers move."""
        if bar is None:
            return mark in self._marks
        return any(shared_mm(bar, one) > 0 for one in self._bars)
