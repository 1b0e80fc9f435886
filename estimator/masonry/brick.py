"""Brick formats as they are made and laid, read from data that names its sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources

MM2_PER_M2 = 1_000_000
M2_PER_FT2 = 0.09290304
"""Exact by the international foot of 0.3048 m. [m²]"""


@dataclass(frozen=True, slots=True)
class BrickFormat:
    """A work size with the joints it is usually laid with; lengths [mm]."""

    key: str
    name: str
    length_mm: float
    width_mm: float
    height_mm: float
    bed_mm: float
    perpend_mm: float
    source: str
    handbook_per_m2: float | None = None
    """Bricks in a square metre as a handbook prints it, rounded or with waste as it is. [nr/m²]"""
    handbook_source: str = ""

    @property
    def bricks_per_m2(self) -> float:
        """Bricks in a square metre of half-brick stretcher work, no waste [nr/m²].

        >>> round(brick_format("uk_metric").bricks_per_m2, 4)
        59.2593
        """
        course = (self.length_mm + self.perpend_mm) * (self.height_mm + self.bed_mm)
        return MM2_PER_M2 / course


def _format(key: str, entry: Mapping[str, Any]) -> BrickFormat:
    # Handbooks print by the square metre or by the square foot; either is kept as printed.
    printed = None
    if "handbook_per_m2" in entry:
        printed = float(entry["handbook_per_m2"])
    elif "handbook_per_ft2" in entry:
        printed = entry["handbook_per_ft2"] / M2_PER_FT2
    return BrickFormat(
        key,
        entry["name"],
        float(entry["length_mm"]),
        float(entry["width_mm"]),
        float(entry["height_mm"]),
        float(entry["bed_mm"]),
        float(entry["perpend_mm"]),
        entry["source"],
        printed,
        entry.get("handbook_source", ""),
    )


@cache
def formats() -> Mapping[str, BrickFormat]:
    """Return every brick format by key.

    >>> len(formats()) >= 20
    True
    """
    table = {
        key: _format(key, entry) for key, entry in resources.data("brick_formats.json").items()
    }
    return MappingProxyType(table)


def format_keys() -> tuple[str, ...]:
    """Return the keys of all formats, in the order of the data.

    >>> "uk_metric" in format_keys()
    True
    """
    return tuple(formats())


def brick_format(key: str) -> BrickFormat:
    """Return one brick format.

    Raises:
        KeyError: when no format has that key.

    >>> brick_format("uk_metric").length_mm
    215.0
    """
    return formats()[key]
