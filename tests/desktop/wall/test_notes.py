"""Words on the wall lie clear of what they speak of."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import notes, wording
from estimator.desktop.wall.view import Room, View, fitted
from estimator.drawing.shapes import CrackWidth, Picture
from tests.desktop.theme.test_tokens import contrast
from tests.desktop.wall.walls import call, demo, pictured, sight_of

SIZES = ((588, 560), (360, 480), (1068, 880), (900, 300))
WALLS = ("window_lime", "phone_call", "terrace", "quoin_cavity", "")


def laid(name: str, size: tuple[int, int]) -> tuple[Picture, View, notes.Notes]:
    picture = pictured(sight_of(demo(name) if name else call()))
    assert picture is not None
    masonry = picture.masonry
    view = fitted(Room(masonry.bounds, *size, masonry.gauge_mm), picture.work)
    return picture, view, notes.laid_out(picture, view, *size)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", WALLS)
def test_no_label_lies_on_another_and_all_are_on_the_screen(
    name: str, size: tuple[int, int]
) -> None:
    picture, _view, placed = laid(name, size)
    labels = [one for one in placed.labels if one.edge != "crack"]
    assert any(one.first.startswith(f"{len(picture.bars)} bar") for one in labels)
    for number, one in enumerate(labels):
        assert QRectF(-1, -1, size[0] + 2, size[1] + 2).contains(one.box)
        assert not any(one.box.intersects(other.box) for other in labels[number + 1 :])


@pytest.mark.parametrize("size", SIZES[::2])
@pytest.mark.parametrize("name", WALLS)
def test_neither_the_dimension_nor_the_callout_lies_on_a_crack(
    name: str, size: tuple[int, int]
) -> None:
    picture, view, placed = laid(name, size)
    boxes = [one.box for one in placed.labels if one.edge == "bar"]
    if placed.upright is not None:
        one = placed.upright
        boxes.append(QRectF(one.x - 2, one.high, 4, one.low - one.high))
    assert boxes
    for crack in picture.cracks:
        for start, end in pairwise(crack.points):
            line = QLineF(*view.at(*start), *view.at(*end))
            around = QRectF(line.p1(), line.p2()).normalized().adjusted(-2, -2, 2, 2)
            assert not any(box.intersects(around) for box in boxes)


def test_the_callout_sums_up_the_bars() -> None:
    picture = laid("window_lime", SIZES[0])[0]
    assert wording.callout(picture) == ("4 bars, 1.2 m", "every third bed")
    terrace = wording.callout(laid("terrace", SIZES[0])[0])
    assert terrace is not None
    assert terrace[0].startswith("9 bars, ") and "–" in terrace[0]


def test_a_height_told_is_about_so_much() -> None:
    assert wording.height_words(laid("window_lime", SIZES[0])[0]) == "0.86 m"
    assert wording.height_words(laid("phone_call", SIZES[0])[0]).startswith("about 1.")


@pytest.mark.parametrize("size", SIZES)
def test_widths_stand_clear_of_each_other_and_the_widest_is_never_left_out(
    size: tuple[int, int],
) -> None:
    picture, view, _placed = laid("window_lime", size)
    (crack,) = picture.cracks
    spots = [point for point in crack.points if view.box((*point, *point))[0] < size[0] - 80]
    many = tuple(
        CrackWidth(point, 1.0 + number / 10, number == 3) for number, point in enumerate(spots)
    )
    widest = many[3]._replace(width_mm=9.0)
    crowded = replace(crack, widths=(*many[:3], widest, *many[4:]))
    placed = notes.laid_out(replace(picture, cracks=(crowded,)), view, *size)
    said = [one for one in placed.labels if one.first.endswith(" mm") and one.is_small]
    assert any(one.first == "9 mm" for one in said)
    for number, one in enumerate(said):
        assert not any(one.box.intersects(other.box) for other in said[number + 1 :])


@pytest.mark.parametrize("under", ["#000000", "#6b4033", "#ffffff"])
def test_bare_words_can_be_read_on_a_photograph(under: str) -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1; the name of the damp course lay bare on dark brick."""
    image = QImage(200, 40, QImage.Format.Format_ARGB32)
    image.fill(QColor(under))
    painter = QPainter(image)
    notes.paint_note(painter, notes.Note(QRectF(0, 0, 200, 40), "damp course", edge=""))
    painter.end()
    ground = image.pixelColor(12, 20).name()
    assert contrast(ground, LOOK.colour("ink").name()) >= 4.5
