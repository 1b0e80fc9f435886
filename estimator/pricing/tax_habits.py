"""How a trader is taxed: a standing choice, kept in the price book."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum


class Rounding(Enum):
    """How tax is rounded to the penny; source: VAT Notice 700, paragraph 17.5."""

    NEAREST = "nearest"
    DOWN = "down"
    LINES_DOWN = "lines down"
    """Each line down to a tenth of a penny, then the total down to the penny."""


class Deduction(Enum):
    """How a subcontractor stands in the construction scheme."""

    NONE = "none"
    GROSS = "gross"
    REGISTERED = "registered"
    UNVERIFIED = "unverified"


class SalesTax(Enum):
    """How a sales tax is charged, where there is one in place of a value added tax."""

    NONE = "none"
    SEPARATED = "separated"
    """On materials, shown apart from labour."""
    WHOLE = "whole"
    LUMP = "lump"
    """The contractor pays it on materials; it is in the price and no line shows it."""


@dataclass(frozen=True, slots=True)
class TaxHabits:
    """How the trader is taxed, as the price book has it."""

    country: str = "GB"
    registered: bool = True
    rounding: Rounding = Rounding.NEAREST
    deduction: Deduction = Deduction.REGISTERED
    """How the trader stands when working for another contractor."""
    sales_tax: SalesTax = SalesTax.NONE
    sales_tax_percent: Decimal = Decimal(0)
