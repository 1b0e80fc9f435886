"""From a survey and its measured work to what is drawn of one elevation, and how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from estimator.drawing.courses import masonry_of
from estimator.drawing.shapes import (
    AreaShape,
    BarShape,
    BedShape,
    BrickShape,
    BrickState,
    CrackShape,
    CrackWidth,
    JointShape,
    LegShape,
    Part,
    Picture,
    ThinBedShape,
)
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
    HandWork,
    SteppedRun,
    StraightRun,
    Survey,
    Treatment,
)
from estimator.survey.wall import Wall, path_of, wall_of
from estimator.takeoff.legs import legs_on
from estimator.takeoff.lines import Bar, Mark, Measure, SetBy
from estimator.takeoff.scope import Work

LOW_CRACK_MM = 100.0
"""A crack lower than this has no height worth a dimension [mm]."""


def picture_of(survey: Survey, elevation: int = 0, chosen: Measure | None = None) -> Picture | None:
    """Return the drawing of an elevation with measured work on it; None for no such elevation.

    Args:
        survey: What was seen; ranges are drawn at their likely values, and marked as guessed.
        elevation: Which side of the building, the first being 0.
        chosen: The work of the option drawn, None for the wall as it stands.

    >>> from estimator.survey.survey import Crack, Elevation, Party, Site, StraightRun
    >>> front = Elevation("front", "Front", ((0, 0), (3150, 0), (3150, 1800), (0, 1800)),
    ...     cracks=(Crack("a", StraightRun(1570, 1, 10), 2.0),))
    >>> survey = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> picture = picture_of(survey)
    >>> picture.cracks[0].mark, len(picture.joints), len(picture.bricks)
    ('front/crack/a', 5, 5)
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
        tuple(_beds(plain, wall)),
        tuple(_thin_beds(plain, wall)),
        tuple(_legs(chosen, told, survey)),
    )


def guessed_parts(survey: Survey, elevation: Elevation) -> frozenset[Part]:
    """Return the parts drawn from no answer; a wall drawn by hand is all as it was drawn.

    >>> from estimator.survey.survey import Elevation, Party, Site
    >>> front = Elevation("front", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> survey = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> guessed_parts(survey, front)
    frozenset()
    """
    is_made = (
        survey.basis is Basis.TOLD
        and not survey.drawn
        and (bool(survey.asked) or elevation.id == WALL_ID)
    )
    if not is_made:
        return frozenset()
    known = {
        one.question
        for one in survey.asked
        if one.amount is not None or (one.choices and one.choices != (NOT_SURE,))
    }
    return frozenset(part for part in Part if part.value not in known)


def _crack(crack: Crack, elevation: Elevation, wall: Wall, guessed: frozenset[Part]) -> CrackShape:
    shape = _crack_run(crack, elevation, wall, guessed)
    return replace(shape, widths=tuple(_widths(crack))) if crack.widths else shape


def _widths(crack: Crack) -> Iterator[CrackWidth]:
    widest = max(one.width_mm for one in crack.widths)
    for one in crack.widths:
        yield CrackWidth((one.x_mm, one.y_mm), one.width_mm, one.width_mm == widest)


def _crack_run(
    crack: Crack, elevation: Elevation, wall: Wall, guessed: frozenset[Part]
) -> CrackShape:
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
    kept = {one.id for one in elevation.bars if one.work is HandWork.KEPT}
    for bar in chosen.bars:
        if bar.elevation == elevation.id:
            yield _bar(bar, surely, kept)


def _bar(bar: Bar, surely: dict[str, tuple[float, float] | None], kept: set[str]) -> BarShape:
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
        not is_sure and bar.set_by is SetBy.RULE,
        bar.set_by is SetBy.HAND,
        bar.hand in kept,
    )


def _legs(chosen: Measure | None, elevation: Elevation, survey: Survey) -> Iterator[LegShape]:
    """Yield the legs of bars turned on to this elevation from one it is a return of."""
    turned = {
        one.id
        for one in survey.elevations
        if elevation.id in (one.left_return, one.right_return) and one.id != elevation.id
    }
    if chosen is None or not turned:
        return
    for leg in legs_on((bar for bar in chosen.bars if bar.elevation in turned), survey):
        if leg.elevation == elevation.id:
            yield LegShape(leg.bar, leg.left_mm, leg.right_mm, leg.y_mm, at_right=leg.at_right)


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
        shape = _brick(elevation, wall, brick, state, is_crossed=key in broken)
        yield replace(shape, marked=brick.treatment)
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
    coursing, rhythms = wall.coursing, wall.coursing.rhythms
    # Asked of the wall once a course: a verge has to be cut for every answer.
    first: dict[int, int] = {}
    for crack in elevation.cracks:
        mark = _mark(elevation, "crack", crack.id)
        for piece in path_of(crack, coursing).of(Along.PERPEND):
            course = piece.course
            if course not in first:
                first[course] = 1 - wall.place_of(course, 0)
            left = rhythms[(course - 1) % len(rhythms)].face_span(piece.face)[1]
            low, high = coursing.course_bottom(course), coursing.course_top(course)
            place = piece.face - first[course] + 1
            yield JointShape(
                f"{elevation.id}/perpend/{course}/{place}",
                (left, low, left + coursing.perpend_mm, high),
                mark,
                course,
            )


def _beds(elevation: Elevation, wall: Wall) -> Iterator[BedShape]:
    """Yield the beds cracks run along, lowest first, each once."""
    coursing = wall.coursing
    runs: dict[int, list[tuple[float, float]]] = {}
    met: dict[int, dict[Mark, None]] = {}
    for crack in elevation.cracks:
        mark = _mark(elevation, "crack", crack.id)
        for piece in path_of(crack, coursing).pieces:
            if piece.along is Along.BED:
                one, two = piece.start[0], piece.end[0]
                runs.setdefault(piece.course, []).append((one, two) if one <= two else (two, one))
                met.setdefault(piece.course, {})[mark] = None
    for course in sorted(runs):
        low = coursing.bed_bottom(course)
        top = low + coursing.bed_mm
        boxes = tuple((left, low, right, top) for left, right in _merged(runs[course]))
        yield BedShape(_mark(elevation, "bed", course), boxes, tuple(met[course]), course)


def _merged(runs: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches with those that meet joined to one."""
    joined: list[tuple[float, float]] = []
    for left, right in sorted(runs):
        if joined and left <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], right)
        else:
            joined.append((left, right))
    return joined


def _thin_beds(elevation: Elevation, wall: Wall) -> Iterator[ThinBedShape]:
    for number, one in enumerate(elevation.thin_beds, 1):
        yield ThinBedShape(
            _mark(elevation, "thin", number),
            one.course,
            min(one.from_mm, one.to_mm),
            max(one.from_mm, one.to_mm),
            wall.coursing.bed_middle(one.course),
            one.thickness_mm,
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
