"""An elevation framed for a survey: as large as the page allows, with every dimension on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from reportlab.lib.units import mm

from estimator.documents import styles
from estimator.documents.dimension_lines import room, words_width
from estimator.documents.figure import (
    SCALES,
    Figure,
    Key,
    Sign,
    bar_keys,
    bars_in_words,
    bricks_in,
    drawn,
    ends_of,
    explained,
    ground_of,
    low_of,
)
from estimator.documents.formats import metres
from estimator.documents.wording import capital, counted, say
from estimator.drawing.dimensions import Dimension, Saying, Side, dimensions_of
from estimator.drawing.shapes import Picture
from estimator.survey.survey import Survey, Treatment
from estimator.takeoff.lines import Measure

HEIGHT = 410.0
"""Height on paper that a wall with its dimensions may take; house rule."""


def _rise(length_mm: float, courses: int) -> str:
    return counted("survey.rise", courses, metres=metres(length_mm), courses=str(courses))


def _spaced(steps: int, courses: int) -> str:
    key = "survey.spaced" if steps > 1 else "survey.spaced_once"
    return counted(key, courses, steps=str(steps), courses=str(courses))


def _bars(length_mm: float, count: int) -> str:
    length = metres(length_mm)
    return length if count == 1 else say("survey.bars", count=str(count), metres=length)


SAYING = Saying(metres, _rise, _spaced, _bars)


def of_survey(survey: Survey, number: int, measure: Measure | None) -> Figure:
    """Return the drawing of one elevation, the first being 0, all of it.

    Raises:
        IndexError: for an elevation there is not.
    """
    picture = _lettered(drawn(survey, number, measure))
    bounds = picture.masonry.wall
    scale, dimensions = _scaled(picture)
    return Figure(
        picture,
        bounds,
        scale,
        bricks_in(picture, bounds, scale),
        ends_of(picture, bounds),
        ground_of(picture, bounds),
        dimensions,
        _caption(picture, measure, scale),
        explained(tuple(_keys(picture))),
        is_survey=True,
    )


def _lettered(picture: Picture) -> Picture:
    """Return a picture whose cracks all have their letters, a single one too."""
    cracks = tuple(replace(one, letter=one.mark.rsplit("/", 1)[-1]) for one in picture.cracks)
    return replace(picture, cracks=cracks)


def _scaled(picture: Picture) -> tuple[int, tuple[Dimension, ...]]:
    """Return the largest scale at which the wall and its dimensions fit, and the dimensions."""
    left, _bottom, right, top = picture.masonry.wall
    high = top - low_of(picture, picture.masonry.wall)
    dimensions: tuple[Dimension, ...] = ()
    for scale in SCALES:
        per_mm = mm / scale
        if (right - left) * per_mm > styles.WIDTH or high * per_mm > HEIGHT:
            continue
        dimensions = dimensions_of(picture, SAYING, _Lengths(per_mm))
        wide = (right - left) * per_mm + room(dimensions, Side.RIGHT)
        if wide <= styles.WIDTH and high * per_mm + room(dimensions, Side.BELOW) <= HEIGHT:
            return scale, dimensions
    return SCALES[-1], dimensions


class _Lengths:
    """Says how long words are at a scale."""

    def __init__(self, per_mm: float) -> None:
        self._per_mm = per_mm

    def __call__(self, words: str) -> float:
        return words_width(words) / self._per_mm


def _keys(picture: Picture) -> Iterator[Key]:
    """Yield what has to be explained, as far as it is drawn."""
    yield from bar_keys(picture.bars)
    if any(crack.likely for crack in picture.cracks):
        yield Sign.LIKELY
    if any(crack.widths for crack in picture.cracks):
        yield Sign.WIDEST
    if picture.thin_beds:
        yield Sign.THIN_BED
    if picture.masonry.damp_course is not None:
        seen = picture.masonry.damp_course_seen
        yield Sign.DAMP_COURSE if seen else Sign.USUAL_DAMP_COURSE
    if picture.areas:
        yield Sign.AREA
    marked = [one.marked for one in picture.bricks]
    yield from (one for one in Treatment if one in marked)


def _caption(picture: Picture, measure: Measure | None, scale: int) -> str:
    parts = []
    if picture.cracks:
        parts.append(say("figure.crack" if len(picture.cracks) == 1 else "figure.cracks"))
    if measure is None:
        parts.append(say("survey.no_bars"))
    elif picture.bars:
        parts.append(bars_in_words(picture.bars))
    else:
        parts.append(say("figure.no_bars"))
    return say(
        "survey.caption",
        name=picture.name,
        scale=say("figure.scale", number=str(scale)),
        parts=capital("; ".join(parts)),
    )
