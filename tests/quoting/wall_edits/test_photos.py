from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.quoting.edits import Step, Work
from estimator.quoting.wall_edits import photos, sides
from estimator.survey.survey import Photo, PhotoPoint
from tests.quoting.wall_edits.works import refused, work

PICTURE = "0a" * 32
POINTS = (PhotoPoint(10.123, 20.0, 107.5, 75.0), PhotoPoint(900.0, 20.0, 4000.0, 75.0))


def with_photo() -> Work:
    edit = photos.add_photo(work(), "front", picture=PICTURE, width_px=1600, height_px=1200)
    return edit.after


def test_a_photograph_is_added_and_the_wall_is_not_drawn_by_that() -> None:
    edit = photos.add_photo(
        work(), "front", picture=PICTURE, width_px=1600, height_px=1200, taken="2026-11-25"
    )
    assert edit.after.survey.photos == (
        Photo("photo", "front", PICTURE, 1600, 1200, taken="2026-11-25"),
    )
    assert edit.step is Step.PHOTO
    assert not edit.after.survey.drawn
    with refused("this side of the building is no longer there"):
        photos.add_photo(work(), "back", picture=PICTURE, width_px=1600, height_px=1200)


def test_points_set_a_photograph_square_and_the_wall_is_drawn_from_then_on() -> None:
    edit = photos.set_points(with_photo(), "photo", POINTS)
    found = edit.after.survey.photos[0].points
    # On the wall a point lies on a joint, which is seldom at a whole millimetre.
    assert (found[0].across_px, found[0].x_mm) == (10.12, 107.5)
    assert edit.after.survey.drawn
    assert edit.about == "photo/photo/points"
    with refused("the photograph: point 2, its place across the picture is 1,700"):
        photos.set_points(with_photo(), "photo", (POINTS[0], replace(POINTS[1], across_px=1700.0)))
    with refused("the photograph: point 2 is at the same place on the wall as point 1"):
        twice = (POINTS[0], replace(POINTS[0], across_px=50.0))
        photos.set_points(with_photo(), "photo", twice)


def test_a_caption_is_changed_and_points_are_dropped_on_another_side() -> None:
    edit = photos.change_photo(with_photo(), "photo", caption="Under the bay")
    assert edit.after.survey.photos[0].caption == "Under the bay"
    assert edit.about == "photo/photo/caption"
    two = sides.add_side(photos.set_points(with_photo(), "photo", POINTS).after, name="Back").after
    moved = photos.change_photo(two, "photo", elevation="back").after.survey.photos[0]
    assert (moved.elevation, moved.points) == ("back", ())
    with refused("the photograph: the caption has 5,000 letters; shorten it to 4,000"):
        photos.change_photo(with_photo(), "photo", caption="x" * 5000)
    with pytest.raises(TypeError):
        photos.change_photo(with_photo(), "photo", id="x")


def test_a_photograph_is_taken_out() -> None:
    assert photos.remove_photo(with_photo(), "photo").after.survey.photos == ()
    with refused("the photograph is no longer there"):
        photos.remove_photo(work(), "photo")
