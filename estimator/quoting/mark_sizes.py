"""What each mark measures in a line: bars and slots by length, areas by joints or brickwork."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from types import MappingProxyType

from estimator.masonry.crack import Along
from estimator.masonry.joints import joints_in
from estimator.masonry.region import Region
from estimator.survey.ranges import settled
from estimator.survey.survey import Survey
from estimator.takeoff.bands import Bands
from estimator.takeoff.brickwork import bricks_of, joints_round
from estimator.takeoff.lines import Bar, Item, Line, Mark, Measure
from estimator.takeoff.pointing import Done, slots_of
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import Work
from estimator.takeoff.side import LaidCrack, Side, side_of
from estimator.takeoff.stretches import Stretch, less, merged

BAR_SIZES: Mapping[Item, Callable[[Bar], float]] = MappingProxyType(
    {
        Item.CUT_SLOT: lambda bar: bar.length_mm,
        Item.SET_BAR: lambda bar: sum(bar.pieces_mm),
        Item.TURN_BAR: lambda bar: (bar.turn_left_mm > 0) + (bar.turn_right_mm > 0),
        Item.LAP_BAR: lambda bar: len(bar.pieces_mm) - 1,
        Item.SKIM_ARRIS: lambda bar: bar.skim_mm,
    }
)
"""What of a bar each kind of its work is measured by."""


class MarkSizes:
    """What the marks of one measured scope measure; worked out where two have to be told apart."""

    def __init__(self, survey: Survey, measure: Measure) -> None:
        """Keep the survey and its measured work; nothing is worked out yet."""
        self._measure = measure
        self._bars = {bar.id: bar for bar in measure.bars}
        self._told = {one.id: one for one in survey.elevations}
        self._laid: dict[str, _Laid] = {}

    def of(self, line: Line) -> tuple[float, ...]:
        """Return the size of each mark of a measured line, in the order of its marks.

        Lengths in mm, areas in mm², the rest by number. Bricks and perpends count one each; so do
        the bricks of toothing, whose edges are those of their patch and of no brick of it.

        >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
        >>> from estimator.takeoff.measure import measure
        >>> from estimator.takeoff.scope import LOCAL
        >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
        >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
        >>> front = Elevation("front", "Front", outline, cracks=(crack,))
        >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
        >>> work = measure(seen, LOCAL, shipped())
        >>> set(MarkSizes(seen, work).of(work.lines[0]))
        {1000.0}
        """
        if len(line.marks) > 1:
            by_length = BAR_SIZES.get(line.item)
            if by_length is not None and self._bars.keys() >= set(line.marks):
                return tuple(float(by_length(self._bars[mark])) for mark in line.marks)
            if line.item is Item.POINT_SLOT and self._bars.keys() >= set(line.marks):
                side = self._side(line.elevation)
                return tuple(side.slot_mm(self._bars[mark]) for mark in line.marks)
            if line.item is Item.POINT_CRACK_BED:
                side = self._side(line.elevation)
                return tuple(side.bed_mm(mark) for mark in line.marks)
            if line.item in (Item.RAKE_OUT, Item.REPOINT):
                side = self._side(line.elevation)
                return tuple(side.area(mark, line.item) for mark in line.marks)
        return (1.0,) * len(line.marks)

    def _side(self, elevation: str) -> _Laid:
        if elevation not in self._laid:
            # How deep and how high a joint is cut is all that rules would change, and no length.
            side = side_of(settled(self._told[elevation]), shipped(), "")
            self._laid[elevation] = _Laid(side, self._measure)
        return self._laid[elevation]


class _Laid:
    """One side with the work of a scope on it."""

    def __init__(self, side: Side, measure: Measure) -> None:
        self.side = side
        own = side.elevation.id
        bricks = bricks_of(side) if Work.BRICKS in measure.scope else ()
        bars = [bar for bar in measure.bars if bar.elevation == own]
        self.done = Done(slots_of(bars), joints_round(side, bricks))
        self.corners = [one.corners for one in measure.panels if one.elevation == own]

    @cached_property
    def panel(self) -> Bands | None:
        """The brickwork repointed as a whole."""
        if not self.corners:
            return None
        return Bands(self.side.wall.net.within(Region.of(*self.corners)))

    def _outside(self, course: int, stretch: Stretch) -> float:
        box = self.side.bed_box(course, stretch)
        covered = 0.0 if self.panel is None else self.panel.length(box)
        return max(self.side.bands.length(box) - covered, 0.0)

    def slot_mm(self, bar: Bar) -> float:
        """Return how much of a slot is pointed by itself: all that no panel covers."""
        if self.panel is None:
            return bar.length_mm
        box = self.side.bed_box(bar.course, (bar.left_mm, bar.right_mm))
        return max(bar.length_mm - self.panel.length(box), 0.0)

    def bed_mm(self, mark: Mark) -> float:
        """Return how much bed is pointed along one crack."""
        laid = next((one for one in self.side.cracks if self._mark(one) == mark), None)
        if laid is None:
            return 0.0
        beds: dict[int, list[Stretch]] = {}
        for piece in laid.path.of(Along.BED):
            left, right = sorted((piece.start[0], piece.end[0]))
            beds.setdefault(piece.course, []).append((left, right))
        return sum(
            self._outside(course, one)
            for course, row in beds.items()
            for one in less(merged(row), self.done.on_bed(course))
        )

    def _mark(self, laid: LaidCrack) -> Mark:
        return self.side.mark("crack", laid.crack.id)

    def area(self, mark: Mark, item: Item) -> float:
        """Return what one of several areas drawn measures: its joints, or its brickwork."""
        outline = next(
            (one.outline for one in self.side.elevation.areas if self._area_mark(one.id) == mark),
            None,
        )
        if outline is None:
            return 0.0
        net = self.side.wall.net.within(Region.of(outline))
        if item is Item.REPOINT:
            return net.area_mm2
        return joints_in(self.side.coursing, net).joint_m * 1000

    def _area_mark(self, area: str) -> Mark:
        return self.side.mark("area", area)
