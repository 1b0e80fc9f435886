"""The measured work: lines with quantity, working and marks; bars with their reasons."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from estimator.masonry.region import Point
from estimator.notices import Notice
from estimator.takeoff.scope import Scope
from estimator.units import Quantity

Mark = str
"""The id of something on the wall: ``front/bar/3``, ``front/brick/12/4``, ``front/perpend/12/4``,
``front/bed/12``, ``front/area/panel``, ``front/crack/a``, ``front`` for the elevation itself."""


class Item(Enum):
    """A kind of measured work; the value is its key in the price book and in exchange files."""

    CUT_SLOT = "cut_slot"
    SET_BAR = "set_bar"
    TURN_BAR = "turn_bar"
    LAP_BAR = "lap_bar"
    SKIM_ARRIS = "skim_arris"
    POINT_SLOT = "point_slot"
    POINT_CRACK_BED = "point_crack_bed"
    POINT_PERPEND = "point_perpend"
    RAKE_OUT = "rake_out"
    REPOINT = "repoint"
    REPLACE_BRICK = "replace_brick"
    REPLACE_HALF_BRICK = "replace_half_brick"
    TURN_BRICK = "turn_brick"
    PATCH_BRICK = "patch_brick"
    TOOTH_IN = "tooth_in"
    ALLOWED_BRICK = "allowed_brick"
    MAKE_GOOD = "make_good"
    PROTECT = "protect"
    CLEAR_WASTE = "clear_waste"


class Surety(Enum):
    """How a quantity was arrived at; printed beside it."""

    MEASURED = "measured"
    COUNTED = "counted"
    ALLOWED = "allowed for"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class Conditions:
    """What makes the same work quicker or slower: looked up in the outputs of a price book."""

    mortar: str = ""
    """Mortar in the wall now: ``lime``, ``cement-lime`` or ``hard cement``."""
    bond: str = ""
    depth_mm: int = 0
    new_mortar: str = ""
    """Key of the mortar pointed with."""
    joint_m_per_m2: str = ""
    """Joint per square metre of this wall as decimal text, so that outputs per m² can be spread
    over metres; empty where it does not matter [m/m²]."""


@dataclass(frozen=True, slots=True)
class Line:
    """One measured quantity on one elevation."""

    item: Item
    elevation: str
    quantity: Quantity
    working: str
    marks: tuple[Mark, ...]
    conditions: Conditions = Conditions()
    surety: Surety = Surety.MEASURED


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a bar is as it is, in words."""

    code: str
    """``spacing``, ``anchorage``, ``shared``, ``opening``, ``quoin``, ``end``, ``movement_joint``,
    ``short``, ``lap``, ``thin_bed``, ``rounded``, ``neighbour``, ``hand``, ``edge``."""
    text: str
    source: str = ""


class SetBy(Enum):
    """Who says where a bar lies."""

    RULE = "rule"
    HAND = "hand"


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar in one bed of one elevation."""

    id: Mark
    elevation: str
    course: int
    """The bed under this course (from 1)."""
    left_mm: float
    right_mm: float
    y_mm: float
    """Middle of the bed [mm]."""
    turn_left_mm: float
    """Length turned round the quoin on the left, 0 for none [mm]."""
    turn_right_mm: float
    pieces_mm: tuple[int, ...]
    """Pieces to cut, laps included [mm]."""
    slot_depth_mm: int
    bed_mm: float
    thin: bool
    cracks: tuple[str, ...]
    reasons: tuple[Reason, ...]
    skim_mm: float = 0.0
    """Length over which the arris is skimmed for the bar to go in [mm]."""
    anchorage_mm: float = 0.0
    """Bar beyond the outermost crack at its shorter end, straight and turned [mm]."""
    set_by: SetBy = SetBy.RULE
    hand: str = ""
    """Id of the ``HandBar`` it is, empty for the rule's."""

    @property
    def face_mm(self) -> float:
        """Length of slot on this elevation [mm]."""
        return self.right_mm - self.left_mm

    @property
    def length_mm(self) -> float:
        """Length from end to end, turned legs included, laps not [mm]."""
        return self.face_mm + self.turn_left_mm + self.turn_right_mm


@dataclass(frozen=True, slots=True)
class Need:
    """A material needed on one elevation, before packs; waste is in."""

    material: str
    """Key of the material in a price book: ``grout``, ``nhl35``, ``cement``, ``hydrated_lime``,
    ``sand``, ``facing_brick``, ``patch_mortar``, ``protection``."""
    quantity: Quantity
    working: str
    item: Item
    """The work it is for."""


@dataclass(frozen=True, slots=True)
class Reach:
    """Where the work is, for access."""

    elevation: str
    top_mm: float
    """Highest work above the ground one stands on [mm]."""
    width_mm: float
    """Width of wall worked on [mm]."""
    means: str
    """``ground``, ``hop_up``, ``tower`` or ``scaffold``."""
    reason: str


@dataclass(frozen=True, slots=True)
class PanelOutline:
    """An area to be repointed, for drawing: as the user drew it, or as it was set out."""

    elevation: str
    corners: tuple[Point, ...]
    """In order round it. [mm]"""


@dataclass(frozen=True, slots=True)
class Measure:
    """All the work of one scope, measured."""

    scope: Scope
    lines: tuple[Line, ...]
    bars: tuple[Bar, ...]
    needs: tuple[Need, ...]
    reaches: tuple[Reach, ...]
    notices: tuple[Notice, ...]
    visible: tuple[str, ...]
    """What can still be seen on the wall afterwards, in plain sentences."""
    panels: tuple[PanelOutline, ...] = ()
    """The areas repointed in this scope."""
