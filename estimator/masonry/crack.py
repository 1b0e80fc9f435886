"""A crack as a path on the joint net: along beds, up perpends, or through bricks.

Whatever way it was seen or told, a crack becomes the same thing: pieces that each belong to a bed,
a perpend or a brick, in order from its first end to its last.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import NEAR_MM, Point

MM_PER_M = 1000.0


class Along(Enum):
    """What a piece of a crack runs along or through."""

    BED = "bed"
    PERPEND = "perpend"
    BRICK = "brick"


@dataclass(frozen=True, slots=True)
class Piece:
    """One straight piece of a crack."""

    along: Along
    course: int
    """Its course; for a bed, the course standing on that bed."""
    face: int
    """Number of the brick, or of the brick left of the perpend, in its course; 0 for a bed."""
    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Length [mm]."""
        return abs(self.end[0] - self.start[0]) + abs(self.end[1] - self.start[1])


@dataclass(frozen=True)
class CrackPath:
    """A crack laid on the joint net of its wall."""

    pieces: tuple[Piece, ...]

    @cached_property
    def joint_m(self) -> float:
        """Length along joints, beds and perpends [m]."""
        return sum(p.length_mm for p in self.pieces if p.along is not Along.BRICK) / MM_PER_M

    @cached_property
    def length_m(self) -> float:
        """Length in all, through bricks too [m]."""
        return sum(piece.length_mm for piece in self.pieces) / MM_PER_M

    @cached_property
    def courses(self) -> tuple[int, ...]:
        """The courses it crosses, lowest first; a crack along one bed crosses none."""
        crossed = {piece.course for piece in self.pieces if piece.along is not Along.BED}
        return tuple(sorted(crossed))

    def of(self, along: Along) -> tuple[Piece, ...]:
        """Return its pieces of one kind."""
        return tuple(piece for piece in self.pieces if piece.along is along)

    @cached_property
    def perpends(self) -> int:
        """Perpends it runs up [nr]."""
        return len({(piece.course, piece.face) for piece in self.of(Along.PERPEND)})

    @cached_property
    def bricks(self) -> tuple[tuple[int, int], ...]:
        """The bricks it breaks, as (course, face number)."""
        return tuple(sorted({(piece.course, piece.face) for piece in self.of(Along.BRICK)}))

    def span_on_bed(self, course: int) -> tuple[float, float] | None:
        """Return how far it reaches, left and right, on the bed under a course [mm]."""
        places = [
            point[0]
            for piece in self.pieces
            for point in (piece.start, piece.end)
            if (piece.along is Along.BED and piece.course == course)
            or (piece.along is not Along.BED and piece.course in (course - 1, course))
        ]
        on_bed = [
            point[0]
            for piece in self.pieces
            if piece.along is Along.BED and piece.course == course
            for point in (piece.start, piece.end)
        ]
        chosen = on_bed or places
        return (min(chosen), max(chosen)) if chosen else None

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Its corners in order, for drawing."""
        corners: list[Point] = []
        for piece in self.pieces:
            for point in (piece.start, piece.end):
                if not corners or point != corners[-1]:
                    corners.append(point)
        return tuple(corners)


@dataclass(frozen=True, slots=True)
class _Visit:
    """One course a crack goes through: at which x, and whether in the perpend after a brick."""

    course: int
    x: float
    face: int
    in_joint: bool


def stepped(
    coursing: Coursing, start: Point, courses: int, *, leans_right: bool = True, turn_after: int = 0
) -> CrackPath:
    """Step along the joints, one perpend to a course, from a start upward.

    With ``turn_after`` the steps turn back after so many courses.

    Raises:
        ValueError: for fewer courses than one.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> path = stepped(wall, (220, 5), 3)
    >>> path.perpends, path.joint_m
    (3, 0.42)
    """
    first = _first_course(coursing, start, courses)
    visits: list[_Visit] = []
    x = start[0]
    for step in range(courses):
        course = first + step
        rhythm = coursing.rhythm(course)
        if not visits:
            face = rhythm.nearest_perpend(x)
        else:
            rightward = leans_right != (turn_after > 0 and step >= turn_after)
            face = rhythm.face_at(x + NEAR_MM)
            face -= 0 if rightward else 1
            if rightward and rhythm.perpend_after(face) <= x + NEAR_MM:
                face += 1
            if not rightward and rhythm.perpend_after(face + 1) < x - NEAR_MM:
                face += 1
        x = rhythm.perpend_after(face)
        visits.append(_Visit(course, x, face, in_joint=True))
    return CrackPath(tuple(_pieces(coursing, visits)))


def straight(coursing: Coursing, start: Point, courses: int) -> CrackPath:
    """Run straight up through whatever is there: a brick, or a perpend near enough to the line.

    Raises:
        ValueError: for fewer courses than one.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> path = straight(wall, (220, 5), 24)
    >>> path.perpends, len(path.bricks)
    (12, 12)
    """
    first = _first_course(coursing, start, courses)
    visits = [_cut(coursing, first + step, start[0]) for step in range(courses)]
    return CrackPath(tuple(_pieces(coursing, visits)))


def along_bed(coursing: Coursing, course: int, left: float, right: float) -> CrackPath:
    """Run along the bed under a course [mm].

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> along_bed(laid(brick_format("uk_metric"), bond("stretcher")), 4, 100, 700).joint_m
    0.6
    """
    y = coursing.bed_middle(course)
    return CrackPath((Piece(Along.BED, course, 0, (left, y), (right, y)),))


def traced(
    coursing: Coursing, points: Sequence[Point], *, through_bricks: bool = False
) -> CrackPath:
    """Follow a drawn line: along the joints nearest to it, or through the bricks where it cuts them.

    Raises:
        ValueError: for fewer points than two.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> traced(wall, [(200, 20), (700, 420)]).courses
    (1, 2, 3, 4, 5, 6)
    """
    if len(points) < 2:
        raise ValueError("a traced crack needs two points or more")
    pieces: list[Piece] = []
    visits: list[_Visit] = []
    for start, end in zip(points, points[1:], strict=False):
        crossed = _crossed(coursing, start, end)
        if not crossed:
            # The line stays within one course: it runs along the nearer bed.
            pieces += _pieces(coursing, visits)
            visits = visits[-1:]
            pieces += _bed_piece(coursing, start, end)
            continue
        for course in crossed:
            x = _x_at(
                start, end, (coursing.course_bottom(course) + coursing.course_top(course)) / 2
            )
            visit = _cut(coursing, course, x) if through_bricks else _join(coursing, course, x)
            if not visits or visits[-1].course != course:
                visits.append(visit)
        pieces = pieces or []
    pieces += _pieces(coursing, visits)
    return CrackPath(tuple(dict.fromkeys(pieces)))


def _first_course(coursing: Coursing, start: Point, courses: int) -> int:
    if courses < 1:
        raise ValueError("a crack crosses one course or more")
    return coursing.course_at(start[1])


def _cut(coursing: Coursing, course: int, x: float) -> _Visit:
    """Go through a course at x: by its perpend if that is as near as half a brick would bring it."""
    rhythm = coursing.rhythm(course)
    nearest = rhythm.nearest_perpend(x)
    at = rhythm.perpend_after(nearest)
    pitch = rhythm.repeat_mm / len(rhythm.faces_mm)
    # A quarter of the pitch: a plumb line then meets a perpend and a brick in turn in half bond.
    if abs(at - x) < pitch / 4:
        return _Visit(course, at, nearest, in_joint=True)
    return _Visit(course, x, rhythm.face_at(x), in_joint=False)


def _join(coursing: Coursing, course: int, x: float) -> _Visit:
    """Go through a course by the perpend nearest to x."""
    rhythm = coursing.rhythm(course)
    nearest = rhythm.nearest_perpend(x)
    return _Visit(course, rhythm.perpend_after(nearest), nearest, in_joint=True)


def _x_at(start: Point, end: Point, y: float) -> float:
    share = (y - start[1]) / (end[1] - start[1])
    return start[0] + min(max(share, 0.0), 1.0) * (end[0] - start[0])


def _crossed(coursing: Coursing, start: Point, end: Point) -> list[int]:
    """Return the courses whose middle a line passes, in the order it passes them."""
    low, high = sorted((start[1], end[1]))
    found = [
        course
        for course in range(coursing.course_at(low), coursing.course_at(high) + 1)
        if low <= (coursing.course_bottom(course) + coursing.course_top(course)) / 2 <= high
        and high > low
    ]
    return found if start[1] <= end[1] else found[::-1]


def _bed_piece(coursing: Coursing, start: Point, end: Point) -> list[Piece]:
    """Return the run along the bed nearest to a line that crosses no course."""
    middle = (start[1] + end[1]) / 2
    course = coursing.course_at(middle)
    nearer = min((course, course + 1), key=lambda bed: abs(coursing.bed_middle(bed) - middle))
    if abs(end[0] - start[0]) <= NEAR_MM:
        return []
    y = coursing.bed_middle(nearer)
    return [Piece(Along.BED, nearer, 0, (start[0], y), (end[0], y))]


def _pieces(coursing: Coursing, visits: Sequence[_Visit]) -> Iterable[Piece]:
    """Join the courses a crack goes through by the beds between them."""
    for number, visit in enumerate(visits):
        before = visits[number - 1] if number else None
        if before is not None and abs(before.x - visit.x) > NEAR_MM:
            bed = max(before.course, visit.course)
            y = coursing.bed_middle(bed)
            yield Piece(Along.BED, bed, 0, (before.x, y), (visit.x, y))
        along = Along.PERPEND if visit.in_joint else Along.BRICK
        low = (visit.x, coursing.course_bottom(visit.course))
        high = (visit.x, coursing.course_top(visit.course))
        falls = before is not None and before.course > visit.course
        ends = (high, low) if falls else (low, high)
        yield Piece(along, visit.course, visit.face, *ends)
