"""Two measures of the same walls compared: work added, omitted and changed, with its marks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from estimator.takeoff.lines import Bar, Conditions, Item, Line, Mark, Measure, Surety
from estimator.units import Quantity


class Kind(Enum):
    """How a line differs."""

    ADDED = "added"
    OMITTED = "omitted"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Changed:
    """One kind of work on one elevation, as it was and as it is."""

    item: Item
    elevation: str
    conditions: Conditions
    surety: Surety
    then: Quantity
    now: Quantity
    marks_gained: tuple[Mark, ...]
    marks_lost: tuple[Mark, ...]

    @property
    def kind(self) -> Kind:
        """Whether the work is new, gone, or more or less than before."""
        if not self.then.amount:
            return Kind.ADDED
        return Kind.CHANGED if self.now.amount else Kind.OMITTED

    @property
    def change(self) -> Decimal:
        """How much more, or less where negative, in the unit of the line."""
        return self.now.amount - self.then.amount


@dataclass(frozen=True, slots=True)
class Difference:
    """All that differs between two measures."""

    lines: tuple[Changed, ...]
    bars_added: tuple[Bar, ...]
    bars_omitted: tuple[Bar, ...]

    def of(self, kind: Kind) -> tuple[Changed, ...]:
        """Return the lines that differ in one way."""
        return tuple(line for line in self.lines if line.kind is kind)

    def __bool__(self) -> bool:
        return bool(self.lines or self.bars_added or self.bars_omitted)


Alike = tuple[Item, str, Conditions, Surety]


@dataclass(slots=True)
class _Run:
    quantity: Quantity
    marks: dict[Mark, None]


def difference(then: Measure, now: Measure) -> Difference:
    """Return what one measure has that another has not, or has otherwise.

    Lines are compared by work, elevation, conditions and surety; bars by where they lie, how long
    they are and how deep. The same work under another mark is no difference.

    >>> from estimator.takeoff.scope import LOCAL
    >>> from estimator.units import Unit
    >>> def work(metres):
    ...     cut = Line(Item.CUT_SLOT, "front", Quantity.of(metres, Unit.METRE), "", ())
    ...     return Measure(LOCAL, (cut,), (), (), (), (), ())
    >>> bool(difference(work(8), work(8)))
    False
    >>> [str(one.change) for one in difference(work(8), work(9.5)).of(Kind.CHANGED)]
    ['1.50']
    """
    old, new = _by_place(then.bars), _by_place(now.bars)
    # Bars are numbered along the wall, so that one more gives others another number.
    renamed = {bar.id: new[place].id for place, bar in old.items() if place in new}
    renamed |= {bar.id: f"{bar.id}, gone" for place, bar in old.items() if place not in new}
    before, after = _joined(then.lines), _joined(now.lines)
    lines = []
    for alike in dict.fromkeys((*after, *before)):
        one = _changed(alike, before.get(alike), after.get(alike), renamed)
        if one is not None:
            lines.append(one)
    return Difference(
        tuple(lines),
        tuple(bar for place, bar in new.items() if place not in old),
        tuple(bar for place, bar in old.items() if place not in new),
    )


def _joined(lines: Iterable[Line]) -> dict[Alike, _Run]:
    found: dict[Alike, _Run] = {}
    for line in lines:
        alike = (line.item, line.elevation, line.conditions, line.surety)
        run = found.get(alike)
        if run is None:
            found[alike] = _Run(line.quantity, dict.fromkeys(line.marks))
        else:
            run.quantity = run.quantity + line.quantity
            run.marks.update(dict.fromkeys(line.marks))
    return found


def _changed(
    alike: Alike, then: _Run | None, now: _Run | None, renamed: Mapping[Mark, Mark]
) -> Changed | None:
    some = now or then
    assert some is not None
    none = Quantity(Decimal(0), some.quantity.unit)
    was, is_now = (then.quantity if then else none), (now.quantity if now else none)
    if was == is_now:
        return None
    # By what they are called now; what is gone keeps the name it had then.
    old = {renamed.get(mark, mark): mark for mark in (then.marks if then else ())}
    new = now.marks if now else {}
    return Changed(
        *alike,
        then=was,
        now=is_now,
        marks_gained=tuple(mark for mark in new if mark not in old),
        marks_lost=tuple(then for mark, then in old.items() if mark not in new),
    )


def _by_place(bars: Iterable[Bar]) -> dict[object, Bar]:
    """Return bars by all that makes one another bar; its number on the wall is no part of that."""
    return {
        (
            bar.elevation,
            bar.course,
            round(bar.left_mm, 3),
            round(bar.right_mm, 3),
            bar.turn_left_mm,
            bar.turn_right_mm,
            bar.pieces_mm,
            bar.slot_depth_mm,
            bar.thin,
        ): bar
        for bar in bars
    }
