"""What of the wall lies at a place: a mark, or a part of the wall itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.desktop.wall import hits
from estimator.masonry.region import Point

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting

REACH_PX = 9.0
"""How near a pointer has to come to a line [px]."""


def mark_at(drafting: Drafting, place: Point) -> str:
    """Return the mark of what lies at a place; empty for nothing but wall."""
    picture = drafting.picture()
    if picture is None:
        return ""
    shape = hits.nearest(picture, place, REACH_PX / drafting.per_mm)
    return "" if shape is None else shape.mark
