"""Rows nobody sells, drawn to be as hard as rows may be."""

from __future__ import annotations

import random
from decimal import Decimal

from estimator.exchange.price_list import PriceRow
from estimator.exchange.trade_units import CODES
from estimator.money import Money

NASTY = (
    *("=1+1", "+44", "-5 bricks", "@sum", "\tq", "\rq", "\nq", "\x00q", "'tis", "'=1", "''", "'"),
    *('6" bolster', "a,b;c|d", "two\r\nlines", "lone\rreturn", "½ £ é mm²", "漢字 🧱", "_x0041_"),
    *(
        " spaces ",
        "1,234.50",
        "1e5",
        "#REF!",
        "<b>&amp;",
        "true",
        "a\x07b",
        "\u202eright",
        "_x000D_",
    ),
    *("\ufeffmark", "NaN", "0012", "2026-01-02", "sep=;", "a\u2028b", "e\u0301"),
)
"""Texts that spreadsheets and their readers are known to change."""


def text(chance: random.Random, *, empty: bool = True) -> str:
    if empty and chance.random() < 0.2:
        return ""
    parts = chance.choices(NASTY, k=chance.randint(1, 3))
    made = "".join(parts)
    return made if made.strip() else "x"


def rows(count: int, chance: random.Random) -> list[PriceRow]:
    """As many rows as they come back from a file whose first row is the headings."""
    return [
        PriceRow(
            row=number,
            code=chance.choice(["", f"{text(chance)}{number}"]),
            title=text(chance, empty=False),
            unit=chance.choice(sorted(CODES)),
            pack_size=chance.choice(
                [Decimal(1), Decimal(25), Decimal(chance.randint(1, 10**9)).scaleb(-4)]
            ),
            price=Money(chance.randint(1, 10_000_000)),
            supplier=text(chance),
            group=text(chance),
            notes=text(chance),
        )
        for number in range(2, count + 2)
    ]
