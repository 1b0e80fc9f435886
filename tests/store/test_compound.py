"""Failure upon failure: a start after a crash that is killed too, or finds the disk full.

Five blows of each kind in every run; 100 with ``--long``.
"""

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
FEW, MANY = 5, 100
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs forks")


def done(folder: Path, trials: int, *works: str) -> Any:
    """Do the work in a process of its own; nothing may be lost, whatever the seed."""
    seed = random.randrange(10**6)
    child = subprocess.run(
        [sys.executable, "-m", "tests.store.compounds", folder, str(trials), str(seed), *works],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    assert child.returncode == 0, f"seed {seed}: {child.stderr[-2000:]}"
    told = json.loads(child.stdout)
    for work, one in told.items():
        print(work, f"seed {seed}", one)
        assert not one["bad"], f"seed {seed}"
        # The system loses nothing when a program is killed: no start may have needed a backup.
        assert "restores offered" not in one, f"seed {seed}"
    return told


def test_five_blows_and_five_full_disks_lose_nothing(quick: Path) -> None:
    # In one process, because loading everything takes as long as the work.
    told = done(quick, FEW, "migrations", "recoveries", "full_disks")
    assert told["migrations"]["kills"] >= FEW
    assert told["recoveries"]["kills"] >= FEW
    assert told["full_disks"]["limited starts"] == 3 * FEW


@pytest.mark.long
def test_100_killed_migrations(tmp_path: Path) -> None:
    told = done(tmp_path, MANY, "migrations")["migrations"]
    assert told["kills"] >= MANY
    # Blows that all fell beside the migration would have tried nothing.
    assert told["in the migration"] > MANY / 5
    assert told["in the migration, file torn"] > 0


@pytest.mark.long
def test_100_killed_recoveries(tmp_path: Path) -> None:
    told = done(tmp_path, MANY, "recoveries")["recoveries"]
    assert told["kills"] >= MANY
    assert told["torn files"] > MANY / 5
    assert told["in the recovery"] > MANY / 10
    assert told["files torn twice or more in the recovery"] > 0


@pytest.mark.long
def test_100_starts_each_on_a_full_disk_after_a_recovery_a_migration_and_a_restore(
    tmp_path: Path,
) -> None:
    told = done(tmp_path, 3 * MANY, "full_disks")["full_disks"]
    assert told["limited starts"] == 9 * MANY
    assert told["torn files"] > MANY / 2
    assert told["limited: WorldFault"] > MANY
