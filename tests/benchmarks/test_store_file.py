"""How long the file takes. Skipped in the ordinary run; start them with

    python -m pytest tests/benchmarks/test_store_file.py --benchmark-only

Floors on two cores, on a file of 10,000 jobs and about 60 MB: checks at the start 300 ms, a saved
change 5 ms at the 95th of a hundred.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import update

from estimator.store.database import open_file
from estimator.store.tables import Jobs
from tests.store import big_file


@pytest.fixture(scope="module")
def big(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    path = tmp_path_factory.mktemp("big") / "work.perpend"
    big_file.make(path)
    yield path
    path.unlink()


def test_start_up_checks_of_a_big_file(benchmark: Any, big: Path) -> None:
    assert 50e6 < big.stat().st_size < 90e6
    benchmark.extra_info["megabytes"] = big.stat().st_size / 1e6
    benchmark.pedantic(lambda: open_file(big).close(), rounds=9, warmup_rounds=1)
    assert benchmark.stats.stats.min < 0.3


def test_one_saved_change(benchmark: Any, big: Path) -> None:
    took: list[float] = []
    with open_file(big) as database:

        def save() -> None:
            began = time.perf_counter()
            with database.writing() as connection:
                connection.execute(update(Jobs).where(Jobs.id == 77).values(stage=str(len(took))))
            took.append(time.perf_counter() - began)

        benchmark.pedantic(save, rounds=100)
    benchmark.extra_info["p95_ms"] = statistics.quantiles(took, n=20)[-1] * 1000
    assert statistics.quantiles(took, n=20)[-1] < 0.005
