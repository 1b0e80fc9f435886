"""Files with a price book in them, made once and copied, as making one takes longer than a test."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from estimator.store import price_books
from estimator.store.database import Database, open_file

NAME = "work.perpend"


@contextmanager
def opened(folder: Path, *, is_priced: bool = True) -> Iterator[Database]:
    """A fresh file, with the shipped price book in it or with none."""
    path = folder / NAME
    path.write_bytes(_written(is_priced=is_priced))
    with open_file(path) as database:
        yield database


@cache
def _written(*, is_priced: bool) -> bytes:
    with TemporaryDirectory() as folder:
        path = Path(folder) / NAME
        with open_file(path) as database:
            if is_priced:
                price_books.installed(database)
        return path.read_bytes()
