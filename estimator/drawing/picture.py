"""What is drawn of one elevation, in millimetres: its marks, and how sure each of them is.

Nothing here knows a screen. A part whose size is a range, or whose question nobody has answered,
is marked as guessed, so that the board can draw it lighter.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import pairwise

from estimator.drawing.courses import Box, Masonry, masonry_of
from estimator.masonry.crack import Along, CrackPath
from estimator.masonry.region import Point
from estimator.survey.asked_wall import WALL_ID
from estimator.survey.questions import NOT_SURE
from estimator.survey.ranges import Range, settled
from estimator.survey.survey import (
    Basis,
    Crack,
    CrackedBrick,
    Elevation,
    SteppedRun,
    StraightRun,
    Survey,
    Treatment,
)
from estimator.survey.wall import Wall, path_of, wall_of
from estimator.takeoff.lines import Bar, Mark, Measure
from estimator.takeoff.scope import Work

LOW_CRACK_MM = 100.0
"""A crack lower than this has no height worth a dimension [mm]."""
ROUND_WORK_MM = 260.0
"""Wall shown round the work at the least [mm]; house rule."""


BRICKS_PER_MM = 0.28
"""Scale at which a marked brick is read; house rule [px/mm]."""


class BrickState(Enum):
    """How a brick stands, told apart by shape."""

    CRACKED = "cracked"
    REPLACE = "replace"
    TURN = "turn"
    PATCH = "patch"


class Part(Enum):
    """A part of the drawing that answers decide."""

    BRICKS = "house"
    OPENING = "place"
    SHAPE = "shape"
    LENGTH = "length"


@dataclass(frozen=True, slots=True)
class CrackShape:
    """A crack: what is sure of it, what is likely beyond, and how far it may go."""

    mark: Mark
    letter: str
    sure: tuple[Point, ...]
    likely: tuple[Point, ...]
    beyond: tuple[Point, ...]

    @property
    def points(self) -> tuple[Point, ...]:
        """The crack at its likely length."""
        return (*self.sure, *self.likely)


@dataclass(frozen=True, slots=True)
class BarShape:
    """A bar as it lies in its bed."""

    mark: Mark
    left: float
    right: float
    y: float
    turns: tuple[bool, bool]
    course: int
    length_mm: float
    cracks: tuple[str, ...]
    is_guessed: bool


@dataclass(frozen=True, slots=True)
class BrickShape:
    """A brick that does not stay as it is, or is cracked."""

    mark: Mark
    box: Box
    state: BrickState
    course: int
    place: int
    is_crossed: bool
    """Whether a crack is drawn through it already."""


@dataclass(frozen=True, slots=True)
class AreaShape:
    """An area repointed."""

    mark: Mark
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class JointShape:
    """A perpend that a crack runs up."""

    mark: Mark
    box: Box
    crack: Mark
    course: int


Shape = CrackShape | BarShape | BrickShape | AreaShape | JointShape


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything drawn of one elevation [mm]."""

    elevation: str
    name: str
    masonry: Masonry
    cracks: tuple[CrackShape, ...] = ()
    bars: tuple[BarShape, ...] = ()
    bricks: tuple[BrickShape, ...] = ()
    areas: tuple[AreaShape, ...] = ()
    joints: tuple[JointShape, ...] = ()
    """Perpends along the cracks; seen only when they are pointed at."""
    height: tuple[float, float, bool] | None = None
    """Foot and head of the crack, and whether its height is sure."""
    guessed: frozenset[Part] = frozenset()
    is_told: bool = False

    @property
    def work(self) -> Box | None:
        """The box round all marks, None where there are none."""
        points = [point for crack in self.cracks for point in crack.points]
        points += [(x, bar.y) for bar in self.bars for x in (bar.left, bar.right)]
        points += [corner for area in self.areas for corner in area.corners]
        points += [corner for one in self.bricks for corner in (one.box[:2], one.box[2:])]
        if not points:
            return None
        across, up = [x for x, _y in points], [y for _x, y in points]
        more = ROUND_WORK_MM
        return min(across) - more, min(up) - more, max(across) + more, max(up) + more

    @property
    def near_per_mm(self) -> float:
        """How near the drawing should be looked at: single bricks have to be read [px/mm]."""
        return BRICKS_PER_MM if self.bricks else 0.0

    @property
    def steps(self) -> frozenset[int]:
        """How many courses lie from one bar of a crack to the next."""
        beds: dict[str, set[int]] = {}
        for bar in self.bars:
            for crack in bar.cracks:
                beds.setdefault(crack, set()).add(bar.course)
        return frozenset(
            two - one for courses in beds.values() for one, two in pairwise(sorted(courses))
        )


def picture_of(survey: Survey, elevation: int = 0, chosen: Measure | None = None) -> Picture | None:
    """Return the drawing of an elevation with measured work on it; None for no such elevation.

    Args:
        survey: What was seen; ranges are drawn at their likely values, and marked as guessed.
        elevation: Which side of the building, the first being 0.
        chosen: The work of the option drawn, None for the wall as it stands.
    """
    if not 0 <= elevation < len(survey.elevations):
        return None
    told = survey.elevations[elevation]
    plain = settled(told)
    wall = wall_of(plain)
    guessed = guessed_parts(survey, told)
    cracks = tuple(_crack(crack, told, wall, guessed) for crack in told.cracks)
    return Picture(
        told.id,
        told.name,
        masonry_of(plain, is_told=survey.basis is Basis.TOLD),
        cracks,
        tuple(_bars(chosen, told, cracks)),
        tuple(_bricks(plain, wall, chosen)),
        tuple(_areas(chosen, plain)),
        tuple(_joints(plain, wall)),
        _height(told, cracks, guessed),
        guessed,
        survey.basis is Basis.TOLD,
    )


def guessed_parts(survey: Survey, elevation: Elevation) -> frozenset[Part]:
    """Return the parts drawn from no answer; a wall drawn by hand is all as it was drawn."""
    is_made = survey.basis is Basis.TOLD and (bool(survey.asked) or elevation.id == WALL_ID)
    if not is_made:
        return frozenset()
    known = {
        one.question
        for one in survey.asked
        if one.amount is not None or (one.choices and one.choices != (NOT_SURE,))
    }
    return frozenset(part for part in Part if part.value not in known)


def _crack(crack: Crack, elevation: Elevation, wall: Wall, guessed: frozenset[Part]) -> CrackShape:
    plain = settled(crack)
    path = path_of(plain, wall.coursing)
    mark = f"{elevation.id}/crack/{crack.id}"
    letter = "" if len(elevation.cracks) == 1 else crack.id
    if Part.SHAPE in guessed:
        return CrackShape(mark, letter, (), path.points, _beyond(crack, path, wall)[1])
    run = crack.run
    told = run.courses if isinstance(run, SteppedRun | StraightRun) else None
    if not isinstance(told, Range) or told.low == told.high or not path.courses:
        if Part.LENGTH in guessed:
            return CrackShape(mark, letter, (), path.points, ())
        return CrackShape(mark, letter, path.points, (), ())
    is_open_above, beyond = _beyond(crack, path, wall)
    sure = max(round(told.low), 1)
    first, last = path.courses[0], path.courses[-1]
    pieces = path.pieces
    if is_open_above:
        cut = sum(piece.course < first + sure for piece in pieces)
        cut = max(min(cut, len(pieces)), 1)
        return CrackShape(mark, letter, path.points[: cut + 1], path.points[cut:], beyond)
    cut = sum(piece.course <= last - sure for piece in pieces)
    cut = min(cut, len(pieces) - 1)
    return CrackShape(mark, letter, path.points[cut:], path.points[: cut + 1], ())


def _beyond(crack: Crack, path: CrackPath, wall: Wall) -> tuple[bool, tuple[Point, ...]]:
    """Return whether a crack ends in brickwork above, and how much further up it may go."""
    run = crack.run
    if not isinstance(run, SteppedRun | StraightRun) or not path.points:
        return False, ()
    x, y = path.points[-1]
    if not wall.net.holds((x, y + wall.coursing.gauge_mm)):
        return False, ()
    if not isinstance(run.courses, Range):
        return True, ()
    longest = path_of(replace(crack, run=replace(run, courses=run.courses.high)), wall.coursing)
    further = list(path.points[-1:])
    for point in longest.points[len(path.points) :]:
        if not wall.net.holds(point):
            break
        further.append(point)
    return True, tuple(further) if len(further) > 1 else ()


def _bars(
    chosen: Measure | None, elevation: Elevation, cracks: Sequence[CrackShape]
) -> Iterator[BarShape]:
    if chosen is None:
        return
    surely = {crack.mark.rsplit("/", 1)[1]: _levels(crack.sure) for crack in cracks}
    for bar in chosen.bars:
        if bar.elevation == elevation.id:
            yield _bar(bar, surely)


def _bar(bar: Bar, surely: dict[str, tuple[float, float] | None]) -> BarShape:
    """Return a bar; it is guessed where no crack it holds is sure to be at its bed."""
    spans = [surely.get(crack) for crack in bar.cracks]
    margin = bar.bed_mm + 1
    is_sure = any(
        span is not None and span[0] - margin <= bar.y_mm <= span[1] + margin for span in spans
    )
    turns = (bar.turn_left_mm > 0, bar.turn_right_mm > 0)
    return BarShape(
        bar.id,
        bar.left_mm,
        bar.right_mm,
        bar.y_mm,
        turns,
        bar.course,
        bar.length_mm,
        bar.cracks,
        not is_sure,
    )


def _levels(points: Sequence[Point]) -> tuple[float, float] | None:
    return (min(y for _x, y in points), max(y for _x, y in points)) if points else None


def _bricks(elevation: Elevation, wall: Wall, chosen: Measure | None) -> Iterator[BrickShape]:
    """Yield the bricks marked, and those a crack breaks that nobody marked, each once."""
    is_done = chosen is not None and Work.BRICKS in chosen.scope
    broken = dict.fromkeys(
        (course, wall.place_of(course, face)) for course, face in _broken(elevation, wall)
    )
    seen: set[tuple[int, int]] = set()
    for brick in elevation.bricks:
        key = (brick.course, brick.place)
        if key in seen:
            continue
        seen.add(key)
        state = BrickState.CRACKED
        if is_done and brick.treatment is not Treatment.LEAVE:
            state = BrickState(brick.treatment.value)
        yield _brick(elevation, wall, brick, state, is_crossed=key in broken)
    for course, place in broken:
        if (course, place) not in seen:
            left_alone = CrackedBrick(course, place, Treatment.LEAVE)
            yield _brick(elevation, wall, left_alone, BrickState.CRACKED, is_crossed=True)


def _brick(
    elevation: Elevation, wall: Wall, brick: CrackedBrick, state: BrickState, *, is_crossed: bool
) -> BrickShape:
    mark = _mark(elevation, "brick", brick.course, brick.place)
    return BrickShape(mark, wall.box_of(brick), state, brick.course, brick.place, is_crossed)


def _broken(elevation: Elevation, wall: Wall) -> Iterator[tuple[int, int]]:
    for crack in elevation.cracks:
        yield from path_of(crack, wall.coursing).bricks


def _areas(chosen: Measure | None, elevation: Elevation) -> Iterator[AreaShape]:
    if chosen is None:
        return
    panels = [one for one in chosen.panels if one.elevation == elevation.id]
    for number, panel in enumerate(panels):
        drawn = elevation.areas[number].id if number < len(elevation.areas) else "panel"
        yield AreaShape(_mark(elevation, "area", drawn), panel.corners)


def _joints(elevation: Elevation, wall: Wall) -> Iterator[JointShape]:
    coursing = wall.coursing
    for crack in elevation.cracks:
        for piece in path_of(crack, coursing).of(Along.PERPEND):
            left = coursing.rhythm(piece.course).face_span(piece.face)[1]
            low, high = coursing.course_bottom(piece.course), coursing.course_top(piece.course)
            yield JointShape(
                _mark(elevation, "perpend", piece.course, wall.place_of(piece.course, piece.face)),
                (left, low, left + coursing.perpend_mm, high),
                _mark(elevation, "crack", crack.id),
                piece.course,
            )


def _height(
    elevation: Elevation, cracks: Sequence[CrackShape], guessed: frozenset[Part]
) -> tuple[float, float, bool] | None:
    if len(cracks) != 1:
        return None
    span = _levels(cracks[0].points)
    if span is None or span[1] - span[0] < LOW_CRACK_MM:
        return None
    run = elevation.cracks[0].run
    told = run.courses if isinstance(run, SteppedRun | StraightRun) else 0.0
    is_range = isinstance(told, Range) and told.low != told.high
    return span[0], span[1], not is_range and Part.LENGTH not in guessed


def _mark(elevation: Elevation, *parts: object) -> Mark:
    return "/".join((elevation.id, *map(str, parts)))
