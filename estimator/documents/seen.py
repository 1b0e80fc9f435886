"""What was seen and told, in sentences: cracks, wall, bricks, and what stayed out of sight."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from estimator.documents.content import Points, Section, Text
from estimator.documents.formats import metres, plain
from estimator.documents.wording import capital, counted, in_words, say
from estimator.masonry.bond import bond
from estimator.masonry.crack import CrackPath
from estimator.quoting.quotation import Quotation
from estimator.survey.ranges import Range, Told, likely
from estimator.survey.survey import (
    Answer,
    Basis,
    BedRun,
    Crack,
    Elevation,
    Opening,
    SteppedRun,
    StraightRun,
    Survey,
    Treatment,
    WallEnd,
)
from estimator.survey.wall import Wall, path_of, wall_of

FEW_CRACKS = 2
"""Cracks described one by one on the first page; more are lettered and described later."""
LONG_LEAD = 560
"""Letters on the first page; beyond that, people's own words go to a later page."""
NEAR_OPENING_MM = 300.0
ABOVE_OPENING_MM = 450.0
NEAR_QUOIN_MM = 1000.0


@dataclass(frozen=True, slots=True)
class _Box:
    left: float
    bottom: float
    right: float
    top: float


def told(value: Told) -> str:
    """Return a number as it was measured, or its likely value with the range it was told in.

    >>> told(2.0), told(Range(10, 14, 20)), told(Range(3, 3, 3))
    ('2', 'about 14 (10 to 20)', '3')
    """
    if not isinstance(value, Range) or value.low == value.high:
        return plain(likely(value))
    return say(
        "saw.about", likely=plain(value.likely), low=plain(value.low), high=plain(value.high)
    )


def first_page(quotation: Quotation) -> Section:
    """Return what we saw, short enough for the first page."""
    survey = quotation.survey
    texts = [Text(_found(quotation))]
    words = _own_words(survey)
    if words and not _leaves_words(quotation):
        texts.append(Text(" ".join(words)))
    heading = "headings.told" if survey.basis is Basis.TOLD else "headings.saw"
    return Section("saw", say(heading), tuple(texts))


def in_full(quotation: Quotation) -> Section | None:
    """Return what the first page had no room for, or None."""
    survey = quotation.survey
    blocks: list[Text | Points] = []
    if _is_long(survey):
        blocks += [Points(tuple(_elevation(one, survey))) for one in survey.elevations]
        blocks.append(Text(" ".join(_class(quotation))))
    if _leaves_words(quotation):
        blocks += [Text(words) for words in _own_words(survey)]
    if not blocks:
        return None
    heading = "headings.more_saw" if _is_long(survey) else "headings.told"
    return Section("more_saw", say(heading), tuple(blocks))


def _is_long(survey: Survey) -> bool:
    cracks = sum(len(elevation.cracks) for elevation in survey.elevations)
    return cracks > FEW_CRACKS or len(survey.elevations) > FEW_CRACKS


def _found(quotation: Quotation) -> str:
    """What was found, as the first page says it."""
    survey = quotation.survey
    classed = () if _is_long(survey) else _class(quotation)
    return " ".join((*_lead(survey), *classed))


def _leaves_words(quotation: Quotation) -> bool:
    """Whether people's own words have no room on the first page."""
    words = _own_words(quotation.survey)
    return len(_found(quotation)) + sum(map(len, words)) > LONG_LEAD


def _own_words(survey: Survey) -> list[str]:
    words = []
    if survey.said.strip():
        words.append(say("saw.said", said=survey.said.strip()))
    if survey.not_seen.strip():
        words.append(say("saw.not_seen", not_seen=survey.not_seen.strip()))
    return words


def _class(quotation: Quotation) -> Iterator[str]:
    assessment = quotation.assessment
    yield say(
        "saw.category", category=str(assessment.category), name=assessment.category_name.lower()
    )
    signs = quotation.survey.signs
    cracked = any(elevation.cracks for elevation in quotation.survey.elevations)
    if cracked and signs.growing is Answer.NO and signs.reopened_after_repair is Answer.NO:
        yield say("saw.unmoved")
    if quotation.survey.basis is Basis.TOLD:
        yield say("saw.told")


def _lead(survey: Survey) -> Iterator[str]:
    """The sentences of the first page: every crack where there are few, a count where many."""
    if not _is_long(survey):
        for elevation in survey.elevations:
            yield from _elevation(elevation, survey)
        return
    for elevation in survey.elevations[:FEW_CRACKS]:
        yield _count_of(elevation)
        yield _wall_words(elevation)
    rest = survey.elevations[FEW_CRACKS:]
    if rest:
        yield counted("saw.other_sides", len(rest), number=capital(in_words(len(rest))))


def _count_of(elevation: Elevation) -> str:
    if not elevation.cracks:
        return say("saw.no_crack", name=elevation.name)
    widths = [likely(crack.width_mm) for crack in elevation.cracks]
    low, high = plain(min(widths)), plain(max(widths))
    return counted(
        "saw.some_cracks",
        len(widths),
        name=elevation.name,
        number=in_words(len(widths)),
        widths=low if low == high else say("options.range", low=low, high=high),
    )


def _elevation(elevation: Elevation, survey: Survey) -> Iterator[str]:
    """Every sentence about one side."""
    wall = wall_of(elevation)
    alone = sum(len(one.cracks) for one in survey.elevations) == 1
    if not elevation.cracks:
        yield say("saw.no_crack", name=elevation.name)
    for crack in elevation.cracks:
        key = "saw.one_crack" if alone else "saw.crack"
        facts = ", ".join(_crack_facts(crack, wall))
        place = place_words(path_of(crack, wall.coursing), elevation, wall)
        yield say(key, name=elevation.name, id=crack.id, place=place, facts=facts)
    yield _wall_words(elevation)
    yield from _brick_words(elevation)
    if elevation.ornament.strip():
        yield say("saw.ornament", ornament=elevation.ornament.strip())


def _crack_facts(crack: Crack, wall: Wall) -> Iterator[str]:
    """How a crack runs, how wide it is and what it goes through."""
    path = path_of(crack, wall.coursing)
    yield run_words(crack, path)
    yield say("saw.width", width=told(crack.width_mm))
    broken = len(path.bricks)
    if broken:
        yield counted("saw.bricks", broken, number=in_words(broken))
    else:
        yield say("saw.joints_only")
    faces = {Answer.YES: "both_faces", Answer.NO: "outside_only"}
    yield say(f"saw.{faces.get(crack.both_faces, 'inside_unknown')}")
    if crack.tapers is not Answer.NOT_SURE:
        yield say("saw.tapers" if crack.tapers is Answer.YES else "saw.even")
    if not crack.stitch:
        yield say("saw.pointed_only")


def run_words(crack: Crack, path: CrackPath) -> str:
    """Say how a crack runs, and over how many courses."""
    run = crack.run
    if isinstance(run, BedRun):
        return say("saw.bed", metres=metres(abs(run.to_mm - run.from_mm)))
    if isinstance(run, SteppedRun | StraightRun):
        key = "saw.stepped" if isinstance(run, SteppedRun) else "saw.straight"
        return counted(key, likely(run.courses), courses=told(run.courses))
    key = "saw.traced_cut" if run.through_bricks else "saw.traced"
    return counted(key, len(path.courses), courses=plain(len(path.courses)))


def _box(path: CrackPath) -> _Box:
    across = [x for x, _y in path.points] or [0.0]
    up = [y for _x, y in path.points] or [0.0]
    return _Box(min(across), min(up), max(across), max(up))


def place_words(path: CrackPath, elevation: Elevation, wall: Wall) -> str:
    """Say where a crack is: by an opening, by the quoin, or from the left end."""
    box = _box(path)
    for opening in elevation.openings:
        where = _beside(box, opening)
        if where:
            return say(f"saw.{where}", kind=opening.kind)
    left, _bottom, right, _top = wall.gross.bounds
    at_left = elevation.left_end is WallEnd.QUOIN and box.left - left <= NEAR_QUOIN_MM
    at_right = elevation.right_end is WallEnd.QUOIN and right - box.right <= NEAR_QUOIN_MM
    if at_left or at_right:
        return say("saw.near_quoin")
    return say("saw.from_left", metres=metres(max(box.left - left, 0.0)))


def _beside(box: _Box, opening: Opening) -> str:
    """Return which way of an opening a crack lies, or nothing where it is far from it."""
    left, right = opening.left_mm, opening.left_mm + opening.width_mm
    under = opening.bottom_mm - opening.sill_mm
    over = opening.bottom_mm + opening.height_mm
    if box.left <= right + NEAR_OPENING_MM / 2 and box.right >= left - NEAR_OPENING_MM / 2:
        if box.top <= under + NEAR_OPENING_MM and under - box.top <= NEAR_OPENING_MM:
            return "below"
        if box.bottom >= over - NEAR_OPENING_MM and box.bottom - over <= ABOVE_OPENING_MM:
            return "above"
    level = box.bottom < over and box.top > under
    near = min(abs(box.right - left), abs(box.left - right)) <= NEAR_OPENING_MM
    return "beside" if level and near else ""


def _wall_words(elevation: Elevation) -> str:
    found = elevation.brickwork
    coursing = wall_of(elevation).coursing
    return say(
        "saw.wall",
        mortar=found.mortar.value,
        build=found.build.value,
        bond=bond(found.bond, found.ratio).name,
        bed=plain(round(coursing.bed_mm, 1)),
    )


def _brick_words(elevation: Elevation) -> Iterator[str]:
    """How many bricks get which treatment, and how many more are allowed for."""
    counts = Counter(brick.treatment for brick in elevation.bricks)
    listed = [
        counted(f"saw.{treatment.value}", counts[treatment], number=in_words(counts[treatment]))
        for treatment in Treatment
        if counts[treatment]
    ]
    if listed:
        yield say("saw.bricks_cracked", listed=", ".join(listed))
    if likely(elevation.hidden_bricks) > 0:
        hidden = elevation.hidden_bricks
        number = told(hidden) if isinstance(hidden, Range) else in_words(round(hidden))
        yield say("saw.hidden", number=number)
