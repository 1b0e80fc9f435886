"""The sides of the building: added, copied, mirrored, joined at quoins; who took the sizes."""

from __future__ import annotations

from dataclasses import replace

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits import mirroring
from estimator.quoting.wall_edits.changing import (
    change,
    change_survey,
    elevation,
    fresh_id,
    whole_mm,
)
from estimator.quoting.wall_edits.outline import End, bounds_of, opposite, rectangle, with_return
from estimator.survey import enquiry
from estimator.survey.survey import Basis, Elevation, Survey

WIDTH_MM, HEIGHT_MM = 4500.0, 2700.0
"""A wall before it is measured: a storey high; house rule [mm]."""


def add_side(
    work: Work, *, name: str, width_mm: float = WIDTH_MM, height_mm: float = HEIGHT_MM
) -> Edit:
    """Add a side to the building, laid as the first one is [mm].

    Raises:
        UserMistake: for a name left empty, or a size no wall has.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> [one.id for one in add_side(plain_wall(), name="Back").after.survey.elevations]
    ['front', 'back']
    """
    sides = work.survey.elevations
    size = (whole_mm(width_mm, "the width"), whole_mm(height_mm, "the height"))
    new = Elevation(_fresh(work, name), name.strip(), _wall(*size))
    if sides:
        like = sides[0]
        new = replace(
            new,
            brickwork=like.brickwork,
            datum_height_mm=like.datum_height_mm,
            ground=like.ground,
        )
    return _with(work, (*sides, new))


def copy_side(work: Work, side: str, *, name: str, with_marks: bool = True) -> Edit:
    """Add a side like another, to begin a like wall with.

    Bars by hand, returns and photographs belong to the one wall and are never copied; a note on
    what else is on the wall neither.

    Args:
        work: What is known and offered.
        side: Id of the elevation copied.
        name: What the new one is called.
        with_marks: Whether cracks, marked bricks, areas and thin beds are copied too.

    Raises:
        UserMistake: for a name left empty.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = copy_side(plain_wall(), "front", name="Front")
    >>> [one.id for one in edit.after.survey.elevations]
    ['front', 'front-2']
    """
    old = elevation(work, side)
    new = replace(
        old,
        id=_fresh(work, name),
        name=name.strip(),
        bars=(),
        left_return="",
        right_return="",
        ornament="",
    )
    if not with_marks:
        new = replace(new, cracks=(), bricks=(), hidden_bricks=0.0, areas=(), thin_beds=())
    at = work.survey.elevations.index(old) + 1
    return _with(work, (*work.survey.elevations[:at], new, *work.survey.elevations[at:]))


def mirror_side(work: Work, side: str) -> Edit:
    """Turn a side left for right, with all that is on it, returns and ends changed over.

    The courses are symmetrical about a plumb line in every bond, so the joints fall in the mirror
    where they fell; for that the wall may move along its datum by part of a bond repeat. Where
    headers drift along the courses, it moves by more. A photograph cannot be mirrored: those of
    this side lose the points that set them square.

    Raises:
        UserMistake: when there is no such side.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> mirror_side(plain_wall(), "front").after.survey.elevations[0].outline[0]
    (-10.0, 0.0)
    """
    old = elevation(work, side)
    new = mirroring.mirrored(old)
    # What stood in the air before does so in the mirror: only the survey itself is held together.
    walls = tuple(new if one is old else one for one in work.survey.elevations)
    photos = tuple(
        replace(one, points=()) if one.elevation == side else one for one in work.survey.photos
    )
    return change_survey(work, Step.SIDE, elevations=walls, photos=photos, drawn=True)


def rename_side(work: Work, side: str, name: str) -> Edit:
    """Give a side another name; its id stays.

    Raises:
        UserMistake: for a name left empty.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> rename_side(plain_wall(), "front", "Street").after.survey.elevations[0].name
    'Street'
    """
    return change(work, side, Step.SIDE, f"{side}/name", name=_named(name))


def remove_side(work: Work, side: str) -> Edit:
    """Take a side out of the job with its photographs; no other side returns to it any more.

    Raises:
        UserMistake: for the last one.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_side(plain_wall(), name="Back").after
    >>> [one.id for one in remove_side(work, "back").after.survey.elevations]
    ['front']
    """
    old = elevation(work, side)
    kept = [one for one in work.survey.elevations if one is not old]
    if not kept:
        raise UserMistake("this is the only side", do="change it, or add another one first")
    sides = tuple(_without_return(one, side) for one in kept)
    photos = tuple(one for one in work.survey.photos if one.elevation != side)
    return change_survey(work, Step.SIDE, elevations=sides, photos=photos, drawn=True)


def add_return(work: Work, side: str, end: End, *, width_mm: float, name: str = "") -> Edit:
    """Add the side round a quoin: as high as the wall is there, and laid alike [mm].

    Raises:
        UserMistake: where a side returns already, or for a width no wall has.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> edit = add_return(plain_wall(), "front", "left", width_mm=3000)
    >>> edit.after.survey.elevations[0].left_return
    'front-left'
    """
    old = elevation(work, side)
    if getattr(old, f"{end}_return"):
        raise UserMistake(f"there is a return on the {end} already", do="change that one")
    called = name.strip() or f"{old.name}, {end} return"
    new = Elevation(
        _fresh(work, called if name.strip() else f"{old.id}-{end}"),
        called,
        _wall(whole_mm(width_mm, "the width"), _height_at(old, end)),
        brickwork=old.brickwork,
        datum_height_mm=old.datum_height_mm,
        damp_course_mm=old.damp_course_mm,
    )
    new = with_return(new, opposite(end), side)
    told = with_return(old, end, new.id)
    sides = tuple(told if one is old else one for one in work.survey.elevations)
    return _with(work, (*sides, new))


def from_answers(work: Work) -> Edit:
    """Draw the wall of the telephone answers again, in place of all that was drawn by hand.

    Photographs are kept with the wall; the points that set them square are not.

    Raises:
        UserMistake: when what the answers make would not hold together.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> from_answers(plain_wall()).after.survey.elevations[0].name
    'Wall'
    """
    survey = work.survey
    made = _of_answers(survey)
    wall = made.elevations[0].id
    photos = tuple(replace(one, elevation=wall, points=()) for one in survey.photos)
    return change_survey(
        work,
        Step.WALL,
        basis=Basis.TOLD,
        drawn=False,
        elevations=made.elevations,
        signs=made.signs,
        site=made.site,
        photos=photos,
    )


def set_basis(work: Work, basis: Basis, *, today: str = "") -> Edit:
    """Say whether sizes were told or taken on site; the walls stay as they are.

    Args:
        work: What is known.
        basis: Who took the sizes.
        today: The day the sizes are said to be taken on site (ISO 8601), which the survey then
            bears; empty for the day it has.

    Raises:
        UserMistake: never by itself, only when the survey did not hold together before.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_basis(plain_wall(), Basis.TOLD).after.survey.basis
    <Basis.TOLD: 'told on the telephone'>
    """
    survey = work.survey
    is_drawn = survey.drawn
    if basis is Basis.TOLD and not is_drawn:
        # Sizes taken on site are not lost to the next answer when they are called told.
        is_drawn = survey.elevations not in ((), _of_answers(survey).elevations)
    was_there = basis is Basis.MEASURED and survey.basis is not Basis.MEASURED
    date = today if was_there and today else survey.date
    return change_survey(work, Step.BASIS, basis=basis, drawn=is_drawn, date=date)


def _of_answers(survey: Survey) -> Survey:
    """Return what the answers alone make of a survey, without its photographs."""
    bare = replace(survey, basis=Basis.TOLD, drawn=False, elevations=(), photos=())
    return enquiry.surveyed(bare)


def _with(work: Work, sides: tuple[Elevation, ...]) -> Edit:
    return change_survey(work, Step.SIDE, elevations=sides, drawn=True)


def _named(name: str) -> str:
    if not name.strip():
        raise UserMistake("this side has no name", do="call it what you see, such as front")
    return name.strip()


def _fresh(work: Work, name: str) -> str:
    return fresh_id(_named(name), {one.id for one in work.survey.elevations})


def _wall(width: float, height: float) -> tuple[tuple[float, float], ...]:
    if width <= 0 or height <= 0:
        raise UserMistake("a wall is wider and higher than nothing", do="give its size in mm")
    return rectangle(0.0, 0.0, width, height)


def _height_at(old: Elevation, end: End) -> float:
    """Return how high a wall is at one end above its datum [mm]."""
    left, _bottom, right, top = bounds_of(old.outline)
    x = left if end == "left" else right
    return whole_mm(max((y for at, y in old.outline if at == x), default=top))


def _without_return(one: Elevation, gone: str) -> Elevation:
    return replace(
        one,
        left_return="" if one.left_return == gone else one.left_return,
        right_return="" if one.right_return == gone else one.right_return,
    )
