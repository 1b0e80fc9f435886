"""A crack as a path on the joint net: along beds, up perpends, or through bricks.

Whatever way it was seen or told, a crack becomes the same thing: pieces that each belong to a bed,
a perpend or a brick, in order from its first end to its last. It is drawn without a gap: along the
middle of a bed, and from bed to bed up a perpend or a brick. It is measured net, a perpend or a
brick being as long as the bricks are high, so that no crossing of joints is counted twice.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from itertools import pairwise

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import NEAR_MM, Point

MM_PER_M = 1000.0
HAND_MM = 0.6
"""An end drawn nearer than this to a joint lies on it: places are drawn to whole millimetres, which
may be half a one off; house rule [mm]."""


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
    """Its ends as drawn: a bed's along its middle, the others' at the middles of two beds [mm]."""
    length_mm: float
    """Net length: a perpend or a brick from bed to bed, not the beds too [mm]."""


@dataclass(frozen=True)
class CrackPath:
    """A crack laid on the joint net of its wall."""

    pieces: tuple[Piece, ...]

    @cached_property
    def joint_m(self) -> float:
        """Net length along joints, beds and perpends, a place passed twice counted once [m]."""
        runs: dict[int, list[tuple[float, float]]] = {}
        for piece in self.of(Along.BED):
            here, there = piece.start[0], piece.end[0]
            run = (here, there) if here < there else (there, here)
            runs.setdefault(piece.course, []).append(run)
        beds = sum(_covered(along) for along in runs.values())
        perpends = {(p.course, p.face): p.length_mm for p in self.of(Along.PERPEND)}
        return (beds + sum(perpends.values())) / MM_PER_M

    @cached_property
    def length_m(self) -> float:
        """Net length in all, through bricks too [m]."""
        # One brick may be broken at two places, and each of the cuts has its length.
        cuts = {(p.course, p.face, p.start[0]): p.length_mm for p in self.of(Along.BRICK)}
        return self.joint_m + sum(cuts.values()) / MM_PER_M

    @cached_property
    def run_m(self) -> float:
        """Length as it is drawn from end to end, the beds it crosses too [m].

        >>> from estimator.masonry.brick import brick_format
        >>> from estimator.masonry.bond import bond
        >>> from estimator.masonry.coursing import laid
        >>> straight(laid(brick_format("uk_metric"), bond("stretcher")), (220, 5), 24).run_m
        1.8
        """
        drawn = sum(math.dist(piece.start, piece.end) for piece in self.pieces)
        return drawn / MM_PER_M

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
        return self._reaches.get(course)

    @cached_property
    def _reaches(self) -> dict[int, tuple[float, float]]:
        """How far it reaches, left and right, on each bed it touches [mm]."""
        reaches: dict[int, tuple[float, float]] = {}
        for piece in self.pieces:
            # A way through a course touches the bed under it and the bed over it.
            over = () if piece.along is Along.BED else (piece.course + 1,)
            here, there = piece.start[0], piece.end[0]
            for bed in (piece.course, *over):
                left, right = reaches.get(bed, (here, here))
                reaches[bed] = (min(left, here, there), max(right, here, there))
        return reaches

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Its corners in order, for drawing [mm]."""
        starts = tuple(piece.start for piece in self.pieces[:1])
        return starts + tuple(piece.end for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class _Way:
    """A way through a course: at which x, by the perpend after a brick or through the brick."""

    course: int
    face: int
    x: float
    along: Along


class _Walk:
    """A crack being laid: it stands at a place on a bed, and each step starts where it stands."""

    def __init__(self, coursing: Coursing, bed: int, x: float) -> None:
        self._coursing = coursing
        self._bed = bed
        self._at: Point = (float(x), coursing.bed_middle(bed))
        self._pieces: list[Piece] = []

    def along_to(self, x: float) -> None:
        """Go along the bed to x."""
        length = abs(x - self._at[0])
        if length > NEAR_MM:
            end = (float(x), self._at[1])
            self._add(Along.BED, self._bed, 0, end, length)

    def through(self, way: _Way) -> None:
        """Go along the bed to a way through the course above or below it, then through."""
        self.along_to(way.x)
        rises = way.course == self._bed
        self._bed += 1 if rises else -1
        end = (self._at[0], self._coursing.bed_middle(self._bed))
        self._add(way.along, way.course, way.face, end, self._coursing.face_height_mm)

    def _add(self, along: Along, course: int, face: int, end: Point, length_mm: float) -> None:
        self._pieces.append(Piece(along, course, face, self._at, end, length_mm))
        self._at = end

    def path(self) -> CrackPath:
        """Return the crack as it was walked."""
        return CrackPath(tuple(self._pieces))


def stepped(
    coursing: Coursing, start: Point, courses: int, *, leans_right: bool = True, turn_after: int = 0
) -> CrackPath:
    """Step along the joints, one perpend to a course, from the perpend nearest a start upward.

    Each step goes on to the next perpend in its direction. With ``turn_after`` the steps turn back
    after so many courses.

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
    way = _joint_way(coursing, first, start[0])
    walk = _Walk(coursing, first, way.x)
    walk.through(way)
    for step in range(1, courses):
        turned = 0 < turn_after <= step
        rhythm = coursing.rhythm(first + step)
        face = rhythm.next_perpend(way.x, rightward=leans_right != turned)
        way = _Way(first + step, face, rhythm.perpend_after(face), Along.PERPEND)
        walk.through(way)
    return walk.path()


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
    ways = [_cut_way(coursing, course, start[0]) for course in range(first, first + courses)]
    walk = _Walk(coursing, first, ways[0].x)
    for way in ways:
        walk.through(way)
    return walk.path()


def along_bed(coursing: Coursing, course: int, left: float, right: float) -> CrackPath:
    """Run along the bed under a course [mm].

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> along_bed(laid(brick_format("uk_metric"), bond("stretcher")), 4, 100, 700).joint_m
    0.6
    """
    walk = _Walk(coursing, course, left)
    walk.along_to(right)
    return walk.path()


def traced(
    coursing: Coursing,
    points: Sequence[Point],
    *,
    through_bricks: bool = False,
    cuts: Collection[int] = (),
) -> CrackPath:
    """Follow a drawn line: by the joints nearest to it, or through the bricks where it cuts them.

    With ``cuts`` only those of its legs cut bricks, leg 1 being the one from the first point to the
    second; the others follow the joints.

    It starts and ends on the beds nearest the line's ends, and goes through a course where the line
    crosses its mid-height. Where the line doubles back along one bed, the detour is left out. A
    sloping line through bricks is upright in each brick, and its slope is taken up in the beds. A
    short upright line that reaches no mid-height goes through the course it lies in.

    Raises:
        ValueError: for fewer points than two.

    >>> from estimator.masonry.brick import brick_format
    >>> from estimator.masonry.bond import bond
    >>> from estimator.masonry.coursing import laid
    >>> wall = laid(brick_format("uk_metric"), bond("stretcher"))
    >>> traced(wall, [(200, 20), (700, 420)]).courses
    (1, 2, 3, 4, 5, 6)
    >>> traced(wall, [(200, 20), (700, 420)], cuts=(1,)).bricks
    ((5, 2), (6, 3))
    """
    if len(points) < 2:
        raise ValueError("a traced crack needs two points or more")
    ways = []
    for leg, (start, end) in enumerate(pairwise(points), 1):
        way_at = _cut_way if through_bricks or leg in cuts else _joint_way
        ways += [
            way_at(coursing, course, _x_at(start, end, coursing.course_middle(course)))
            for course in _crossed(coursing, start, end)
        ]
    first, last = points[0][0], points[-1][0]
    if ways and abs(ways[0].x - first) <= HAND_MM:
        first = ways[0].x
    walk = _Walk(coursing, coursing.nearest_bed(points[0][1]), first)
    for way in ways:
        walk.through(way)
    if not ways or abs(ways[-1].x - last) > HAND_MM:
        walk.along_to(last)
    # A crack that is there is never nothing, however short it was drawn.
    if not walk.path().pieces:
        levels = [y for _, y in points]
        course = coursing.course_at((min(levels) + max(levels)) / 2)
        all_cut = through_bricks or set(range(1, len(points))) <= set(cuts)
        way_at = _cut_way if all_cut else _joint_way
        walk.through(way_at(coursing, course, points[0][0]))
    return walk.path()


def _first_course(coursing: Coursing, start: Point, courses: int) -> int:
    if courses < 1:
        raise ValueError("a crack crosses one course or more")
    return coursing.course_at(start[1])


def _joint_way(coursing: Coursing, course: int, x: float) -> _Way:
    """Return the way through a course by the perpend nearest to x."""
    rhythm = coursing.rhythm(course)
    nearest = rhythm.nearest_perpend(x)
    return _Way(course, nearest, rhythm.perpend_after(nearest), Along.PERPEND)


def _cut_way(coursing: Coursing, course: int, x: float) -> _Way:
    """Return the way through a course at x: by its perpend if that is near, else its brick."""
    rhythm = coursing.rhythm(course)
    by_joint = _joint_way(coursing, course, x)
    # Near is a quarter of the pitch, left end and not right counted in: in half bond a plumb line
    # at any place then meets a perpend and a brick in turn.
    near = rhythm.repeat_mm / len(rhythm.faces_mm) / 4
    if -near <= x - by_joint.x < near:
        return by_joint
    return _Way(course, rhythm.face_at(x), float(x), Along.BRICK)


def _crossed(coursing: Coursing, start: Point, end: Point) -> range:
    """Return the courses whose mid-height a line crosses, in the order it crosses them."""
    here, there = coursing.nearest_bed(start[1]), coursing.nearest_bed(end[1])
    return range(here, there) if here <= there else range(here - 1, there - 1, -1)


def _x_at(start: Point, end: Point, y: float) -> float:
    # Always from the lower end, so that a line drawn the other way rounds to the same place.
    low, high = (start, end) if start[1] < end[1] else (end, start)
    share = (y - low[1]) / (high[1] - low[1])
    return low[0] + min(max(share, 0.0), 1.0) * (high[0] - low[0])


def _covered(runs: Iterable[tuple[float, float]]) -> float:
    """Return the length that runs cover together, overlaps counted once [mm]."""
    total, reach = 0.0, -math.inf
    for left, right in sorted(runs):
        total += max(right - max(left, reach), 0.0)
        reach = max(reach, right)
    return total
