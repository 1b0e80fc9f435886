"""What must be true between the fields of a survey, beyond each being readable by itself.

Ids are not used twice; openings, cracks, bricks and areas lie on their wall; joints agree with each
other; answers fit their questions. The first thing found wrong is said, with its place, as a
``UserMistake``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from estimator.masonry.bond import takes_ratio
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import NEAR_MM, Point, Region
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
from estimator.survey.ranges import Range, Told
from estimator.survey.reading import Place
from estimator.survey.survey import (
    Area,
    Asked,
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    Opening,
    SteppedRun,
    StraightRun,
    Survey,
    ThinBed,
    TracedRun,
)
from estimator.survey.wall import Wall, path_of, wall_of

OVERLAP_MM = 1.0
"""Openings may touch, and share this much from measuring; house rule [mm]."""


def check(survey: Survey) -> None:
    """Check what each field cannot know of the others.

    Raises:
        UserMistake: for the first thing that does not agree.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> check(Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), ()))
    """
    _check_ids("elevation", (elevation.id for elevation in survey.elevations), Place())
    for elevation in survey.elevations:
        _check_elevation(elevation)
    _check_asked(survey.asked)


@dataclass(frozen=True)
class _Checked:
    """One elevation with what is worked out about it while checking."""

    elevation: Elevation
    place: Place

    @cached_property
    def laid(self) -> Wall:
        """The wall on its courses, kept for the measuring that follows."""
        return wall_of(self.elevation)

    @property
    def coursing(self) -> Coursing:
        return self.laid.coursing

    @property
    def region(self) -> Region:
        return self.laid.gross

    @property
    def brick_mm(self) -> float:
        """One brick with its perpend, the slack allowed at a wall's end [mm]."""
        return self.coursing.brick.length_mm + self.coursing.perpend_mm

    @property
    def courses(self) -> int:
        """Number of the highest course with any part in the wall."""
        return self.coursing.course_at(self.region.bounds[3] - NEAR_MM)

    def span(self, course: int) -> tuple[float, float] | None:
        """Return the ends of the wall at a course, or None where there is no wall [mm]."""
        # The top course may be cut by the outline, and then only its bed is in the wall.
        middle = (self.coursing.course_bottom(course) + self.coursing.course_top(course)) / 2
        return self.span_at(middle) or self.span_at(self.coursing.bed_middle(course))

    def span_at(self, y: float) -> tuple[float, float] | None:
        """Return the ends of the wall at a level [mm]."""
        spans = self.region.spans_at(y)
        return (spans[0][0], spans[-1][1]) if spans else None

    def check_course(self, course: int, place: Place) -> tuple[float, float]:
        """Return the ends of the wall at a course, refusing a course that is not there."""
        span = self.span(course)
        if span is None:
            raise place.mistake(
                f"reaches course {course:,}, where there is no wall",
                f"the outline holds courses up to {self.courses:,}",
            )
        return span

    def check_along(self, x: float, span: tuple[float, float], place: Place) -> None:
        """Refuse a place more than a brick beyond the ends of the wall."""
        # Outlines are measured to about a brick, so a crack may seem to leave the wall by one.
        left, right = span
        if not left - self.brick_mm <= x <= right + self.brick_mm:
            raise place.mistake(
                f"is {x:,.15g} mm along, outside the wall",
                f"the wall runs from {left:,.0f} to {right:,.0f} mm there",
            )


def _check_ids(called: str, ids: Iterable[str], place: Place) -> None:
    """Refuse an id used twice for one kind of thing."""
    seen: set[str] = set()
    for one in ids:
        if one in seen:
            raise (
                place.at(f"{called} {shown(one, letters=24)}")
                .at("id")
                .mistake(f"is used for more than one {called}", "give each its own")
            )
        seen.add(one)


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


def _check_elevation(elevation: Elevation) -> None:
    """Check one elevation, the outline first because all else lies in it."""
    place = Place().at(f"elevation {shown(elevation.id, letters=24)}")
    wall = _Checked(elevation, place)
    _check_outline(elevation.outline, place)
    _check_brickwork(elevation.brickwork, place.at("brickwork"))
    _check_ids("opening", (opening.id for opening in elevation.openings), place)
    _check_ids("crack", (crack.id for crack in elevation.cracks), place)
    _check_ids("area", (area.id for area in elevation.areas), place)
    _check_openings(wall)
    for crack in elevation.cracks:
        _check_crack(crack, wall)
    _check_bricks(wall)
    for area in elevation.areas:
        _check_area(area, wall)
    _check_joints(wall)


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


def _check_openings(wall: _Checked) -> None:
    """Refuse an opening off the wall, and two openings in one place."""
    box = wall.region.bounds
    for opening in wall.elevation.openings:
        if not _overlap(_box(opening), box):
            raise wall.place.at(_called("opening", opening.id)).mistake(
                "lies outside the wall", _box_words(box)
            )
    for one, two in combinations(wall.elevation.openings, 2):
        if _overlap(_box(one), _box(two)):
            raise wall.place.at(_called("opening", two.id)).mistake(
                f"overlaps opening {shown(one.id, letters=24)}", "measure both of them again"
            )


def _called(kind: str, identity: str) -> str:
    return f"{kind} {shown(identity, letters=24)}"


def _box(opening: Opening) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of an opening [mm]."""
    right, top = opening.left_mm + opening.width_mm, opening.bottom_mm + opening.height_mm
    return opening.left_mm, opening.bottom_mm, right, top


def _box_words(box: tuple[float, float, float, float]) -> str:
    left, bottom, right, top = box
    return (
        f"the wall runs from {left:,.0f} to {right:,.0f} mm along"
        f" and from {bottom:,.0f} to {top:,.0f} mm up"
    )


def _overlap(
    one: tuple[float, float, float, float], two: tuple[float, float, float, float]
) -> bool:
    """Whether two boxes share more than measuring explains."""
    across = min(one[2], two[2]) - max(one[0], two[0])
    up = min(one[3], two[3]) - max(one[1], two[1])
    return across > OVERLAP_MM and up > OVERLAP_MM


def _check_crack(crack: Crack, wall: _Checked) -> None:
    """Refuse a crack that runs where there is no wall."""
    place = wall.place.at(_called("crack", crack.id)).at("run")
    run = crack.run
    if isinstance(run, TracedRun):
        _check_traced(run, wall, place)
    elif isinstance(run, BedRun):
        _check_stretch(run, wall, place)
    else:
        _check_rising(run, wall, place)
    if isinstance(run, SteppedRun):
        _check_ends(crack, wall, place)


def _check_traced(run: TracedRun, wall: _Checked, place: Place) -> None:
    """Refuse points off the wall, and a point that is the same as the one before."""
    _left, bottom, _right, top = wall.region.bounds
    slack = wall.coursing.gauge_mm
    before: Point | None = None
    for number, (x, y) in enumerate(run.points, 1):
        here = place.at(f"point {number}")
        if not bottom - slack <= y <= top + slack:
            raise here.mistake(
                f"is {y:,.15g} mm up, outside the wall", _box_words(wall.region.bounds)
            )
        # At its very top a region holds no level any more.
        span = wall.span_at(min(max(y, bottom), top - NEAR_MM * 10))
        if span is not None:
            wall.check_along(x, span, here)
        if before == (x, y):
            raise here.mistake("is the same as the point before it", "leave it out")
        before = (x, y)


def _check_stretch(run: BedRun | ThinBed, wall: _Checked, place: Place) -> None:
    """Refuse a stretch of bed that is not in the wall or has no length."""
    span = wall.check_course(run.course, place.at("course"))
    if run.to_mm <= run.from_mm:
        raise place.at("to_mm").mistake(
            f"is {run.to_mm:,.15g}, not beyond from_mm {run.from_mm:,.15g}",
            "write the left end as from_mm and the right end as to_mm",
        )
    wall.check_along(run.from_mm, span, place.at("from_mm"))
    wall.check_along(run.to_mm, span, place.at("to_mm"))


def _check_rising(run: SteppedRun | StraightRun, wall: _Checked, place: Place) -> None:
    """Refuse a crack that starts off the wall or climbs above it."""
    span = wall.check_course(run.course, place.at("course"))
    wall.check_along(run.x_mm, span, place.at("x_mm"))
    # A told crack must fit the wall however long it turns out.
    courses = _most(run.courses)
    if courses != int(courses) and not isinstance(run.courses, Range):
        raise place.at("courses").mistake(f"is {courses:g}", "write a whole number of courses")
    wall.check_course(run.course + int(courses) - 1, place.at("courses"))


def _check_ends(crack: Crack, wall: _Checked, place: Place) -> None:
    """Refuse steps that walk off the end of the wall."""
    left, _bottom, right, _top = wall.region.bounds
    # As laid on the joints, because how far steps go depends on the bond.
    reached = [x for x, _y in path_of(crack, wall.coursing).points]
    for x in (min(reached), max(reached)):
        wall.check_along(x, (left, right), place.at("the end of the steps"))


def _most(value: Told) -> float:
    return value.high if isinstance(value, Range) else value


def _check_bricks(wall: _Checked) -> None:
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


def _check_brick(brick: CrackedBrick, wall: _Checked, place: Place) -> None:
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


def _check_area(area: Area, wall: _Checked) -> None:
    """Refuse an area that bounds nothing or lies off the wall."""
    place = wall.place.at(_called("area", area.id))
    _check_outline(area.outline, place)
    across, up = zip(*area.outline, strict=True)
    if not _overlap((min(across), min(up), max(across), max(up)), wall.region.bounds):
        raise place.mistake("lies outside the wall", _box_words(wall.region.bounds))


def _check_joints(wall: _Checked) -> None:
    """Refuse movement joints and thin beds that are not in the wall."""
    left, _bottom, right, _top = wall.region.bounds
    for number, x in enumerate(wall.elevation.movement_joints_mm, 1):
        wall.check_along(x, (left, right), wall.place.at(f"movement joint {number}"))
    for number, bed in enumerate(wall.elevation.thin_beds, 1):
        place = wall.place.at(f"thin bed {number}")
        _check_stretch(bed, wall, place)
        if bed.thickness_mm > wall.coursing.bed_mm:
            raise place.at("thickness_mm").mistake(
                f"is {bed.thickness_mm:g}, more than the usual bed of {wall.coursing.bed_mm:g} mm",
                "leave it out, or measure the usual bed again",
            )
