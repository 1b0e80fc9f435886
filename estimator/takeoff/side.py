"""One side of the building ready to be measured: its courses, its cracks on them, its rules."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import CrackPath
from estimator.masonry.joints import per_square_metre
from estimator.survey.survey import Crack, Elevation, WallBuild
from estimator.survey.wall import Wall, path_of, wall_of
from estimator.takeoff.lines import Conditions, Mark
from estimator.takeoff.rules import Rules
from estimator.units import rounded


@dataclass(frozen=True, slots=True)
class LaidCrack:
    """A crack with its path on the joint net, and how far it reaches sideways [mm]."""

    crack: Crack
    path: CrackPath
    left: float
    right: float


@dataclass(frozen=True)
class Side:
    """An elevation, laid out, with all that measuring it needs."""

    elevation: Elevation
    wall: Wall
    cracks: tuple[LaidCrack, ...]
    rules: Rules
    new_mortar: str
    """Key of the mortar repaired with."""

    @property
    def coursing(self) -> Coursing:
        """The courses of the wall."""
        return self.wall.coursing

    @cached_property
    def slot_depth_mm(self) -> int:
        """Depth of a slot in this build of wall [mm]."""
        solid = self.elevation.brickwork.build is WallBuild.SOLID
        return self.rules.slot_depth_solid_mm if solid else self.rules.slot_depth_leaf_mm

    @cached_property
    def slot_height_mm(self) -> float:
        """Height of a slot: the bed, skimmed where it is too thin for the bar [mm]."""
        return max(self.coursing.bed_mm, self.rules.least_bed_mm)

    def mark(self, *parts: object) -> Mark:
        """Return the id of something on this side."""
        return "/".join((self.elevation.id, *map(str, parts)))

    def conditions(self, depth_mm: float = 0) -> Conditions:
        """Return what makes work to a depth quicker or slower here."""
        return Conditions(
            self.elevation.brickwork.mortar.value,
            self.coursing.bond.key,
            round(depth_mm),
            self.new_mortar,
            joint_text(self.coursing),
        )


@lru_cache(maxsize=256)
def joint_text(coursing: Coursing) -> str:
    """Return the joint in a square metre as decimal text of four places [m/m²].

    >>> from estimator.survey.survey import Brickwork
    >>> from estimator.survey.wall import coursing_of
    >>> joint_text(coursing_of(Brickwork()))
    '17.1852'
    """
    return str(rounded(per_square_metre(coursing).joint_m, 4))


def side_of(elevation: Elevation, rules: Rules, new_mortar: str) -> Side:
    """Lay out an elevation and its cracks; ranges must be settled before.

    >>> from estimator.takeoff.rules import shipped
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> side_of(wall, shipped(), "nhl35_1_3").slot_depth_mm
    25
    """
    wall = wall_of(elevation)
    cracks = []
    for crack in elevation.cracks:
        path = path_of(crack, wall.coursing)
        places = [x for piece in path.pieces for x in (piece.start[0], piece.end[0])]
        if places:
            cracks.append(LaidCrack(crack, path, min(places), max(places)))
    return Side(elevation, wall, tuple(cracks), rules, new_mortar)
