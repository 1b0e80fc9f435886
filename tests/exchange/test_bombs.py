"""Files made to fill the machine are refused soon and cheaply (reliability table, row 20).

Time is the processor's: what else the machine does must not fail a test.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.exchange.bombs import BOMBS

ROOT = Path(__file__).resolve().parents[2]
MOST_SECONDS = 2.0
MOST_BYTES = 300_000_000
READ_EACH = """
import json, sys, time
from pathlib import Path
from estimator.exchange.reading import read_sheet
from estimator.notices import UserMistake
def peak():
    # What the system calls the most memory used counts the process we came from; this does not.
    told = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
    return int(told.split()[1]) * 1024
for path in sorted(Path(sys.argv[1]).iterdir()):
    data = path.read_bytes()
    said, took = "taken", []
    # The quicker of two readings: a shared core is slow for moments at a time.
    for _reading in range(2):
        start = time.process_time()
        try:
            read_sheet(data, path.name)
        except UserMistake as mistake:
            said = str(mistake)
        took.append(time.process_time() - start)
    print(json.dumps([path.name, said, min(took), peak()]))
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[str, float, int]]:
    """What one process that reads all bombs says of each: words, seconds, most memory so far."""
    folder = tmp_path_factory.mktemp("bombs")
    for make in BOMBS:
        (folder / make.__name__).write_bytes(make())
    done = subprocess.run(
        [sys.executable, "-c", READ_EACH, folder],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    return {name: (said, seconds, memory) for name, said, seconds, memory in lines}


@pytest.mark.slow
@pytest.mark.parametrize(("name", "said"), [(make.__name__, said) for make, said in BOMBS.items()])
def test_a_bomb_is_refused_in_time(
    name: str, said: str, told: dict[str, tuple[str, float, int]]
) -> None:
    words, seconds, memory = told[name]
    assert said in words
    assert seconds <= MOST_SECONDS
    assert memory <= MOST_BYTES
