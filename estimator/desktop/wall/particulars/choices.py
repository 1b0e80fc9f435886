"""What can be chosen in the particulars, in the words of the screen."""

from __future__ import annotations

from estimator.desktop.language import _, in_context
from estimator.masonry.bond import bond, bond_keys
from estimator.masonry.brick import formats
from estimator.survey.survey import (
    Answer,
    Basis,
    Ground,
    Lintel,
    Mortar,
    Treatment,
    WallBuild,
    WallEnd,
)

WINDOW, DOOR, VENT = "window", "door", "vent"
KINDS = (WINDOW, DOOR, VENT)
PANEL, OPENINGS, FREEHAND = "panel", "openings", "freehand"


def bricks() -> list[tuple[str, str]]:
    """Return the brick formats by key."""
    return [(key, one.name) for key, one in formats().items()]


def bond_names() -> list[tuple[str, str]]:
    """Return the bonds by key."""
    return [(key, bond(key).name) for key in bond_keys()]


def mortars() -> list[tuple[Mortar, str]]:
    """Return the mortars a wall may be laid in."""
    return [
        (Mortar.LIME, _("Lime")),
        (Mortar.CEMENT_LIME, _("Cement and lime")),
        (Mortar.HARD_CEMENT, _("Hard cement")),
    ]


def builds() -> list[tuple[WallBuild, str]]:
    """Return how a wall may be built behind its face."""
    return [
        (WallBuild.SOLID, _("Solid, one brick or more")),
        (WallBuild.OUTER_LEAF, _("Outer leaf of a cavity wall")),
        (WallBuild.VENEER, _("Veneer")),
    ]


def ends() -> list[tuple[WallEnd, str]]:
    """Return what a wall may do at an end."""
    return [
        (WallEnd.CONTINUES, _("Goes on")),
        (WallEnd.QUOIN, _("Quoin")),
        (WallEnd.STOPPED, _("Stopped end")),
        (WallEnd.MOVEMENT_JOINT, _("Movement joint")),
    ]


def grounds() -> list[tuple[Ground, str]]:
    """Return what may stand in front of a wall."""
    return [
        (Ground.FIRM, _("Firm and level")),
        (Ground.SOFT, _("Soft or sloping")),
        (Ground.OVER_ROOF, _("Over a roof")),
    ]


def lintels() -> list[tuple[Lintel, str]]:
    """Return what may carry the wall over an opening."""
    return [
        (Lintel.NOT_SEEN, _("Not seen")),
        (Lintel.CONCRETE, _("Concrete")),
        (Lintel.STONE, _("Stone")),
        (Lintel.STEEL, _("Steel behind the brickwork")),
        (Lintel.TIMBER, _("Timber")),
        (Lintel.BRICK, _("Brick arch or soldiers")),
    ]


def kinds() -> list[tuple[str, str]]:
    """Return the kinds of opening."""
    return [
        (WINDOW, in_context("opening", "Window")),
        (DOOR, in_context("opening", "Door")),
        (VENT, in_context("opening", "Vent")),
    ]


def answers() -> list[tuple[Answer, str]]:
    """Return yes, no and not sure."""
    return [(Answer.YES, _("Yes")), (Answer.NO, _("No")), (Answer.NOT_SURE, _("Not sure"))]


def treatments() -> list[tuple[Treatment, str]]:
    """Return what may be done with a cracked brick."""
    return [
        (Treatment.REPLACE, _("Replace")),
        (Treatment.TURN, _("Turn")),
        (Treatment.PATCH, _("Patch")),
        (Treatment.LEAVE, _("Leave")),
    ]


def reaches() -> list[tuple[str, str]]:
    """Return how far an area to repoint may go."""
    return [
        (PANEL, _("A panel")),
        (OPENINGS, _("Out to the openings")),
        (FREEHAND, _("Corner by corner")),
    ]


def depths() -> list[tuple[bool, str]]:
    """Return how deep a brick is cut out."""
    return [(False, _("Whole brick")), (True, _("Outer half"))]


def repairs() -> list[tuple[bool, str]]:
    """Return what may be done with a crack."""
    return [(True, _("Stitch and point")), (False, _("Point only"))]


def bases() -> list[tuple[Basis, str]]:
    """Return who may have taken the sizes."""
    return [(Basis.TOLD, _("told")), (Basis.MEASURED, _("measured on site"))]
