"""Marks are told apart by shape: all of it is looked at in grey."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QImage, QPainter

from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.brickwork import KeptBrickwork, brick_colours
from estimator.desktop.wall.legend import LEG, keys_of
from estimator.desktop.wall.strokes import Strokes, brick
from estimator.desktop.wall.view import Room, View, fitted
from estimator.drawing.courses import DAMP_COURSE_MM, masonry_of
from estimator.drawing.shapes import (
    BarShape,
    BedShape,
    BrickState,
    CrackShape,
    CrackWidth,
    LegShape,
    Part,
    Picture,
    Shape,
    ThinBedShape,
)
from estimator.masonry.shapes import brick_faces
from estimator.survey.survey import Elevation, Lintel, Opening, WallEnd
from estimator.survey.wall import wall_of
from tests.desktop.wall.walls import demo

SQUARE = ((0.0, 0.0), (3600.0, 0.0), (3600.0, 2400.0), (0.0, 2400.0))
GABLE = ((0.0, 0.0), (3600.0, 0.0), (3600.0, 1800.0), (1800.0, 3000.0), (0.0, 1800.0))
SIZE = QSize(600, 500)
SCHEMES = (Scheme.LIGHT, Scheme.DARK)


def sheet() -> QImage:
    image = QImage(SIZE, QImage.Format.Format_RGB32)
    image.fill(LOOK.colour("brick"))
    return image


def grey(image: QImage) -> list[int]:
    plain = image.convertToFormat(QImage.Format.Format_Grayscale8)
    return [
        plain.pixelColor(x, y).lightness()
        for y in range(0, plain.height(), 2)
        for x in range(0, plain.width(), 2)
    ]


def differing(one: QImage, two: QImage) -> int:
    return sum(abs(a - b) > 60 for a, b in zip(grey(one), grey(two), strict=True))


@pytest.mark.parametrize("scheme", SCHEMES)
def test_bricks_are_told_apart_by_state_in_grey(scheme: Scheme) -> None:
    LOOK.apply(scheme)
    drawn = {}
    for state in BrickState:
        image = QImage(QSize(48, 18), QImage.Format.Format_RGB32)
        image.fill(LOOK.colour("brick"))
        painter = QPainter(image)
        brick(painter, QRectF(2, 2, 44, 14), state, 1.0)
        painter.end()
        drawn[state] = image
    for one, two in combinations(drawn, 2):
        assert differing(drawn[one], drawn[two]) > 6, (one, two)


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_bar_has_ends_and_a_guessed_one_is_lighter(scheme: Scheme) -> None:
    LOOK.apply(scheme)
    view = View(0, 500, 0.2)
    usual = BarShape("f/bar/1", 500, 2000, 300, (False, False), 5, 1500, ("a",), False)
    crack = CrackShape("f/crack/a", "", ((500.0, 300.0), (2000.0, 300.0)), (), ())
    guessed = BarShape("f/bar/1", 500, 2000, 300, (False, False), 5, 1500, ("a",), True)
    images = []
    for shape in (usual, crack, guessed):
        image = sheet()
        painter = QPainter(image)
        Strokes(painter, view).one(shape)
        painter.end()
        images.append(image)
    bar, line, light = images
    x, y = (round(place) for place in view.at(500, 300))
    ends = [image.pixelColor(x, y - 5).lightness() for image in (bar, line)]
    assert abs(ends[0] - ends[1]) > 40
    middle = [image.pixelColor(x + 90, y).lightness() for image in (bar, light)]
    assert abs(middle[0] - middle[1]) > 40


def painted(*shapes: Shape | ThinBedShape, scheme: Scheme = Scheme.LIGHT) -> QImage:
    LOOK.apply(scheme)
    image = sheet()
    painter = QPainter(image)
    strokes = Strokes(painter, View(0, 500, 0.2))
    for shape in shapes:
        if isinstance(shape, ThinBedShape):
            strokes.thin_bed(shape)
        else:
            strokes.one(shape)
    painter.end()
    return image


@pytest.mark.parametrize("scheme", SCHEMES)
def test_whose_a_bar_is_shows_in_grey(scheme: Scheme) -> None:
    rules = BarShape("f/bar/1", 500, 2000, 300, (False, False), 5, 1500, ("a",), False)
    mine = replace(rules, by_hand=True)
    kept = replace(mine, kept=True)
    images = [painted(one, scheme=scheme) for one in (rules, mine, kept)]
    for one, two in combinations(images, 2):
        assert differing(one, two) > 6


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_widest_place_of_a_crack_is_marked_otherwise_than_the_others(scheme: Scheme) -> None:
    points = ((500.0, 300.0), (2000.0, 300.0))
    bare = CrackShape("f/crack/a", "", points, (), ())
    measured = replace(bare, widths=(CrackWidth((1200.0, 300.0), 1.0, False),))
    widest = replace(bare, widths=(CrackWidth((1200.0, 300.0), 1.0, True),))
    images = [painted(one, scheme=scheme) for one in (bare, measured, widest)]
    for one, two in combinations(images, 2):
        assert differing(one, two) > 6


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_thin_bed_is_no_bar_and_no_crack(scheme: Scheme) -> None:
    thin = ThinBedShape("f/thin/1", 5, 500, 2000, 300, 6.0)
    bar = BarShape("f/bar/1", 500, 2000, 300, (False, False), 5, 1500, ("a",), False)
    crack = CrackShape("f/crack/a", "", ((500.0, 300.0), (2000.0, 300.0)), (), ())
    images = [painted(one, scheme=scheme) for one in (thin, bar, crack)]
    for one, two in combinations(images, 2):
        assert differing(one, two) > 20


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_leg_is_no_bar_and_shows_which_end_the_quoin_is_at(scheme: Scheme) -> None:
    leg = LegShape("f/bar/1", 500, 800, 300)
    bar = BarShape("f/bar/1", 500, 800, 300, (False, False), 5, 300, ("a",), False)
    turned, guessed = replace(bar, turns=(True, False)), replace(bar, is_guessed=True)
    shapes = (leg, replace(leg, at_right=True), bar, turned, guessed)
    images = [painted(one, scheme=scheme) for one in shapes]
    for one, two in combinations(images, 2):
        assert differing(one, two) > 6


def test_a_leg_is_lit_with_its_bar_and_is_in_the_key() -> None:
    leg = LegShape("f/bar/1", 500, 1500, 300)
    picture = Picture("s", "Side", masonry_of(Elevation("s", "Side", SQUARE)), legs=(leg,))
    assert dict(keys_of(picture)) == {LEG: "Leg round the quoin"}
    assert not list(keys_of(replace(picture, legs=())))

    def shown(*lit: str) -> QImage:
        image = sheet()
        painter = QPainter(image)
        Strokes(painter, View(0, 500, 0.2)).all(picture, frozenset(lit))
        painter.end()
        return image

    x, y = (round(place) for place in View(0, 500, 0.2).at(1000, 300))
    lit, usual, faded = shown("f/bar/1"), shown(), shown("f/bar/2")
    assert lit.pixelColor(x, y + 6) != usual.pixelColor(x, y + 6)
    assert faded.pixelColor(x, y).lightness() > usual.pixelColor(x, y).lightness()


def test_a_bed_is_seen_only_when_a_price_points_at_it() -> None:
    wall = Elevation("f", "Front", SQUARE)
    bed = BedShape("f/bed/5", ((500.0, 300.0, 2000.0, 310.0),), (), 5)
    picture = Picture("f", "Front", masonry_of(wall), beds=(bed,))

    def shown(lit: frozenset[str]) -> QImage:
        image = sheet()
        painter = QPainter(image)
        Strokes(painter, View(0, 500, 0.2)).all(picture, lit)
        painter.end()
        return image

    assert differing(shown(frozenset()), sheet()) == 0
    assert differing(shown(frozenset({"f/bed/5"})), sheet()) > 20


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_lintel_shows_over_its_opening_by_what_it_is(scheme: Scheme) -> None:
    LOOK.apply(scheme)
    window = Opening("w", 1400, 600, 900, 1200)
    bare = pixmap(Elevation("f", "Front", SQUARE, openings=(window,)))
    images = [bare]
    for lintel in (Lintel.STONE, Lintel.BRICK, Lintel.TIMBER):
        over = replace(window, lintel=lintel, lintel_mm=215, lintel_bearing_mm=150)
        images.append(pixmap(Elevation("f", "Front", SQUARE, openings=(over,))))
    for one, two in combinations(images, 2):
        assert one != two
    for other in images[1:]:
        apart = (abs(a - b) for a, b in zip(grey(bare), grey(other), strict=True))
        assert sum(far > 10 for far in apart) > 60


def pixmap(elevation: Elevation, guessed: frozenset[Part] = frozenset()) -> QImage:
    masonry = masonry_of(elevation)
    room = Room(masonry.bounds, SIZE.width(), SIZE.height(), masonry.gauge_mm)
    picture = Picture("f", "Front", masonry, guessed=guessed)
    return KeptBrickwork().pixmap(picture, fitted(room, None), SIZE, 1.0).toImage()


def contrast(image: QImage) -> int:
    levels = [image.pixelColor(300, y).lightness() for y in range(150, 350)]
    return max(levels) - min(levels)


def test_bricks_nobody_has_described_are_lighter() -> None:
    elevation = Elevation("f", "Front", SQUARE)
    sure = pixmap(elevation)
    guessed = pixmap(elevation, frozenset({Part.BRICKS}))
    assert contrast(guessed) < contrast(sure)


def test_small_bricks_are_a_flat_tint() -> None:
    wide = tuple((x * 12, y * 12) for x, y in SQUARE)
    assert contrast(pixmap(Elevation("f", "Front", wide))) == 0
    assert contrast(pixmap(Elevation("f", "Front", SQUARE))) > 0


def test_a_gable_is_cut_along_its_verge() -> None:
    elevation = Elevation("f", "Gable", GABLE)
    masonry = masonry_of(elevation)
    room = Room(masonry.bounds, SIZE.width(), SIZE.height(), masonry.gauge_mm)
    view = fitted(room, None)
    image = pixmap(elevation)
    outside = image.pixelColor(*(round(place) for place in view.at(500, 2600)))
    assert outside == LOOK.colour("paper")
    inside = image.pixelColor(*(round(place) for place in view.at(1800, 2600)))
    assert inside != LOOK.colour("paper")


def test_every_brick_of_the_bond_is_drawn_once() -> None:
    for name in ("window_lime", "quoin_cavity"):
        (elevation,) = demo(name).elevations
        wall = wall_of(elevation)
        faces = brick_faces(wall.coursing, wall.net)
        tinted = masonry_of(elevation).tinted
        assert sorted(box for boxes in tinted for box in boxes) == sorted(
            face[2:] for face in faces
        )


def test_the_damp_course_lies_in_a_bed_above_its_usual_height() -> None:
    for datum in (150.0, 400.0, 75.0):
        masonry = masonry_of(Elevation("f", "Front", SQUARE, datum_height_mm=datum))
        assert masonry.damp_course is not None and masonry.ground == -datum
        above = masonry.damp_course + datum
        assert DAMP_COURSE_MM - masonry.bed_mm <= above < DAMP_COURSE_MM + masonry.gauge_mm
        assert (masonry.damp_course - masonry.bed_mm / 2) % masonry.gauge_mm == pytest.approx(0)


def test_no_ground_is_drawn_below_an_upper_wall() -> None:
    masonry = masonry_of(Elevation("f", "Front", SQUARE, datum_height_mm=2700.0))
    assert masonry.ground is None and masonry.damp_course is None and not masonry.below


def test_a_wall_goes_on_only_where_it_was_said_to() -> None:
    ended = Elevation(
        "f", "Front", SQUARE, left_end=WallEnd.QUOIN, right_end=WallEnd.MOVEMENT_JOINT
    )
    assert masonry_of(ended).fades == (0.0, 0.0, 0.0, 0.0)
    assert not masonry_of(ended).beyond
    told = masonry_of(Elevation("f", "Front", SQUARE), is_told=True)
    assert all(told.fades[side] > 0 for side in (0, 2, 3))
    assert not masonry_of(Elevation("f", "Front", GABLE), is_told=True).beyond


def test_the_brick_colours_are_near_each_other_and_not_alike() -> None:
    for scheme in SCHEMES:
        LOOK.apply(scheme)
        colours = brick_colours(lighter=False)
        assert len({colour.name() for colour in colours}) == len(colours)
        levels = [colour.lightness() for colour in colours]
        assert max(levels) - min(levels) < 40
