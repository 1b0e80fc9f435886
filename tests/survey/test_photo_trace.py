"""Following a dark line: on cracks drawn by the tests, and on brickwork where there is none."""

from __future__ import annotations

import math
import random
from itertools import pairwise
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import skimage
from PIL import Image, ImageDraw

from estimator.notices import UserMistake
from estimator.survey.photo_trace import MOST_LENGTH_PX, thinned, traced

Numbers = npt.NDArray[np.float64]
WIDE, HIGH, MM = 360, 200, 2.5
"""Size of the pictures, and millimetres to their pixel."""
Line = list[tuple[float, float]]


def brickwork(chance: np.random.Generator, noise: float) -> Numbers:
    """Stretcher bond with light joints, every brick of another tone, and grain over all."""
    x, y = np.arange(WIDE) * MM, np.arange(HIGH) * MM
    course = (y // 75).astype(int)
    along = x[None, :] - np.where(course % 2 == 1, 112.5, 0.0)[:, None]
    is_joint = (y % 75 < 10)[:, None] | (along % 225 >= 215)
    tones = chance.normal(120, 10, (10, 8))
    wall = np.where(is_joint, 190.0, tones[course[:, None], (along // 225).astype(int) + 1])
    return np.asarray(wall + chance.normal(0, noise, wall.shape))


def cracked(chance: np.random.Generator, wall: Numbers, width: float) -> tuple[Numbers, Line]:
    """The wall with a dark crack across it that wanders up and down."""
    line: Line = [(20.0, HIGH / 2)]
    while line[-1][0] < WIDE - 40:
        x, y = line[-1]
        up = float(np.clip(y + chance.normal(0, 12), HIGH / 2 - 40, HIGH / 2 + 40))
        line.append((x + float(chance.uniform(15, 35)), up))
    mask = Image.new("L", (WIDE * 4, HIGH * 4), 0)
    drawn = [(4 * x, 4 * y) for x, y in line]
    ImageDraw.Draw(mask).line(drawn, fill=255, width=round(width * 4), joint="curve")
    share = np.asarray(mask.reduce(4), dtype=float) / 255
    return wall * (1 - share) + 55 * share, line


def patch(wall: Numbers) -> list[list[int]]:
    return [[int(one) for one in row] for row in np.clip(wall, 0, 255)]


def off(point: tuple[float, float], line: Line) -> float:
    """How far a point lies from a line."""
    return min(_from(point, one, two) for one, two in pairwise(line))


def _from(point: tuple[float, float], one: tuple[float, float], two: tuple[float, float]) -> float:
    a, b = np.subtract(two, one), np.subtract(point, one)
    share = float(np.clip(a @ b / (a @ a), 0, 1))
    return float(np.linalg.norm(b - share * a))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("noise", "width", "allowed"), [(3, 2.5, 2.0), (6, 2.0, 2.0), (6, 5.0, 2.0), (25, 3.0, 4.0)]
)
def test_a_crack_is_followed(noise: float, width: float, allowed: float) -> None:
    for seed in range(4):
        chance = np.random.default_rng(seed)
        wall, line = cracked(chance, brickwork(chance, noise), width)
        found = traced(patch(wall), line[0], line[-1])
        assert math.dist(found.points[0], line[0]) < 1e-6
        assert math.dist(found.points[-1], line[-1]) < 1e-6
        mean = float(np.mean([off(point, line) for point in found.points]))
        assert mean < allowed
        assert found.confidence > 0.4
        assert found.is_believed or noise > 6


@pytest.mark.slow
@pytest.mark.parametrize("noise", [3, 25])
def test_where_there_is_no_crack_there_is_no_confidence(noise: float) -> None:
    for seed in range(4):
        chance = np.random.default_rng(100 + seed)
        wall = brickwork(chance, noise)
        start, end = (float(one) for one in chance.uniform(70, 130, 2))
        assert traced(patch(wall), (20, start), (WIDE - 30, end)).confidence < 0.2


@pytest.mark.slow
def test_on_a_photograph_of_sound_brickwork_nothing_is_believed() -> None:
    picture = Path(skimage.__file__).parent / "data" / "brick.png"
    grey = np.asarray(Image.open(picture).convert("L"), dtype=float)
    for seed in range(16):
        chance = random.Random(seed)
        x, y, way = chance.uniform(160, 350), chance.uniform(160, 350), chance.uniform(0, 7)
        step = 110 * math.cos(way), 110 * math.sin(way)
        found = traced(patch(grey), (x - step[0], y - step[1]), (x + step[0], y + step[1]))
        assert not found.is_believed


def test_nothing_but_one_grey_has_no_line() -> None:
    flat = [[128] * 80 for _ in range(60)]
    assert traced(flat, (5, 30), (75, 30)).confidence == 0


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        ((5, 5), (5, 6), "no line to follow"),
        ((-1, 5), (40, 5), "off the photograph"),
        ((5, 5), (40, 900), "off the photograph"),
    ],
)
def test_places_with_no_line_between_are_refused(
    start: tuple[float, float], end: tuple[float, float], said: str
) -> None:
    with pytest.raises(UserMistake, match=said):
        traced([[128] * 80 for _ in range(60)], start, end)
    with pytest.raises(UserMistake, match="further than"):
        traced([[128] * (MOST_LENGTH_PX + 50)] * 3, (1, 1), (MOST_LENGTH_PX + 20, 1))
    with pytest.raises(UserMistake, match="off the photograph"):
        traced([], (1, 1), (9, 1))


def test_a_line_is_thinned_to_what_it_needs() -> None:
    line = [(float(x), math.sin(x / 20) * 15) for x in range(200)]
    few = thinned(line, 1.0)
    assert len(few) < 20
    assert max(off(point, list(few)) for point in line) <= 1.0
    assert (few[0], few[-1]) == (line[0], line[-1])
    assert thinned(line[:2]) == tuple(line[:2])
