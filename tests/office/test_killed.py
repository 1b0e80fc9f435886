"""A program killed while it notes deeds: each is wholly there with its paper, or not at all."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.office.kills import STEPS

ROOT = Path(__file__).parents[2]
FEW, MANY = 20, 1000
"""Kills at random in every run, and in a long one."""


def run(work: str, *given: object) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "tests.office.kills", work, *map(str, given)],
        cwd=ROOT,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def test_killed_at_every_state_nothing_is_there_by_half(quick: Path) -> None:
    told = run("every_state", quick, 4)
    assert told["bad"] == []
    assert told["kills"] > 3 * len(STEPS)


@pytest.mark.long
def test_killed_before_everything_asked_of_the_file_nothing_is_there_by_half(quick: Path) -> None:
    told = run("every_state", quick, 1)
    assert told["bad"] == []
    # Every step asks several things of the file; with less, nothing was tried.
    assert told["kills"] > 12 * len(STEPS)
    print(f"{told['kills']} kills in {len(STEPS)} steps, nothing by half")


def test_20_kills_at_random_lose_no_deed_that_was_told(quick: Path) -> None:
    told = run("at_random", quick, FEW, 1)
    assert told["bad"] == []
    assert told["saved"] >= FEW


@pytest.mark.long
def test_1000_kills_at_random_lose_no_deed_that_was_told(tmp_path: Path) -> None:
    saved = journals = 0
    for start in range(0, MANY, 50):
        folder = tmp_path / str(start)
        folder.mkdir()
        told = run("at_random", folder, 50, start)
        assert told["bad"] == []
        saved += told["saved"]
        journals += told["journals"]
    print(f"{MANY} kills, {saved} deeds told, {journals} in the middle of a change, 0 lost")
    # A blow that never fell in the middle of a change would have tried nothing.
    assert journals > MANY / 50
