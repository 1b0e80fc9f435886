"""A restore puts the backup there, whatever lies in its way, and loses nothing of what did."""

from __future__ import annotations

import itertools
import json
import os
import random
import shutil
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import insert

from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.backup import back_up
from estimator.store.database import Database, open_file
from estimator.store.faults import DamagedFile, FileInUse, NewerFile, NotOurFile
from estimator.store.manifest import Backup, backups_in, folder_beside, manifest_path
from estimator.store.restore import newest_good, restore
from estimator.store.tables import Drafts
from estimator.whole_file import sha256_of

NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


def fill(database: Database, word: str, count: int = 100) -> None:
    with database.writing() as connection:
        connection.execute(
            insert(Drafts),
            [
                {"key": f"{word} {number}", "document": word * 40, "changed_at": NOW}
                for number in range(count)
            ],
        )


def dump(path: Path) -> list[str]:
    raw = sqlite3.connect(f"{path.as_uri()}?mode=ro&immutable=1", uri=True)
    try:
        return list(raw.iterdump())
    finally:
        raw.close()


def opened_dump(path: Path) -> list[str]:
    """What is in the file once the program itself has opened it."""
    with open_file(path):
        pass
    return dump(path)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file with a hundred rows that were backed up and a hundred that came later."""
    path = tmp_path_factory.mktemp("made") / "work.perpend"
    with open_file(path) as database:
        fill(database, "early")
        back_up(database, now=NOW)
        fill(database, "late")
    return path


@pytest.fixture
def live(made: Path, tmp_path: Path) -> Path:
    shutil.copytree(made.parent, tmp_path, dirs_exist_ok=True)
    return tmp_path / made.name


@pytest.fixture
def backup(live: Path) -> Backup:
    return backups_in(folder_beside(live))[0]


def everything(folder: Path) -> dict[str, bytes]:
    """Every file in a folder but the lock, by name."""
    return {
        path.name: path.read_bytes()
        for path in folder.iterdir()
        if path.is_file() and path.suffix != ".lock"
    }


def only(folder: Path, files: dict[str, bytes]) -> None:
    """Have these files in a folder and no others."""
    for path in folder.iterdir():
        if path.is_file():
            path.unlink()
    for name, content in files.items():
        (folder / name).write_bytes(content)


def stale(live: Path, tmp_path: Path) -> dict[str, bytes]:
    """Journals as a killed program leaves them, that SQLite would believe."""
    image = tmp_path / "image" / live.name
    image.parent.mkdir()
    image.write_bytes(live.read_bytes())
    raw = sqlite3.connect(image, isolation_level=None)
    raw.execute("PRAGMA cache_size = 1")
    raw.execute("BEGIN IMMEDIATE")
    raw.execute("UPDATE drafts SET document = 'half done' || key")
    left = {"-journal": image.with_name(image.name + "-journal").read_bytes()}
    raw.execute("ROLLBACK")
    raw.execute("PRAGMA journal_mode = WAL")
    raw.execute("PRAGMA wal_autocheckpoint = 0")
    raw.execute("UPDATE drafts SET document = 'written later' || key")
    for ending in ("-wal", "-shm"):
        left[ending] = image.with_name(image.name + ending).read_bytes()
    raw.close()
    assert all(left.values())
    return left


COMBINATIONS = [
    chosen
    for size in range(4)
    for chosen in itertools.combinations(("-wal", "-shm", "-journal"), size)
]


@pytest.mark.parametrize("planted", COMBINATIONS, ids=lambda chosen: "".join(chosen) or "none")
def test_stale_journals_do_not_undo_a_restore(
    live: Path, backup: Backup, tmp_path: Path, planted: tuple[str, ...]
) -> None:
    left = stale(live, tmp_path)
    for ending in planted:
        live.with_name(live.name + ending).write_bytes(left[ending])
    before = everything(live.parent)
    restored = restore(live, backup.path, now=NOW)
    assert opened_dump(live) == dump(backup.path)
    kept = [path.read_bytes() for path in restored.kept]
    assert sorted(kept) == sorted(before.values())
    # Kept with names that belong together, so that SQLite finds the journal of the kept file.
    assert {path.name for path in restored.kept} == {
        f"work-replaced-20260302-083000.perpend{ending}" for ending in ("", *planted)
    }


def test_the_stale_journals_would_undo_a_plain_copy(
    live: Path, backup: Backup, tmp_path: Path
) -> None:
    left = stale(live, tmp_path)
    undone = []
    for endings in (("-wal",), ("-wal", "-shm"), ("-journal",)):
        live.write_bytes(backup.path.read_bytes())
        for ending in endings:
            live.with_name(live.name + ending).write_bytes(left[ending])
        raw = sqlite3.connect(live)
        try:
            undone.append(list(raw.iterdump()) != dump(backup.path))
            print(endings, undone)
        except sqlite3.DatabaseError:
            undone.append(True)
        raw.close()
        for ending in ("-wal", "-shm", "-journal"):
            live.with_name(live.name + ending).unlink(missing_ok=True)
    assert undone == [True] * 3


def test_what_was_there_is_backed_up_and_comes_back(live: Path, backup: Backup) -> None:
    was = dump(live)
    restored = restore(live, backup.path, now=NOW)
    assert restored.before is not None
    assert restored.before.manifest.why == "before a restore"
    assert opened_dump(live) == dump(backup.path) != was
    restore(live, restored.before.path, now=NOW)
    assert opened_dump(live) == was


WRECKS: dict[str, Any] = {
    "missing": lambda path: path.unlink(),
    "empty": lambda path: path.write_bytes(b""),
    "damaged": lambda path: path.write_bytes(path.read_bytes()[:8192] + bytes(8192)),
    "cut off": lambda path: path.write_bytes(path.read_bytes()[:5000]),
    "a letter": lambda path: path.write_text("Dear Sir", encoding="utf-8"),
    "a folder": lambda path: (path.unlink(), path.mkdir(), (path / "in").touch()),
    "a pipe": lambda path: (path.unlink(), os.mkfifo(path)),
}


def newer(path: Path) -> None:
    raw = sqlite3.connect(path)
    raw.execute("PRAGMA user_version = 999")
    raw.close()


@pytest.mark.parametrize("wreck", [*WRECKS, "newer"])
def test_a_restore_works_whatever_is_there(live: Path, backup: Backup, wreck: str) -> None:
    (newer if wreck == "newer" else WRECKS[wreck])(live)
    kept_bytes = live.read_bytes() if wreck not in {"missing", "a folder", "a pipe"} else None
    restored = restore(live, backup.path, now=NOW)
    assert opened_dump(live) == dump(backup.path)
    assert len(restored.kept) == (wreck != "missing")
    if kept_bytes is not None:
        assert restored.kept[0].read_bytes() == kept_bytes


def test_a_flipped_byte_is_refused_50_times_of_50(live: Path, backup: Backup) -> None:
    chance = random.Random(13)
    sound = backup.path.read_bytes()
    before = everything(live.parent)
    refused = 0
    for _turn in range(50):
        spoilt = bytearray(sound)
        spoilt[chance.randrange(len(spoilt))] ^= 1 << chance.randrange(8)
        backup.path.write_bytes(spoilt)
        with pytest.raises(DamagedFile, match="its hash differs"):
            restore(live, backup.path, now=NOW)
        refused += 1
    assert refused == 50
    assert everything(live.parent) == before
    assert newest_good(live) is None


def described_anew(backup: Backup, **changes: Any) -> None:
    """Change the manifest of a backup, as nobody should."""
    path = manifest_path(backup.path)
    told = json.loads(path.read_bytes()) | {"sha256": sha256_of(backup.path)} | changes
    path.write_text(json.dumps(told), encoding="utf-8")


def test_a_newer_backup_is_refused(live: Path, backup: Backup) -> None:
    newer(backup.path)
    described_anew(backup, version=999)
    with pytest.raises(NewerFile, match=f"reads up to {migrations.HEAD}"):
        restore(live, backup.path, now=NOW)
    assert newest_good(live) is None


def test_a_backup_with_a_stranger_in_it_is_refused(live: Path, backup: Backup) -> None:
    raw = sqlite3.connect(backup.path)
    raw.execute("CREATE TRIGGER t AFTER INSERT ON drafts BEGIN DELETE FROM jobs; END")
    raw.close()
    described_anew(backup)
    with pytest.raises(NotOurFile, match="trigger t"):
        restore(live, backup.path, now=NOW)


def test_a_manifest_that_tells_another_count_is_refused(live: Path, backup: Backup) -> None:
    described_anew(backup, counts={**backup.manifest.counts, "drafts": 99})
    with pytest.raises(DamagedFile, match="what its manifest says"):
        restore(live, backup.path, now=NOW)


def test_a_backup_without_its_manifest_is_refused(live: Path, backup: Backup) -> None:
    manifest_path(backup.path).unlink()
    with pytest.raises(DamagedFile, match="cannot be shown to be whole because"):
        restore(live, backup.path, now=NOW)


def test_a_file_in_use_is_left_alone(live: Path, backup: Backup) -> None:
    with open_file(live), pytest.raises(FileInUse):
        restore(live, backup.path, now=NOW)


class Failing:
    """Fails at the k-th thing asked of the disk, once or from then on."""

    def __init__(self, patch: pytest.MonkeyPatch, at: int, *, for_ever: bool) -> None:
        self.at, self.for_ever, self.count = at, for_ever, 0
        for name in ("fsync", "replace", "link", "unlink"):
            patch.setattr(os, name, self._rigged(getattr(os, name)))

    def _rigged(self, real: Any) -> Any:
        def asked(*arguments: Any, **settings: Any) -> Any:
            self.count += 1
            if self.count == self.at or (self.for_ever and self.count > self.at):
                raise OSError(28, "No space left on device")
            return real(*arguments, **settings)

        return asked


@pytest.fixture(params=["alone", "with journals"])
def found(request: pytest.FixtureRequest, live: Path, tmp_path: Path) -> Path:
    if request.param != "alone":
        for ending, left in stale(live, tmp_path).items():
            live.with_name(live.name + ending).write_bytes(left)
    return live


def tried(live: Path, backup: Backup, at: int, *, for_ever: bool) -> tuple[int, str]:
    """Restore on a failing disk; return how much was asked of it and what was said."""
    with pytest.MonkeyPatch.context() as patch:
        disk = Failing(patch, at, for_ever=for_ever)
        try:
            restore(live, backup.path, now=NOW)
        except WorldFault as fault:
            return disk.count, str(fault)
    return disk.count, ""


def test_a_fault_anywhere_puts_back_what_was_there(found: Path, backup: Backup) -> None:
    before, good = everything(found.parent), dump(backup.path)
    at, asked, undone = 0, 1, 0
    while asked >= at:
        at += 1
        asked, said = tried(found, backup, at, for_ever=False)
        if not said:
            # Forgiven on the way: a second name that could not be had, a backup not made.
            assert dump(found) == good
            only(found.parent, before)
            continue
        undone += 1
        assert "no space left" in said
        assert everything(found.parent) == before, f"fault {at}: {said}"
    assert undone >= 3


def test_a_disk_that_stays_broken_keeps_every_byte(found: Path, backup: Backup) -> None:
    before = everything(found.parent)
    at, asked = 0, 1
    while asked >= at:
        at += 1
        asked, said = tried(found, backup, at, for_ever=True)
        kept = list(everything(found.parent).values())
        for name, content in before.items():
            assert content in kept, f"fault {at}: {name} is gone; {said}"
        only(found.parent, before)
    assert at > 5
