"""Damaged price lists end in rows or in plain words, never in a crash (reliability table, row 19).

The reader of workbooks is compiled and could end the whole process, so the long run reads in
another one, whose memory is limited too.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.exchange import mutants

ROOT = Path(__file__).resolve().parents[2]
MOST_SECONDS = 10.0
MOST_BYTES = 512_000_000
READ_SOME = """
import json, sys, time
from estimator.exchange.matching import preview
from estimator.exchange.reading import read_sheet
from estimator.notices import UserMistake
from tests.exchange import mutants
kept, rows, refused, slowest = mutants.good(), 0, 0, 0.0
for seed in range(int(sys.argv[1]), int(sys.argv[2])):
    print(seed, file=sys.stderr)
    data, start = mutants.mutant(seed, kept), time.perf_counter()
    try:
        rows += bool(preview(read_sheet(data, "list")).rows)
    except UserMistake:
        refused += 1
    slowest = max(slowest, time.perf_counter() - start)
# What the system calls the most memory used counts the process we came from; this does not.
told = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
peak = int(told.split()[1]) * 1024
print(json.dumps({"rows": rows, "refused": refused, "slowest": slowest, "peak": peak}))
"""


def read(first: int, end: int) -> dict[str, float]:
    """Read the lists damaged with these seeds in another process; its last seed tells a crash."""
    done = subprocess.run(
        [sys.executable, "-c", READ_SOME, str(first), str(end)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=3600,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    found: dict[str, float] = json.loads(done.stdout)
    return found


def test_the_lists_damaged_are_good() -> None:
    assert len(mutants.good()) == 9


def test_one_seed_damages_one_way() -> None:
    kept = mutants.good()
    assert mutants.mutant(7, kept) == mutants.mutant(7, kept)


def test_500_damaged_lists_do_no_harm() -> None:
    found = read(0, 500)
    assert found["rows"] > 50
    assert found["refused"] > 50


@pytest.mark.long
def test_5000_damaged_lists_do_no_harm(capsys: pytest.CaptureFixture[str]) -> None:
    found = read(1_000_000, 1_005_000)
    with capsys.disabled():
        print(f"\n5,000 damaged price lists from seed 1,000,000: {found}")
    assert found["slowest"] <= MOST_SECONDS
    assert found["peak"] <= MOST_BYTES
