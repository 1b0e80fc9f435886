"""What is paper's own about a drawing: scale, bounds, dimensions, caption and key.

The shapes are ``drawing.Picture``'s, the same as on the screen. Nothing here knows a page;
``drawing`` in this room strokes what this module frames.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from estimator.documents.formats import metres
from estimator.documents.wording import capital, counted, in_words, say
from estimator.drawing.courses import GROUND_NEAR_MM, Box
from estimator.drawing.dimensions import Dimension, Kind, Side
from estimator.drawing.picture import LOW_CRACK_MM, picture_of
from estimator.drawing.shapes import BarShape, Picture
from estimator.quoting.quotation import Quotation
from estimator.survey.survey import Elevation, Survey, Treatment
from estimator.takeoff.lines import Measure

SCALES = (10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000)
"""Scales drawn to, as one to so many; house rule."""
ROOM_MM = (73.0, 60.0)
"""Width and height on paper that a wall may take [mm]."""
CROP_FROM = 60
"""From this scale on, only the part worked on is drawn where that makes it larger."""
CROP_BRICKS_FROM = 25
"""The same where bricks are marked one by one, which must be read."""
ROUND_WORK_MM = 450.0
"""Wall drawn round the work where only a part is drawn [mm]."""
ROUND_BRICKS_MM = 200.0
"""The same where single bricks are marked [mm]."""
BRICKS_TO = 200
"""Smaller than this scale, single bricks would run together in print."""


class Sign(Enum):
    """What a key explains besides treatments of bricks."""

    LIKELY = "likely_key"
    BAR = "bar_key"
    BY_HAND = "by_hand_key"
    KEPT = "kept_key"
    THIN_BED = "thin_bed_key"
    DAMP_COURSE = "damp_course_key"
    USUAL_DAMP_COURSE = "usual_damp_course_key"
    WIDEST = "widest_key"
    AREA = "area_key"


Key = Treatment | Sign


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture framed for paper [mm]."""

    picture: Picture
    bounds: Box
    """The part of the wall drawn."""
    scale: int
    bricks: tuple[Box, ...]
    """The bricks in it, none where they would run together."""
    ends: tuple[bool, bool]
    """Whether the wall ends at the left and the right of the drawing."""
    ground: float | None
    """Level of the ground, None where it is not near."""
    dimensions: tuple[Dimension, ...]
    caption: str
    legend: tuple[tuple[Key, str], ...]
    """What is drawn and not plain by itself, each with its word."""
    is_survey: bool = False
    """Whether it tells what was measured: widths, thin beds, the length of each bar."""


def of_quotation(quotation: Quotation) -> tuple[Figure, ...]:
    """Return a drawing of every elevation that has work on it, or of the first where none has."""
    elevations = quotation.survey.elevations
    worked = [
        number
        for number, one in enumerate(elevations)
        if one.cracks or one.bricks or _has_work(quotation, one)
    ]
    return tuple(
        from_quotation(quotation, number) for number in worked or range(len(elevations))[:1]
    )


def from_quotation(quotation: Quotation, number: int = 0) -> Figure:
    """Return the drawing of one elevation, the first being 0."""
    return framed(quotation.survey.elevations[number], _pictured(quotation, number))


def framed(elevation: Elevation, picture: Picture) -> Figure:
    """Return a picture framed for a customer: the part worked on, with width and height."""
    bounds, scale = _bounds_and_scale(picture)
    across = bounds[2] - bounds[0]
    low, high = _upright(picture, bounds)
    marked = [one.marked for one in picture.bricks]
    keys: list[Key] = [one for one in Treatment if one in marked]
    if any(bar.by_hand for bar in picture.bars):
        keys += bar_keys(picture.bars)
    return Figure(
        picture,
        bounds,
        scale,
        bricks_in(picture, bounds, scale),
        ends_of(picture, bounds),
        ground_of(picture, bounds),
        (
            Dimension(Kind.WIDTH, bounds[:2], (bounds[2], bounds[1]), metres(across), Side.BELOW),
            Dimension(
                Kind.HEIGHT, (bounds[2], low), (bounds[2], high), metres(high - low), Side.RIGHT
            ),
        ),
        _caption(elevation, picture, scale=scale, is_part=bounds != picture.masonry.wall),
        explained(keys),
    )


def explained(keys: Sequence[Key]) -> tuple[tuple[Key, str], ...]:
    """Return keys with their words."""
    return tuple((one, say(f"figure.{one.value}")) for one in keys)


def bar_keys(bars: Sequence[BarShape]) -> Iterator[Key]:
    """Yield what has to be explained of bars, by who set them."""
    if any(not bar.by_hand for bar in bars):
        yield Sign.BAR
    if any(bar.by_hand and not bar.kept for bar in bars):
        yield Sign.BY_HAND
    if any(bar.kept for bar in bars):
        yield Sign.KEPT


def scale_for(width_mm: float, height_mm: float, room_mm: tuple[float, float] = ROOM_MM) -> int:
    """Return the largest scale at which a wall fits its room on paper.

    >>> scale_for(3600, 2700), scale_for(5400, 5600)
    (50, 100)
    """
    needed = max(width_mm / room_mm[0], height_mm / room_mm[1])
    return next((one for one in SCALES if one >= needed), SCALES[-1])


def ends_of(picture: Picture, bounds: Box) -> tuple[bool, bool]:
    """Return whether the wall ends at the left and at the right of the part drawn."""
    wall, (left, right) = picture.masonry.wall, picture.masonry.ends
    return left and bounds[0] == wall[0], right and bounds[2] == wall[2]


def ground_of(picture: Picture, bounds: Box) -> float | None:
    """Return the level of the ground where the foot of the wall is drawn and the ground is near."""
    return picture.masonry.ground if bounds[1] == picture.masonry.wall[1] else None


def low_of(picture: Picture, bounds: Box) -> float:
    """Return the lowest level drawn [mm]."""
    ground = ground_of(picture, bounds)
    return bounds[1] if ground is None else min(ground, bounds[1])


def bricks_in(picture: Picture, bounds: Box, scale: int) -> tuple[Box, ...]:
    """Return the bricks in the part drawn, those at its edge cut."""
    if scale > BRICKS_TO:
        return ()
    bricks = [brick for tinted in picture.masonry.tinted for brick in tinted]
    if bounds == picture.masonry.wall:
        return tuple(bricks)
    left, bottom, right, top = bounds
    return tuple(
        (max(x, left), max(y, bottom), min(x_end, right), min(y_end, top))
        for x, y, x_end, y_end in bricks
        if x < right and left < x_end and y < top and bottom < y_end
    )


def _has_work(quotation: Quotation, elevation: Elevation) -> bool:
    measures = [option.measure for option in quotation.options]
    return any(_has_bars(one, elevation) or _has_areas(one, elevation) for one in measures)


def _has_bars(measure: Measure, elevation: Elevation) -> bool:
    return any(bar.elevation == elevation.id for bar in measure.bars)


def _has_areas(measure: Measure, elevation: Elevation) -> bool:
    return any(panel.elevation == elevation.id for panel in measure.panels)


def _pictured(quotation: Quotation, number: int) -> Picture:
    """Return the picture with the bars, and the areas, of the first options that have any."""
    survey, elevation = quotation.survey, quotation.survey.elevations[number]
    measures = [option.measure for option in quotation.options]
    barred = next((one for one in measures if _has_bars(one, elevation)), None)
    repointed = next((one for one in measures if _has_areas(one, elevation)), None)
    picture = drawn(survey, number, barred or repointed)
    if repointed is None or repointed is barred:
        return picture
    return replace(picture, areas=drawn(survey, number, repointed).areas)


def drawn(survey: Survey, number: int, chosen: Measure | None) -> Picture:
    """Return the picture of an elevation there is.

    Raises:
        IndexError: for one there is not.
    """
    picture = picture_of(survey, number, chosen)
    if picture is None:
        raise IndexError(f"the survey has no elevation {number}")
    return picture


def _bounds_and_scale(picture: Picture) -> tuple[Box, int]:
    """Return the whole wall, or the part worked on where that comes out larger."""
    is_marked = any(brick.marked for brick in picture.bricks)
    return part_worked_on(
        picture,
        ROOM_MM,
        crop_from=CROP_BRICKS_FROM if is_marked else CROP_FROM,
        round_mm=ROUND_BRICKS_MM if is_marked else ROUND_WORK_MM,
    )


def part_worked_on(
    picture: Picture, room_mm: tuple[float, float], *, crop_from: int, round_mm: float
) -> tuple[Box, int]:
    """Return what is drawn of a wall and how large: all, or the work where that comes out larger.

    Args:
        picture: The wall.
        room_mm: Width and height it may take on paper [mm].
        crop_from: Scale from which on only the part worked on is drawn.
        round_mm: Wall drawn round the work where only a part is [mm].
    """
    whole = picture.masonry.wall
    scale = _scale_with_ground(picture, whole, room_mm)
    part = _work_bounds(picture, round_mm) if scale >= crop_from else None
    if part is None:
        return whole, scale
    near = _scale_with_ground(picture, part, room_mm)
    return (_filled(picture, part, near, room_mm), near) if near < scale else (whole, scale)


def _scale_with_ground(picture: Picture, bounds: Box, room_mm: tuple[float, float]) -> int:
    return scale_for(bounds[2] - bounds[0], bounds[3] - low_of(picture, bounds), room_mm)


def _filled(picture: Picture, part: Box, scale: int, room_mm: tuple[float, float]) -> Box:
    """Let a part grow to fill its room on paper, as far as there is wall."""
    whole = picture.masonry.wall
    left, right = _grown((part[0], part[2]), (whole[0], whole[2]), room_mm[0] * scale)
    below = part[1] - low_of(picture, part)
    high = room_mm[1] * scale - below
    bottom, top = _grown((part[1], part[3]), (whole[1], whole[3]), high)
    # A part that grows down to the foot would need room for the ground too.
    is_grounded = ground_of(picture, part) is not None
    bottom = bottom if is_grounded or bottom > whole[1] else part[1]
    return left, bottom, right, top


def _grown(
    part: tuple[float, float], whole: tuple[float, float], room: float
) -> tuple[float, float]:
    """Return a stretch grown alike on both ends to a length, kept inside the whole."""
    room = min(room, whole[1] - whole[0])
    start = (part[0] + part[1] - room) / 2
    start = min(max(start, whole[0]), whole[1] - room)
    if part[0] == whole[0]:
        start = whole[0]
    return start, start + room


def _work_bounds(picture: Picture, more: float) -> Box | None:
    """Return the work with some wall round it, kept inside the wall."""
    points = [(x, bar.y) for bar in picture.bars for x in (bar.left, bar.right)]
    points += [point for crack in picture.cracks for point in crack.points]
    points += [corner for area in picture.areas for corner in area.corners]
    boxes = [brick.box for brick in picture.bricks if brick.marked]
    points += [corner for box in boxes for corner in (box[:2], box[2:])]
    if not points:
        return None
    left, bottom, right, top = picture.masonry.wall
    across, up = [x for x, _y in points], [y for _x, y in points]
    low = max(min(up) - more, bottom)
    return (
        max(min(across) - more, left),
        bottom if low - bottom < more else low,
        min(max(across) + more, right),
        min(max(up) + more, top),
    )


def _upright(picture: Picture, bounds: Box) -> tuple[float, float]:
    """Return foot and head of the crack where there is one, else of the wall drawn."""
    if len(picture.cracks) == 1:
        levels = [y for _x, y in picture.cracks[0].points]
        if levels and max(levels) - min(levels) >= LOW_CRACK_MM:
            return min(levels), max(levels)
    return bounds[1], bounds[3]


def _caption(elevation: Elevation, picture: Picture, *, scale: int, is_part: bool) -> str:
    parts = []
    if picture.cracks:
        parts.append(say("figure.crack" if len(picture.cracks) == 1 else "figure.cracks"))
    if picture.bars:
        parts.append(bars_in_words(picture.bars))
    if picture.areas:
        parts.append(say("figure.area"))
    if elevation.datum_height_mm > GROUND_NEAR_MM:
        parts.append(say("figure.ground_below", metres=metres(elevation.datum_height_mm)))
    words = "; ".join(parts) or say("figure.no_bars")
    return say(
        "figure.caption_part" if is_part else "figure.caption",
        name=elevation.name,
        scale=say("figure.scale", number=str(scale)),
        parts=capital(words),
    )


def bars_in_words(bars: Sequence[BarShape]) -> str:
    """Say how many bars there are and how long they are."""
    return counted("figure.bars", len(bars), number=in_words(len(bars)), lengths=_lengths(bars))


def _lengths(bars: Sequence[BarShape]) -> str:
    """Say how long the bars are, the shortest and the longest."""
    low, high = min(bar.length_mm for bar in bars), max(bar.length_mm for bar in bars)
    if metres(low) == metres(high):
        return say("figure.length", metres=metres(low))
    return say("figure.lengths", low=metres(low).removesuffix(" m"), high=metres(high))
