"""How large and how small the numbers and texts of a survey file may be.

These are house rules against slips of the keyboard, not facts of the trade: wide enough for any
building a small firm works on, narrow enough to catch metres typed for millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Limit:
    """The least and greatest number a field takes, and what it is counted in."""

    low: float
    high: float
    unit: str

    @property
    def words(self) -> str:
        """What may be written, for the end of a message.

        >>> Limit(0, 200, "mm").words
        'a number of mm from 0 to 200'
        """
        return f"a number of {self.unit} from {self.low:,.15g} to {self.high:,.15g}"

    def allows(self, number: float) -> bool:
        """Whether a number lies within it.

        >>> Limit(0, 200, "mm").allows(200.5)
        False
        """
        return self.low <= number <= self.high


NUMBERS: Mapping[str, Limit] = MappingProxyType(
    {
        "place along the wall": Limit(-200_000, 200_000, "mm"),
        "size of an opening": Limit(1, 50_000, "mm"),
        "sill": Limit(0, 1_000, "mm"),
        "lintel": Limit(0, 2_000, "mm"),
        "bearing": Limit(0, 2_000, "mm"),
        "leg of a bar": Limit(0, 6_000, "mm"),
        "leg": Limit(1, 199, "legs"),
        "place on a picture": Limit(0, 20_000, "pixels"),
        "side of a picture": Limit(1, 20_000, "pixels"),
        "crack width": Limit(0, 200, "mm"),
        "course": Limit(1, 2_000, "courses"),
        "courses crossed": Limit(1, 2_000, "courses"),
        "turn": Limit(0, 2_000, "courses"),
        "place in a course": Limit(1, 5_000, "bricks"),
        "further bricks": Limit(0, 10_000, "bricks"),
        "joint": Limit(1, 50, "mm"),
        "ratio": Limit(0, 9, "stretchers or courses to a header"),
        "datum": Limit(-5_000, 100_000, "mm"),
        "travel": Limit(0, 1_000, "miles"),
        "months": Limit(0, 1_200, "months"),
        "amount told": Limit(0, 200_000, "mm, courses, bricks or whatever was counted"),
    }
)
"""Limits of numbers, by what the number means."""

LETTERS: Mapping[str, int] = MappingProxyType({"id": 40, "short": 40, "name": 200, "notes": 4_000})
"""Most letters a text may have, by what the text is."""

COUNTS: Mapping[str, tuple[int, int]] = MappingProxyType(
    {
        "elevations": (1, 200),
        "corners": (3, 200),
        "points": (2, 200),
        "legs": (0, 199),
        "cracks": (0, 500),
        "widths": (0, 200),
        "bars": (0, 500),
        "photos": (0, 200),
        "photo points": (0, 100),
        "openings": (0, 500),
        "bricks": (0, 5_000),
        "areas": (0, 200),
        "joints": (0, 200),
        "address lines": (0, 10),
        "answers": (0, 60),
        "choices": (0, 20),
        "readings": (0, 5_000),
    }
)
"""Fewest and most there may be of each thing listed."""

MOST_BYTES = 5_000_000
"""Largest survey file read. [byte]"""
