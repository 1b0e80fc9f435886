"""How long a supplier's list of 20,000 rows takes to preview. Target on two cores: 2 s.

Started with ``python -m pytest tests/benchmarks/test_import.py --benchmark-only``. It is the
processor's time that is measured, so that other work on the machine fails nothing.
"""

from __future__ import annotations

import random
import time
from decimal import Decimal
from typing import Any

import pytest

from estimator.exchange.catalogue_out import to_csv, to_xlsx
from estimator.exchange.matching import preview
from estimator.exchange.price_list import MOST_ROWS, Preview, PriceRow
from estimator.exchange.reading import read_sheet
from estimator.money import Money
from estimator.units import Unit

MOST_SECONDS = 2.0
PACKS = ("25kg bag", "box of 100", "each", "tonne", "380ml tube", "m")


def rows() -> list[PriceRow]:
    chance = random.Random(20)
    return [
        PriceRow(
            row=number,
            code=f"SUP-{number:06}",
            title=f"Lime mortar grade {chance.randint(1, 999)} for pointing, {number}",
            unit=Unit.KILOGRAM.symbol,
            pack_size=Decimal(chance.randint(1, 50)),
            price=Money(chance.randint(100, 100_000)),
            supplier="Sample Merchant",
            group=f"Group {number % 40}",
            notes="",
        )
        for number in range(2, MOST_ROWS + 2)
    ]


def suppliers_list() -> bytes:
    """A list as suppliers write it, with packs in words."""
    chance = random.Random(21)
    lines = [
        f'S{number};"Lime; grade {number}";{chance.choice(PACKS)};"{chance.randint(1, 999)},50"'
        for number in range(MOST_ROWS)
    ]
    return "\r\n".join(["Code;Description;Unit;Price £", *lines]).encode("cp1252")


def previewed(data: bytes) -> Preview:
    return preview(read_sheet(data, "list"))


@pytest.mark.benchmark(timer=time.process_time)
@pytest.mark.parametrize("kind", ["supplier's csv", "csv", "xlsx"])
def test_20000_rows_are_previewed(benchmark: Any, kind: str) -> None:
    made = {
        "supplier's csv": suppliers_list,
        "csv": lambda: to_csv(rows()),
        "xlsx": lambda: to_xlsx(rows()),
    }[kind]()
    found = benchmark.pedantic(previewed, args=(made,), rounds=5, warmup_rounds=1)
    assert len(found.rows) == MOST_ROWS
    assert benchmark.stats.stats.min <= MOST_SECONDS
