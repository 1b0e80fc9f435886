"""Stock bars in cutting order, each piece with the bar it is for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.takeoff.cutting import CuttingList
from estimator.takeoff.lines import Bar, Mark


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece cut off a stock bar."""

    length_mm: int
    bar: Mark
    number: int
    """Which piece of that bar, from 1."""
    of: int
    """Pieces that bar is made of."""


@dataclass(frozen=True, slots=True)
class StockBar:
    """One stock bar, its pieces in the order they are cut."""

    number: int
    """From 1, in cutting order."""
    length_mm: int
    pieces: tuple[CutPiece, ...]
    offcut_mm: int
    """What is left of it, cuts taken off. [mm]"""


def in_cutting_order(
    cutting: CuttingList, bars: Sequence[Bar], *, kerf_mm: int = 0
) -> tuple[StockBar, ...]:
    """Return stock bars in the order of the cutting list, each piece given to a bar.

    Pieces of one length are given out in the order of the bars, which is that of the wall.

    Raises:
        ValueError: when the list was not made for these bars.

    >>> from estimator.takeoff.cutting import Stock, cut
    >>> bars = [Bar(f"f/bar/{n}", "f", n, 0, 900, 75 * n, 0, 0, (900,), 35, 10, False, (), ())
    ...     for n in (1, 2)]
    >>> [one] = in_cutting_order(cut([900, 900], [Stock(3000, 1120)]), bars)
    >>> [piece.bar for piece in one.pieces], one.offcut_mm
    (['f/bar/1', 'f/bar/2'], 1200)
    """
    waiting: dict[int, list[CutPiece]] = {}
    for bar in bars:
        for number, length in enumerate(bar.pieces_mm, start=1):
            piece = CutPiece(length, bar.id, number, len(bar.pieces_mm))
            waiting.setdefault(length, []).append(piece)
    found = []
    for place, stock in enumerate(cutting.bars, start=1):
        pieces = []
        for length in stock.pieces_mm:
            if not waiting.get(length):
                raise ValueError(f"no bar waits for a piece of {length} mm")
            pieces.append(waiting[length].pop(0))
        lost = sum(stock.pieces_mm) + kerf_mm * (len(stock.pieces_mm) - 1)
        found.append(StockBar(place, stock.stock_mm, tuple(pieces), stock.stock_mm - lost))
    if any(waiting.values()):
        raise ValueError("some pieces are cut from no stock bar")
    return tuple(found)
