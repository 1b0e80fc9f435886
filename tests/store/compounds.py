"""Blow upon blow, for a process of its own; prints what was left as JSON.

A migration is killed, then what recovers it; a recovery is killed, several times in a row; and the
next start finds the disk full. The killed ones are forks, made while no file is open.
"""

from __future__ import annotations

import json
import os
import random
import resource
import signal
import sqlite3
import sys
import time
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from estimator.notices import WorldFault
from estimator.store.backup import back_up
from estimator.store.database import Database, open_file, problems_in, version_of
from estimator.store.migrations import HEAD
from estimator.store.restore import newest_good, restore
from estimator.store.shape import strangers_in
from tests.store import kills
from tests.store.conftest import stored
from tests.store.dumps import dump, dump_at
from tests.store.kills import NOW, Told, killed, note, note_all, restored_copy

MAGIC = bytes.fromhex("d9d505f920a163d7")
"""How a journal begins that SQLite will take back. <https://www.sqlite.org/fileformat.html>, 3"""
SAVED = 800
"""Saves in the file before anything is killed."""
LONG_AGO = 1_000_000_000
"""A time no file here was written at [s since 1970]."""
IN_A_ROW = 3
"""Blows upon one migration, and full disks in a row; a recovery takes up to twice as many."""


def migrations(folder: str, trials: str, seed: str) -> Told:
    """Kill the migration of the first version's file at random moments, up to thrice in a row."""
    chance, count = random.Random(seed), Counter[str]()
    bad: list[str] = []
    image, held, span = _old_image(Path(folder))
    while count["kills"] < int(trials):
        live = restored_copy(image, lambda _live: None, {})
        for _blow in range(chance.randint(1, IN_A_ROW)):
            _kill_a_migration(live, span, chance, count)
        _check(lambda: _migrated(live, held, count), f"seed {seed}, {dict(count)}", bad)  # noqa: B023
        count["files"] += 1
    return {**count, "bad": bad}


def recoveries(folder: str, trials: str, seed: str) -> Told:
    """Kill a writer in a large change, then those who take it back, several times in a row."""
    chance, count = random.Random(seed), Counter[str]()
    bad: list[str] = []
    image = _large_image(Path(folder))
    took = _recovery_takes(image, chance)
    while count["kills"] < int(trials):
        live, saved = _torn(image, chance)
        count["files"] += 1
        count["torn files"] += is_hot(live)
        inside, blows = 0, 0
        while blows == 0 or (is_hot(live) and blows < 2 * IN_A_ROW):
            inside += _kill_a_recovery(live, took, chance, count)
            blows += 1
        count["files torn twice or more in the recovery"] += inside > 1
        _check(lambda: _all_there(live, saved), f"seed {seed}, {dict(count)}", bad)  # noqa: B023
    return {**count, "bad": bad}


def full_disks(folder: str, trials: str, seed: str) -> Told:
    """Kill a recovery, a migration or a restore; then start where files may not grow."""
    chance, count = random.Random(seed), Counter[str]()
    bad: list[str] = []
    old, held, span = _old_image(Path(folder))
    large = _large_image(Path(folder))
    took = _recovery_takes(large, chance)
    (Path(folder) / "restores").mkdir()
    replaced = list(kills.images(Path(folder) / "restores"))
    for turn in range(int(trials)):
        kind = ("recovery", "migration", "restore")[turn % 3]
        where, told = f"seed {seed}, turn {turn}", {"restored": 0, "as it was": 0, "bad": bad}
        check: Callable[[], None]
        if kind == "recovery":
            live, saved = _torn(large, chance)
            if turn % 2:
                _kill_a_recovery(live, took, chance, count)
            check = lambda: _all_there(live, saved)  # noqa: B023, E731
        elif kind == "migration":
            live = restored_copy(old, lambda _live: None, {})
            _kill_a_migration(live, span, chance, count)
            check = lambda: _migrated(live, held, count)  # noqa: B023, E731
        else:
            live = restored_copy(
                chance.choice(replaced), lambda live: _blow(live, chance, count), {}
            )
            check = lambda: kills._look(live, told, where)  # noqa: B023, E731
        count[kind] += 1
        count["torn files"] += is_hot(live)
        for limit in _limits(live, chance):
            _start_limited(live, limit, count, bad, f"{where}, {kind}, {limit} bytes")
        _check(check, f"{where}, {kind}", bad)
    return {**count, "bad": bad}


def is_hot(live: Path) -> bool:
    """Say whether a file is torn: its journal holds pages that have to be put back."""
    journal = live.with_name(live.name + "-journal")
    head = journal.read_bytes()[:12] if journal.exists() else b""
    return head[:8] == MAGIC and any(head[8:])


def _check(work: Callable[[], None], where: str, bad: list[str]) -> None:
    """Look at what is left; what is wrong is told to the test, which expects nothing."""
    try:
        work()
    except Exception as fault:  # noqa: BLE001 - told to the test
        bad.append(f"{where}: {type(fault).__name__} {fault}"[:400])


def _old_image(folder: Path) -> tuple[Path, object, tuple[float, float]]:
    """The first version's file, what it holds, and when its migration begins and ends [s]."""
    image = folder / "old" / "work.perpend"
    image.parent.mkdir()
    stored("v0001", image)
    held = dump_at(image)
    live = restored_copy(image, _migrate, {})
    # Once to load everything, which forks then need not do; once to time a fork.
    live = restored_copy(image, lambda _live: None, {})
    began = time.time()
    assert killed(lambda: _migrate(live), after=-1)
    return image, held, (_begun(live).stat().st_mtime - began, time.time() - began)


def _begun(live: Path) -> Path:
    return live.with_name("begun")


def _before(database: Database) -> None:
    """Back up as the program does, leave a sign, and have every changed page in the file soon."""
    back_up(database, now=NOW, forced=True, why="before a new version of the file")
    database.raw.execute("PRAGMA cache_size = 1")
    _begun(database.path).touch()


def _migrate(live: Path) -> None:
    open_file(live, before_migration=_before).close()


def _kill_a_migration(
    live: Path, span: tuple[float, float], chance: random.Random, count: Counter[str]
) -> None:
    """Kill one migration: of every two, one after it was backed up."""
    _begun(live).unlink(missing_ok=True)
    begins, ends = span
    after = chance.uniform(chance.choice((0, begins)), ends)
    if killed(lambda: _migrate(live), after=after):
        count["too late"] += 1
        return
    count["kills"] += 1
    with live.open("rb") as file:
        version = int.from_bytes(file.read(64)[60:])
    torn = is_hot(live)
    count["in the migration"] += _begun(live).exists() and (torn or version < HEAD)
    count["in the migration, file torn"] += torn


def _migrated(live: Path, held: object, count: Counter[str]) -> None:
    """Start as a person would: it opens, or a restore is offered, and everything is there."""
    try:
        _migrate(live)
    except WorldFault as fault:
        count["restores offered"] += 1
        assert "data restore" in str(fault), str(fault)
        chosen = newest_good(live)
        assert chosen is not None, "no good backup is left"
        restore(live, chosen.path, now=NOW)
        _migrate(live)
    with open_file(live) as database:
        _sound(database)
        assert dump(database.raw) == held, "not what was held"


def _sound(database: Database) -> None:
    assert version_of(database.raw) == HEAD
    assert strangers_in(database.raw, HEAD) == []
    assert problems_in(database.raw) == []
    assert database.raw.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def _large_image(folder: Path) -> Path:
    image = folder / "large" / "work.perpend"
    image.parent.mkdir()
    with open_file(image) as database:
        note_all(database.raw, range(SAVED))
    return image


def _torn(image: Path, chance: random.Random) -> tuple[Path, int]:
    """Kill a writer in a large change; return the file and how many saves were acknowledged."""
    live = restored_copy(image, lambda _live: None, {})
    saved, begun = SAVED + chance.randint(1, 4), live.with_name("changing")

    def write() -> None:
        with open_file(live) as database:
            for number in range(SAVED, saved):
                note(database.raw, number)
            database.raw.execute("PRAGMA cache_size = 1")
            database.raw.execute("BEGIN IMMEDIATE")
            begun.touch()
            database.raw.execute("UPDATE drafts SET key = 'torn ' || key, document = ''")
            # Never committed: it goes on until the blow.
            for number in range(100_000):
                note(database.raw, number)

    assert not killed(write, after=chance.uniform(0.01, 0.09), once=begun)
    return live, saved


def _recovery_takes(image: Path, chance: random.Random) -> float:
    """Return how long a fork takes to open a torn file and put its pages back [s]."""
    live, tries = _torn(image, chance)[0], 1
    while not is_hot(live):
        live, tries = _torn(image, chance)[0], tries + 1
        assert tries < 50, "no blow tore the file"

    def put_back() -> None:
        with closing(sqlite3.connect(live)) as raw:
            raw.execute("PRAGMA journal_mode = DELETE").fetchall()

    began = time.monotonic()
    killed(put_back, after=-1)
    return time.monotonic() - began


def _kill_a_recovery(live: Path, took: float, chance: random.Random, count: Counter[str]) -> bool:
    """Kill one start; return whether it was putting pages back, told by the time on the file."""
    was_torn = is_hot(live)
    os.utime(live, (LONG_AGO, LONG_AGO))
    if chance.random() < 0.3:
        in_time = not killed(lambda: _open(live), after=chance.uniform(0, took))
    else:
        in_time = _killed_writing(live, chance.uniform(0, took / 8))
    count["kills" if in_time else "too late"] += 1
    is_inside = in_time and was_torn and is_hot(live) and live.stat().st_mtime != LONG_AGO
    count["in the recovery"] += is_inside
    return is_inside


def _killed_writing(live: Path, after: float) -> bool:
    """Kill a start a while after it first writes to the file [s]; return whether it was in time."""
    child = os.fork()
    if not child:
        try:
            _open(live)
        finally:
            os._exit(0)
    while live.stat().st_mtime == LONG_AGO:
        # Watched without a pause: putting the pages back takes but milliseconds.
        if os.waitpid(child, os.WNOHANG)[0]:
            return False
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0


def _open(live: Path) -> None:
    open_file(live).close()


def _all_there(live: Path, saved: int) -> None:
    """Every acknowledged save is there as it was saved, and nothing of the torn change."""
    with open_file(live) as database:
        _sound(database)
        found = database.raw.execute("SELECT key, document FROM drafts ORDER BY rowid").fetchall()
    assert [key for key, _ in found] == [f"{number:05}" for number in range(saved)]
    assert {document for _, document in found} == {"x" * 3000}


def _blow(live: Path, chance: random.Random, count: Counter[str]) -> None:
    """Kill a restore before something it asks of the disk."""
    chosen = newest_good(live)
    assert chosen is not None

    def again() -> None:
        restore(live, chosen.path, now=NOW)

    done = killed(kills.dying(again, chance.randint(1, 25)), after=-1)
    count["too late" if done else "kills"] += 1
    count["in the restore"] += not done


def _limits(live: Path, chance: random.Random) -> list[int]:
    """How long files may grow [bytes], from nothing up to all but a page."""
    size = live.stat().st_size
    return chance.sample((0, 512, 1024, 4096, 9000, size // 2, size - 4096, size), IN_A_ROW)


def _start_limited(live: Path, limit: int, count: Counter[str], bad: list[str], where: str) -> None:
    """Start in a fork where no file may grow past a length: it opens or says one sentence."""
    out, into = os.pipe()

    def start() -> None:
        os.close(out)
        hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
        try:
            _migrate(live)
            said = "opened"
        except WorldFault as fault:
            said = f"{type(fault).__name__}: {fault}"
        except BaseException as fault:  # noqa: BLE001 - told to the test
            said = f"FAILED {type(fault).__name__} {fault}"
        os.write(into, said.encode())

    killed(start, after=-1)
    os.close(into)
    with os.fdopen(out, encoding="utf-8") as told:
        said = told.read()
    kind = said.split(":")[0]
    count["limited starts"] += 1
    count[f"limited: {kind[:30]}"] += 1
    # A full disk is no damage: a person sent to restore would lose what was saved since.
    if kind not in {"opened", "WorldFault"} or "\n" in said or "Error" in said:
        bad.append(f"{where}: {said[:300]}")


WORKS = {"migrations": migrations, "recoveries": recoveries, "full_disks": full_disks}


def done(folder: Path, trials: str, seed: str, *names: str) -> dict[str, Told]:
    """Do the named work, each in a folder of its own."""
    told = {}
    for name in names:
        (folder / name).mkdir()
        told[name] = WORKS[name](str(folder / name), trials, seed)
    return told


if __name__ == "__main__":
    print(json.dumps(done(Path(sys.argv[1]), *sys.argv[2:])))
