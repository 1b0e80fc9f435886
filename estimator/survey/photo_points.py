"""Points on a photograph whose places on the wall are known: counted, and looked through.

A place is counted as a bricklayer would say it: so many courses up, so many bricks along.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.survey.photo_fit import Pair
from estimator.survey.survey import CrackedBrick, Elevation, PhotoPoint, Treatment
from estimator.survey.wall import wall_of

FEWEST = 4
MOST = 40
"""House rule: more points make the fit no better and the window slower."""
THIN = 0.02
"""Points nearer to a line than this share of their extent count as in it; house rule."""
NEAR_PX = 2.0
NEAR_MM = 1.0
"""Points nearer than this are one; house rule."""


def joint_crossing(coursing: Coursing, course: int, face: int) -> Point:
    """Return where the bed under a course meets the perpend after one of its faces [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> from estimator.survey.wall import coursing_of
    >>> joint_crossing(coursing_of(Brickwork()), 8, 4)
    (1007.5, 530.0)
    """
    _left, right = coursing.rhythm(course).face_span(face)
    return right + coursing.perpend_mm / 2, coursing.bed_middle(course)


def points_from_counting(elevation: Elevation, courses_up: int, bricks_along: int) -> Point:
    """Return the place on the wall that is so many courses up and so many bricks along [mm].

    It lies in the middle of the bed that rests on so many courses. Bricks are counted from the
    left end in the course that stands on this bed, a part of a brick at the end as one. No brick
    along is the end of the wall itself.

    Raises:
        UserMistake: when there is no wall so far up.

    >>> from estimator.survey.survey import Elevation
    >>> front = Elevation("a", "Front", ((0, 0), (4500, 0), (4500, 2700), (0, 2700)))
    >>> points_from_counting(front, 7, 5), points_from_counting(front, 0, 0)
    ((1007.5, 530.0), (0.0, 5.0))
    """
    wall = wall_of(elevation)
    course = courses_up + 1
    level = wall.coursing.bed_middle(course)
    spans = wall.gross.spans_at(level)
    if not spans or bricks_along < 0:
        raise UserMistake(
            f"there is no place {courses_up} courses up and {bricks_along} bricks along",
            why="the wall does not reach so far",
            do="count again",
        )
    if bricks_along == 0:
        return spans[0][0], level
    brick = CrackedBrick(course, bricks_along, Treatment.LEAVE)
    return joint_crossing(wall.coursing, course, wall.face_of(brick))


def pairs_of(points: Sequence[PhotoPoint]) -> tuple[Pair, ...]:
    """Return the points as pairs of places, once they can settle how the wall is seen.

    Raises:
        UserMistake: when they are too few or too many, lie on one another or in a line, or do not
            lie on the photograph in the order they have on the wall.

    >>> corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> points = [PhotoPoint(x * 900, 800 - y * 700, x * 1200, y * 900) for x, y in corners]
    >>> len(pairs_of(points))
    4
    """
    if len(points) < FEWEST:
        raise UserMistake(
            f"it takes {FEWEST} points, and {len(points) or 'none'}"
            f" {'is' if len(points) == 1 else 'are'} marked",
            do="mark points whose places on the wall are known, well apart",
        )
    if len(points) > MOST:
        raise UserMistake(
            f"{len(points)} points are marked", do=f"keep the best, {MOST} at the most"
        )
    numbers = [(one.across_px, one.down_px, one.x_mm, one.y_mm) for one in points]
    if not all(math.isfinite(number) for four in numbers for number in four):
        raise UserMistake("a point has no place", do="mark it again")
    pairs = tuple(((x, y), (across, down)) for across, down, x, y in numbers)
    _refuse_coincident(pairs)
    _refuse_line([place for place, _ in pairs], "on the wall")
    _refuse_line([seen for _, seen in pairs], "on the photograph")
    _refuse_order(pairs)
    return pairs


def area_of(ring: Sequence[Point]) -> float:
    """Return the area within a ring, above zero where it runs against the clock with y upward.

    >>> area_of([(0, 0), (2, 0), (2, 2), (0, 2)])
    4.0
    """
    after = [*ring[1:], *ring[:1]]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, after, strict=True)) / 2


def hull_of(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the points a string round all of them would touch, against the clock.

    >>> hull_of([(0, 0), (1, 1), (2, 0), (2, 2), (0, 2)])
    ((0, 0), (2, 0), (2, 2), (0, 2))
    """
    ordered = sorted(set(points))
    return (*_half(ordered), *_half(ordered[::-1]))


def _half(ordered: Sequence[Point]) -> list[Point]:
    """Return one side of the hull without its last point, which begins the other."""
    chain: list[Point] = []
    for point in ordered:
        while len(chain) > 1 and area_of((chain[-2], chain[-1], point)) <= 0:
            chain.pop()
        chain.append(point)
    return chain[:-1]


def _refuse_coincident(pairs: Sequence[Pair]) -> None:
    for (i, one), (k, two) in combinations(enumerate(pairs, 1), 2):
        if math.dist(one[1], two[1]) < NEAR_PX:
            raise UserMistake(
                f"points {i} and {k} are the same place on the photograph", do="take one away"
            )
        if math.dist(one[0], two[0]) < NEAR_MM:
            raise UserMistake(
                f"points {i} and {k} are the same place on the wall",
                do="count them again, or take one away",
            )


def _refuse_line(points: Sequence[Point], where: str) -> None:
    """Refuse points of which all, or all but one, lie in a line: they leave the view open."""
    extent = max(math.dist(one, two) for one, two in combinations(points, 2))
    for one, two in combinations(points, 2):
        thin = THIN * extent * math.dist(one, two)
        near = [abs(_across(one, two, other)) < thin for other in points]
        if sum(near) >= len(points) - 1:
            names = [str(number) for number, is_near in enumerate(near, 1) if is_near]
            raise UserMistake(
                f"points {', '.join(names[:-1])} and {names[-1]} lie in a line {where}",
                do="mark points that span an area, like the corners of a window",
            )


def _refuse_order(pairs: Sequence[Pair]) -> None:
    """Refuse points that turn the other way round on the photograph than on the wall."""
    right = wrong = 0
    for one, two, three in combinations(pairs, 3):
        on_wall = _turn(one[0], two[0], three[0])
        # Down is counted downward on a photograph, so the same turn has the other sign.
        seen = -_turn(one[1], two[1], three[1])
        right += on_wall * seen > 0
        wrong += on_wall * seen < 0
    if wrong and not right:
        raise UserMistake(
            "the points are mirrored",
            why="left and right, or up and down, are the other way round on the photograph",
            do="count them from the other end, or turn the photograph",
        )
    if wrong:
        raise UserMistake(
            "the points do not lie on the photograph as they lie on the wall",
            why="two of them may be exchanged, or one is miscounted",
            do="count them again",
        )


def _turn(one: Point, two: Point, three: Point) -> int:
    """Return 1 or -1 for the way round of three points, 0 when they are nearly in a line."""
    across = _across(one, two, three)
    extent = max(math.dist(one, two), math.dist(two, three), math.dist(three, one))
    return 0 if abs(across) < 2 * THIN * extent * extent else (1 if across > 0 else -1)


def _across(one: Point, two: Point, three: Point) -> float:
    """Return twice the area between three points, above zero against the clock."""
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])
