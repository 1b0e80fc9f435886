"""Every file written outside SQLite is on the disk before it has its name, and then its name is.

What a power cut needs of a program: https://www.sqlite.org/atomiccommit.html says it of SQLite's
own files, and rename(2) and fsync(2) of everybody's.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from estimator.command import main
from estimator.command.exits import Exit
from estimator.office.place import FILE_NAME
from estimator.store import restore
from estimator.store.backup import back_up
from estimator.store.database import open_file
from estimator.store.manifest import REPLACED, backups_in, folder_beside
from estimator.store.second_place import name_second_place
from tests.store import people_made_up as made_up

NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


class Asked:
    """What was flushed and what was given a name, in order."""

    def __init__(self) -> None:
        self.flushed: list[tuple[int, int, int]] = []
        self.wrong: list[str] = []
        self.named: list[str] = []
        self._folder: Path | None = None

    @staticmethod
    def _state(of: int | Path) -> tuple[int, int, int]:
        found = of.stat() if isinstance(of, Path) else os.fstat(of)
        return found.st_ino, found.st_size, found.st_mtime_ns

    def flush(self, handle: int) -> None:
        """Note that a file or folder is on the disk as it is now."""
        self.flushed.append(self._state(handle))
        if self._folder and os.fstat(handle).st_ino == self._folder.stat().st_ino:
            self._folder = None

    def name(self, source: Any, target: Any, *, is_second: bool = False) -> None:
        """Note that a file is about to be given a name."""
        self.end()
        if not is_second and self._state(Path(source)) not in self.flushed:
            self.wrong.append(f"{Path(target).name} was not on the disk before it had its name")
        self._folder = Path(target).parent
        self.named.append(Path(target).name)

    def end(self) -> None:
        """Note that the next name, or the end, has come."""
        if self._folder:
            self.wrong.append(f"the folder of {self.named[-1]} was not flushed")
        self._folder = None


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    """Sees every flush and every name, and lets them through."""
    seen = Asked()

    def before(real: Callable[..., None], see: Callable[..., None]) -> Callable[..., None]:
        def done(*given: Any, **named: Any) -> None:
            see(*given)
            real(*given, **named)

        return done

    monkeypatch.setattr(os, "fsync", before(os.fsync, seen.flush))
    for name in ("replace", "rename"):
        monkeypatch.setattr(os, name, before(getattr(os, name), seen.name))
    link = before(os.link, lambda *given: seen.name(*given, is_second=True))
    monkeypatch.setattr(os, "link", link)
    return seen


@pytest.fixture
def live(tmp_path: Path) -> Iterator[Path]:
    path = tmp_path / "data" / FILE_NAME
    path.parent.mkdir()
    path.write_bytes(made_up.fresh())
    return path


def backup(live: Path) -> set[str]:
    with open_file(live) as database:
        made = back_up(database, now=NOW)
    assert made is not None
    return {made.path.name, f"{made.path.name}.json"}


def second_place(live: Path) -> set[str]:
    second = live.parent.parent / "second"
    second.mkdir()
    with open_file(live) as database:
        name_second_place(database, second)
    names = backup(live)
    assert names <= {path.name for path in second.rglob("*")}
    return names


def put_aside(live: Path) -> set[str]:
    backup(live)
    restore.restore(live, backups_in(folder_beside(live))[0].path, now=NOW)
    aside = {path.name for path in live.parent.iterdir() if REPLACED in path.name}
    assert aside
    return {live.name, *aside}


def command(live: Path, *words: object) -> None:
    said = ["data", *map(str, words), "--data", str(live.parent)]
    assert main.run(said) == Exit.DONE


def paper(live: Path) -> set[str]:
    with open_file(live) as database:
        number = made_up.customer(database).number
    command(live, "paper", number, live.parent.parent)
    return {f"quotation-{number}.pdf"}


def person_export(live: Path) -> set[str]:
    with open_file(live) as database:
        made = made_up.customer(database)
    command(live, "export", "quillfeather", "--to", live.parent.parent / "out")
    stem = f"customer-{made.uid[:8]}"
    return {f"{stem}.txt", f"{stem}.json", f"quotation-{made.number}.pdf"}


def price_export(live: Path) -> set[str]:
    names = {"prices.csv", "prices.xlsx"}
    for name in names:
        command(live, "export-prices", live.parent.parent / name)
    return names


@pytest.mark.parametrize(
    "write", [backup, second_place, put_aside, paper, person_export, price_export]
)
def test_content_then_name_then_folder(
    asked: Asked, live: Path, write: Callable[[Path], set[str]]
) -> None:
    expected = write(live)
    asked.end()
    assert asked.wrong == []
    assert expected <= set(asked.named)
