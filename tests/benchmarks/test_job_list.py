"""How long the page of jobs and the naming of customers take. Skipped in the ordinary run:

    python -m pytest tests/benchmarks/test_job_list.py --benchmark-only

Targets on two cores, with 10,000 jobs of as many customers: the first 200 jobs that fit what is
typed within 20 ms, a customer named within 5 ms, what needs a look today within 20 ms; medians,
because the machine has other work.
"""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from estimator.store import attention, customers, job_list
from estimator.store.database import Database, open_file
from estimator.store.jobs import Stage
from tests.store import work

JOBS, SHOWN = 10_000, 200
LIST_S, NAME_S, NEEDS_S = 0.020, 0.005, 0.020
LONG = "x" * 20_000
FIRST = ("Ines", "Rufus", "Zoë", "Maud", "Colm", "Petra", "Hugo", "Nell", "Amir", "Bea")
LAST = ("Marlowe", "Bartlett", "Quill", "Tarn", "Oduya", "Fenwick", "Sallow", "Hartley", "Moss")
STREETS = ("Mill Lane", "Tarn Street", "Wall Row", "Harbour View", "Church Bank", "Quarry Road")
WALLS = ("crack", "stitch", "lintel", "gable", "pier", "repoint", "bay", "chimney", "parapet")
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


def fill(put: Any) -> None:
    """Put in jobs three hours apart, three in four with a paper as long as real ones."""
    chance = random.Random(4)
    stages = [stage.value for stage in Stage]
    for at in range(1, JOBS + 1):
        when = NOON - timedelta(hours=3 * at)
        moment = when.isoformat(timespec="microseconds")
        street = f"{at % 200} {chance.choice(STREETS)}\nAnytown\nZZ{at % 20} {at % 10}AB"
        name = f"{chance.choice(FIRST)} {chance.choice(LAST)}"
        put(
            "INSERT INTO customers VALUES (?, ?, ?, 'household', ?, ?, '', '', '', ?, ?, NULL)",
            (at, f"{at:032x}", name, street, f"01632 96{at:04d}", moment, moment),
        )
        title, stage = " ".join(chance.choices(WALLS, k=3)), chance.choice(stages)
        put(
            "INSERT INTO jobs VALUES (?, ?, ?, ?, ?, ?, '', ?, ?, NULL, '')",
            (at, f"{at:032x}", at, title, street, stage, moment, moment),
        )
        if at % 4 == 0:
            continue
        until = (when.date() + timedelta(days=30)).isoformat()
        content = f'{{"a":"{LONG}","quotation":{{"valid_until":"{until}"}}}}'
        put(
            "INSERT INTO issued_papers VALUES (?, ?, 'quotation', ?, NULL, NULL, 12345, ?, ?, ?, ?,"
            " ?, NULL)",
            (at, f"Q-{at:05}", at, content, "0" * 64, LONG.encode(), "0" * 64, moment),
        )


@pytest.fixture(scope="module")
def full() -> Iterator[Database]:
    with tempfile.TemporaryDirectory() as folder, open_file(work.fresh(Path(folder))) as database:
        with database.writing() as connection:
            fill(connection.exec_driver_sql)
        yield database


@pytest.mark.parametrize(
    "typed", ["", "m", "marlowe", "zoe marlowe", "anytown", "zz1 1ab", "01632 960123", "Q-0012"]
)
def test_the_first_jobs_that_fit(benchmark: Any, full: Database, typed: str) -> None:
    rows = benchmark.pedantic(
        job_list.list_jobs, (full,), {"typed": typed}, rounds=40, warmup_rounds=2
    )
    assert 0 < len(rows) <= SHOWN
    assert benchmark.stats.stats.median <= LIST_S


@pytest.mark.parametrize("typed", ["m", "marl", "zoe ma", "anytown", "0163", "960", "14 mill"])
def test_a_customer_as_they_are_typed(benchmark: Any, full: Database, typed: str) -> None:
    rows = benchmark.pedantic(customers.suggest, (full, typed), rounds=40, warmup_rounds=2)
    assert rows
    assert benchmark.stats.stats.median <= NAME_S


def test_what_needs_a_look_today(benchmark: Any, full: Database) -> None:
    rows = benchmark.pedantic(attention.needs_me, (full, NOON.date()), rounds=40, warmup_rounds=2)
    assert len(rows) > 50
    assert benchmark.stats.stats.median <= NEEDS_S
