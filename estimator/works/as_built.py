"""The as-built record: what was planned at each mark, what was done there, and who signed.

Nothing is taken as done that nobody noted: a mark without a note is said to have none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import zip_longest

from estimator.contract.so_far import SoFar
from estimator.contract.works import Built, Held
from estimator.takeoff.lines import Item, Mark, Measure
from estimator.works import marks
from estimator.works.hold_points import HoldPoint, hold_points, missing
from estimator.works.noted import built_now, held_now
from estimator.works.settings import Settings
from estimator.works.site_work import SiteWork
from estimator.works.withheld import work_agreed

PLACED = frozenset(
    {
        Item.CUT_SLOT,
        Item.SET_BAR,
        Item.RAKE_OUT,
        Item.REPOINT,
        Item.POINT_CRACK_BED,
        Item.REPLACE_BRICK,
        Item.REPLACE_HALF_BRICK,
        Item.TURN_BRICK,
        Item.PATCH_BRICK,
        Item.TOOTH_IN,
    }
)
"""Work that leaves something at a mark of its own; the rest is of a whole side."""


class State(Enum):
    """How far a mark has come, by what was noted."""

    NOT_NOTED = "nothing noted"
    DONE = "done"
    DEVIATES = "done otherwise than planned"
    NOT_PLANNED = "done, not planned"


@dataclass(frozen=True, slots=True)
class BuiltMark:
    """One mark on the wall: planned, done, signed."""

    mark: Mark
    words: str
    """Bar 3, bed under course 8."""
    side: str
    """Name of the elevation."""
    items: tuple[Item, ...]
    """Kinds of work planned there; none where nothing was."""
    planned: str
    """What was planned, in figures; empty where nothing was."""
    done: tuple[Built, ...]
    """What was noted, oldest first."""
    signed: tuple[HoldPoint, ...]
    missing: tuple[HoldPoint, ...]
    """Hold points nobody has signed for."""
    shallow_mm: int = 0
    """How much less deep than planned, by the last depth noted; 0 for not. [mm]"""

    @property
    def state(self) -> State:
        """How far it has come."""
        if not self.done:
            return State.NOT_NOTED
        if not self.items:
            return State.NOT_PLANNED
        is_other = self.shallow_mm or any(one.deviation for one in self.done)
        return State.DEVIATES if is_other else State.DONE


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """The record of one job."""

    marks: tuple[BuiltMark, ...]
    """Planned ones in the order of the wall, then what was done and not planned."""

    @property
    def deviations(self) -> tuple[Built, ...]:
        """What was done otherwise than planned, and why."""
        return tuple(one for mark in self.marks for one in mark.done if one.deviation)

    @property
    def batches(self) -> tuple[str, ...]:
        """Numbers on bags, tubs and packs, each once."""
        noted = (one.batch for mark in self.marks for one in mark.done if one.batch)
        return tuple(dict.fromkeys(noted))

    @property
    def photos(self) -> tuple[str, ...]:
        """Hashes of photographs, each once."""
        shown = (photo for mark in self.marks for one in mark.done for photo in one.photos)
        return tuple(dict.fromkeys(shown))

    @property
    def captions(self) -> Mapping[str, str]:
        """What is written under each photograph: its caption, or else the places it shows."""
        shown: dict[str, list[str]] = {}
        typed: dict[str, str] = {}
        for mark in self.marks:
            for one in mark.done:
                for photo, caption in zip_longest(one.photos, one.captions, fillvalue=""):
                    shown.setdefault(photo, []).append(mark.words)
                    typed[photo] = caption or typed.get(photo, "")
        return {photo: typed[photo] or "; ".join(words) for photo, words in shown.items()}

    @property
    def missing(self) -> tuple[HoldPoint, ...]:
        """Every hold point nobody has signed for."""
        return tuple(point for mark in self.marks for point in mark.missing)

    @property
    def not_noted(self) -> tuple[BuiltMark, ...]:
        """Planned marks at which nobody noted anything."""
        return tuple(mark for mark in self.marks if mark.state is State.NOT_NOTED and mark.items)


def as_built(so_far: SoFar, *, settings: Settings | None = None) -> AsBuilt:
    """Return the as-built record of the work agreed.

    Raises:
        ValueError: before anything was accepted.

    >>> as_built(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    return record_of(
        work_agreed(so_far), built=built_now(so_far), held=held_now(so_far), settings=settings
    )


def record_of(
    work: SiteWork,
    *,
    built: Iterable[Built] = (),
    held: Iterable[Held] = (),
    settings: Settings | None = None,
) -> AsBuilt:
    """Return what was planned and done at each mark.

    Args:
        work: What was agreed.
        built: What was noted, in the order it was noted.
        held: Hold points signed.
        settings: What the works go by; as shipped when not said.

    >>> import datetime
    >>> from estimator.pricing.price_book import shipped as book
    >>> from estimator.pricing.pricing import price
    >>> from estimator.pricing.terms import Terms
    >>> from estimator.survey.survey import Basis, Party, Site, Survey
    >>> from estimator.takeoff.rules import shipped as rules
    >>> from estimator.takeoff.scope import LOCAL
    >>> day = datetime.date(2026, 12, 1)
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), ())
    >>> none = Measure(LOCAL, (), (), (), (), (), ())
    >>> work = SiteWork(seen, none, price(none, book(), Terms(day)), rules(), book())
    >>> [mark.state.value for mark in record_of(work, built=[Built("f", day, "Swept")]).marks]
    ['done, not planned']
    """
    noted: dict[Mark, list[Built]] = {}
    for one in built:
        noted.setdefault(one.mark, []).append(one)
    points: dict[Mark, list[HoldPoint]] = {}
    for point in hold_points(work.measure, work.rules, held=held, settings=settings):
        points.setdefault(point.mark, []).append(point)
    planned = _planned(work.measure)
    return AsBuilt(
        tuple(
            _mark(mark, work, planned.get(mark, ()), noted.get(mark, ()), points.get(mark, ()))
            for mark in dict.fromkeys((*planned, *points, *noted))
        )
    )


def _planned(measure: Measure) -> dict[Mark, tuple[Item, ...]]:
    found: dict[Mark, dict[Item, None]] = {bar.id: {} for bar in measure.bars}
    for line in measure.lines:
        if line.item in PLACED:
            for mark in line.marks:
                found.setdefault(mark, {})[line.item] = None
    return {mark: tuple(items) for mark, items in found.items()}


def _mark(
    mark: Mark,
    work: SiteWork,
    items: Sequence[Item],
    done: Sequence[Built],
    points: Sequence[HoldPoint],
) -> BuiltMark:
    bar = next((one for one in work.measure.bars if one.id == mark), None)
    wanted = bar.slot_depth_mm if bar else _raked_mm(mark, work.measure)
    depths = [one.depth_mm for one in done if one.depth_mm]
    shallow = max(wanted - depths[-1], 0) if depths else 0
    if bar is not None:
        pieces = " + ".join(f"{piece:,}" for piece in bar.pieces_mm)
        planned = f"{pieces} mm of bar, slot {wanted} mm deep"
    else:
        planned = f"{wanted} mm deep" if wanted else ""
    return BuiltMark(
        mark,
        marks.bar_words(bar) if bar else marks.words(mark),
        marks.side_name(mark, work.survey),
        tuple(items) or (_other_items(mark, work.measure) if done else ()),
        planned,
        tuple(done),
        tuple(point for point in points if point.is_signed),
        missing(points),
        shallow,
    )


def _raked_mm(mark: Mark, measure: Measure) -> int:
    """Return how deep joints are raked at a mark, 0 where they are not [mm]."""
    raked = (Item.RAKE_OUT, Item.POINT_CRACK_BED)
    depths = [
        line.conditions.depth_mm
        for line in measure.lines
        if line.item in raked and mark in line.marks
    ]
    return max(depths, default=0)


def _other_items(mark: Mark, measure: Measure) -> tuple[Item, ...]:
    """Return what is planned at a mark that is a whole side, or one of many perpends."""
    return tuple(dict.fromkeys(line.item for line in measure.lines if mark in line.marks))
