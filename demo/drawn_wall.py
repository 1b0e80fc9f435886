"""An invented wall drawn by hand, and a painted photograph of it, for pictures of the desk.

No photograph of anybody's house ships here: the wall is painted course by course, and seen at a
slant as a telephone held beside the path would see it.
"""

from __future__ import annotations

import io
from dataclasses import replace

from make_papers import HERE
from PIL import Image, ImageDraw, ImageFilter

from estimator.exchange.photographs import TakenIn, take_in
from estimator.survey import survey_file
from estimator.survey.survey import (
    Answer,
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
    Treatment,
    WidthAt,
)

WIDE_MM, HIGH_MM = 4500, 2700
BRICK_MM, GAUGE_MM, JOINT_MM = 225, 75, 10
PER_MM = 0.8
PICTURE_PX = (2400, 1600)
SLANT = (1.32, 0.16, -160.0, -0.05, 1.42, -60.0, -4e-5, 5e-5)
"""From a place on the picture to one on the painted wall: a plane seen at a slant [px]."""
KNOWN = ((2, 2), (2, 18), (32, 18), (32, 2))
"""Courses up and bricks along of the places marked on the photograph."""
WINDOW = Opening("w1", 900.0, 900.0, 900.0, 1200.0, "window", 75.0, Lintel.CONCRETE, 150.0, 150.0)
DOOR = Opening("d1", 2700.0, 0.0, 900.0, 2100.0, "door", 0.0, Lintel.BRICK, 225.0, 0.0)
CRACK = Crack(
    "a",
    SteppedRun(2050.0, 6, 9, "right", 4),
    3.5,
    Answer.NO,
    Answer.NO,
    widths=(
        WidthAt(2132.0, 455.0, 0.8),
        WidthAt(2470.0, 640.0, 3.5),
        WidthAt(1908.0, 1010.0, 2.0),
    ),
)


def survey() -> Survey:
    """Return the wall with a window, a door, a crack and bars by hand, and a photograph."""
    like = survey_file.read((HERE / "quoin_cavity.json").read_text(encoding="utf-8"))
    corners = ((0.0, 0.0), (WIDE_MM, 0.0), (WIDE_MM, HIGH_MM), (0.0, HIGH_MM))
    front = Elevation(
        "front",
        "Front",
        tuple((float(x), float(y)) for x, y in corners),
        like.elevations[0].brickwork,
        openings=(WINDOW, DOOR),
        cracks=(CRACK,),
        bricks=(CrackedBrick(10, 9, Treatment.REPLACE), CrackedBrick(12, 10, Treatment.TURN)),
        thin_beds=(ThinBed(12, 1900.0, 2600.0, 6.0),),
        bars=(
            HandBar("1", 8, 1600.0, 2500.0),
            HandBar("2", 13, 1900.0, 2650.0, HandWork.KEPT),
            HandBar("3", 10, 1800.0, 2700.0, HandWork.LEFT_OUT),
        ),
        damp_course_mm=150.0,
        ornament="Gas meter under the window.",
    )
    return replace(
        like,
        reference="2026-11-25",
        title="Stepped crack beside the door",
        elevations=(front,),
        drawn=True,
        not_seen="",
        photos=(_photo(photograph()),),
    )


def photograph() -> TakenIn:
    """Return the painted wall seen at a slant, made small as the desk does."""
    wall = _wall()
    seen = wall.transform(
        PICTURE_PX,
        Image.Transform.PERSPECTIVE,
        SLANT,
        Image.Resampling.BICUBIC,
        fillcolor=(112, 128, 104),
    )
    out = io.BytesIO()
    seen.filter(ImageFilter.GaussianBlur(0.7)).save(out, "JPEG", quality=90)
    return take_in(out.getvalue())


def _photo(taken: TakenIn) -> Photo:
    scale = taken.width_px / PICTURE_PX[0]
    points = []
    for up, along in KNOWN:
        x = along * BRICK_MM - JOINT_MM / 2
        y = up * GAUGE_MM + JOINT_MM / 2
        across, down = _seen(x * PER_MM, (HIGH_MM - y) * PER_MM)
        points.append(PhotoPoint(across * scale, down * scale, x, y))
    return Photo(
        "p1",
        "front",
        taken.sha256,
        taken.width_px,
        taken.height_px,
        tuple(points),
        "The crack between window and door",
        "2026-11-02",
    )


def _seen(x: float, y: float) -> tuple[float, float]:
    """Return where a place of the painted wall is on the picture: the slant the other way [px]."""
    a, b, c, d, e, f, g, h = SLANT
    # Two linear equations in the place on the picture, by Cramer's rule.
    left = (a - g * x, b - h * x, x - c)
    right = (d - g * y, e - h * y, y - f)
    whole = left[0] * right[1] - left[1] * right[0]
    across = left[2] * right[1] - left[1] * right[2]
    down = left[0] * right[2] - left[2] * right[0]
    return across / whole, down / whole


def _wall() -> Image.Image:
    """Paint the wall, its openings and its crack."""
    wall = Image.new("RGB", _px(WIDE_MM, HIGH_MM), (202, 194, 180))
    draw = ImageDraw.Draw(wall)
    for course in range(HIGH_MM // GAUGE_MM):
        first = -(course % 2) * BRICK_MM // 2
        for number, left in enumerate(range(first, WIDE_MM, BRICK_MM)):
            shade = (course * 37 + number * 53) % 40
            colour = (150 + shade, 88 + shade // 2, 70 + shade // 3)
            at = (left, course * GAUGE_MM + JOINT_MM)
            _box(draw, at, (BRICK_MM - JOINT_MM, GAUGE_MM - JOINT_MM), colour)
    for hole in (WINDOW, DOOR):
        size = (hole.width_mm, hole.height_mm)
        _box(draw, (hole.left_mm, hole.bottom_mm), size, (228, 232, 230))
    line = [
        (2132, 380), (2132, 455), (2245, 455), (2245, 530), (2358, 530), (2358, 605), (2470, 605),
        (2470, 680), (2358, 680), (2358, 755), (2245, 755), (2245, 830), (2132, 830), (2132, 905),
        (2020, 905), (2020, 980), (1908, 980), (1908, 1055),
    ]  # fmt: skip
    draw.line([_px(x, HIGH_MM - y) for x, y in line], fill=(38, 30, 28), width=4)
    return wall


def _box(
    draw: ImageDraw.ImageDraw,
    at: tuple[float, float],
    size: tuple[float, float],
    colour: tuple[int, int, int],
) -> None:
    """Fill a box given by its left foot and its size [mm]."""
    (left, foot), (wide, high) = at, size
    top = HIGH_MM - foot - high
    draw.rectangle((*_px(left, top), *_px(left + wide, top + high)), fill=colour)


def _px(x: float, y: float) -> tuple[int, int]:
    return round(x * PER_MM), round(y * PER_MM)
