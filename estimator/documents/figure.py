"""What is drawn of an elevation: plain shapes in millimetres, and the words beside them.

The shapes are the ones ``masonry`` and ``survey.wall`` give the screen too. Nothing here knows a
page; ``drawing`` strokes what this module names.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimator.documents.formats import metres
from estimator.documents.wording import capital, counted, in_words, say
from estimator.masonry.region import Point, Region
from estimator.masonry.shapes import brick_faces
from estimator.quoting.quotation import Quotation
from estimator.survey.ranges import settled
from estimator.survey.survey import Elevation, Treatment, WallEnd
from estimator.survey.wall import Wall, path_of, wall_of
from estimator.takeoff.lines import Bar

Box = tuple[float, float, float, float]
Areas = tuple[tuple[Point, ...], ...]
"""Left, bottom, right and top [mm]."""

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
GROUND_NEAR_MM = 650.0
"""Ground further below the lowest course than this is told, not drawn [mm]."""
BRICKS_TO = 200
"""Smaller than this scale, single bricks would run together in print."""
LOW_CRACK_MM = 100.0
"""A crack lower than this has no height worth a dimension [mm]."""


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening with its sill."""

    kind: str
    box: Box
    sill_mm: float


@dataclass(frozen=True, slots=True)
class CrackLine:
    """A crack with the letter it goes by, empty where it is alone."""

    label: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class BarLine:
    """A bar as it lies in its bed."""

    left: float
    right: float
    y: float
    turns_left: bool
    turns_right: bool


@dataclass(frozen=True, slots=True)
class Treated:
    """A cracked brick and what is done with it."""

    treatment: Treatment
    box: Box


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length between two places, upright or level."""

    start: float
    end: float
    words: str


@dataclass(frozen=True, slots=True)
class FigureInput:
    """Everything drawn of one elevation [mm]."""

    bounds: Box
    """The part of the wall drawn."""
    scale: int
    outline: tuple[Point, ...]
    bricks: tuple[Box, ...]
    openings: tuple[Hole, ...]
    crack_lines: tuple[CrackLine, ...]
    bars: tuple[BarLine, ...]
    treated: tuple[Treated, ...]
    areas: tuple[tuple[Point, ...], ...]
    movement_joints: tuple[float, ...]
    ends: tuple[bool, bool]
    """Whether the wall ends at the left and the right of the drawing."""
    ground: float | None
    """Level of the ground, None where it is not near."""
    upright: Dimension
    across: Dimension
    caption: str
    legend: tuple[tuple[Treatment, str], ...]
    """The treatments drawn, each with its word."""


def of_quotation(quotation: Quotation) -> tuple[FigureInput, ...]:
    """Return a drawing of every elevation that has work on it, or of the first where none has."""
    elevations = settled(quotation.survey).elevations
    worked = [
        one
        for one in elevations
        if one.cracks or one.bricks or _bars_of(quotation, one) or _areas_of(quotation, one)
    ]
    return tuple(from_quotation(quotation, one) for one in worked or elevations[:1])


def from_quotation(quotation: Quotation, elevation: Elevation) -> FigureInput:
    """Return the drawing of one elevation, its ranges settled."""
    wall = wall_of(elevation)
    bars = _bars_of(quotation, elevation)
    areas = _areas_of(quotation, elevation)
    bounds, scale = _bounds_and_scale(elevation, wall, bars, areas)
    is_part = bounds != wall.gross.bounds
    left, right = (end in (WallEnd.QUOIN, WallEnd.STOPPED) for end in _ends_of(elevation))
    treated = tuple(Treated(one.treatment, wall.box_of(one)) for one in elevation.bricks)
    kinds = [one for one in Treatment if any(brick.treatment is one for brick in treated)]
    return FigureInput(
        bounds=bounds,
        scale=scale,
        outline=elevation.outline,
        bricks=_bricks(wall, bounds, scale),
        openings=tuple(_holes(elevation)),
        crack_lines=tuple(_cracks(elevation, wall)),
        bars=tuple(map(_bar_line, bars)),
        treated=treated,
        areas=areas,
        movement_joints=elevation.movement_joints_mm,
        ends=(
            left and bounds[0] == wall.gross.bounds[0],
            right and bounds[2] == wall.gross.bounds[2],
        ),
        ground=_ground(bounds, elevation, wall),
        upright=_upright(elevation, wall, bounds),
        across=Dimension(bounds[0], bounds[2], metres(bounds[2] - bounds[0])),
        caption=_caption(elevation, bars, areas, scale=scale, is_part=is_part),
        legend=tuple((one, say(f"figure.{one.value}")) for one in kinds),
    )


def scale_for(width_mm: float, height_mm: float) -> int:
    """Return the largest scale at which a wall fits its room on paper.

    >>> scale_for(3600, 2700), scale_for(5400, 5600)
    (50, 100)
    """
    needed = max(width_mm / ROOM_MM[0], height_mm / ROOM_MM[1])
    return next((one for one in SCALES if one >= needed), SCALES[-1])


def _ends_of(elevation: Elevation) -> tuple[WallEnd, WallEnd]:
    return elevation.left_end, elevation.right_end


def _bars_of(quotation: Quotation, elevation: Elevation) -> tuple[Bar, ...]:
    """Return the bars of the first option that has any on this elevation."""
    for option in quotation.options:
        bars = tuple(bar for bar in option.measure.bars if bar.elevation == elevation.id)
        if bars:
            return bars
    return ()


def _areas_of(quotation: Quotation, elevation: Elevation) -> Areas:
    """Return the areas repointed on this elevation, of the first option that repoints any."""
    for option in quotation.options:
        areas = tuple(
            panel.corners for panel in option.measure.panels if panel.elevation == elevation.id
        )
        if areas:
            return areas
    return ()


def _bounds_and_scale(
    elevation: Elevation, wall: Wall, bars: Sequence[Bar], areas: Areas
) -> tuple[Box, int]:
    """Return the whole wall, or the part worked on where that comes out larger."""
    whole = wall.gross.bounds
    scale = _scale_with_ground(whole, elevation, wall)
    if scale < (CROP_BRICKS_FROM if elevation.bricks else CROP_FROM):
        return whole, scale
    part = _work_bounds(elevation, wall, bars, areas)
    if part is None:
        return whole, scale
    near = _scale_with_ground(part, elevation, wall)
    return (_filled(part, elevation, wall, near), near) if near < scale else (whole, scale)


def _filled(part: Box, elevation: Elevation, wall: Wall, scale: int) -> Box:
    """Let a part grow to fill its room on paper, as far as there is wall."""
    whole = wall.gross.bounds
    left, right = _grown((part[0], part[2]), (whole[0], whole[2]), ROOM_MM[0] * scale)
    ground = _ground(part, elevation, wall)
    below = 0.0 if ground is None else max(part[1] - ground, 0.0)
    high = ROOM_MM[1] * scale - below
    bottom, top = _grown((part[1], part[3]), (whole[1], whole[3]), high)
    # A part that grows down to the foot would need room for the ground too.
    bottom = bottom if ground is not None or bottom > whole[1] else part[1]
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


def _ground(bounds: Box, elevation: Elevation, wall: Wall) -> float | None:
    """Return the level of the ground where the foot of the wall is drawn and the ground is near."""
    foot, ground = wall.gross.bounds[1], -elevation.datum_height_mm
    return ground if bounds[1] == foot and foot - ground <= GROUND_NEAR_MM else None


def _scale_with_ground(bounds: Box, elevation: Elevation, wall: Wall) -> int:
    ground = _ground(bounds, elevation, wall)
    low = bounds[1] if ground is None else min(ground, bounds[1])
    return scale_for(bounds[2] - bounds[0], bounds[3] - low)


def _work_bounds(elevation: Elevation, wall: Wall, bars: Sequence[Bar], areas: Areas) -> Box | None:
    """Return the work with some wall round it, kept inside the wall."""
    points = [(x, bar.y_mm) for bar in bars for x in (bar.left_mm, bar.right_mm)]
    points += [p for crack in elevation.cracks for p in path_of(crack, wall.coursing).points]
    points += [corner for area in areas for corner in area]
    for brick in elevation.bricks:
        left, bottom, right, top = wall.box_of(brick)
        points += [(left, bottom), (right, top)]
    if not points:
        return None
    left, bottom, right, top = wall.gross.bounds
    more = ROUND_BRICKS_MM if elevation.bricks else ROUND_WORK_MM
    across, up = [x for x, _y in points], [y for _x, y in points]
    low = max(min(up) - more, bottom)
    return (
        max(min(across) - more, left),
        bottom if low - bottom < more else low,
        min(max(across) + more, right),
        min(max(up) + more, top),
    )


def _bricks(wall: Wall, bounds: Box, scale: int) -> tuple[Box, ...]:
    if scale > BRICKS_TO:
        return ()
    seen = wall.net
    if bounds != wall.gross.bounds:
        seen = seen.within(Region.rectangle(*bounds))
    return tuple(face[2:] for face in brick_faces(wall.coursing, seen))


def _holes(elevation: Elevation) -> Iterator[Hole]:
    for one in elevation.openings:
        right, top = one.left_mm + one.width_mm, one.bottom_mm + one.height_mm
        yield Hole(one.kind, (one.left_mm, one.bottom_mm, right, top), one.sill_mm)


def _cracks(elevation: Elevation, wall: Wall) -> Iterator[CrackLine]:
    alone = len(elevation.cracks) == 1
    for crack in elevation.cracks:
        points = path_of(crack, wall.coursing).points
        yield CrackLine("" if alone else crack.id, points)


def _bar_line(bar: Bar) -> BarLine:
    return BarLine(
        bar.left_mm, bar.right_mm, bar.y_mm, bool(bar.turn_left_mm), bool(bar.turn_right_mm)
    )


def _upright(elevation: Elevation, wall: Wall, bounds: Box) -> Dimension:
    """Return the height of the crack where there is one, else of the wall drawn."""
    low, high = bounds[1], bounds[3]
    if len(elevation.cracks) == 1:
        levels = [y for _x, y in path_of(elevation.cracks[0], wall.coursing).points]
        if levels and max(levels) - min(levels) >= LOW_CRACK_MM:
            low, high = min(levels), max(levels)
    return Dimension(low, high, metres(high - low))


def _caption(
    elevation: Elevation, bars: Sequence[Bar], areas: Areas, *, scale: int, is_part: bool
) -> str:
    parts = []
    if elevation.cracks:
        parts.append(say("figure.crack" if len(elevation.cracks) == 1 else "figure.cracks"))
    if bars:
        lengths = _lengths(bars)
        parts.append(counted("figure.bars", len(bars), number=in_words(len(bars)), lengths=lengths))
    if areas:
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


def _lengths(bars: Sequence[Bar]) -> str:
    """Say how long the bars are, the shortest and the longest."""
    low, high = min(bar.length_mm for bar in bars), max(bar.length_mm for bar in bars)
    if metres(low) == metres(high):
        return say("figure.length", metres=metres(low))
    return say("figure.lengths", low=metres(low).removesuffix(" m"), high=metres(high))
