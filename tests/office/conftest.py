"""A file with nothing in it."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.store.database import Database, open_file
from tests.store import work
from tests.store.conftest import MEMORY


@pytest.fixture
def quick() -> Iterator[Path]:
    """Return a folder in memory where there is one: for what is not about the disk."""
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        yield Path(folder)


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    """Return an open file with nothing in it."""
    with open_file(work.fresh(quick)) as opened:
        yield opened
