"""One elevation changed and held against everything that must be true of it.

Every edit of a wall ends here: the fields that changed are read as a survey file would read them,
the elevation is checked, and what is on the wall must still lie on it. So what was drawn by hand
can always be kept, and read back as it was.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from dataclasses import replace
from typing import Any

from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits import on_wall, spoken
from estimator.survey import checks
from estimator.survey.limits import COUNTS, NUMBERS
from estimator.survey.reading import Place, Read, whole
from estimator.survey.survey import Basis, Elevation, Party, Site, Survey
from estimator.survey.survey_file import plain
from estimator.survey.survey_shapes import ELEVATION, SURVEY

ID_LETTERS = 24
"""Letters of a new id before its number; short enough for any mark; house rule."""


def elevation(work: Work, side: str) -> Elevation:
    """Return one side of the building by its id.

    Raises:
        UserMistake: when there is no such side.

    >>> elevation(plain_wall(), "front").name
    'Front'
    """
    for one in work.survey.elevations:
        if one.id == side:
            return one
    if not work.survey.elevations:
        raise UserMistake("there is no wall yet", do="draw one first")
    raise UserMistake("this side of the building is no longer there", do="choose another")


def change(work: Work, side: str, step: Step, about: str = "", /, **fields: Any) -> Edit:
    """Return the edit that gives one elevation other fields, once it holds together.

    Raises:
        UserMistake: in the words of the wall, when something would not agree.

    >>> change(plain_wall(900, 750), "front", Step.WALL, damp_course_mm=900.0)
    Traceback (most recent call last):
    ...
    estimator.notices.UserMistake: the damp course is 900, above the top of the wall; the wall ends
    750 mm up.
    """
    before = elevation(work, side)
    after = replace(before, **fields)
    try:
        for name in fields:
            _check_limits(before, after, name)
        checks.check_elevation(after)
    except UserMistake as mistake:
        is_wall = before.outline != after.outline or before.brickwork != after.brickwork
        raise spoken.on_the_wall(mistake, after, is_wall_changed=is_wall) from mistake
    on_wall.check_marks(before, after)
    sides = tuple(after if one.id == side else one for one in work.survey.elevations)
    return Edit(step, about, replace(work, survey=_drawn(work.survey, elevations=sides)))


def change_survey(work: Work, step: Step, about: str = "", /, **fields: Any) -> Edit:
    """Return the edit that gives the survey other fields, once it holds together.

    Which walls are drawn by hand is left to the fields.

    Raises:
        UserMistake: in the words of the wall, when something would not agree.

    >>> change_survey(plain_wall(), Step.BASIS, basis=Basis.TOLD).after.survey.basis
    <Basis.TOLD: 'told on the telephone'>
    """
    survey = replace(work.survey, **fields)
    try:
        for name in fields:
            _check_survey_limits(work.survey, survey, name)
        checks.check(survey)
    except UserMistake as mistake:
        raise spoken.of_the_survey(mistake, survey) from mistake
    return Edit(step, about, replace(work, survey=survey))


def plain_wall(width_mm: float = 4500.0, height_mm: float = 2700.0) -> Work:
    """Return a job with one plain wall, called front, and nothing on it [mm].

    >>> elevation(plain_wall(), "front").outline[2]
    (4500.0, 2700.0)
    """
    outline = ((0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm))
    front = Elevation("front", "Front", outline)
    day = "2026-01-01"
    return Work(Survey("1", "Wall", day, Basis.MEASURED, Party(), Site(), (front,), drawn=True))


def during(edit: Edit, gesture: int) -> Edit:
    """Return an edit as one frame of a drag: all frames of one gesture are undone as one.

    >>> during(Edit(Step.OPENING, "front/opening/w1/place", plain_wall()), 3).about
    'front/opening/w1/place#3'
    """
    return replace(edit, about=f"{edit.about}#{gesture}")


def fresh_id(prefix: str, taken: Collection[str]) -> str:
    """Return a short id nobody has yet, made of words a person would know it by.

    >>> fresh_id("Front", ()), fresh_id("Front", {"front", "front-2"}), fresh_id("/", ())
    ('front', 'front-3', 'one')
    """
    slug = re.sub(r"[^\w]+", "-", prefix.casefold()).strip("-_")[:ID_LETTERS].strip("-_") or "one"
    name, number = slug, 1
    while name in taken:
        number += 1
        name = f"{slug}-{number}"
    return name


def whole_mm(value: float, called: str = "this") -> float:
    """Return a length or place rounded to whole millimetres, half up.

    Raises:
        UserMistake: for what is no number at all.

    >>> whole_mm(1234.5), whole_mm(-0.4)
    (1235.0, 0.0)
    """
    if not math.isfinite(value):
        raise UserMistake(f"{called} is no size", do="give it in millimetres")
    # Never minus nothing, which would be written as something else than it is read.
    return float(math.floor(value + 0.5)) + 0.0


def tenth_mm(value: float, called: str = "this") -> float:
    """Return a joint or the width of a crack rounded to a tenth, as a gauge is read [mm].

    Raises:
        UserMistake: for what is no number at all.

    >>> tenth_mm(2.449), tenth_mm(0.25)
    (2.4, 0.3)
    """
    return whole_mm(value * 10, called) / 10


def whole_point(point: Point) -> Point:
    """Return a place on the wall rounded to whole millimetres.

    >>> whole_point((1.2, 3.5))
    (1.0, 4.0)
    """
    return whole_mm(point[0], "the place"), whole_mm(point[1], "the place")


def course_number(value: int, called: str = "the course") -> int:
    """Return a number of a course, refused where no wall has so many.

    Raises:
        UserMistake: for a number below 1, or beyond any wall.

    >>> course_number(12)
    12
    """
    try:
        return whole(NUMBERS["course"])(value, Place((called,)))
    except UserMistake as mistake:
        raise UserMistake(
            f"{called} is {value}", do="count courses from 1 at the datum"
        ) from mistake


def known(parts: Collection[Any], identity_: str, called: str) -> Any:
    """Return the one of several with an id.

    Raises:
        UserMistake: when none has it.

    >>> from estimator.survey.survey import Area
    >>> known((Area("a", ()),), "a", "area").id
    'a'
    """
    for one in parts:
        if one.id == identity_:
            return one
    raise UserMistake(f"the {called} is no longer there", do="choose another")


def numbered(parts: tuple[Any, ...], number: int, called: str) -> Any:
    """Return the one of several at a number from 1.

    Raises:
        UserMistake: when there is none.

    >>> numbered(("a", "b"), 2, "thin bed")
    'b'
    """
    if not 1 <= number <= len(parts):
        raise UserMistake(f"there is no {called} {number}", do="choose another")
    return parts[number - 1]


def swapped(parts: tuple[Any, ...], old: Any, *new: Any) -> tuple[Any, ...]:
    """Return several with one of them put in place of another, or taken out.

    >>> swapped((1, 2, 3), 2, 9), swapped((1, 2, 3), 2)
    ((1, 9, 3), (1, 3))
    """
    at = next(place for place, one in enumerate(parts) if one is old)
    return (*parts[:at], *new, *parts[at + 1 :])


def _drawn(survey: Survey, **fields: Any) -> Survey:
    return replace(survey, drawn=True, **fields)


def _check_limits(before: Elevation, after: Elevation, name: str) -> None:
    """Read a field as the survey file does, but of a list only what is new in it."""
    place = Place().at(f"elevation '{after.id}'")
    _check_field(ELEVATION.fields[name], (getattr(before, name), getattr(after, name)), place, name)


def _check_survey_limits(before: Survey, after: Survey, name: str) -> None:
    reader = SURVEY.fields[name]
    _check_field(reader, (getattr(before, name), getattr(after, name)), Place(), name)


def _check_field(read: Read[Any], values: tuple[Any, Any], place: Place, name: str) -> None:
    old, new = values
    if new is old or new is None:
        return
    if not isinstance(new, tuple) or name in ("outline", "movement_joints_mm"):
        read(plain(new), place.at(name))
        return
    least, most = COUNTS[_COUNTED.get(name, name)]
    if len(new) > most:
        raise place.at(name).mistake(f"has {len(new):,} in its list", f"keep to {most:,}")
    same = {id(one) for one in old}
    fresh = [plain(one) for one in new if id(one) not in same]
    # Read as a list, so that each is named by its id or number, and padded to as many as it needs.
    if len(fresh) >= least and fresh:
        read(fresh, place.at(name))


_COUNTED = {"thin_beds": "joints"}
"""Lists counted under another name than their own."""
