"""The window never stands still: nothing in its own thread takes longer than one would notice.

A person feels a tenth of a second; a stall of more than a fifth fails here.
What is measured is the processor's time in the window's thread between two beats of a timer (see
``run_of_work``), so that a machine busy with other things fails nobody.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.desktop.run_of_work import SLEEPER

ROOT = Path(__file__).resolve().parents[2]
LONGEST_MS = 200.0
START = "start"
LOOKS = ("dark", "larger", "usual_size", "light")
"""Each of them styles every widget there is anew."""
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory) -> dict[str, float]:
    """The longest work at one go in the window's thread, for each thing done [ms]."""
    folder = tmp_path_factory.mktemp("stalls")
    done = subprocess.run(
        [sys.executable, "-m", "tests.desktop.run_of_work", str(folder), "--with-sleeper"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=180,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-3000:]
    found: dict[str, float] = json.loads(done.stdout)["worked"]
    return found


def test_nothing_done_stalls_the_window(worked: dict[str, float]) -> None:
    watched = {
        what: round(ms) for what, ms in worked.items() if what not in (START, SLEEPER, *LOOKS)
    }
    assert len(watched) > 30
    assert not {what: ms for what, ms in watched.items() if ms > LONGEST_MS}


def test_a_stall_would_be_noticed(worked: dict[str, float]) -> None:
    assert worked[SLEEPER] > LONGEST_MS


@pytest.mark.xfail(raises=AssertionError, reason="a new look styles all widgets at once")
def test_a_new_look_stalls_nothing(worked: dict[str, float]) -> None:
    assert not {what: worked[what] for what in LOOKS if worked[what] > LONGEST_MS}
