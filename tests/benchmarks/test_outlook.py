"""How soon the range of a call stands. Skipped in the ordinary run; start it with

    python -m pytest tests/benchmarks/test_outlook.py --benchmark-only -s

Target on two idle cores: an outlook asked of warm processes comes within 250 ms, which leaves a
band settled 300 ms after the last key.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from queue import Queue
from typing import Any

import pytest

from estimator.desktop.workers import Workers
from estimator.quoting.outlook import Outlook, gathered, outlook, slice_of
from estimator.survey import enquiry
from estimator.survey.survey import Asked, Basis, Party, Site, Survey
from estimator.takeoff.scope import USUAL
from tests.benchmarks import made_up

DAY = datetime.date(2026, 11, 25)
SLICE = range(12)


def fresh_call() -> Survey:
    call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    return enquiry.answered(call, Asked("length", amount=1500.0, unit="mm"))


CALLS = pytest.mark.parametrize(
    "survey", [fresh_call(), made_up.demo("phone_call")], ids=["asked", "surveyed"]
)


@CALLS
def test_a_slice(benchmark: Any, survey: Survey) -> None:
    practice = made_up.practice()
    found = benchmark(slice_of, survey, practice, USUAL, DAY, SLICE)
    assert len(found) == len(SLICE)


def test_gathering(benchmark: Any) -> None:
    survey, practice = fresh_call(), made_up.practice()
    found = slice_of(survey, practice, USUAL, DAY, range(96))
    assert benchmark(gathered, found, practice).draws == len(found)


@CALLS
def test_from_request_to_range(benchmark: Any, survey: Survey) -> None:
    practice, pool = made_up.practice(), Workers()
    came: Queue[Outlook | BaseException] = Queue()

    def asked() -> Outlook | BaseException:
        pool.outlook(survey, practice, USUAL, DAY, on_done=came.put, on_failed=came.put)
        return came.get(timeout=60)

    try:
        found = benchmark.pedantic(asked, rounds=20, warmup_rounds=2)
        assert found == outlook(survey, practice, scopes=USUAL, date=DAY)
        sizes = [memory(pid) for pid in pool.processes()]
        benchmark.extra_info["memory_mb"] = sizes
        print("\nmemory of the processes [MB]:", *(f"{size:.0f}" for size in sizes), end="")
        assert max(sizes) < 60
    finally:
        pool.close()


def memory(pid: int) -> float:
    """Memory of a process, what it shares with others divided among them [MB]."""
    for line in Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="utf-8").splitlines():
        if line.startswith("Pss:"):
            return int(line.split()[1]) / 1024
    return 0.0
