"""The paper of a survey, and an elevation as SVG, made in another process.

Nothing here knows a window, so that the process that makes them loads none.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from estimator.quoting.quotation import Trader
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Measure

SCALES = (5, 10, 20, 50, 100, 200)
"""Reductions of drawings, ISO 5455 (from memory)."""
SHEET_MM = (420.0, 297.0)
"""An A3 sheet laid on its side, ISO 216; that an elevation should fit one is a house rule."""
ROUND_MM = 900.0
"""Room dimensions and note take of the drawing, in millimetres of wall; house rule."""


def recorded(
    survey: Survey,
    measure: Measure | None,
    trader: Trader,
    pictures: Mapping[str, bytes],
    date: datetime.date,
) -> bytes:
    """Return the paper of a survey with the work of the option drawn, or the wall alone."""
    # Slower to load than everything else here.
    from estimator.documents.survey_paper import render  # noqa: PLC0415

    return render(survey, measure, trader, pictures, date.isoformat())


def elevation_svg(survey: Survey, side: int, measure: Measure | None, title: str) -> bytes:
    """Return one side as an SVG file, at the largest scale that fits an A3 sheet.

    Args:
        survey: What was seen or told.
        side: Which elevation, the first being 0.
        measure: The work of the option drawn; None for the wall as it was seen.
        title: What the drawing is called.
    """
    from estimator.drawing.picture import picture_of  # noqa: PLC0415 - as above
    from estimator.exchange import elevation_svg as drawing  # noqa: PLC0415 - as above

    picture = picture_of(survey, side, measure)
    if picture is None:
        raise ValueError("there is no such side")
    left, bottom, right, top = picture.masonry.bounds
    scale = fitting_scale(right - left + ROUND_MM, top - bottom + ROUND_MM)
    return drawing.write(picture, title=title, scale=scale).encode()


def fitting_scale(width_mm: float, height_mm: float) -> int:
    """Return the scale at which a wall of a size fits an A3 sheet [mm].

    >>> fitting_scale(3000, 2400), fitting_scale(12_000, 6000), fitting_scale(300_000, 9000)
    (10, 50, 200)
    """
    return next(
        (
            scale
            for scale in SCALES
            if width_mm <= SHEET_MM[0] * scale and height_mm <= SHEET_MM[1] * scale
        ),
        SCALES[-1],
    )
