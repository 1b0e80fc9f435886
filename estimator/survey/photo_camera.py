"""Where the camera stood, as far as a flat wall tells, and what that says about a photograph.

A view of a flat wall gives two equations for the lens when its middle is the middle of the picture
(Zhang, A flexible new technique for camera calibration, 2000; from memory). Square in front of a
wall they say nothing; then a usual lens is supposed. A picture that was cropped, or taken with a
lens that shifts, has its middle elsewhere, and the lean told for it is rough.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.masonry.region import Point
from estimator.survey.photo_fit import UNKNOWNS, Row, View
from estimator.survey.photo_points import area_of, hull_of

USUAL_LENS = 0.75
"""Focal length of a telephone's main camera, 27 mm on 36 mm film, against the long side of the
picture; common practice, no source."""
WIDE_LENS = 0.6
"""Below this, 22 mm on film, a lens counts as wide; house rule."""
SURE_OF_LENS = 0.3
"""Largest doubt of a lens that is believed, as a share of the number it comes from; house rule."""
ODD_STEP = 1e-6
LEAN_DEGREES = 30.0
LEAN_MOST_DEGREES = 45.0
"""Beyond these a photograph is measured on with care, and hardly at all; house rule."""
SPAN_SHARE = 0.25
"""Points that span less of the picture than this are bunched; house rule."""
SIDE_SHARE = 0.4
"""So are points that span less of one side of the picture than this; house rule."""
STRAINED = 3.0
"""Points that miss by so many times what was to be expected do not agree; house rule."""


@dataclass(frozen=True, slots=True)
class Camera:
    """How the camera was turned to the wall, and its lens where the picture tells."""

    tilt_degrees: float
    """Between the way the camera looked and square to the wall. [°]"""
    lens: float | None
    """Focal length against the long side of the picture, where the points tell it."""


def camera_of(view: View, spread: Sequence[Row], width_px: int, height_px: int) -> Camera:
    """Return how the camera was turned, from how the wall is seen.

    Args:
        view: How the wall is seen.
        spread: Covariance of the eight numbers of the view.
        width_px: Of the picture.
        height_px: Of the picture.
    """
    middle, side = (width_px / 2, height_px / 2), max(width_px, height_px)
    square = _lens_square(view, middle, side)
    doubt = 0.0
    slopes = [
        (_lens_square(_stepped(view, i), middle, side) - square) / ODD_STEP for i in range(UNKNOWNS)
    ]
    for i, row in enumerate(spread):
        doubt += slopes[i] * sum(one * slope for one, slope in zip(row, slopes, strict=True))
    is_sure = square > 0 and math.sqrt(max(doubt, 0.0)) < SURE_OF_LENS * square
    lens = 1 / math.sqrt(square) if is_sure else None
    return Camera(_tilt(view, middle, side * (lens or USUAL_LENS)), lens)


def limits_of(
    camera: Camera, seen: Sequence[Point], size_px: tuple[int, int], strain: float
) -> tuple[str, ...]:
    """Return what is to be said about measuring on a photograph, in plain sentences.

    Args:
        camera: How it was turned.
        seen: The points as clicked. [px]
        size_px: Width and height of the picture.
        strain: How much more the points miss than was to be expected; 1 for as much.

    >>> seen = [(0, 0), (900, 0), (900, 900), (0, 900), (300, 300)]
    >>> limits_of(Camera(50.0, None), seen, (1000, 1000), 1.0)
    ('The camera was turned 50° away from the wall; beyond 45° do not measure on the photograph.',)
    """
    told = [
        _about_lean(camera.tilt_degrees),
        _about_spread(seen, size_px),
        _about_count(len(seen)),
        _about_strain(strain),
        _about_lens(camera.lens),
    ]
    return tuple(sentence for sentence in told if sentence)


def _about_lean(degrees: float) -> str:
    turned = f"The camera was turned {degrees:.0f}° away from the wall; "
    if degrees > LEAN_MOST_DEGREES:
        return f"{turned}beyond {LEAN_MOST_DEGREES:.0f}° do not measure on the photograph."
    if degrees > LEAN_DEGREES:
        return f"{turned}beyond {LEAN_DEGREES:.0f}° check one length with a tape."
    return ""


def _about_spread(seen: Sequence[Point], size_px: tuple[int, int]) -> str:
    across, down = zip(*seen, strict=True)
    wide, high = (max(across) - min(across)) / size_px[0], (max(down) - min(down)) / size_px[1]
    share = area_of(hull_of(seen)) / (size_px[0] * size_px[1])
    if share >= SPAN_SHARE and min(wide, high) >= SIDE_SHARE:
        return ""
    return (
        "The points lie close together; keep to what lies between them, or mark others further out."
    )


def _about_count(count: int) -> str:
    if count > 4:
        return ""
    return "Four points leave nothing to check them by; a fifth shows a miscount."


def _about_strain(strain: float) -> str:
    if strain < STRAINED:
        return ""
    return (
        f"The points miss one another by {strain:.0f} times what clicking explains;"
        " count them again."
    )


def _about_lens(lens: float | None) -> str:
    if lens is None or lens >= WIDE_LENS:
        return ""
    return (
        "The photograph was taken with a wide lens, which bends the edges; measure in its middle."
    )


def _stepped(view: View, number: int) -> View:
    """Return a view with one of its numbers a little larger."""
    form = tuple(one + ODD_STEP * (i == number) for i, one in enumerate(view.form))
    return View(view.wall, view.picture, form)


def _columns(view: View, middle: Point, side: float) -> tuple[Row, Row]:
    """Return what one mm along and one mm up are on the picture, seen from its middle, in sides."""
    m = view.matrix()
    rows = (
        [(m[i] - middle[0] * m[6 + i]) / side for i in (0, 1)],
        [(m[3 + i] - middle[1] * m[6 + i]) / side for i in (0, 1)],
        [m[6 + i] for i in (0, 1)],
    )
    return tuple(row[0] for row in rows), tuple(row[1] for row in rows)


def _lens_square(view: View, middle: Point, side: float) -> float:
    """Return the side of the picture against the focal length, squared; below 0 for none at all.

    Along and up are square to each other and equally long on the wall, which gives two equations.
    """
    one, two = _columns(view, middle, side)
    flat = (
        one[0] * two[0] + one[1] * two[1],
        one[0] ** 2 + one[1] ** 2 - two[0] ** 2 - two[1] ** 2,
    )
    deep = (one[2] * two[2], one[2] ** 2 - two[2] ** 2)
    below = flat[0] ** 2 + flat[1] ** 2
    return -(flat[0] * deep[0] + flat[1] * deep[1]) / below if below else 0.0


def _tilt(view: View, middle: Point, focal_px: float) -> float:
    """Return the angle between the way the camera looked and square to the wall [°]."""
    one, two = _columns(view, middle, focal_px)
    square = (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )
    return math.degrees(math.acos(min(1.0, abs(square[2]) / math.hypot(*square))))
