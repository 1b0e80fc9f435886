"""Photographs of the sides, and the points that set them square."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change_survey,
    elevation,
    fresh_id,
    known,
    swapped,
)
from estimator.survey.survey import Photo, PhotoPoint

PIXEL_DECIMALS = 2
"""A point is set on a picture to a hundredth of a pixel, finer than any hand; house rule."""


def add_photo(
    work: Work, side: str, *, picture: str, width_px: int, height_px: int, **rest: Any
) -> Edit:
    """Add a photograph of a side, by the SHA-256 of the kept picture and its size [px].

    ``caption``, ``taken`` (ISO 8601 date) and ``points`` may be given too.

    Raises:
        UserMistake: when there is no such side, or too many photographs.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> size = {"width_px": 1600, "height_px": 1200}
    >>> add_photo(plain_wall(), "front", picture="0a" * 32, **size).after.survey.photos[0].id
    'photo'
    """
    photos = work.survey.photos
    name = fresh_id("photo", {one.id for one in photos})
    new = Photo(name, elevation(work, side).id, picture, width_px, height_px, **rest)
    return change_survey(work, Step.PHOTO, photos=(*photos, new))


def change_photo(work: Work, photo: str, **fields: Any) -> Edit:
    """Give a photograph another caption, day or side: fields of ``Photo`` but its id.

    On another side its points are known no longer.

    Raises:
        UserMistake: when the photograph or the side is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> size = {"width_px": 1600, "height_px": 1200}
    >>> work = add_photo(plain_wall(), "front", picture="0a" * 32, **size).after
    >>> change_photo(work, "photo", caption="Bay").after.survey.photos[0].caption
    'Bay'
    """
    one: Photo = known(work.survey.photos, photo, "photograph")
    if "id" in fields:
        raise TypeError("a photograph keeps its id")
    if fields.get("elevation", one.elevation) != one.elevation:
        elevation(work, fields["elevation"])
        fields.setdefault("points", ())
    about = "/".join(("photo", photo, *sorted(fields)))
    new = swapped(work.survey.photos, one, replace(one, **fields))
    return change_survey(work, Step.PHOTO, about, photos=new)


def set_points(work: Work, photo: str, points: Iterable[PhotoPoint]) -> Edit:
    """Say which places of a photograph are known on the wall; the wall counts as drawn by hand.

    Raises:
        UserMistake: for a point beside the picture, or two in one place.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> size = {"width_px": 1600, "height_px": 1200}
    >>> work = add_photo(plain_wall(), "front", picture="0a" * 32, **size).after
    >>> set_points(work, "photo", [PhotoPoint(10, 10, 0, 0)]).about
    'photo/photo/points'
    """
    one: Photo = known(work.survey.photos, photo, "photograph")
    new = replace(one, points=tuple(_whole(point) for point in points))
    photos = swapped(work.survey.photos, one, new)
    # Answers would move the wall away from under its points.
    return change_survey(work, Step.PHOTO, f"photo/{photo}/points", photos=photos, drawn=True)


def remove_photo(work: Work, photo: str) -> Edit:
    """Take a photograph out of the job.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> size = {"width_px": 1600, "height_px": 1200}
    >>> work = add_photo(plain_wall(), "front", picture="0a" * 32, **size).after
    >>> remove_photo(work, "photo").after.survey.photos
    ()
    """
    photos = work.survey.photos
    one = known(photos, photo, "photograph")
    return change_survey(work, Step.PHOTO, photos=swapped(photos, one))


def _whole(point: PhotoPoint) -> PhotoPoint:
    """Return a point with its place on the picture as fine as a hand can set it.

    Its place on the wall is taken as it was counted: joints seldom lie on whole millimetres.
    """
    return replace(
        point,
        across_px=round(point.across_px, PIXEL_DECIMALS),
        down_px=round(point.down_px, PIXEL_DECIMALS),
    )
