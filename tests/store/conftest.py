"""Files to try things on: an empty one, one full of hard data, and the stored ones."""

from __future__ import annotations

import gzip
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.store.database import open_file
from tests.store.hard_data import fill

FIXTURES = Path(__file__).parent / "fixtures"
MEMORY = Path("/dev/shm") if Path("/dev/shm").is_dir() else None


def stored(name: str, to: Path) -> Path:
    """Unpack a stored file."""
    to.write_bytes(gzip.decompress((FIXTURES / f"{name}.gz").read_bytes()))
    return to


@pytest.fixture(scope="session")
def full_bytes() -> bytes:
    """Return a file of this version, full of hard data, as bytes."""
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        path = Path(folder) / "full.perpend"
        with open_file(path) as database:
            fill(database.raw)
            with database.writing():
                pass
        return path.read_bytes()


@pytest.fixture
def full(quick: Path, full_bytes: bytes) -> Path:
    """Return a file of this version, full of hard data."""
    path = quick / "full.perpend"
    path.write_bytes(full_bytes)
    return path


@pytest.fixture
def shared() -> Iterator[Path]:
    """Return a folder that a user without any rights may work in."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o777)
        yield Path(folder)


@pytest.fixture
def quick() -> Iterator[Path]:
    """Return a folder in memory where there is one: for what is not about the disk."""
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        yield Path(folder)
