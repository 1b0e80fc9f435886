"""What must be true between the fields of a survey, beyond each being readable by itself.

Ids are not used twice; openings, cracks, bricks, areas and bars lie on their wall; joints agree
with each other; answers fit their questions, and photographs their elevations. The first thing
found wrong is said, with its place, as a ``UserMistake``.
"""

from __future__ import annotations

from itertools import combinations

from estimator.masonry.bond import takes_ratio
from estimator.masonry.brick import brick_format
from estimator.masonry.region import NEAR_MM, Point
from estimator.survey.checked_wall import (
    CheckedWall,
    box_words,
    called,
    check_ids,
    check_order,
    check_stretch,
    overlap,
)
from estimator.survey.crack_checks import check_crack
from estimator.survey.json_text import shown
from estimator.survey.outlines import fault_of
from estimator.survey.questions import (
    COUNTED,
    LENGTH,
    NONE_OF_THESE,
    NOT_SURE,
    Kind,
    Question,
    question,
)
from estimator.survey.reading import Place
from estimator.survey.survey import (
    Area,
    Asked,
    Brickwork,
    CrackedBrick,
    Elevation,
    HandBar,
    Opening,
    Photo,
    Survey,
    WallEnd,
)


def check(survey: Survey) -> None:
    """Check what each field cannot know of the others.

    Raises:
        UserMistake: for the first thing that does not agree.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> check(Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), ()))
    """
    check_ids("elevation", (elevation.id for elevation in survey.elevations), Place())
    for elevation in survey.elevations:
        check_elevation(elevation)
    check_returns(survey)
    _check_asked(survey.asked)
    check_photos(survey)


def _check_asked(asked: tuple[Asked, ...]) -> None:
    """Refuse a question answered twice, and an answer that is none to its question."""
    seen: set[str] = set()
    for number, one in enumerate(asked, 1):
        place = Place().at(f"answer {number}")
        if one.question in seen:
            raise place.at("question").mistake(
                f"is {shown(one.question)}, which is answered before", "keep one answer to it"
            )
        seen.add(one.question)
        _check_choices(one, question(one.question), place.at("choices"))
        _check_amount(one, question(one.question), place.at("amount"))


def _check_choices(asked: Asked, to: Question, place: Place) -> None:
    """Refuse choices the question does not have, or that cannot be taken together."""
    known = [choice.key for choice in to.choices]
    for choice in asked.choices:
        if choice not in known and choice != NOT_SURE:
            named = ", ".join(f"'{key}'" for key in [*known, NOT_SURE])
            raise place.mistake(
                f"has {shown(choice)}, which '{to.key}' does not have", f"take from {named}"
            )
    if len(set(asked.choices)) < len(asked.choices):
        raise place.mistake("has a choice twice", "write it once")
    alone = {NOT_SURE, NONE_OF_THESE} if to.kind is Kind.SEVERAL else set(asked.choices)
    if len(asked.choices) > 1 and alone & set(asked.choices):
        raise place.mistake("has choices that cannot go together", "keep one of them")


def _check_amount(asked: Asked, to: Question, place: Place) -> None:
    """Refuse a figure where none is asked for, or one in a unit the question does not take."""
    if asked.amount is None:
        return
    if to.kind is not Kind.AMOUNT:
        raise place.mistake(f"is written, but '{to.key}' takes no number", "leave it out")
    units = (to.unit, *COUNTED) if to.key == LENGTH else (to.unit,)
    if asked.unit not in units:
        raise place.mistake(
            f"is in {shown(asked.unit)}, which '{to.key}' is not told in",
            "write the unit as " + " or ".join(f"'{unit}'" for unit in units),
        )


def check_returns(survey: Survey) -> None:
    """Refuse a return that is not among the elevations, or is the elevation itself.

    Raises:
        UserMistake: for the first that does not agree.
    """
    known = {elevation.id for elevation in survey.elevations}
    for elevation in survey.elevations:
        place = Place().at(called("elevation", elevation.id))
        for side, named in (("left", elevation.left_return), ("right", elevation.right_return)):
            if named and (named not in known or named == elevation.id):
                what = "the elevation itself" if named in known else "no elevation of this survey"
                raise place.at(f"{side}_return").mistake(
                    f"is {shown(named, letters=24)}, {what}",
                    "write the id of the elevation round the quoin, or leave it out",
                )


def check_photos(survey: Survey) -> None:
    """Refuse a photograph of no elevation, and points that cannot set it square.

    Raises:
        UserMistake: for the first that does not agree.
    """
    check_ids("photo", (photo.id for photo in survey.photos), Place())
    known = {elevation.id for elevation in survey.elevations}
    for photo in survey.photos:
        place = Place().at(called("photo", photo.id))
        if photo.elevation not in known:
            raise place.at("elevation").mistake(
                f"is {shown(photo.elevation, letters=24)}, no elevation of this survey",
                "write the id of the elevation it shows",
            )
        _check_photo_points(photo, place)


def _check_photo_points(photo: Photo, place: Place) -> None:
    """Refuse a point beside the picture, and two points in one place."""
    on_picture: dict[Point, int] = {}
    on_wall: dict[Point, int] = {}
    for number, one in enumerate(photo.points, 1):
        here = place.at(f"point {number}")
        for name, at, most in (
            ("across_px", one.across_px, photo.width_px),
            ("down_px", one.down_px, photo.height_px),
        ):
            if at > most:
                raise here.at(name).mistake(
                    f"is {at:,.15g}, beside the picture", f"the picture ends at {most:,}"
                )
        before = on_picture.setdefault((one.across_px, one.down_px), number)
        if before != number:
            raise here.mistake(
                f"is at the same place on the picture as point {before}", "leave one of them out"
            )
        before = on_wall.setdefault((one.x_mm, one.y_mm), number)
        if before != number:
            raise here.mistake(
                f"is at the same place on the wall as point {before}", "leave one of them out"
            )


def check_elevation(elevation: Elevation) -> None:
    """Check one elevation, the outline first because all else lies in it.

    Raises:
        UserMistake: for the first thing that does not agree.

    >>> check_elevation(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    """
    place = Place().at(f"elevation {shown(elevation.id, letters=24)}")
    wall = CheckedWall(elevation, place)
    _check_outline(elevation.outline, place)
    _check_brickwork(elevation.brickwork, place.at("brickwork"))
    check_ids("opening", (opening.id for opening in elevation.openings), place)
    check_ids("crack", (crack.id for crack in elevation.cracks), place)
    check_ids("area", (area.id for area in elevation.areas), place)
    _check_openings(wall)
    for crack in elevation.cracks:
        check_crack(crack, wall)
    _check_bricks(wall)
    for area in elevation.areas:
        _check_area(area, wall)
    _check_joints(wall)
    _check_bars(wall)
    _check_damp_course(wall)


def _check_outline(outline: tuple[Point, ...], place: Place) -> None:
    """Refuse an outline that bounds nothing."""
    what, do = fault_of(outline)
    if what:
        raise place.at("outline").mistake(what, do)


def _check_brickwork(work: Brickwork, place: Place) -> None:
    """Refuse a ratio for a bond without one, and a least bed above the usual."""
    if work.ratio and not takes_ratio(work.bond):
        raise place.at("ratio").mistake(
            f"is {work.ratio}, but {work.bond} bond has none", "leave it out"
        )
    usual = brick_format(work.brick).bed_mm if work.bed_usual_mm is None else work.bed_usual_mm
    if work.bed_least_mm is not None and work.bed_least_mm > usual:
        raise place.at("bed_least_mm").mistake(
            f"is {work.bed_least_mm:g}, more than the usual bed of {usual:g} mm",
            "write the thinnest bed found, or measure the usual one again",
        )


def _check_openings(wall: CheckedWall) -> None:
    """Refuse an opening off the wall, and two openings in one place."""
    box = wall.region.bounds
    for opening in wall.elevation.openings:
        if not overlap(_box(opening), box):
            raise wall.place.at(called("opening", opening.id)).mistake(
                "lies outside the wall", box_words(box)
            )
        if opening.lintel_bearing_mm and not opening.lintel_mm:
            raise (
                wall.place.at(called("opening", opening.id))
                .at("lintel_bearing_mm")
                .mistake(
                    f"is {opening.lintel_bearing_mm:g}, but no lintel shows",
                    "write the height that shows as lintel_mm, or leave this out",
                )
            )
    for one, two in combinations(wall.elevation.openings, 2):
        if overlap(_box(one), _box(two)):
            raise wall.place.at(called("opening", two.id)).mistake(
                f"overlaps opening {shown(one.id, letters=24)}", "measure both of them again"
            )


def _box(opening: Opening) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of an opening [mm]."""
    right, top = opening.left_mm + opening.width_mm, opening.bottom_mm + opening.height_mm
    return opening.left_mm, opening.bottom_mm, right, top


def _check_bricks(wall: CheckedWall) -> None:
    """Refuse a brick that is not in its course, or is named twice."""
    seen: set[tuple[int, int]] = set()
    for number, brick in enumerate(wall.elevation.bricks, 1):
        place = wall.place.at(f"brick {number}")
        _check_brick(brick, wall, place)
        if (brick.course, brick.place) in seen:
            raise place.mistake(
                f"is in course {brick.course}, place {brick.place} again", "write it once"
            )
        seen.add((brick.course, brick.place))


def _check_brick(brick: CrackedBrick, wall: CheckedWall, place: Place) -> None:
    """Refuse a brick beyond the last of its course."""
    left, right = wall.check_course(brick.course, place.at("course"))
    rhythm = wall.coursing.rhythm(brick.course)
    first = wall.laid.place_of(brick.course, rhythm.face_at(left + NEAR_MM))
    last = wall.laid.place_of(brick.course, rhythm.face_at(right - NEAR_MM))
    if not first <= brick.place <= last:
        raise place.at("place").mistake(
            f"is {brick.place:,}, but course {brick.course:,} has its bricks from {first:,}"
            f" to {last:,}",
            "count them from the left end of the wall",
        )


def _check_area(area: Area, wall: CheckedWall) -> None:
    """Refuse an area that bounds nothing or lies off the wall."""
    place = wall.place.at(called("area", area.id))
    _check_outline(area.outline, place)
    across, up = zip(*area.outline, strict=True)
    if not overlap((min(across), min(up), max(across), max(up)), wall.region.bounds):
        raise place.mistake("lies outside the wall", box_words(wall.region.bounds))


def _check_joints(wall: CheckedWall) -> None:
    """Refuse movement joints and thin beds that are not in the wall."""
    left, _bottom, right, _top = wall.region.bounds
    for number, x in enumerate(wall.elevation.movement_joints_mm, 1):
        wall.check_along(x, (left, right), wall.place.at(f"movement joint {number}"))
    for number, bed in enumerate(wall.elevation.thin_beds, 1):
        place = wall.place.at(f"thin bed {number}")
        check_stretch(bed, wall, place)
        if bed.thickness_mm > wall.coursing.bed_mm:
            raise place.at("thickness_mm").mistake(
                f"is {bed.thickness_mm:g}, more than the usual bed of {wall.coursing.bed_mm:g} mm",
                "leave it out, or measure the usual bed again",
            )


def _check_bars(wall: CheckedWall) -> None:
    """Refuse bars by hand that are not in the wall."""
    check_ids("bar", (bar.id for bar in wall.elevation.bars), wall.place)
    for bar in wall.elevation.bars:
        _check_bar(bar, wall, wall.place.at(called("bar", bar.id)))


def _check_bar(bar: HandBar, wall: CheckedWall, place: Place) -> None:
    """Refuse a bar that is beside the wall, or leaves it where the wall does not run on."""
    left, right = wall.check_course(bar.course, place.at("course"))
    check_order(bar.from_mm, bar.to_mm, place)
    # Where the wall runs on beyond the drawing a bar does too, as the rule's own bars do.
    if bar.from_mm >= right or wall.elevation.left_end is not WallEnd.CONTINUES:
        wall.check_along(bar.from_mm, (left, right), place.at("from_mm"))
    if bar.to_mm <= left or wall.elevation.right_end is not WallEnd.CONTINUES:
        wall.check_along(bar.to_mm, (left, right), place.at("to_mm"))


def _check_damp_course(wall: CheckedWall) -> None:
    """Refuse a damp course above the wall; one below what is drawn is let pass."""
    level, top = wall.elevation.damp_course_mm, wall.region.bounds[3]
    if level is not None and level > top:
        raise wall.place.at("damp_course_mm").mistake(
            f"is {level:,.15g}, above the top of the wall", f"the wall ends {top:,.0f} mm up"
        )
