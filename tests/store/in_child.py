"""Run a piece of work in a process of its own: what is killed, limited or without rights."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
NOBODY = 65534


def start(work: str, *args: object, env: dict[str, str] | None = None) -> subprocess.Popen[str]:
    """Start a function of ``children`` in a new process."""
    code = f"from tests.store import children; children.run({work!r})"
    return subprocess.Popen(
        [sys.executable, "-W", "error", "-c", code, *map(str, args)],
        cwd=ROOT,
        env={**os.environ, **(env or {}), "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def done(work: str, *args: object, env: dict[str, str] | None = None, within: float = 60) -> Any:
    """Run a function of ``children`` to its end, and return what it told."""
    child = start(work, *args, env=env)
    out, err = child.communicate(timeout=within)
    assert child.returncode == 0, f"{work} ended with {child.returncode}: {err[-2000:]}"
    return json.loads(out)
