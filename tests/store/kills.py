"""Killing a backup or a restore on its way, for a process of its own; prints what was left as JSON.

The killed ones are forks, made while no file is open.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import signal
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from estimator.store.backup import back_up, looked_through
from estimator.store.database import open_file
from estimator.store.manifest import backups_in, folder_beside, is_good
from estimator.store.restore import newest_good, restore

NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)
Told = dict[str, Any]


def run(work: str, *args: str) -> None:
    """Do the named work and print what it told."""
    print(json.dumps(globals()[work](*args)))


def notes(path: Path) -> list[str]:
    """What is saved in a file, by whatever of it lies there."""
    raw = sqlite3.connect(path)
    try:
        return [row[0] for row in raw.execute("SELECT key FROM drafts ORDER BY rowid")]
    finally:
        raw.close()


def note(raw: sqlite3.Connection, number: int) -> None:
    raw.execute("INSERT INTO drafts VALUES (?, ?, '')", (f"{number:05}", "x" * 3000))


def note_all(raw: sqlite3.Connection, numbers: range) -> None:
    raw.execute("BEGIN IMMEDIATE")
    for number in numbers:
        note(raw, number)
    raw.execute("COMMIT")


def killed(work: Callable[[], None], *, after: float, once: Path | None = None) -> bool:
    """Fork, do the work, and kill it after a while [s]; return whether it was done by then.

    Where a file is named, the while begins when it is there.
    """
    child = os.fork()
    if not child:
        try:
            work()
        finally:
            os._exit(0)
    if after >= 0:
        while once is not None and not once.exists():
            time.sleep(0.002)
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def dying(work: Callable[[], None], at: int) -> Callable[[], None]:
    """Return the work, killing itself just before the k-th thing it asks of the disk."""

    def with_death() -> None:
        asked = 0
        for name in ("fsync", "replace", "link", "unlink", "open"):
            real = getattr(os, name)

            def counted(*args: Any, _real: Any = real, **settings: Any) -> Any:
                nonlocal asked
                asked += 1
                if asked == at:
                    os.kill(os.getpid(), signal.SIGKILL)
                return _real(*args, **settings)

            setattr(os, name, counted)
        work()

    return with_death


def images(folder: Path) -> Iterator[Path]:
    """Two folders with a backup of the first half: the second alone, and with a hot journal."""
    for kind in ("alone", "hot"):
        live = folder / kind / "work.perpend"
        live.parent.mkdir()
        with open_file(live) as database:
            note_all(database.raw, range(30))
            back_up(database, now=NOW)
            note_all(database.raw, range(30, 60))
            if kind == "hot":
                # As a killed change leaves it: half of it in the file, the way back in the journal.
                database.raw.execute("PRAGMA cache_size = 1")
                database.raw.execute("BEGIN IMMEDIATE")
                database.raw.execute("UPDATE drafts SET key = 'torn ' || key, document = ''")
                shutil.copytree(live.parent, folder / "copied")
                database.raw.execute("ROLLBACK")
        if kind == "hot":
            shutil.rmtree(live.parent)
            (folder / "copied").rename(live.parent)
            assert live.with_name("work.perpend-journal").exists()
        yield live


def restores(folder: str, trials: str, seed: str) -> Told:
    """Kill restores at random moments, and before each thing they ask of the disk in turn."""
    chance = random.Random(seed)
    told: Told = {"trials": 0, "restored": 0, "as it was": 0, "bad": []}
    for image in list(images(Path(folder))):
        began = time.monotonic()
        restored_copy(image, lambda live: restore(live, newest_good(live).path, now=NOW), told)
        took = time.monotonic() - began
        for _turn in range(int(trials) // 2):
            after = chance.uniform(0, took)
            _one_restore(image, told, after=after, at=0)
        at, done = 0, False
        while not done and int(trials) > 10:
            at += 1
            done = _one_restore(image, told, after=-1, at=at)
        told["asked"] = at
    return told


def restored_copy(image: Path, work: Callable[[Path], Any], told: Told) -> Path:
    """Do something to a fresh copy of an image."""
    place = image.parent.with_name("trial")
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(image.parent, place)
    work(place / image.name)
    return place / image.name


def _one_restore(image: Path, told: Told, *, after: float, at: int) -> bool:
    """Kill one restore and look at what it left."""
    ended = []

    def work(live: Path) -> None:
        chosen = newest_good(live)
        assert chosen is not None

        def again() -> None:
            restore(live, chosen.path, now=NOW)

        ended.append(killed(dying(again, at), after=after))

    live = restored_copy(image, work, told)
    told["trials"] += 1
    where = f"{image.parent.name}, {f'{after:.4f} s' if after >= 0 else f'thing {at}'}"
    try:
        _look(live, told, where)
    except Exception as fault:  # noqa: BLE001 - told to the test, which expects none
        told["bad"].append(f"{where}: {type(fault).__name__} {fault}")
    return bool(ended[0])


def _look(live: Path, told: Told, where: str) -> None:
    """Have the program open what was left: the old state or the restored one, and none lost."""
    old, new = [f"{number:05}" for number in range(60)], [f"{number:05}" for number in range(30)]
    with open_file(live):
        pass
    found = notes(live)
    if found == old:
        told["as it was"] += 1
    elif found == new:
        told["restored"] += 1
        others = list(live.parent.glob("work-replaced-*.perpend"))
        others += [one.path for one in backups_in(folder_beside(live))]
        if not any(notes(path) == old for path in others):
            told["bad"].append(f"{where}: what was replaced is nowhere")
    else:
        told["bad"].append(f"{where}: {len(found)} notes, {found[:2]}")
    chosen = newest_good(live)
    if chosen is None:
        told["bad"].append(f"{where}: no good backup is left")
        return
    restore(live, chosen.path, now=NOW)
    with open_file(live) as database:
        back_up(database, now=NOW)
    left = [path.name for path in live.parent.rglob("*.aside")]
    if left:
        told["bad"].append(f"{where}: left lying {left}")


def backups(folder: str, trials: str, seed: str) -> Told:
    """Kill a program that saves and backs up without a pause."""
    chance = random.Random(seed)
    told: Told = {"trials": 0, "saved": 0, "backups": 0, "bad": []}
    image = Path(folder) / "work.perpend"
    open_file(image).close()
    # As long as six rounds take on this machine now.
    took = 6 * _timed(image)
    for turn in range(int(trials)):
        live = Path(folder) / f"{turn}" / "work.perpend"
        live.parent.mkdir()
        shutil.copy(image, live)
        said = live.with_name("said")
        after = chance.uniform(0, took)
        killed(lambda: _save_and_back_up(live, said), after=after, once=said)  # noqa: B023
        told["trials"] += 1
        saved = int(said.read_text(encoding="utf-8") or 0) if said.exists() else 0
        told["saved"] += saved
        told["bad"] += [f"seed {seed}, turn {turn}: {fault}" for fault in _left(live, saved, told)]
    return told


def _timed(live: Path) -> float:
    """Return how long one save and one backup take [s], and leave the file as it was."""
    before = live.read_bytes()
    with open_file(live) as database:
        began = time.monotonic()
        note(database.raw, 0)
        back_up(database, now=NOW)
        took = time.monotonic() - began
    live.write_bytes(before)
    return took


def _save_and_back_up(live: Path, said: Path) -> None:
    with open_file(live) as database, said.open("w", encoding="utf-8") as out:
        for number in range(1, 100_000):
            note(database.raw, number)
            # As wide as ever, so that a half-written number is never a smaller one.
            out.seek(0)
            out.write(f"{number:08}")
            out.flush()
            back_up(database, now=NOW, forced=True)


def _left(live: Path, saved: int, told: Told) -> Iterator[str]:
    """Look at what a killed program left: every save, and only backups that are whole."""
    with open_file(live) as database:
        found = notes(live)
        if len(found) < saved or found != [f"{n:05}" for n in range(1, len(found) + 1)]:
            yield f"{saved} saves were acknowledged and {len(found)} are there"
        folder = folder_beside(live)
        there = [path for path in folder.glob("*.perpend") if path.is_file()]
        listed = backups_in(folder)
        told["backups"] += len(listed)
        if len(there) != len(listed):
            yield f"{len(there)} backups, {len(listed)} with a manifest"
        for one in listed:
            count = looked_through(one.path)[1]["drafts"]
            if not is_good(one) or notes(one.path) != found[:count]:
                yield f"{one.path.name} is no state that was saved"
        back_up(database, now=NOW, forced=True)
    if list(folder.glob(".*")):
        yield "left lying"


if __name__ == "__main__":
    run(*sys.argv[1:])
