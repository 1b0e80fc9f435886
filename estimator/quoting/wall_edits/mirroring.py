"""One elevation turned left for right, so that every joint falls where its mirror image fell."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import CrackPath
from estimator.quoting.wall_edits.cracks import through_corners
from estimator.survey.ranges import settled
from estimator.survey.survey import (
    Area,
    BedRun,
    Crack,
    CrackedBrick,
    CrackRun,
    Elevation,
    HandBar,
    SteppedRun,
    StraightRun,
    TracedRun,
)
from estimator.survey.wall import coursing_of, path_of, wall_of

DECIMALS = 6
"""Joints seldom lie on whole millimetres, and must not move in the mirror by any part of one."""
HAIR_MM = 0.01
ALIKE_MM = 1e-6


def mirrored(old: Elevation) -> Elevation:
    """Return an elevation turned left for right.

    >>> old = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> mirrored(old).outline
    ((-10.0, 0), (890.0, 0), (890.0, 750), (-10.0, 750))
    """
    mirror = Mirror(old)
    new = replace(
        old,
        outline=mirror.ring(old.outline),
        openings=tuple(
            replace(one, left_mm=mirror.x(one.left_mm + one.width_mm)) for one in old.openings
        ),
        left_end=old.right_end,
        right_end=old.left_end,
        left_return=old.right_return,
        right_return=old.left_return,
        cracks=tuple(mirror.crack(one) for one in old.cracks),
        areas=tuple(Area(one.id, mirror.ring(one.outline)) for one in old.areas),
        movement_joints_mm=tuple(mirror.x(x) for x in old.movement_joints_mm),
        thin_beds=tuple(
            replace(one, from_mm=mirror.x(one.to_mm), to_mm=mirror.x(one.from_mm))
            for one in old.thin_beds
        ),
        bars=tuple(mirror.bar(one) for one in old.bars),
    )
    return replace(new, bricks=tuple(mirror.bricks(new)))


class Mirror:
    """The upright line an elevation is turned about, and what becomes of each thing on it."""

    def __init__(self, old: Elevation) -> None:
        self.old = old
        self.coursing = coursing_of(old.brickwork)
        self.sum = mirror_sum(old, self.coursing)
        """A place and its mirror image add up to this [mm]."""

    def x(self, x: float) -> float:
        """Return the mirror image of a place along the wall [mm]."""
        return round(self.sum - x, DECIMALS) + 0.0

    def ring(self, ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
        """Return an outline in the mirror, still the same way round."""
        # Begun at its second corner, so that a lower left corner that came first does so again.
        around = (*ring[1::-1], *ring[:1:-1])
        return tuple((self.x(x), y) for x, y in around)

    def crack(self, old: Crack) -> Crack:
        """Return a crack in the mirror, on the mirror images of its joints and bricks."""
        path = path_of(settled(old), self.coursing)
        widths = tuple(replace(one, x_mm=self.x(one.x_mm)) for one in old.widths)
        return replace(old, run=self._run(old.run, path), widths=widths)

    def bar(self, old: HandBar) -> HandBar:
        """Return a bar by hand in the mirror."""
        return replace(
            old,
            from_mm=self.x(old.to_mm),
            to_mm=self.x(old.from_mm),
            turn_left_mm=old.turn_right_mm,
            turn_right_mm=old.turn_left_mm,
        )

    def bricks(self, new: Elevation) -> Iterator[CrackedBrick]:
        """Yield the marked bricks, counted from the other end."""
        was, wall = wall_of(self.old), wall_of(new)
        for brick in self.old.bricks:
            left, _bottom, right, _top = was.box_of(brick)
            rhythm = self.coursing.rhythm(brick.course)
            face = rhythm.face_at(self.sum - (left + right) / 2)
            yield replace(brick, place=wall.place_of(brick.course, face))

    def _run(self, run: CrackRun, path: CrackPath) -> CrackRun:
        if isinstance(run, BedRun):
            return replace(run, from_mm=self.x(run.to_mm), to_mm=self.x(run.from_mm))
        for tried in self._tried(run, path):
            if self._is_image(path, path_of(Crack("", settled(tried), 0.0), self.coursing)):
                return tried
        # Where the nearest joint is a toss-up, its corners leave none open.
        return self._traced(through_corners(path))

    def _tried(self, run: CrackRun, path: CrackPath) -> Iterator[CrackRun]:
        """Yield a crack in the mirror, and a hair beside it where a toss-up may fall otherwise."""
        for by in (0.0, HAIR_MM, -HAIR_MM):
            if isinstance(run, SteppedRun):
                lean = "left" if run.lean == "right" else "right"
                at = path.points[0][0] if path.points else run.x_mm
                yield replace(run, x_mm=self.x(at) + by, lean=lean)
            elif isinstance(run, StraightRun):
                yield replace(run, x_mm=self.x(run.x_mm + by))
            elif isinstance(run, TracedRun):
                moved = tuple((x + by, y) for x, y in run.points)
                yield self._traced(replace(run, points=moved))

    def _traced(self, run: TracedRun) -> TracedRun:
        return replace(run, points=tuple((self.x(x), y) for x, y in run.points))

    def _is_image(self, one: CrackPath, two: CrackPath) -> bool:
        """Whether one crack is the other in the mirror, but for a hair."""
        if len(one.pieces) != len(two.pieces):
            return False
        return all(
            a.along is b.along
            and a.course == b.course
            and abs(self.sum - a.end[0] - b.end[0]) <= HAIR_MM * 2
            for a, b in zip(one.pieces, two.pieces, strict=True)
        )


def mirror_sum(old: Elevation, coursing: Coursing) -> float:
    """Return what a place and its mirror image add up to, so that joints fall on joints [mm].

    All courses are symmetrical about the plumb line they are set out from, and about any other a
    whole repeat of all of them away. Of those, the one that leaves the left end of the wall nearest
    to the datum is taken.
    """
    line = 2 * plumb_line(coursing)
    left = line - max(x for x, _y in old.outline)
    repeat = common_repeat(coursing)
    if repeat is None:
        return line
    # Half-way between two, the wall goes to the right, and in the mirror again comes back.
    return line - repeat * round(left / repeat)


def plumb_line(coursing: Coursing) -> float:
    """Return where the place is that all courses are set out from [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> plumb_line(coursing_of(Brickwork()))
    107.5
    """
    plumb, rhythm = coursing.bond.courses[0].plumb, coursing.rhythms[0]
    face, part = int(plumb), plumb % 1
    left, right = rhythm.face_span(face)
    return right + rhythm.perpend_mm / 2 if part else (left + right) / 2


def common_repeat(coursing: Coursing) -> float | None:
    """Return the length after which all courses repeat, or None where they drift apart [mm].

    >>> from estimator.survey.survey import Brickwork
    >>> common_repeat(coursing_of(Brickwork(bond="english")))
    225.0
    """
    longest = max(rhythm.repeat_mm for rhythm in coursing.rhythms)
    for rhythm in coursing.rhythms:
        times = longest / rhythm.repeat_mm
        if abs(times - round(times)) * rhythm.repeat_mm > ALIKE_MM:
            return None
    return longest
