"""An elevation as seen, laid out on its courses: the one place where survey meets masonry."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from estimator.masonry import crack as cracks
from estimator.masonry.bond import bond
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.crack import CrackPath
from estimator.masonry.region import Region, Ring
from estimator.survey.ranges import likely
from estimator.survey.survey import (
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    CrackRun,
    Elevation,
    Opening,
    SteppedRun,
    StraightRun,
)


@dataclass(frozen=True)
class Wall:
    """The courses of an elevation and the brickwork that is really there."""

    coursing: Coursing
    gross: Region
    """Inside the outline, openings not taken out."""
    net: Region
    """Inside the outline, openings with their sills and lintels taken out."""

    def face_of(self, brick: CrackedBrick) -> int:
        """Return the number a brick has in its course, from its place seen from the left."""
        return self._first_face(brick.course) + brick.place - 1

    def place_of(self, course: int, face: int) -> int:
        """Return the place of a brick in its course, 1 for the one at the left edge."""
        return face - self._first_face(course) + 1

    def _first_face(self, course: int) -> int:
        """Return the number of the first brick seen in a course, under a raking verge too."""
        spans = self.gross.spans_at(self.coursing.course_middle(course))
        left, right = spans[0] if spans else (self.gross.bounds[0], self.gross.bounds[2])
        rhythm = self.coursing.rhythm(course)
        shown = next(rhythm.faces_between(left, right), None)
        return rhythm.face_at(left) if shown is None else shown[0]

    def box_of(self, brick: CrackedBrick) -> tuple[float, float, float, float]:
        """Return left, bottom, right and top of a brick [mm]."""
        left, right = self.coursing.rhythm(brick.course).face_span(self.face_of(brick))
        return (
            left,
            self.coursing.course_bottom(brick.course),
            right,
            self.coursing.course_top(brick.course),
        )


@lru_cache(maxsize=256)
def coursing_of(brickwork: Brickwork) -> Coursing:
    """Return the coursing of a wall as found; joints not measured are the format's own.

    Raises:
        KeyError: for a brick format or bond that is not in the data.

    >>> coursing_of(Brickwork()).gauge_mm
    75.0
    """
    return laid(
        brick_format(brickwork.brick),
        bond(brickwork.bond, brickwork.ratio),
        bed_mm=brickwork.bed_usual_mm,
        perpend_mm=brickwork.perpend_mm,
    )


def ring_of(opening: Opening) -> Ring:
    """Return the outline of an opening with its sill, which is not brickwork either [mm].

    >>> ring_of(Opening("w", 100, 500, 900, 1200, sill_mm=75))[0]
    (100, 425)
    """
    left, right = opening.left_mm, opening.left_mm + opening.width_mm
    return _ring(left, opening.bottom_mm - opening.sill_mm, right, top_of(opening))


def rings_of(opening: Opening) -> tuple[Ring, ...]:
    """Return the outlines of all that is no brickwork at an opening, what shows of its lintel too.

    A lintel as wide as the opening is one rectangle with it; a wider one is a second over it. [mm]

    >>> window = Opening("w", 100, 500, 900, 1200, lintel_mm=140, lintel_bearing_mm=150)
    >>> rings_of(window)[1]
    ((-50, 1700), (1150, 1700), (1150, 1840), (-50, 1840))
    """
    if opening.lintel_mm <= 0:
        return (ring_of(opening),)
    left, right, top = opening.left_mm, opening.left_mm + opening.width_mm, top_of(opening)
    over, more = top + opening.lintel_mm, opening.lintel_bearing_mm
    if more <= 0:
        return (_ring(left, opening.bottom_mm - opening.sill_mm, right, over),)
    return ring_of(opening), _ring(left - more, top, right + more, over)


def top_of(opening: Opening) -> float:
    """Return the level of the head of an opening, under its lintel [mm].

    >>> top_of(Opening("w", 100, 500, 900, 1200))
    1700
    """
    return opening.bottom_mm + opening.height_mm


def _ring(left: float, bottom: float, right: float, top: float) -> Ring:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


@lru_cache(maxsize=128)
def _regions(
    outline: tuple[tuple[float, float], ...], openings: tuple[Opening, ...]
) -> tuple[Region, Region]:
    gross = Region.of(outline)
    holes = Region.of(*(ring for opening in openings for ring in rings_of(opening)))
    return gross, gross.without(holes)


def wall_of(elevation: Elevation) -> Wall:
    """Return an elevation laid out on its courses.

    >>> wall = wall_of(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    >>> wall.net.area_mm2
    675000.0
    """
    gross, net = _regions(elevation.outline, elevation.openings)
    return Wall(coursing_of(elevation.brickwork), gross, net)


def path_of(crack: Crack, coursing: Coursing) -> CrackPath:
    """Return a crack laid on the joint net of its wall.

    >>> path_of(Crack("a", StraightRun(220, 1, 24), 2.0), coursing_of(Brickwork())).perpends
    12
    """
    return _path(crack.run, coursing)


@lru_cache(maxsize=1024)
def _path(run: CrackRun, coursing: Coursing) -> CrackPath:
    if isinstance(run, SteppedRun):
        return cracks.stepped(
            coursing,
            (run.x_mm, coursing.bed_middle(run.course)),
            max(round(likely(run.courses)), 1),
            leans_right=run.lean == "right",
            turn_after=run.turn_after,
        )
    if isinstance(run, StraightRun):
        start = (run.x_mm, coursing.bed_middle(run.course))
        return cracks.straight(coursing, start, max(round(likely(run.courses)), 1))
    if isinstance(run, BedRun):
        return cracks.along_bed(coursing, run.course, run.from_mm, run.to_mm)
    return cracks.traced(coursing, run.points, through_bricks=run.through_bricks, cuts=run.cuts)
