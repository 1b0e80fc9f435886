"""Brick formats as they are made and laid, read from data that names its sources."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from estimator import resources


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

    @property
    def bricks_per_m2(self) -> float:
        """Bricks in a square metre of half-brick stretcher work, no waste [nr/m²].

        >>> round(brick_format("uk_metric").bricks_per_m2, 4)
        59.2593
        """
        course = (self.length_mm + self.perpend_mm) * (self.height_mm + self.bed_mm)
        return 1_000_000 / course


@cache
def formats() -> Mapping[str, BrickFormat]:
    """Return every brick format by key.

    >>> len(formats()) >= 20
    True
    """
    table = {
        key: BrickFormat(
            key,
            entry["name"],
            float(entry["length_mm"]),
            float(entry["width_mm"]),
            float(entry["height_mm"]),
            float(entry["bed_mm"]),
            float(entry["perpend_mm"]),
            entry["source"],
        )
        for key, entry in resources.data("brick_formats.json").items()
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
