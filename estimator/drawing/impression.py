"""A fair impression of what will show: which joints are new mortar, which bricks look different.

Nothing here is priced, and nothing is a promise: how near a mortar comes to the old one is seen on
a sample on the wall, and both weather. Places are exact: new mortar lies where it is measured.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from estimator.drawing.courses import Box
from estimator.drawing.shapes import BrickState
from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import Along, Piece
from estimator.masonry.region import NOWHERE, Point, Region, Trapezoid
from estimator.survey.ranges import likely, settled
from estimator.survey.survey import Survey
from estimator.takeoff import stretches
from estimator.takeoff.brickwork import LaidBrick, bricks_of, joints_round
from estimator.takeoff.lines import Item, Measure
from estimator.takeoff.pointing import Slots, slots_of
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import Work
from estimator.takeoff.side import Side, side_of
from estimator.takeoff.stretches import Stretch, clipped, less, merged

MM_PER_M = 1000.0
MOST = 0.5
"""Share of a perpend that counts as all of it, as it is measured."""
STATES = {
    Item.REPLACE_BRICK: BrickState.REPLACE,
    Item.REPLACE_HALF_BRICK: BrickState.REPLACE,
    Item.TURN_BRICK: BrickState.TURN,
    Item.PATCH_BRICK: BrickState.PATCH,
}


class Why(Enum):
    """Why a joint is new mortar."""

    SLOT = "a bed cut for a bar"
    BRICK = "round a brick taken out"
    CRACK = "along a crack"
    PANEL = "in a panel repointed"


@dataclass(frozen=True, slots=True)
class NewJoint:
    """A piece of joint in new mortar."""

    why: Why
    is_bed: bool
    part: Trapezoid
    thickness_mm: float

    @property
    def length_mm(self) -> float:
        """Its area divided by its thickness, as joints are measured [mm]."""
        return self.part.area_mm2 / self.thickness_mm


@dataclass(frozen=True, slots=True)
class SeenBrick:
    """A brick that will look different from its neighbours, or stays cracked."""

    box: Box
    state: BrickState


@dataclass(frozen=True, slots=True)
class SeenCrack:
    """A piece of a crack that stays to be seen."""

    points: tuple[Point, ...]
    width_mm: float


@dataclass(frozen=True)
class Impression:
    """What will show on one side of the building."""

    joints: tuple[NewJoint, ...] = ()
    bricks: tuple[SeenBrick, ...] = ()
    cracks: tuple[SeenCrack, ...] = ()

    def metres(self, *why: Why, beds: bool = True, perpends: bool = True) -> float:
        """Return the length of new joint, for any of some reasons or for all [m].

        >>> Impression().metres()
        0.0
        """
        found = (
            one.length_mm
            for one in self.joints
            if (not why or one.why in why) and (beds if one.is_bed else perpends)
        )
        return sum(found, 0.0) / MM_PER_M

    @cached_property
    def is_untouched(self) -> bool:
        """Whether nothing at all is done."""
        return not self.joints and all(one.state is BrickState.CRACKED for one in self.bricks)


def impression_of(
    survey: Survey, elevation: int = 0, chosen: Measure | None = None
) -> Impression | None:
    """Return what will show of an elevation when the work is done; None for no such elevation.

    Args:
        survey: What was seen; ranges are taken at their likely values.
        elevation: Which side of the building, the first being 0.
        chosen: The measured work, None for the wall as it stands.

    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.scope import LOCAL
    >>> front = Elevation("front", "Front", ((0, 0), (3150, 0), (3150, 1800), (0, 1800)),
    ...     cracks=(Crack("a", StraightRun(1570, 1, 24), 2.0),))
    >>> survey = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> impression_of(survey).is_untouched
    True
    >>> seen = impression_of(survey, 0, measure(survey, LOCAL, shipped()))
    >>> round(seen.metres(Why.SLOT), 2)
    8.0
    """
    if not 0 <= elevation < len(survey.elevations):
        return None
    # The rules say how deep a joint is cut, which nobody sees, and nothing of where it lies.
    side = side_of(settled(survey.elevations[elevation]), shipped(), "")
    return _Seen(side, chosen).impression()


class _Seen:
    """One side after some work."""

    def __init__(self, side: Side, work: Measure | None) -> None:
        self.side, self.work = side, work
        own = side.elevation.id
        corners = [] if work is None else [p.corners for p in work.panels if p.elevation == own]
        net = side.wall.net
        self.panel = net.within(Region.of(*corners)) if corners else NOWHERE
        self.slots: Slots = {}
        if work is not None:
            self.slots = slots_of([bar for bar in work.bars if bar.elevation == own])
        is_done = work is not None and Work.BRICKS in work.scope
        self.bricks: tuple[LaidBrick, ...] = bricks_of(side) if is_done else ()
        self.round = joints_round(side, self.bricks)
        self.points_crack = work is not None and Work.POINT_CRACK in work.scope

    def impression(self) -> Impression:
        """Return what shows."""
        return Impression(
            (*self._beds(), *self._perpends(), *_panel_joints(self.side.coursing, self.panel)),
            (*self._changed(), *self._still_cracked()),
            tuple(self._cracks()),
        )

    # -- new mortar outside the panel

    @cached_property
    def _new_beds(self) -> dict[int, list[tuple[Why, Stretch]]]:
        """Stretches of bed in new mortar by course, each place once: slots go before the rest."""
        found: dict[int, list[tuple[Why, Stretch]]] = defaultdict(list)
        cracked = self.side.cracked_beds if self.points_crack else {}
        for course in sorted({*self.slots, *self.round.beds, *cracked}):
            taken: list[Stretch] = []
            for why, beds in (
                (Why.SLOT, self.slots),
                (Why.BRICK, self.round.beds),
                (Why.CRACK, cracked),
            ):
                row = less(beds.get(course, ()), taken)
                found[course] += [(why, one) for one in row]
                taken = merged([*taken, *row])
        return found

    def _beds(self) -> Iterator[NewJoint]:
        for course, row in self._new_beds.items():
            for why, stretch in row:
                box = self.side.bed_box(course, stretch)
                yield from self._new(why, box, is_bed=True)

    @cached_property
    def _new_perpends(self) -> dict[tuple[int, int], Why]:
        found = dict.fromkeys(sorted(self.round.perpends), Why.BRICK)
        if self.points_crack:
            for one in self.side.cracked_perpends:
                if not self._in_panel(one):
                    found.setdefault(one, Why.CRACK)
        return found

    def _perpends(self) -> Iterator[NewJoint]:
        for one, why in self._new_perpends.items():
            yield from self._new(why, self.side.perpend_box(*one), is_bed=False)

    def _new(self, why: Why, box: stretches.Box, *, is_bed: bool) -> Iterator[NewJoint]:
        """Yield what of a joint is brickwork and in no panel."""
        coursing = self.side.coursing
        here = clipped(self.side.wall.net, box)
        if self.panel:
            here = here.without(self.panel)
        if why is Why.SLOT:
            here = Region((*here.parts, *self._beyond(box)))
        thickness = coursing.bed_mm if is_bed else coursing.perpend_mm
        for part in here.parts:
            yield NewJoint(why, is_bed, part, thickness)

    def _beyond(self, box: stretches.Box) -> Iterator[Trapezoid]:
        """Yield what of a slot lies further on than the wall was surveyed, where it goes on."""
        left, _low, right, _high = self.side.wall.gross.bounds
        for start, end in ((box.left, min(box.right, left)), (max(box.left, right), box.right)):
            yield from Region.rectangle(start, box.bottom, end, box.top).parts

    def _in_panel(self, perpend: tuple[int, int]) -> bool:
        box = self.side.perpend_box(*perpend)
        return bool(self.panel) and stretches.share_in(self.panel, box) >= MOST

    # -- bricks

    def _changed(self) -> Iterator[SeenBrick]:
        for brick in self.bricks:
            here = clipped(self.side.wall.net, brick.box)
            if here:
                yield SeenBrick(here.bounds, STATES[brick.item])

    def _still_cracked(self) -> Iterator[SeenBrick]:
        """Yield bricks marked as cracked that nobody touches and no crack is drawn through."""
        gone = {(brick.course, brick.face) for brick in self.bricks}
        broken = {one for laid in self.side.cracks for one in laid.path.bricks}
        marked = self.side.elevation.bricks
        for one in dict.fromkeys((brick.course, brick.place) for brick in marked):
            face, box = self.side.brick_at(*one)
            here = clipped(self.side.wall.net, box)
            if here and (one[0], face) not in gone | broken:
                yield SeenBrick(here.bounds, BrickState.CRACKED)

    # -- what stays of the cracks

    def _cracks(self) -> Iterator[SeenCrack]:
        for laid in self.side.cracks:
            width = float(likely(laid.crack.width_mm))
            runs = (run for piece in laid.path.pieces for run in self._left_of(piece))
            for points in _chained(runs):
                yield SeenCrack(points, width)

    def _left_of(self, piece: Piece) -> Iterator[tuple[Point, Point]]:
        """Yield what of a piece of crack is neither filled nor gone with its brick."""
        (x, y), (to_x, to_y) = piece.start, piece.end
        if not self.side.wall.net.holds(((x + to_x) / 2, (y + to_y) / 2)):
            return
        if piece.along is Along.BED:
            for left, right in less([(min(x, to_x), max(x, to_x))], self._filled(piece.course)):
                yield ((left, y), (right, y)) if x <= to_x else ((right, y), (left, y))
            return
        place = (piece.course, piece.face)
        if piece.along is Along.PERPEND:
            is_gone = place in self._new_perpends or self._in_panel(place)
        else:
            is_gone = place in {(brick.course, brick.face) for brick in self.bricks}
        if not is_gone:
            yield self._trimmed(piece, piece.start), self._trimmed(piece, piece.end)

    def _filled(self, course: int) -> list[Stretch]:
        """Return the stretches of a bed in new mortar, the panel's too."""
        level = self.side.coursing.bed_middle(course)
        row = [stretch for _why, stretch in self._new_beds.get(course, ())]
        return merged([*row, *self.panel.spans_at(level)])

    def _trimmed(self, piece: Piece, end: Point) -> Point:
        """Return an end of an upright piece, drawn back to the brick where its bed is filled."""
        coursing, (x, y) = self.side.coursing, end
        is_top = y > coursing.course_middle(piece.course)
        bed = piece.course + 1 if is_top else piece.course
        if any(left <= x <= right for left, right in self._filled(bed)):
            low, high = coursing.course_bottom(piece.course), coursing.course_top(piece.course)
            return x, high if is_top else low
        return end


def _panel_joints(coursing: Coursing, panel: Region) -> Iterator[NewJoint]:
    """Yield every joint of a panel, course by course."""
    if not panel:
        return
    left, low, right, high = panel.bounds
    for course in range(coursing.course_at(low), coursing.course_at(high) + 1):
        bottom, top = coursing.course_bottom(course), coursing.course_top(course)
        for part in panel.between(coursing.bed_bottom(course), bottom):
            yield NewJoint(Why.PANEL, True, part, coursing.bed_mm)
        row = Region(panel.between(bottom, top))
        if not row:
            continue
        rhythm = coursing.rhythm(course)
        for face in range(rhythm.face_at(left) - 1, rhythm.face_at(right) + 1):
            start = rhythm.face_span(face)[1]
            box = stretches.Box(start, bottom, start + coursing.perpend_mm, top)
            for part in clipped(row, box).parts:
                yield NewJoint(Why.PANEL, False, part, coursing.perpend_mm)


def _chained(runs: Iterable[tuple[Point, Point]]) -> Iterator[tuple[Point, ...]]:
    """Yield runs that meet end to end as one line."""
    line: list[Point] = []
    for start, end in runs:
        if line and line[-1] != start:
            yield tuple(line)
            line = []
        line += [end] if line else [start, end]
    if line:
        yield tuple(line)
