"""The mark under a pointer, and the next one by keyboard."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.desktop.wall import hits
from estimator.drawing.shapes import BrickShape, LegShape, Picture
from tests.desktop.wall.walls import demo, pictured, sight_of


def drawn(name: str, option: int = 0) -> Picture:
    picture = pictured(sight_of(demo(name)), 0, option)
    assert picture is not None
    return picture


@pytest.mark.parametrize("name", ["window_lime", "terrace", "quoin_cavity"])
def test_every_bar_is_found_at_its_middle_or_something_nearer(name: str) -> None:
    picture = drawn(name)
    for bar in picture.bars:
        found = hits.nearest(picture, (bar.left + 5, bar.y), 30)
        assert found is not None and found.mark == bar.mark


def test_a_brick_is_found_inside_and_not_beside() -> None:
    picture = drawn("quoin_cavity")
    brick = picture.bricks[0]
    left, bottom, _right, top = brick.box
    found = hits.nearest(picture, (left + 12, (bottom + top) / 2), 10)
    assert isinstance(found, BrickShape) and found.mark == brick.mark
    assert hits.nearest(picture, (left - 200, (bottom + top) / 2 + 200), 10) is None


def test_an_area_is_found_where_no_line_is_near() -> None:
    picture = drawn("window_lime", option=1)
    found = hits.nearest(picture, (960, 920), 10)
    assert found is not None and found.mark == "front/area/panel"


@pytest.mark.parametrize("name", ["window_lime", "terrace", "quoin_cavity"])
def test_each_mark_comes_once_in_order_from_the_top_down(name: str) -> None:
    picture = drawn(name)
    marks = [one.mark for one in hits.in_order(picture)]
    assert len(marks) == len(set(marks))
    lines = [one for one in hits.in_order(picture) if one in (*picture.bars, *picture.cracks)]
    levels = [hits.middle_of(one)[1] for one in lines]
    assert levels == sorted(levels, reverse=True)


def test_going_down_from_mark_to_mark_never_goes_up() -> None:
    picture = drawn("window_lime")
    shape = hits.in_order(picture)[0]
    for _step in range(10):
        following = hits.toward(picture, shape, (0.0, -1.0))
        if following is None:
            break
        assert hits.middle_of(following)[1] < hits.middle_of(shape)[1]
        shape = following
    assert hits.toward(picture, shape, (0.0, -1.0)) is None


def test_a_crack_is_found_under_the_bar_that_crosses_it() -> None:
    picture = drawn("window_lime")
    crack = picture.cracks[0]
    bar = next(one for one in picture.bars if any(y == one.y for _x, y in crack.points))
    place = next(point for point in crack.points if point[1] == bar.y)
    assert hits.nearest_crack(picture, place, 10) is crack
    assert hits.nearest_crack(picture, (place[0] + 900, place[1] + 900), 10) is None


def test_a_line_is_found_before_what_it_lies_in() -> None:
    picture = drawn("window_lime", option=1)
    bar = picture.bars[0]
    assert hits.nearest_line(picture, (bar.left + 5, bar.y), 10) is bar
    assert hits.nearest_line(picture, (960, 920), 10) is None
    found = hits.area_at(picture, (960, 920))
    assert found is not None and found.mark == "front/area/panel"


def test_a_leg_means_its_bar_and_is_found_where_nothing_nearer_lies() -> None:
    leg = LegShape("side/bar/3", 0.0, 300.0, 2205.0)
    picture = replace(drawn("window_lime"), legs=(leg,))
    assert hits.nearest(picture, (100.0, 2210.0), 20) is leg
    assert hits.nearest_line(picture, (100.0, 2210.0), 20) is None
    assert hits.along_with(picture, leg) == {"side/bar/3"}
    assert leg in hits.in_order(picture)
