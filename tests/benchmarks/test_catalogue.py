"""How long prices take: 20,000 rows in 5 s, a page of 100,000 in 20 ms, a price book in 50 ms.

Skipped in the ordinary run; start them with

    python -m pytest tests/benchmarks/test_catalogue.py --benchmark-only
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from estimator.money import Money
from estimator.store import bulk, catalogue, price_books
from estimator.store.book_parts import Kind, with_body
from estimator.store.bulk import Article
from estimator.store.database import Database, open_file

MANY, LIST = 100_000, 20_000


def articles(count: int, price: int = 100) -> list[Article]:
    """Invented articles of seven suppliers in forty groups."""
    return [
        Article(
            f"A{number:06}",
            f"Lime mortar number {number} in bags, washed sand",
            "kg",
            "KGM",
            "bag",
            Decimal(25),
            Money(price + number),
            f"Supplier {number % 7}",
            f"Group {number % 40}",
            row=number,
        )
        for number in range(count)
    ]


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    with open_file(tmp_path_factory.mktemp("large") / "work.perpend") as database:
        price_books.installed(database)
        bulk.apply_import(database, articles(MANY), "everything there is")
        yield database


def within(benchmark: Any, seconds: float) -> None:
    """Hold a benchmark to its target; there are no figures when benchmarks are switched off."""
    if benchmark.stats is not None:
        # The quickest round, as nothing but the machine makes the others slower.
        assert benchmark.stats.stats.min <= seconds


@pytest.mark.parametrize("price", [100, 101], ids=["all new", "all changed"])
def test_taking_a_list_in(benchmark: Any, tmp_path: Path, price: int) -> None:
    told: list[int] = []
    with open_file(tmp_path / "work.perpend") as database:
        price_books.installed(database)
        if price != 100:
            bulk.apply_import(database, articles(LIST), "the list before")
        rows = articles(LIST, price)
        benchmark.pedantic(
            bulk.apply_import,
            args=(database, rows, "a list"),
            kwargs={"progress": lambda done, count: told.append(done)},
            rounds=1,
        )
        assert len(told) >= 10
        assert catalogue.count(database, Kind.ITEM) == LIST
    within(benchmark, 5)


def test_showing_what_a_list_would_do(benchmark: Any, large: Database) -> None:
    rows = articles(LIST, 150)
    shown = benchmark.pedantic(bulk.preview_import, args=(large, rows), rounds=3)
    assert len(shown.changed) == LIST
    within(benchmark, 2)


def test_the_first_page(benchmark: Any, large: Database) -> None:
    assert len(benchmark(catalogue.entries, large)) == catalogue.PAGE
    within(benchmark, 0.02)


def test_a_page_far_down(benchmark: Any, large: Database) -> None:
    (before,) = catalogue.entries(large, Kind.ITEM, limit=1, offset=MANY - 5_000)
    page = benchmark(catalogue.entries, large, Kind.ITEM, after=before)
    assert len(page) == catalogue.PAGE
    within(benchmark, 0.02)


def test_a_page_of_one_group(benchmark: Any, large: Database) -> None:
    page = benchmark(catalogue.entries, large, Kind.ITEM, "Group 7")
    assert len(page) == catalogue.PAGE
    within(benchmark, 0.03)


def test_the_price_book_for_the_engine(benchmark: Any, large: Database) -> None:
    assert benchmark(price_books.load, large).materials
    within(benchmark, 0.05)


def test_one_edit(benchmark: Any, large: Database) -> None:
    (sand,) = catalogue.named(large, "sand")
    prices = iter(range(100, 10_000))

    def edit() -> None:
        body = {**json.loads(sand.body), "pack_price": str(Money(next(prices)))}
        catalogue.change(large, [with_body(sand, body)], "an edit")

    benchmark.pedantic(edit, rounds=50, warmup_rounds=2)
    within(benchmark, 0.02)


def test_raising_and_undoing_everything(benchmark: Any, large: Database) -> None:
    def there_and_back() -> None:
        bulk.apply(large, bulk.Uplift(Decimal(3)))
        bulk.undo(large)

    benchmark.pedantic(there_and_back, rounds=1)
    assert catalogue.named(large, "A000001")[0].price == Money(101)
