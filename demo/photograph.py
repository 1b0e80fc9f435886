"""Make a photograph of an invented wall, as somebody would take it standing before it.

    python demo/photograph.py [PICTURE.jpg]

The wall of ``drawn_gable.json`` is painted brick by brick, where the drawing has its bricks, and
seen through a pinhole held a little askew. No camera and no real wall had a part in it. The points
that set it square are joints one would count to, where the pinhole shows them.
"""

from __future__ import annotations

import argparse
import io
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.exchange.photographs import TakenIn, take_in
from estimator.masonry.region import Point
from estimator.survey import survey_file
from estimator.survey.photo_points import points_from_counting
from estimator.survey.survey import Photo, PhotoPoint, Survey

HERE = Path(__file__).resolve().parent
DRAWN = HERE / "drawn_gable.json"
WIDE, HIGH = 2000, 1500
FOCAL_PX = 1500.0
STANDING = (2900.0, 1500.0, 5100.0)
"""Where the camera is held: along the wall, up, and away from it [mm]."""
TURNED, LEANING = math.radians(-8.0), math.radians(5.0)
"""To the left, and upward."""
ROUND_MM = 3000.0
"""Sky, ground and neighbours painted round the wall [mm]."""
PER_MM = 0.5
"""How fine the wall is painted [px/mm]."""
SEED = 20261125
COUNTED = ((2, 1), (2, 19), (35, 1), (35, 17), (28, 13), (10, 7))
"""Joints marked on the photograph: so many courses up, so many bricks along."""
SKY, GRASS, MORTAR = (203, 214, 224), (112, 126, 88), (188, 180, 166)
BRICKS = ((158, 92, 70), (146, 80, 62), (171, 106, 82), (136, 78, 66), (163, 98, 66))
CONCRETE, PAINT, GLASS, DARK = (170, 168, 160), (236, 234, 228), (92, 106, 116), (34, 28, 26)
Numbers = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Canvas:
    """A wall painted flat, and where on it millimetres lie."""

    picture: Image.Image
    left: float
    top: float

    def at(self, place: Point) -> Point:
        """Return where a place on the wall is painted [px]."""
        return (place[0] - self.left) * PER_MM, (self.top - place[1]) * PER_MM

    def box(self, box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        """Return where a box on the wall is painted [px]."""
        left, bottom, right, top = box
        return *self.at((left, top)), *self.at((right, bottom))


def photographed(survey: Survey) -> tuple[Survey, TakenIn]:
    """Return a survey with a photograph of its first side, and the photograph as it is kept."""
    side = survey.elevations[0]
    taken = take_in(photograph(survey))
    places = [points_from_counting(side, *counted) for counted in COUNTED]
    points = tuple(PhotoPoint(*seen(place), *place) for place in places)
    photo = Photo(
        "photo-1",
        side.id,
        taken.sha256,
        taken.width_px,
        taken.height_px,
        points,
        caption="The crack over the window, from the lawn",
        taken=survey.date,
    )
    return replace(survey, photos=(photo,)), taken


def photograph(survey: Survey) -> bytes:
    """Return the first side of a survey as a camera would see it, as a JPEG."""
    picture = picture_of(survey, 0, None)
    if picture is None:
        raise ValueError("there is no wall to photograph")
    canvas = _painted(picture)
    wall_to_flat = ((PER_MM, 0.0, -canvas.left * PER_MM), (0.0, -PER_MM, canvas.top * PER_MM))
    way = _times((*wall_to_flat, (0.0, 0.0, 1.0)), _turned_round(_wall_to_picture()))
    numbers = [number / way[2][2] for row in way for number in row][:8]
    flat = canvas.picture.transform(
        (WIDE, HIGH), Image.Transform.PERSPECTIVE, numbers, Image.Resampling.BICUBIC
    )
    out = io.BytesIO()
    _exposed(flat).save(out, "JPEG", quality=92)
    return out.getvalue()


def seen(place: Point) -> Point:
    """Return where a place on the wall is on the photograph [px]."""
    across, down, deep = (
        row[0] * place[0] + row[1] * place[1] + row[2] for row in _wall_to_picture()
    )
    return round(across / deep, 1), round(down / deep, 1)


def _wall_to_picture() -> Numbers:
    """Return the pinhole's nine numbers: turned about the upright, then leaned back."""
    turn, lean = TURNED, LEANING
    across = (math.cos(turn), 0.0, math.sin(turn))
    into = (math.sin(turn) * math.cos(lean), math.sin(lean), -math.cos(turn) * math.cos(lean))
    down = (
        math.sin(turn) * math.sin(lean),
        -math.cos(lean),
        -math.cos(turn) * math.sin(lean),
    )
    rows = [(one[0], one[1], -_dot(one, STANDING)) for one in (across, down, into)]
    lens = ((FOCAL_PX, 0.0, WIDE / 2), (0.0, FOCAL_PX, HIGH / 2), (0.0, 0.0, 1.0))
    return _times(lens, tuple(rows))


def _dot(one: tuple[float, ...], two: tuple[float, ...]) -> float:
    return sum(a * b for a, b in zip(one, two, strict=True))


def _times(one: Numbers, two: Numbers) -> Numbers:
    columns = tuple(zip(*two, strict=True))
    return tuple(tuple(_dot(row, column) for column in columns) for row in one)


def _turned_round(m: Numbers) -> Numbers:
    """Return the nine numbers of the way back, but for a factor."""
    rows = [m[1], m[2], m[0], m[1]]
    crossed = [_cross(rows[i], rows[i + 1]) for i in range(3)]
    return tuple(zip(*crossed, strict=True))


def _cross(one: tuple[float, ...], two: tuple[float, ...]) -> tuple[float, ...]:
    return (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )


def _painted(picture: Picture) -> Canvas:
    """Paint the wall from square in front, with what stands round it."""
    left, bottom, right, top = picture.masonry.wall
    size = (
        round((right - left + 2 * ROUND_MM) * PER_MM),
        round((top - bottom + 2 * ROUND_MM) * PER_MM),
    )
    canvas = Canvas(Image.new("RGB", size, SKY), left - ROUND_MM, top + ROUND_MM)
    draw = ImageDraw.Draw(canvas.picture)
    chance = random.Random(SEED)
    ground = picture.masonry.ground or bottom
    draw.rectangle(canvas.box((canvas.left, ground - ROUND_MM, right + ROUND_MM, ground)), GRASS)
    corners = [canvas.at(point) for point in picture.masonry.outline]
    draw.polygon(corners, MORTAR)
    draw.rectangle(canvas.box((left, ground, right, bottom)), MORTAR)
    for box in _bricks(picture):
        draw.rectangle(canvas.box(box), _shaded(chance.choice(BRICKS), chance))
    if picture.masonry.damp_course is not None:
        level = picture.masonry.damp_course
        draw.rectangle(canvas.box((left, level - 2, right, level + 2)), DARK)
    _paint_openings(picture, canvas, draw)
    _paint_verge(picture, canvas, draw)
    for crack in picture.cracks:
        draw.line([canvas.at(point) for point in _ragged(crack.points, chance)], DARK, 3)
    return canvas


def _bricks(picture: Picture) -> Iterator[tuple[float, float, float, float]]:
    for boxes in (*picture.masonry.tinted, picture.masonry.below):
        yield from boxes


def _shaded(colour: tuple[int, ...], chance: random.Random) -> tuple[int, int, int]:
    by = chance.gauss(0, 7)
    red, green, blue = (max(0, min(255, round(part + by))) for part in colour)
    return red, green, blue


def _ragged(points: tuple[Point, ...], chance: random.Random) -> Iterator[Point]:
    """Yield a line as mortar breaks: not quite straight."""
    for start, end in pairwise(points):
        steps = max(1, round(math.dist(start, end) / 25))
        for step in range(steps):
            share = step / steps
            x, y = (a + (b - a) * share for a, b in zip(start, end, strict=True))
            yield x + chance.gauss(0, 1.6), y + chance.gauss(0, 1.6)
    yield points[-1]


def _paint_openings(picture: Picture, canvas: Canvas, draw: ImageDraw.ImageDraw) -> None:
    for hole in picture.masonry.holes:
        left, bottom, right, top = hole.box
        draw.rectangle(canvas.box(hole.box), PAINT)
        middle = (left + right) / 2
        for one, two in ((left + 60, middle - 30), (middle + 30, right - 60)):
            draw.rectangle(canvas.box((one, bottom + 60, two, top - 60)), GLASS)
            lit = (one, bottom + 60), (two, bottom + 600), (two, top - 60), (one, top - 420)
            draw.polygon([canvas.at(point) for point in lit], (118, 132, 142))
        if hole.lintel_box is not None:
            draw.rectangle(canvas.box(hole.lintel_box), CONCRETE)
        if hole.sill_mm:
            draw.rectangle(
                canvas.box((left - 50, bottom - hole.sill_mm, right + 50, bottom)), CONCRETE
            )


def _paint_verge(picture: Picture, canvas: Canvas, draw: ImageDraw.ImageDraw) -> None:
    """Paint boards along the slopes of a gable."""
    outline = picture.masonry.outline
    for start, end in zip(outline, (*outline[1:], outline[0]), strict=True):
        if abs(start[0] - end[0]) > 1 and abs(start[1] - end[1]) > 1:
            draw.line([canvas.at(start), canvas.at(end)], PAINT, round(150 * PER_MM))


def _exposed(flat: Image.Image) -> Image.Image:
    """Return a picture as a lens gives it: a little soft, grainy, and darker at the corners."""
    soft = flat.filter(ImageFilter.GaussianBlur(0.7))
    grain = _grain(soft.size)
    grainy = ImageChops.add(soft, Image.merge("RGB", (grain,) * 3), scale=1, offset=-128)
    shade = Image.radial_gradient("L").resize(soft.size).point(_darker)
    return ImageChops.multiply(grainy, Image.merge("RGB", (shade,) * 3))


def _grain(size: tuple[int, int]) -> Image.Image:
    """Return the same grain each time, about a middle of 128."""
    chance = random.Random(SEED)
    noise = Image.frombytes("L", size, chance.randbytes(size[0] * size[1]))
    return noise.point(_fainter)


def _fainter(value: float) -> float:
    return (value - 128) * 0.05 + 128


def _darker(value: float) -> float:
    return 255 - value * 0.22


def main() -> None:
    """Write the photograph where it is wanted."""
    reader = argparse.ArgumentParser(description="Make a photograph of an invented wall.")
    usual = HERE.parent / "out" / "gable.jpg"
    reader.add_argument("picture", nargs="?", type=Path, default=usual)
    target: Path = reader.parse_args().picture
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(photograph(survey_file.load(DRAWN)))
    print(target)


if __name__ == "__main__":
    main()
