"""Units of measure, and quantities that refuse to be mixed.

A quantity is a decimal with its unit. Geometry works in floating millimetres; the moment a
measured length or area becomes a quantity it is cleaned of binary noise and rounded once,
half up, to the places its unit is written with. Money never meets a float.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from enum import Enum
from functools import lru_cache

NOISE_PLACES = 9
"""Binary noise lies far below this many decimals of any length we measure."""


class Unit(Enum):
    """A unit a quantity is written in, as (symbol, decimals, UN/ECE Recommendation 20 code)."""

    METRE = ("m", 2, "MTR")
    SQUARE_METRE = ("m²", 2, "MTK")
    NUMBER = ("nr", 0, "H87")
    LITRE = ("L", 2, "LTR")
    KILOGRAM = ("kg", 2, "KGM")
    HOUR = ("h", 2, "HUR")
    DAY = ("day", 1, "DAY")
    WEEK = ("week", 0, "WEE")
    VISIT = ("visit", 0, "C62")
    ITEM = ("item", 0, "LS")

    @property
    def symbol(self) -> str:
        """The unit as it is printed after a number."""
        return self.value[0]

    @property
    def places(self) -> int:
        """How many decimals a quantity in this unit carries."""
        return self.value[1]

    @property
    def code(self) -> str:
        """The UN/ECE Recommendation 20 code, for exchange files."""
        return self.value[2]

    @classmethod
    def of_symbol(cls, symbol: str) -> Unit:
        """Return the unit that is printed so.

        Raises:
            ValueError: where none is.

        >>> Unit.of_symbol("m²").name
        'SQUARE_METRE'
        """
        found = next((unit for unit in cls if unit.symbol == symbol), None)
        if found is None:
            raise ValueError(f"{symbol!r} is no unit")
        return found


@lru_cache(maxsize=16)
def step_of(places: int) -> Decimal:
    """Return the smallest step written with this many decimals.

    >>> step_of(2)
    Decimal('0.01')
    """
    return Decimal(1).scaleb(-places)


def rounded(value: float | Decimal, places: int) -> Decimal:
    """Round half up once, after clearing binary noise.

    >>> rounded(1.005, 2), rounded(720 * 1.1, 2)
    (Decimal('1.01'), Decimal('792.00'))
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(round(value, NOISE_PLACES)))
    return exact.quantize(step_of(places), rounding=ROUND_HALF_UP)


def whole_up(value: float | Decimal) -> int:
    """Round up to a whole number, after clearing binary noise.

    House rule: take waste with its decimals, then round up once.

    >>> whole_up(720 * 1.1), whole_up(63.0), whole_up(6.67)
    (792, 63, 7)
    """
    if isinstance(value, Decimal):
        return int(value.to_integral_value(rounding=ROUND_CEILING))
    return math.ceil(round(value, NOISE_PLACES))


@dataclass(frozen=True, slots=True, order=True)
class Quantity:
    """An amount of one unit; adding unlike units raises ``TypeError``."""

    amount: Decimal
    unit: Unit

    @classmethod
    def of(cls, value: float | Decimal, unit: Unit) -> Quantity:
        """Make a quantity rounded half up to the places of its unit.

        >>> str(Quantity.of(7.9999999999, Unit.METRE))
        '8.00 m'
        """
        return cls(rounded(value, unit.places), unit)

    def __add__(self, other: Quantity) -> Quantity:
        if not isinstance(other, Quantity) or other.unit is not self.unit:
            raise TypeError(f"cannot add {other!r} to a quantity in {self.unit.symbol}")
        return Quantity(self.amount + other.amount, self.unit)

    def __str__(self) -> str:
        return f"{self.amount:,} {self.unit.symbol}"
