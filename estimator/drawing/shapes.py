"""What is drawn of one elevation: shapes in millimetres, each with the mark it goes by.

Screen, paper and file draw these and no others. Nothing here knows a screen or a page. A part whose
size is a range, or whose question nobody has answered, is marked as guessed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import NamedTuple

from estimator.drawing.courses import Box, Masonry
from estimator.masonry.region import Point
from estimator.survey.survey import Treatment
from estimator.takeoff.lines import Mark

ROUND_WORK_MM = 260.0
"""Wall shown round the work at the least [mm]; house rule."""


BRICKS_PER_MM = 0.28
"""Scale at which a marked brick is read; house rule [px/mm]."""


class BrickState(Enum):
    """How a brick stands, told apart by shape."""

    CRACKED = "cracked"
    REPLACE = "replace"
    TURN = "turn"
    PATCH = "patch"


class Part(Enum):
    """A part of the drawing that answers decide."""

    BRICKS = "house"
    OPENING = "place"
    SHAPE = "shape"
    LENGTH = "length"


class CrackWidth(NamedTuple):
    """How wide a crack was measured to be at one point of it."""

    point: Point
    width_mm: float
    is_widest: bool


@dataclass(frozen=True, slots=True)
class CrackShape:
    """A crack: what is sure of it, what is likely beyond, and how far it may go."""

    mark: Mark
    letter: str
    sure: tuple[Point, ...]
    likely: tuple[Point, ...]
    beyond: tuple[Point, ...]
    widths: tuple[CrackWidth, ...] = ()
    """Widths measured along it."""

    @property
    def points(self) -> tuple[Point, ...]:
        """The crack at its likely length."""
        return (*self.sure, *self.likely)


@dataclass(frozen=True, slots=True)
class BarShape:
    """A bar as it lies in its bed."""

    mark: Mark
    left: float
    right: float
    y: float
    turns: tuple[bool, bool]
    course: int
    length_mm: float
    cracks: tuple[str, ...]
    is_guessed: bool
    by_hand: bool = False
    """Whether somebody set or kept it where it lies; else it is the rule's."""
    kept: bool = False
    """Whether it is the rule's bar, locked by hand where it lay."""


@dataclass(frozen=True, slots=True)
class LegShape:
    """The leg of a bar that lies on the elevation round the quoin and is turned on to this one."""

    mark: Mark
    """The mark of its bar, which is the other elevation's."""
    left: float
    right: float
    y: float
    at_right: bool = False
    """Whether it comes round the quoin at its right end; else round the one at its left."""


@dataclass(frozen=True, slots=True)
class BrickShape:
    """A brick that does not stay as it is, or is cracked."""

    mark: Mark
    box: Box
    state: BrickState
    course: int
    place: int
    is_crossed: bool
    """Whether a crack is drawn through it already."""
    marked: Treatment | None = None
    """What the survey says is to be done with it, None where nobody marked it."""


@dataclass(frozen=True, slots=True)
class AreaShape:
    """An area repointed."""

    mark: Mark
    corners: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class JointShape:
    """A perpend that a crack runs up."""

    mark: Mark
    box: Box
    crack: Mark
    course: int


@dataclass(frozen=True, slots=True)
class BedShape:
    """What cracks run along of one bed."""

    mark: Mark
    boxes: tuple[Box, ...]
    cracks: tuple[Mark, ...]
    course: int


@dataclass(frozen=True, slots=True)
class ThinBedShape:
    """A stretch of bed found thinner than the rest."""

    mark: Mark
    course: int
    left: float
    right: float
    y: float
    """Middle of the bed [mm]."""
    thickness_mm: float


Shape = CrackShape | BarShape | LegShape | BrickShape | AreaShape | JointShape
"""What is priced, or pointed at as something priced."""


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything drawn of one elevation [mm]."""

    elevation: str
    name: str
    masonry: Masonry
    cracks: tuple[CrackShape, ...] = ()
    bars: tuple[BarShape, ...] = ()
    bricks: tuple[BrickShape, ...] = ()
    areas: tuple[AreaShape, ...] = ()
    joints: tuple[JointShape, ...] = ()
    """Perpends along the cracks; seen only when they are pointed at."""
    height: tuple[float, float, bool] | None = None
    """Foot and head of the crack, and whether its height is sure."""
    guessed: frozenset[Part] = frozenset()
    is_told: bool = False
    beds: tuple[BedShape, ...] = ()
    """Beds the cracks run along; seen only when they are pointed at."""
    thin_beds: tuple[ThinBedShape, ...] = ()
    legs: tuple[LegShape, ...] = ()
    """Legs of the bars of its returns; they are priced with their bars."""

    @property
    def work(self) -> Box | None:
        """The box round all marks, None where there are none."""
        points = [point for crack in self.cracks for point in crack.points]
        points += [(x, bar.y) for bar in self.bars for x in (bar.left, bar.right)]
        points += [(x, leg.y) for leg in self.legs for x in (leg.left, leg.right)]
        points += [corner for area in self.areas for corner in area.corners]
        points += [corner for one in self.bricks for corner in (one.box[:2], one.box[2:])]
        if not points:
            return None
        across, up = [x for x, _y in points], [y for _x, y in points]
        more = ROUND_WORK_MM
        return min(across) - more, min(up) - more, max(across) + more, max(up) + more

    @property
    def near_per_mm(self) -> float:
        """How near the drawing should be looked at: single bricks have to be read [px/mm]."""
        return BRICKS_PER_MM if self.bricks else 0.0

    @property
    def steps(self) -> frozenset[int]:
        """How many courses lie from one bar of a crack to the next."""
        beds: dict[str, set[int]] = {}
        for bar in self.bars:
            for crack in bar.cracks:
                beds.setdefault(crack, set()).add(bar.course)
        return frozenset(
            two - one for courses in beds.values() for one, two in pairwise(sorted(courses))
        )
