"""A job drawn by hand on three sides, with two photographs, as a surveyor leaves it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from estimator.exchange.photographs import TakenIn, take_in
from estimator.survey.survey import (
    Answer,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    HandBar,
    HandWork,
    Lintel,
    Opening,
    Photo,
    PhotoPoint,
    SteppedRun,
    Survey,
    ThinBed,
    TracedRun,
    Treatment,
    WallEnd,
    WidthAt,
)
from tests.desktop.fakes import demo_survey
from tests.desktop.wall.photos.scenes import CAMERA, crossing, photograph, seen

WINDOW = Opening("w1", 900.0, 900.0, 900.0, 1200.0, "window", 75.0, Lintel.CONCRETE, 150.0, 150.0)
DOOR = Opening("d1", 2700.0, 0.0, 900.0, 2100.0, "door", 0.0, Lintel.BRICK, 225.0, 0.0)
CRACK = Crack(
    "a",
    SteppedRun(2050.0, 6, 9, "right", 4),
    3.5,
    Answer.YES,
    Answer.YES,
    widths=(
        WidthAt(2132.0, 455.0, 0.8),
        WidthAt(2470.0, 640.0, 3.5),
        WidthAt(1908.0, 1010.0, 2.0),
    ),
)
STRAIGHT = Crack("b", TracedRun(((700.0, 1500.0), (700.0, 2100.0)), through_bricks=True), 2.0)
KNOWN = ((4, 2), (4, 14), (20, 14), (20, 2))


def _outline(width: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


@cache
def taken() -> tuple[TakenIn, TakenIn]:
    """Two photographs of a wall that was painted for the tests, made small as the desk does."""
    nearer = replace(CAMERA, distance=3000.0, turn=-8.0)
    return take_in(photograph()), take_in(photograph(nearer))


def pictures() -> dict[str, bytes]:
    """The photographs by their hashes."""
    return {one.sha256: one.picture for one in taken()}


def drawn_survey() -> Survey:
    """Three sides: one with everything on it, a return, and a back with one crack."""
    plain = demo_survey("quoin_cavity")
    front = _front(plain.elevations[0].brickwork)
    side = Elevation(
        "side",
        "Right return",
        _outline(2700.0, 2700.0),
        front.brickwork,
        left_end=WallEnd.QUOIN,
        damp_course_mm=150.0,
        left_return="front",
    )
    back = replace(
        side,
        id="back",
        name="Back",
        outline=_outline(3600.0, 2700.0),
        left_end=WallEnd.CONTINUES,
        cracks=(STRAIGHT,),
        left_return="",
    )
    return replace(
        plain,
        title="Stepped crack beside the door",
        elevations=(front, side, back),
        asked=(),
        readings=(),
        drawn=True,
        not_seen="The foot of the wall behind the flower bed, and the inner leaf.",
        photos=photos(),
    )


def _front(brickwork: Brickwork) -> Elevation:
    """The side with everything on it."""
    return Elevation(
        "front",
        "Front",
        _outline(4500.0, 2700.0),
        brickwork,
        openings=(WINDOW, DOOR),
        right_end=WallEnd.QUOIN,
        cracks=(CRACK,),
        thin_beds=(ThinBed(9, 1800.0, 2600.0, 6.0),),
        bars=(
            HandBar("1", 8, 1600.0, 2500.0),
            HandBar("2", 13, 1900.0, 2650.0, HandWork.KEPT),
            HandBar("3", 10, 1800.0, 2700.0, HandWork.LEFT_OUT),
        ),
        bricks=(
            CrackedBrick(10, 9, Treatment.REPLACE),
            CrackedBrick(12, 10, Treatment.TURN),
            CrackedBrick(14, 11, Treatment.PATCH),
        ),
        damp_course_mm=150.0,
        right_return="side",
        ornament="gas meter under the window, cast-iron downpipe at the quoin",
    )


def photos() -> tuple[Photo, ...]:
    """One photograph set square by four places, and one that was not."""
    first, second = taken()
    points = tuple(
        PhotoPoint(*seen(CAMERA, place), *place) for place in (crossing(*one) for one in KNOWN)
    )
    return (
        Photo(
            "p1",
            "front",
            first.sha256,
            first.width_px,
            first.height_px,
            points,
            "The crack from the path",
            "2026-11-02",
        ),
        Photo("p2", "front", second.sha256, second.width_px, second.height_px),
    )
