"""Cameras that photograph a known wall: pinholes that bend a little, turned and leaning.

The lens bends by Brown's model with one number, in focal lengths. Nothing here is the product's.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from estimator.survey.survey import Photo, PhotoPoint

Numbers = npt.NDArray[np.float64]
WIDE, HIGH = 2000, 1500
GAUGE, BRICK = 75.0, 225.0


@dataclass(frozen=True)
class Camera:
    """Looks at a place on the wall from some way off, turned sideways and up."""

    at: tuple[float, float]
    distance: float
    turn: float = 0.0
    lean: float = 0.0
    roll: float = 0.0
    focal: float = 0.75 * WIDE
    bend: float = 0.0

    @property
    def axes(self) -> Numbers:
        """Rows: across, down and into the picture, in wall coordinates (x, y, out of the wall)."""
        turn, lean, roll = np.radians([self.turn, self.lean, self.roll])
        into = np.array([np.sin(turn) * np.cos(lean), np.sin(lean), -np.cos(turn) * np.cos(lean)])
        across = np.cross(into, [0.0, 1.0, 0.0])
        across /= np.linalg.norm(across)
        down = np.cross(into, across)
        turned = np.cos(roll) * across + np.sin(roll) * down
        return np.array([turned, np.cross(into, turned), into])

    @property
    def tilt(self) -> float:
        return float(np.degrees(np.arccos(-self.axes[2, 2])))

    def matrix(self) -> Numbers:
        """From the wall to the picture, for a lens that does not bend."""
        axes = self.axes
        stand = np.array([*self.at, 0.0]) - axes[2] * self.distance
        flat = np.column_stack([axes[:, 0], axes[:, 1], -axes @ stand])
        lens = np.array([[self.focal, 0, WIDE / 2], [0, self.focal, HIGH / 2], [0, 0, 1]])
        return np.asarray(lens @ flat)

    def sees(self, places: Sequence[tuple[float, float]] | Numbers) -> Numbers:
        """Where places on the wall are on the picture."""
        flat = np.asarray(places, dtype=float)
        seen = np.column_stack([flat, np.ones(len(flat))]) @ self.matrix().T
        pixels = seen[:, :2] / seen[:, 2:]
        rays = (pixels - [WIDE / 2, HIGH / 2]) / self.focal
        square = (rays**2).sum(axis=1, keepdims=True)
        return np.asarray(rays * (1 + self.bend * square) * self.focal + [WIDE / 2, HIGH / 2])


def is_inside(seen: Numbers, edge: float = 20.0) -> npt.NDArray[np.bool_]:
    return np.asarray(
        (seen[:, 0] > edge)
        & (seen[:, 0] < WIDE - edge)
        & (seen[:, 1] > edge)
        & (seen[:, 1] < HIGH - edge)
    )


def joints() -> Numbers:
    """Every place where a bed meets a perpend above it, on a wall 5 m long and 3 m high."""
    return np.array(
        [
            (BRICK * brick + (course % 2) * BRICK / 2, GAUGE * course + 5.0)
            for course in range(40)
            for brick in range(23)
        ]
    )


def any_camera(chance: random.Random, most_tilt: float, *, bend: float = 0.01) -> Camera:
    """A camera somebody might hold, no more turned than so many degrees."""
    tilt, way = chance.uniform(0, most_tilt), chance.uniform(0, 2 * np.pi)
    return Camera(
        (chance.uniform(2000, 3000), chance.uniform(1200, 1800)),
        chance.uniform(2500, 4500),
        turn=tilt * float(np.cos(way)),
        lean=tilt * float(np.sin(way)),
        roll=chance.uniform(-5, 5),
        focal=chance.uniform(0.68, 0.85) * WIDE,
        bend=chance.uniform(-bend, bend),
    )


def spread_points(chance: random.Random, camera: Camera, count: int) -> Numbers:
    """Joints well apart on the picture: one near each corner of it, and others anywhere."""
    there = joints()
    there = there[is_inside(camera.sees(there), 60)]
    seen = camera.sees(there)
    low, high = seen.min(axis=0), seen.max(axis=0)
    chosen: list[int] = []
    for across, down in ((0, 0), (1, 0), (1, 1), (0, 1)):
        want = low + (high - low) * (
            abs(across - chance.uniform(0.03, 0.3)),
            abs(down - chance.uniform(0.03, 0.3)),
        )
        order = np.argsort(((seen - want) ** 2).sum(axis=1))
        chosen.append(next(int(i) for i in order if int(i) not in chosen))
    rest = [i for i in range(len(there)) if i not in chosen]
    chosen += chance.sample(rest, count - 4)
    return there[chosen]


def clicked(
    chance: random.Random, camera: Camera, places: Numbers, *, click: float, place: float
) -> Photo:
    """The photograph as somebody marks it who clicks and counts so well."""
    true = places + [[chance.gauss(0, place), chance.gauss(0, place)] for _ in places]
    seen = camera.sees(true) + [[chance.gauss(0, click), chance.gauss(0, click)] for _ in places]
    return photo(places, seen)


def photo(places: Numbers, seen: Numbers) -> Photo:
    points = tuple(
        PhotoPoint(float(u), float(v), float(x), float(y))
        for (x, y), (u, v) in zip(places, seen, strict=True)
    )
    return Photo("p", "front", "", WIDE, HIGH, points)
