"""Hold points: what somebody looks at and signs for before the work goes on."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from estimator.contract.works import Feature, Held
from estimator.takeoff.grout_and_mortar import mortar
from estimator.takeoff.lines import Item, Line, Mark, Measure
from estimator.takeoff.rules import Rules
from estimator.works import marks
from estimator.works.settings import Settings, shipped

RAKED = frozenset({Item.RAKE_OUT, Item.POINT_CRACK_BED})
"""Work whose marks are areas and cracks with joints raked along them."""
LAID = frozenset({Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK})
POINTED = frozenset({Item.REPOINT, Item.POINT_SLOT, Item.POINT_CRACK_BED, Item.POINT_PERPEND})


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """One thing to look at and sign for."""

    feature: Feature
    mark: Mark
    what: str
    """The mark in words: Bar 3, bed under course 8."""
    text: str
    """What must be so."""
    source: str
    signed_by: str = ""
    signed_on: datetime.date | None = None

    @property
    def is_signed(self) -> bool:
        """Whether somebody has signed for it."""
        return self.signed_on is not None


def hold_points(
    measure: Measure,
    rules: Rules,
    *,
    held: Iterable[Held] = (),
    settings: Settings | None = None,
) -> tuple[HoldPoint, ...]:
    """Return every hold point of measured work, in the order of work, with who signed.

    Of two signatures for one point the later one told counts.

    >>> from estimator.takeoff.rules import shipped as rules
    >>> from estimator.takeoff.scope import LOCAL
    >>> hold_points(Measure(LOCAL, (), (), (), (), (), ()), rules())
    ()
    """
    known = (settings or shipped()).hold_points
    signed = {(one.feature, one.mark): one for one in held}
    found = []
    for kind, mark, what, gaps in _held_places(measure, rules):
        for point in known[kind]:
            sign = signed.get((point.feature, mark))
            found.append(
                HoldPoint(
                    point.feature,
                    mark,
                    what,
                    point.text.format(**gaps),
                    point.source,
                    sign.by if sign else "",
                    sign.on if sign else None,
                )
            )
    return tuple(found)


def missing(points: Sequence[HoldPoint]) -> tuple[HoldPoint, ...]:
    """Return the hold points nobody has signed for.

    >>> missing(())
    ()
    """
    return tuple(point for point in points if not point.is_signed)


def _held_places(
    measure: Measure, rules: Rules
) -> Iterator[tuple[str, Mark, str, Mapping[str, object]]]:
    """Yield what is held by kind, mark and words, and what fills the gaps of its text."""
    for bar in measure.bars:
        gaps = {
            "slot_depth_mm": bar.slot_depth_mm,
            "pointing_mm": rules.pointing_over_slot_mm,
        }
        yield "bar", bar.id, marks.bar_words(bar), gaps
    for line in measure.lines:
        if line.item in RAKED:
            for mark in line.marks:
                yield "joints", mark, marks.words(mark), {"depth_mm": line.conditions.depth_mm}
    yield from _perpends_alone(measure)
    for line in measure.lines:
        if line.item in LAID:
            for mark in line.marks:
                yield "bricks", mark, marks.words(mark), {}
    yield from _covered(measure.lines)


def _perpends_alone(measure: Measure) -> Iterator[tuple[str, Mark, str, Mapping[str, object]]]:
    """Yield each side on which perpends are raked and no bed is."""
    beds = {line.elevation for line in measure.lines if line.item in RAKED}
    for line in measure.lines:
        if line.item is Item.POINT_PERPEND and line.elevation not in beds:
            gaps = {"depth_mm": line.conditions.depth_mm}
            yield "joints", line.elevation, "Cracked perpends", gaps


def _covered(lines: Iterable[Line]) -> Iterator[tuple[str, Mark, str, Mapping[str, object]]]:
    """Yield each side that is pointed, with how long its mortar stays covered."""
    days: dict[Mark, int] = {}
    for line in lines:
        if line.item in POINTED and line.conditions.new_mortar:
            kept = mortar(line.conditions.new_mortar).cure_days
            days[line.elevation] = max(days.get(line.elevation, 0), kept)
    for side, cure_days in days.items():
        yield "side", side, marks.words(side), {"cure_days": cure_days}
