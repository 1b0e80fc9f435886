"""Cutting bars from stock lengths at least cost, with a proved lower bound."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Stock:
    """A length bars are sold in."""

    length_mm: int
    price_pence: int


@dataclass(frozen=True, slots=True)
class CutBar:
    """One stock bar and the pieces cut from it, longest first. [mm]"""

    stock_mm: int
    pieces_mm: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class CuttingList:
    """All the stock bars to buy and how each is cut."""

    bars: tuple[CutBar, ...]
    cost_pence: int
    bound_pence: int
    """No cutting can cost less than this. [penny]"""
    offcut_mm: int
    is_exact: bool
    """Whether the cost is proved least."""

    @property
    def bound_gap(self) -> Decimal:
        """How far the cost may lie above the least possible. [per cent of the bound]"""
        if self.bound_pence == 0:
            return Decimal(0)
        return (Decimal(self.cost_pence) / self.bound_pence - 1) * 100
