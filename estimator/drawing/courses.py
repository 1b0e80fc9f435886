"""The brickwork behind the marks: real courses in their bond, openings, ground and damp course."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import chain

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point, Region
from estimator.masonry.shapes import faces_in, stretches_of
from estimator.survey.survey import Elevation, Lintel, WallEnd
from estimator.survey.wall import Wall, wall_of

Box = tuple[float, float, float, float]
"""Left, bottom, right and top [mm]."""

TINTS = 5
SEED = 1895
SHARES = (0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 3, 3, 4, 0)
"""Sixteen chances of a brick to have one of the tints; the usual ones come often."""
GROUND_NEAR_MM = 650.0
"""Ground further below the lowest course than this is told, not drawn [mm]; house rule."""
EARTH_MM = 130.0
"""Earth drawn below the ground [mm]."""
END_MM = 170.0
"""Room beside a wall that ends, so that its quoin is seen [mm]."""
BEYOND_MM = 1200.0
"""How far a wall that goes on fades away [mm]."""
DAMP_COURSE_MM = 150.0
"""Usual height of a damp course above the ground; common practice, no source [mm]."""


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening, with the depth of the sill under it and what shows of the lintel over it."""

    kind: str
    box: Box
    sill_mm: float
    lintel: Lintel = Lintel.NOT_SEEN
    lintel_mm: float = 0.0
    """Height of what shows of the lintel, 0 for nothing [mm]."""
    lintel_bearing_mm: float = 0.0

    @property
    def lintel_box(self) -> Box | None:
        """The band that shows over the opening, None where none does [mm]."""
        if self.lintel_mm <= 0:
            return None
        left, _bottom, right, top = self.box
        more = self.lintel_bearing_mm
        return left - more, top, right + more, top + self.lintel_mm


@dataclass(frozen=True, slots=True, eq=False)
class Masonry:
    """What stays the same while cracks and bars change; told apart by identity, for caches."""

    outline: tuple[Point, ...]
    bounds: Box
    """All that is drawn, the ground too."""
    tinted: tuple[tuple[Box, ...], ...]
    """Bricks by their tint, the usual one first."""
    beyond: tuple[Box, ...]
    """Bricks where the wall goes on further than it was described."""
    below: tuple[Box, ...]
    """Bricks between the lowest course surveyed and the ground: nobody described them."""
    holes: tuple[Hole, ...]
    ground: float | None
    """Level of the ground, None where it is not near."""
    damp_course: float | None
    wall: Box
    """The box round the outline."""
    fades: Box
    """How far the wall goes on at the left, bottom, right and top [mm]."""
    ends: tuple[bool, bool]
    """Whether the wall ends at the left and at the right."""
    movement_joints: tuple[float, ...]
    gauge_mm: float
    bed_mm: float
    damp_course_seen: bool = False
    """Whether the damp course was seen; else it is drawn at the usual height."""

    @property
    def is_square(self) -> bool:
        """Whether the outline has four corners, and so upright ends."""
        return len(self.outline) == 4


def masonry_of(elevation: Elevation, *, is_told: bool = False) -> Masonry:
    """Return the brickwork of an elevation; the same one while nothing of it has changed.

    A wall told on the telephone is drawn only as high as its crack asks, so it goes on above.

    >>> masonry = masonry_of(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    >>> masonry.bounds, masonry.ground, masonry.damp_course_seen
    ((0.0, -280.0, 900.0, 750.0), -150.0, False)
    """
    bare = Elevation(
        "",
        "",
        elevation.outline,
        elevation.brickwork,
        elevation.openings,
        elevation.left_end,
        elevation.right_end,
        movement_joints_mm=elevation.movement_joints_mm,
        damp_course_mm=elevation.damp_course_mm,
        datum_height_mm=elevation.datum_height_mm,
    )
    return _masonry(bare, is_told=is_told)


@lru_cache(maxsize=16)
def _masonry(elevation: Elevation, *, is_told: bool) -> Masonry:
    wall = wall_of(elevation)
    left, bottom, right, top = wall.gross.bounds
    foot = -elevation.datum_height_mm
    ground = foot if 0 <= bottom - foot <= GROUND_NEAR_MM else None
    stretches = [_tinted(wall.coursing, *one) for one in stretches_of(wall.coursing, wall.net)]
    tinted = tuple(
        tuple(chain.from_iterable(one[tint] for one in stretches)) for tint in range(TINTS)
    )
    fades = _fades(elevation, is_told=is_told)
    below: tuple[Box, ...] = ()
    if ground is not None and ground < bottom:
        plinth = Region.rectangle(left - fades[0], ground, right + fades[2], bottom)
        below = _boxes(wall.coursing, plinth)
    low = bottom if ground is None else ground - EARTH_MM
    ends = _ends(elevation.left_end), _ends(elevation.right_end)
    return Masonry(
        elevation.outline,
        (left - END_MM * ends[0], low, right + END_MM * ends[1], top),
        tinted,
        _beyond(wall, fades),
        tuple((x, max(low_y, ground or low_y), x_end, high) for x, low_y, x_end, high in below),
        tuple(_holes(elevation)),
        ground,
        _damp_course(elevation, wall.coursing, ground),
        wall.gross.bounds,
        fades,
        ends,
        elevation.movement_joints_mm,
        wall.coursing.gauge_mm,
        wall.coursing.bed_mm,
        elevation.damp_course_mm is not None,
    )


@lru_cache(maxsize=1024)
def _tinted(
    coursing: Coursing, course: int, start: float, end: float
) -> tuple[tuple[Box, ...], ...]:
    """Return the bricks of a stretch of a course by their tint.

    Kept, since of a wall whose opening is dragged most courses stay what they were.
    """
    tinted: list[list[Box]] = [[] for _tint in range(TINTS)]
    for face in faces_in(coursing, course, start, end):
        tinted[tint_of(face.course, face.number)].append(face[2:])
    return tuple(map(tuple, tinted))


def tint_of(course: int, number: int) -> int:
    """Return the tint of a brick, always the same for the same place in the wall.

    >>> tint_of(3, 7) == tint_of(3, 7)
    True
    """
    mixed = (course * 73_856_093) ^ (number * 19_349_663) ^ SEED
    mixed = (mixed * 0x9E37_79B1) & 0xFFFF_FFFF
    return SHARES[mixed >> 28]


def _fades(elevation: Elevation, *, is_told: bool) -> Box:
    """Return how far the wall goes on at each side; a gable is drawn to its verge."""
    if len(elevation.outline) != 4:
        return 0.0, 0.0, 0.0, 0.0
    left, right = (
        BEYOND_MM if end is WallEnd.CONTINUES else 0.0
        for end in (elevation.left_end, elevation.right_end)
    )
    return left, 0.0, right, BEYOND_MM if is_told else 0.0


def _beyond(wall: Wall, fades: Box) -> tuple[Box, ...]:
    if not any(fades):
        return ()
    left, bottom, right, top = wall.gross.bounds
    more_left, _low, more_right, more_up = fades
    whole = Region.rectangle(left - more_left, bottom, right + more_right, top + more_up)
    return _boxes(wall.coursing, whole.without(wall.gross))


def _boxes(coursing: Coursing, region: Region) -> tuple[Box, ...]:
    """Return the bricks of a region, of whatever tint."""
    stretches = (_tinted(coursing, *one) for one in stretches_of(coursing, region))
    return tuple(box for one in stretches for tint in one for box in tint)


def _damp_course(elevation: Elevation, coursing: Coursing, ground: float | None) -> float | None:
    """Return its level where it was seen, else the bed nearest above the usual height."""
    if elevation.damp_course_mm is not None:
        return elevation.damp_course_mm
    if ground is None:
        return None
    level = ground + DAMP_COURSE_MM
    course = coursing.course_at(level - 1e-6)
    bed = coursing.bed_middle(course)
    return bed if bed >= level - coursing.bed_mm else coursing.bed_middle(course + 1)


def _holes(elevation: Elevation) -> list[Hole]:
    return [
        Hole(
            one.kind,
            (
                one.left_mm,
                one.bottom_mm,
                one.left_mm + one.width_mm,
                one.bottom_mm + one.height_mm,
            ),
            one.sill_mm,
            one.lintel,
            one.lintel_mm,
            one.lintel_bearing_mm,
        )
        for one in elevation.openings
    ]


def _ends(end: WallEnd) -> bool:
    return end in (WallEnd.QUOIN, WallEnd.STOPPED)
