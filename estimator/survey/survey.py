"""What was seen or told about a cracked wall: frozen values, nothing worked out.

Coordinates on an elevation are millimetres from its own datum: x to the right from the left
end of a whole bond repeat, y up from the underside of the bed of course 1. Courses are numbered
from 1 at the datum. A number told on the telephone may be a ``Range``; one measured on site is
plain.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from estimator.masonry.region import Point
from estimator.survey.ranges import Told


class Answer(Enum):
    """What somebody said to a yes-or-no question."""

    YES = "yes"
    NO = "no"
    NOT_SURE = "not sure"


class Mortar(Enum):
    """The mortar that is in the wall now."""

    LIME = "lime"
    CEMENT_LIME = "cement-lime"
    HARD_CEMENT = "hard cement"


class WallBuild(Enum):
    """How the wall is built behind its face."""

    SOLID = "solid, one brick or more"
    OUTER_LEAF = "outer leaf of a cavity wall"
    VENEER = "veneer"


class Treatment(Enum):
    """What is to be done with a cracked brick."""

    REPLACE = "replace"
    TURN = "turn"
    PATCH = "patch"
    LEAVE = "leave"


class WallEnd(Enum):
    """What the wall does at one side of the drawn elevation."""

    CONTINUES = "continues"
    QUOIN = "quoin"
    STOPPED = "stopped end"
    MOVEMENT_JOINT = "movement joint"


class Ground(Enum):
    """What stands in front of the wall, for access."""

    FIRM = "firm and level"
    SOFT = "soft or sloping"
    OVER_ROOF = "over a roof or conservatory"


class Lintel(Enum):
    """What carries the wall over an opening, as it is seen."""

    NOT_SEEN = "not seen"
    CONCRETE = "concrete"
    STONE = "stone"
    STEEL = "steel behind the brickwork"
    TIMBER = "timber"
    BRICK = "brick arch or soldier course"


class HandWork(Enum):
    """What somebody did by hand to the bars of a bed."""

    SET = "set by hand"
    KEPT = "kept where the rule had it"
    LEFT_OUT = "left out by hand"


class Basis(Enum):
    """Who took the sizes."""

    TOLD = "told on the telephone"
    MEASURED = "measured on site"


class CustomerKind(Enum):
    """Who the customer is, for tax and for consumer law."""

    HOUSEHOLD = "household"
    BUSINESS = "business"
    TRADE = "trade"


@dataclass(frozen=True, slots=True)
class SteppedRun:
    """A crack stepping along the joints, one perpend and half a brick of bed to a course."""

    x_mm: float
    course: int
    courses: Told
    lean: str = "right"
    turn_after: int = 0
    """Courses after which the steps turn back the other way; 0 for never."""


@dataclass(frozen=True, slots=True)
class StraightRun:
    """A crack straight up through bricks and joints in turn."""

    x_mm: float
    course: int
    courses: Told


@dataclass(frozen=True, slots=True)
class BedRun:
    """A crack along one bed joint; bed N is the bed under course N."""

    course: int
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class TracedRun:
    """A crack drawn through points; it follows the joints unless it cuts bricks."""

    points: tuple[Point, ...]
    through_bricks: bool = False
    cuts: tuple[int, ...] = ()
    """Legs that cut through bricks while the others follow the joints, by number from 1: leg 1
    runs from the first point to the second."""


CrackRun = SteppedRun | StraightRun | BedRun | TracedRun


@dataclass(frozen=True, slots=True)
class WidthAt:
    """How wide a crack is at one place."""

    x_mm: float
    y_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True)
class Crack:
    """One crack: how it runs, how wide it is and what was noticed about it."""

    id: str
    run: CrackRun
    width_mm: Told
    """Width at the widest place. [mm]"""
    both_faces: Answer = Answer.NOT_SURE
    tapers: Answer = Answer.NOT_SURE
    stitch: bool = True
    """Whether the repair stitches it; a crack may be pointed only."""
    widths: tuple[WidthAt, ...] = ()
    """Widths measured along it; the widest of them is ``width_mm`` where there are any."""


@dataclass(frozen=True, slots=True)
class CrackedBrick:
    """One brick that is cracked, by course and place in the course (both from 1, left to right)."""

    course: int
    place: int
    treatment: Treatment
    half: bool = False
    """Whether only the outer half of its depth is cut out and slipped."""


@dataclass(frozen=True, slots=True)
class Opening:
    """A rectangular hole in the wall: window, door, vent."""

    id: str
    left_mm: float
    bottom_mm: float
    width_mm: float
    height_mm: float
    kind: str = "window"
    sill_mm: float = 0.0
    """Depth of a stone or tile sill under it, which is not brickwork. [mm]"""
    lintel: Lintel = Lintel.NOT_SEEN
    lintel_mm: float = 0.0
    """Height of what shows of the lintel over it, which is not measured as brickwork. [mm]"""
    lintel_bearing_mm: float = 0.0
    """How far what shows of it goes on beyond the opening on each side. [mm]"""


@dataclass(frozen=True, slots=True)
class Area:
    """An area of wall to be repointed, as drawn."""

    id: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class ThinBed:
    """A stretch of one bed found thinner than the rest."""

    course: int
    from_mm: float
    to_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class HandBar:
    """A bar somebody set, kept or left out by hand, in the bed under one course."""

    id: str
    course: int
    from_mm: float
    to_mm: float
    """Where it lies; of one left out, the stretch in which the rule's bar is not wanted. [mm]"""
    work: HandWork = HandWork.SET
    turn_left_mm: float = 0.0
    """Leg turned round the quoin on the left, 0 for none. [mm]"""
    turn_right_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Brickwork:
    """What the wall is laid with, as found."""

    brick: str = "uk_metric"
    bond: str = "stretcher"
    ratio: int = 0
    """Stretcher courses (or stretchers) to one header, for garden-wall bonds; 0 for the usual."""
    mortar: Mortar = Mortar.CEMENT_LIME
    build: WallBuild = WallBuild.OUTER_LEAF
    bed_usual_mm: float | None = None
    """Usual bed thickness as measured; the format's own where it was not. [mm]"""
    bed_least_mm: float | None = None
    perpend_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Elevation:
    """One face of the building as it stands."""

    id: str
    name: str
    outline: tuple[Point, ...]
    brickwork: Brickwork = field(default_factory=Brickwork)
    openings: tuple[Opening, ...] = ()
    left_end: WallEnd = WallEnd.CONTINUES
    right_end: WallEnd = WallEnd.CONTINUES
    cracks: tuple[Crack, ...] = ()
    bricks: tuple[CrackedBrick, ...] = ()
    hidden_bricks: Told = 0.0
    """Further cracked bricks allowed for, not seen. [nr]"""
    areas: tuple[Area, ...] = ()
    movement_joints_mm: tuple[float, ...] = ()
    thin_beds: tuple[ThinBed, ...] = ()
    bars: tuple[HandBar, ...] = ()
    """Bars set, kept or left out by hand; all others are the rule's."""
    damp_course_mm: float | None = None
    """Level of the damp course as seen; None where it was not seen. [mm]"""
    left_return: str = ""
    """Id of the elevation round the quoin on the left; empty for none drawn."""
    right_return: str = ""
    datum_height_mm: float = 150.0
    """Height of the datum above the ground one stands on. [mm]"""
    ground: Ground = Ground.FIRM
    ornament: str = ""
    """What else is on the wall and matters to the work: pipes, meters, climbers."""


@dataclass(frozen=True, slots=True)
class Signs:
    """The danger signs asked about, in the order of the decision table."""

    loose_or_falling: Answer = Answer.NOT_SURE
    bulging_or_leaning: Answer = Answer.NOT_SURE
    lintel_dropped: Answer = Answer.NOT_SURE
    sudden_after_impact: Answer = Answer.NOT_SURE
    gas_smell: Answer = Answer.NOT_SURE
    floors_sloping: Answer = Answer.NOT_SURE
    bearing_lost: Answer = Answer.NOT_SURE
    growing: Answer = Answer.NOT_SURE
    reopened_after_repair: Answer = Answer.NOT_SURE
    doors_sticking: Answer = Answer.NOT_SURE
    trees_on_clay: Answer = Answer.NOT_SURE
    leaking_drain: Answer = Answer.NOT_SURE
    mining: Answer = Answer.NOT_SURE
    insurance_claim: Answer = Answer.NOT_SURE
    walls_removed: Answer = Answer.NOT_SURE
    lintel_unknown: Answer = Answer.NOT_SURE
    level_crack_above_opening: Answer = Answer.NOT_SURE
    roof_spread: Answer = Answer.NOT_SURE
    leaning_garden_wall: Answer = Answer.NOT_SURE
    loose_gable_or_parapet: Answer = Answer.NOT_SURE
    regular_level_lines: Answer = Answer.NOT_SURE
    listed_or_conservation: Answer = Answer.NOT_SURE
    shared_wall: Answer = Answer.NOT_SURE
    full_height_at_junction: Answer = Answer.NOT_SURE


@dataclass(frozen=True, slots=True)
class EngineersReport:
    """A chartered structural engineer has looked, and says the wall may be repaired."""

    engineer: str
    reference: str
    date: str
    """ISO 8601 date."""


@dataclass(frozen=True, slots=True)
class Party:
    """The customer and where the work is."""

    name: str = ""
    kind: CustomerKind = CustomerKind.HOUSEHOLD
    address: tuple[str, ...] = ()
    site: tuple[str, ...] = ()
    """Site address where it differs."""
    telephone: str = ""
    email: str = ""
    vat_number: str = ""
    is_end_user: bool = True
    """Whether a VAT-registered customer has said in writing that it is the end user."""


@dataclass(frozen=True, slots=True)
class Site:
    """What the gang will find there."""

    power: Answer = Answer.NOT_SURE
    water: Answer = Answer.NOT_SURE
    parking: Answer = Answer.NOT_SURE
    travel_miles: float = 10.0
    """One way. [mile]"""
    built: str = ""
    """When the building was built, as said."""
    empty_months: int = 0
    """Months the dwelling has stood empty before the work. [month]"""
    empty_evidence: bool = False
    """Whether a letter from the council shows it, which a reduced rate of tax asks for."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One question put to a caller, and the answer as it was understood and as it was said."""

    question: str
    """Key of the question in ``enquiry``."""
    choices: tuple[str, ...] = ()
    """Keys of the choices taken; ``not_sure`` alone when the caller does not know."""
    amount: float | None = None
    """A size or number said instead of a choice, in ``unit``."""
    unit: str = ""
    """``mm``, ``course``, ``brick`` or ``nr``."""
    about: bool = False
    """Whether it was said as a rough figure."""
    said: str = ""
    """The words typed."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement of a crack that is being watched, at one marked point."""

    crack: str
    point: str
    date: str
    """ISO 8601 date."""
    width_mm: float
    """To a tenth. [mm]"""
    reader: str = ""


@dataclass(frozen=True, slots=True)
class PhotoPoint:
    """A place on a photograph whose place on the wall is known."""

    across_px: float
    down_px: float
    """From the top left corner of the kept picture. [px]"""
    x_mm: float
    y_mm: float
    """On the elevation. [mm]"""


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph of one elevation, and the points that set it square."""

    id: str
    elevation: str
    """Id of the elevation it shows."""
    picture: str
    """SHA-256 of the kept picture, in hexadecimal; the picture itself is in the file."""
    width_px: int
    height_px: int
    points: tuple[PhotoPoint, ...] = ()
    caption: str = ""
    taken: str = ""
    """ISO 8601 date; empty where it is not known."""


@dataclass(frozen=True, slots=True)
class Survey:
    """Everything seen and told about one job."""

    reference: str
    title: str
    date: str
    """ISO 8601 date."""
    basis: Basis
    customer: Party
    site: Site
    elevations: tuple[Elevation, ...]
    signs: Signs = field(default_factory=Signs)
    said: str = ""
    """What the customer said, in their words."""
    not_seen: str = ""
    """What could not be seen."""
    new_mortar: str = ""
    """Key of the mortar to repoint with; empty for the one that suits the wall."""
    engineers_report: EngineersReport | None = None
    asked: tuple[Asked, ...] = ()
    """Answers a caller gave, one a question; while sizes are told, the wall is drawn from them."""
    readings: tuple[Reading, ...] = ()
    drawn: bool = False
    """Whether the walls were drawn by hand: answers then move signs and site and no wall."""
    photos: tuple[Photo, ...] = ()
