"""A journey in a process of its own, ended as by a power cut, and what it leaves in the file."""

from __future__ import annotations

import io
import json
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pypdf

from estimator.office.place import file_in
from estimator.store import kept_papers
from estimator.store.database import open_file
from estimator.store.kept_papers import PaperKind

ROOT = Path(__file__).resolve().parents[2]


def killed(journey: str, folder: Path, *about: str, longest_s: float) -> dict[str, Any]:
    """Run a journey until it kills itself, and return what it told.

    Args:
        journey: The module beside this one that is run.
        folder: Where its file lies.
        about: What else it is told.
        longest_s: After this it has hung. [s]
    """
    done = subprocess.run(
        [sys.executable, "-m", f"tests.journeys.{journey}", str(folder), *about],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=longest_s,
        check=False,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr[-3000:]
    assert not done.stderr, done.stderr[-3000:]
    told: dict[str, Any] = json.loads(done.stdout)
    return told


def papers_kept(folder: Path, job: str) -> dict[PaperKind, list[tuple[str, str]]]:
    """Return the number and the words of every paper that was kept of a job, by kind."""
    found: dict[PaperKind, list[tuple[str, str]]] = {}
    with open_file(file_in(folder)) as database:
        for one in kept_papers.list_papers(database, job=job):
            pages = pypdf.PdfReader(io.BytesIO(kept_papers.pdf_of(database, one.number))).pages
            words = " ".join(" ".join(page.extract_text().split()) for page in pages)
            found.setdefault(one.kind, []).append((one.number, words))
    return found
