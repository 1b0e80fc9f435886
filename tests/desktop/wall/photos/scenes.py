"""Photographs of a known wall through a known camera, painted here and taken in by the desk.

The wall is drawn course by course from what every bricklayer counts (a gauge of 75 mm, a brick with
its perpend 225 mm, half bond: BS EN 771-1 work sizes with 10 mm joints, from memory), and seen
through the pinhole of ``tests.survey.cameras``. Nothing here is the product's.
"""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from estimator.survey.survey import Basis, Elevation, Party, Site, Survey
from tests.survey.cameras import BRICK, GAUGE, HIGH, WIDE, Camera

LONG_MM, TALL_MM = 4500, 2700
JOINT = 10.0
PER_MM = 0.8
STEPS = 8
CRACK = tuple(
    place
    for step in range(STEPS)
    for place in (
        (1120.0 + BRICK / 2 * step, 605.0 + GAUGE * step),
        (1120.0 + BRICK / 2 * step, 605.0 + GAUGE * (step + 1)),
    )
)
"""A stepped crack along joints: up a perpend, half a brick along the bed, and so on. [mm]"""
LONG_OF_CRACK = STEPS * GAUGE + (STEPS - 1) * BRICK / 2
CAMERA = Camera(at=(1900.0, 1300.0), distance=4000.0, turn=24.0, lean=5.0)
PLACE_TAG = 0x8825
"""List of a photograph's place (Exif 2.3, from memory)."""


def bare_wall() -> Survey:
    """A wall with nothing on it, 20 bricks long and 36 courses high."""
    corners = ((0.0, 0.0), (LONG_MM, 0.0), (LONG_MM, TALL_MM), (0.0, TALL_MM))
    front = Elevation("front", "Front", tuple((float(x), float(y)) for x, y in corners))
    return Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))


def crossing(up: int, along: int) -> tuple[float, float]:
    """The joint so many courses up and so many bricks along, by arithmetic [mm].

    In odd courses the wall begins with a half brick.
    """
    start = 0.0 if up % 2 == 0 else BRICK / 2
    x = BRICK * along if up % 2 == 0 else start + BRICK * (along - 1)
    return x - JOINT / 2, GAUGE * up + JOINT / 2


def seen(camera: Camera, place: tuple[float, float]) -> tuple[float, float]:
    """Where a place is on the photograph [px]."""
    across, down = camera.sees([place])[0]
    return float(across), float(down)


def photograph(camera: Camera = CAMERA, *, crack: bool = True) -> bytes:
    """A JPEG as a telephone writes it: with its day, its maker and where it was taken."""
    wall = _wall(crack=crack)
    to_wall = np.array([[PER_MM, 0, 0], [0, -PER_MM, TALL_MM * PER_MM], [0, 0, 1]])
    way = to_wall @ np.linalg.inv(camera.matrix())
    way /= way[2, 2]
    picture = wall.transform(
        (WIDE, HIGH),
        Image.Transform.PERSPECTIVE,
        tuple(way.flatten()[:8]),
        Image.Resampling.BICUBIC,
        fillcolor=(150, 165, 140),
    )
    notes = Image.Exif()
    notes[0x010F], notes[0x0132] = "Maker of cameras", "2026:11:02 09:00:00"
    notes.get_ifd(PLACE_TAG)[2] = (54.0, 30.0, 0.0)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=93, exif=notes)
    return out.getvalue()


def photograph_in(folder: Path, name: str = "wall.jpg", **named: bool) -> Path:
    """The photograph as a file."""
    path = folder / name
    path.write_bytes(photograph(**named))
    return path


def _wall(*, crack: bool) -> Image.Image:
    picture = Image.new("RGB", (round(LONG_MM * PER_MM), round(TALL_MM * PER_MM)), (206, 199, 187))
    draw = ImageDraw.Draw(picture)
    for course in range(int(TALL_MM / GAUGE)):
        bottom = GAUGE * course + JOINT
        first = 0.0 if course % 2 == 0 else -BRICK / 2
        for number in range(int(LONG_MM / BRICK) + 1):
            left = max(first + BRICK * number, 0.0)
            right = min(first + BRICK * (number + 1) - JOINT, float(LONG_MM))
            shade = (course * 7 + number * 13) % 5 * 6
            if right > left:
                draw.rectangle(
                    (
                        left * PER_MM,
                        (TALL_MM - bottom - (GAUGE - JOINT)) * PER_MM,
                        right * PER_MM,
                        (TALL_MM - bottom) * PER_MM,
                    ),
                    fill=(172 - shade, 98 - shade // 2, 72 - shade // 2),
                )
    if crack:
        line = [(x * PER_MM, (TALL_MM - y) * PER_MM) for x, y in CRACK]
        draw.line(line, fill=(22, 18, 16), width=8)
    return picture
