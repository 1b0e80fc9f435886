"""A backup or a restore that is killed on its way loses nothing that was saved."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs forks")


def done(work: str, folder: Path, trials: int) -> Any:
    seed = random.randrange(10**6)
    child = subprocess.run(
        [sys.executable, "-m", "tests.store.kills", work, folder, str(trials), str(seed)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    assert child.returncode == 0, f"seed {seed}: {child.stderr[-2000:]}"
    told = json.loads(child.stdout)
    print(work, f"seed {seed}", told)
    assert not told["bad"], f"seed {seed}"
    return told


def test_six_killed_restores_leave_the_old_file_or_the_new(tmp_path: Path) -> None:
    told = done("restores", tmp_path, 6)
    assert told["trials"] == 6


def test_five_killed_backups_lose_no_save(tmp_path: Path) -> None:
    told = done("backups", tmp_path, 5)
    assert told["trials"] == 5


@pytest.mark.long
def test_100_killed_restores_and_one_at_every_step(tmp_path: Path) -> None:
    told = done("restores", tmp_path, 100)
    assert told["trials"] > 100
    assert told["restored"] > 5
    assert told["as it was"] > 5


@pytest.mark.long
def test_100_killed_backups(tmp_path: Path) -> None:
    told = done("backups", tmp_path, 100)
    assert told["trials"] == 100
    assert told["saved"] > 100
    assert told["backups"] > 100
