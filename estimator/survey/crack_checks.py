"""What must be true of a crack and its wall: where it runs, its legs and its widths."""

from __future__ import annotations

from estimator.masonry.region import Point
from estimator.survey.checked_wall import CheckedWall, called, check_stretch
from estimator.survey.ranges import Range, Told
from estimator.survey.reading import Place
from estimator.survey.survey import BedRun, Crack, SteppedRun, StraightRun, TracedRun
from estimator.survey.wall import path_of


def check_crack(crack: Crack, wall: CheckedWall) -> None:
    """Refuse a crack that runs or was measured where there is no wall.

    Raises:
        UserMistake: for the first thing that does not agree.
    """
    here = wall.place.at(called("crack", crack.id))
    place, run = here.at("run"), crack.run
    if isinstance(run, TracedRun):
        _check_traced(run, wall, place)
    elif isinstance(run, BedRun):
        check_stretch(run, wall, place)
    else:
        _check_rising(run, wall, place)
    if isinstance(run, SteppedRun):
        _check_ends(crack, wall, place)
    _check_widths(crack, wall, here)


def _check_traced(run: TracedRun, wall: CheckedWall, place: Place) -> None:
    """Refuse points off the wall, a point twice in a row, and cuts of legs that are not there."""
    before: Point | None = None
    for number, point in enumerate(run.points, 1):
        here = place.at(f"point {number}")
        wall.check_point(*point, here)
        if before == point:
            raise here.mistake("is the same as the point before it", "leave it out")
        before = point
    legs, seen = len(run.points) - 1, set()
    for leg in run.cuts:
        if leg > legs:
            raise place.at("cuts").mistake(
                f"has leg {leg:,}, where the crack has {legs:,}", "count the legs from its start"
            )
        if leg in seen:
            raise place.at("cuts").mistake(f"has leg {leg:,} twice", "write it once")
        seen.add(leg)


def _check_rising(run: SteppedRun | StraightRun, wall: CheckedWall, place: Place) -> None:
    """Refuse a crack that starts off the wall or climbs above it."""
    span = wall.check_course(run.course, place.at("course"))
    wall.check_along(run.x_mm, span, place.at("x_mm"))
    # A told crack must fit the wall however long it turns out.
    courses = _most(run.courses)
    if courses != int(courses) and not isinstance(run.courses, Range):
        raise place.at("courses").mistake(f"is {courses:g}", "write a whole number of courses")
    wall.check_course(run.course + int(courses) - 1, place.at("courses"))


def _check_ends(crack: Crack, wall: CheckedWall, place: Place) -> None:
    """Refuse steps that walk off the end of the wall."""
    left, _bottom, right, _top = wall.region.bounds
    # As laid on the joints, because how far steps go depends on the bond.
    reached = [x for x, _y in path_of(crack, wall.coursing).points]
    for x in (min(reached), max(reached)):
        wall.check_along(x, (left, right), place.at("the end of the steps"))


def _most(value: Told) -> float:
    return value.high if isinstance(value, Range) else value


def _check_widths(crack: Crack, wall: CheckedWall, place: Place) -> None:
    """Refuse widths off the wall, and a widest that is none of them."""
    for number, one in enumerate(crack.widths, 1):
        wall.check_point(one.x_mm, one.y_mm, place.at(f"width {number}"))
    if not crack.widths or isinstance(crack.width_mm, Range):
        return
    widest = max(one.width_mm for one in crack.widths)
    if crack.width_mm != widest:
        raise place.at("width_mm").mistake(
            f"is {crack.width_mm:g}, but the widest of its widths is {widest:g} mm",
            "write the same in both",
        )
