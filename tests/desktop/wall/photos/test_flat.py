"""A photograph seen square: as another library draws it, and nothing beyond the horizon."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter

from estimator.desktop.wall.photos.flat import Flat, flat
from estimator.desktop.wall.photos.levels import Levels
from estimator.survey.photo import Squared, squared
from estimator.survey.survey import Photo, PhotoPoint
from tests.desktop.wall.photos.scenes import CAMERA, crossing, photograph, seen
from tests.survey.cameras import HIGH, WIDE, Camera

ROOM = (-500.0, -500.0, 5000.0, 3200.0)


def lies(camera: Camera = CAMERA) -> Squared:
    places = [crossing(*count) for count in ((2, 2), (2, 16), (28, 16), (28, 2), (14, 9))]
    points = tuple(PhotoPoint(*seen(camera, place), *place) for place in places)
    return squared(Photo("p", "front", "", WIDE, HIGH, points))


def made(jpeg: bytes, found: Squared) -> Flat:
    image = QImage.fromData(jpeg).convertToFormat(QImage.Format.Format_RGB32)
    drawn = flat(image, found, ROOM)
    assert drawn is not None
    return drawn


def grey(image: QImage) -> np.ndarray:
    plain = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.bytesPerLine())
    return rows[:, : plain.width()].astype(float)


def test_it_is_the_picture_another_library_makes() -> None:
    """Pillow's perspective of the same photograph, from the camera's own matrix and not the fit."""
    jpeg = photograph()
    drawn = made(jpeg, lies())
    left, bottom, right, top = drawn.box
    size = drawn.levels.width, drawn.levels.height
    per_mm = size[0] / (right - left)
    from_flat = np.array([[1 / per_mm, 0, left], [0, -1 / per_mm, top], [0, 0, 1]])
    way = CAMERA.matrix() @ from_flat
    way /= way[2, 2]
    with Image.open(io.BytesIO(jpeg)) as opened:
        other = opened.convert("L").transform(
            size,
            Image.Transform.PERSPECTIVE,
            tuple(way.flatten()[:8]),
            Image.Resampling.BILINEAR,
        )
    inside = slice(size[1] // 4, size[1] * 3 // 4), slice(size[0] // 4, size[0] * 3 // 4)
    one, two = grey(drawn.levels.images[0])[inside], np.asarray(other, float)[inside]
    assert np.corrcoef(one.ravel(), two.ravel())[0, 1] > 0.98
    assert np.abs(one - two).mean() < 4.0
    assert bottom < top


def test_a_wall_seen_far_along_is_cut_off_before_the_horizon() -> None:
    camera = Camera(at=(1200.0, 1300.0), distance=2600.0, turn=68.0)
    drawn = flat(
        QImage(WIDE, HIGH, QImage.Format.Format_RGB32), lies(camera), (-1e6, -1e6, 1e6, 1e6)
    )
    assert drawn is not None
    assert max(abs(one) for one in drawn.box) < 1e5
    assert drawn.levels.width * drawn.levels.height <= 6_500_000


def test_nothing_is_drawn_where_it_shows_none_of_the_wall() -> None:
    image = QImage(WIDE, HIGH, QImage.Format.Format_RGB32)
    assert flat(image, lies(), (90_000.0, 0.0, 91_000.0, 900.0)) is None


@settings(max_examples=25)
@given(st.integers(1, 900), st.integers(1, 900), st.floats(0.05, 3.0))
def test_a_picture_drawn_small_keeps_its_mean(wide: int, high: int, scale: float) -> None:
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.darkCyan)
    levels = Levels.of(image)
    assert (levels.width, levels.height) == (wide, high)
    drawn = QImage(64, 64, QImage.Format.Format_RGB32)
    drawn.fill(Qt.GlobalColor.darkCyan)
    painter = QPainter(drawn)
    into = QRectF(-5.0, -7.0, wide * scale, high * scale)
    levels.draw(painter, into, seen=QRectF(0, 0, 64, 64))
    painter.end()
    # Whatever the size, only what was in the picture is drawn.
    assert np.ptp(grey(drawn)) <= 2.0


def test_points_in_another_order_lie_the_same() -> None:
    found = lies()
    places = [crossing(*count) for count in ((28, 2), (2, 2), (14, 9), (2, 16), (28, 16))]
    points = tuple(PhotoPoint(*seen(CAMERA, place), *place) for place in places)
    other = squared(replace(Photo("p", "front", "", WIDE, HIGH), points=points))
    jpeg = photograph()
    one, two = made(jpeg, found), made(jpeg, other)
    assert np.allclose(one.box, two.box, atol=0.01)
