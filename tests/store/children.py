"""What the tests of the store do in a process of their own; each prints what it saw as JSON."""

from __future__ import annotations

import hashlib
import json
import locale
import os
import random
import resource
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from sqlalchemy import insert, select

from estimator.notices import WorldFault
from estimator.store.database import Database, open_file, open_or_look
from estimator.store.faults import DamagedFile, FileInUse, NewerFile, NotOurFile
from estimator.store.tables import Base, Facts
from tests.store.dumps import dump
from tests.store.in_child import NOBODY


def run(work: str) -> None:
    """Do the named work with the arguments given to the program."""
    print(json.dumps(globals()[work](*sys.argv[1:])))


def save(database: Database, name: str, value: str) -> None:
    """Save one thing."""
    with database.writing() as connection:
        connection.execute(insert(Facts).values(name=name, value=value))


def saved(database: Database) -> list[str]:
    """Return the names of what is saved."""
    with database.reading() as connection:
        return list(connection.scalars(select(Facts.name).order_by(Facts.name)))


def _lose_rights() -> None:
    """Go on as a user who may do nothing."""
    if os.geteuid() == 0:
        os.setegid(NOBODY)
        os.seteuid(NOBODY)


def attempt(work: Callable[[], Any]) -> str:
    """Do something and return the sentence it fails with, or nothing."""
    try:
        work()
    except WorldFault as fault:
        return str(fault)
    return ""


def starts_at_once(path: str, count: str) -> dict[str, Any]:
    """Start many at one moment, as forks of one program that is loaded already."""
    go_out, go_in = os.pipe()
    told_out, told_in = os.pipe()
    children = []
    for _one in range(int(count)):
        child = os.fork()
        if not child:
            os.close(go_in)
            os.read(go_out, 1)
            os.write(told_in, (_start(Path(path)) + "\n").encode())
            os.close(told_in)
            os.read(told_out, 0)
            signal.pause()
        children.append(child)
    os.close(told_in)
    began = time.monotonic()
    os.close(go_in)
    with os.fdopen(told_out, encoding="utf-8") as told:
        said = [told.readline().rstrip("\n") for _child in children]
    took = time.monotonic() - began
    for child in children:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    began = time.monotonic()
    with open_file(Path(path)) as database:
        after = saved(database)
    return {"said": said, "took": took, "after": after, "again": time.monotonic() - began}


def _start(path: Path) -> str:
    """Open and save, and keep the file open; or say who has it."""
    try:
        database = open_file(path)
    except FileInUse as fault:
        return str(fault)
    except Exception as fault:  # noqa: BLE001 - told to the test, which expects none
        return f"FAILED {type(fault).__name__} {fault}"
    save(database, f"pid {os.getpid()}", "")
    # Kept from being closed, so that only the end of the program lets it go.
    _start.kept = database  # type: ignore[attr-defined]
    return "writer"


def full_disk(path: str) -> list[dict[str, Any]]:
    """Save under twenty limits on how long a file may grow, and once more without any."""
    told = []
    size = Path(path).stat().st_size
    # From below a page of journal up to room for all but the last page.
    for step in range(20):
        value, name = "x" * 60_000, f"try {step:02}"
        with open_file(Path(path)) as database:
            before = saved(database)
            hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
            limit = step * 1024 if step < 10 else size + (step - 10) * 5000
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
            said = attempt(lambda: save(database, name, value))  # noqa: B023
            resource.setrlimit(resource.RLIMIT_FSIZE, (hard, hard))
            told.append(
                {
                    "said": said,
                    "kept": saved(database) == before,
                    "again": said and attempt(lambda: save(database, name, value)),  # noqa: B023
                    "saved": saved(database) == [*before, name],
                }
            )
        size = Path(path).stat().st_size
    return told


def no_pages_left(path: str) -> list[str]:
    """Save where the database may have no more pages: SQLite's own word for a full disk."""
    told = []
    with open_file(Path(path)) as database:
        pages = int(database.raw.execute("PRAGMA page_count").fetchone()[0])
        free = int(database.raw.execute("PRAGMA freelist_count").fetchone()[0])
        assert not free
        for more in range(20):
            database.raw.execute(f"PRAGMA max_page_count = {pages + more}")
            told.append(attempt(lambda: save(database, "big", "x" * 100_000)))
            assert saved(database) == [] or not told[-1]
    return told


def without_rights(folder: str) -> dict[str, Any]:
    """Use files that may not be written, as a user who has no rights."""
    here = Path(folder)
    _lose_rights()
    told = {}
    for case in ("folder", "file", "both"):
        path = here / case / "work.perpend"
        refused = attempt(lambda: open_file(path))  # noqa: B023
        with open_or_look(path) as database:
            told[case] = {
                "refused": refused,
                "why": database.why_read_only,
                "read": saved(database),
                "write": attempt(lambda: save(database, "x", "")),
            }
    path = here / "later" / "work.perpend"
    with open_file(path) as database:
        save(database, "before", "")
        path.parent.chmod(0o555)
        said = attempt(lambda: save(database, "lost", ""))
        told["later"] = {"write": said, "read": saved(database)}
        path.parent.chmod(0o755)
        told["later"]["again"] = attempt(lambda: save(database, "again", ""))
    return told


def locks_without_rights(folder: str) -> dict[str, str]:
    """Start beside lock files that may not be read: one's own, and another user's."""
    here = Path(folder)
    _lose_rights()
    own = here / "own" / "work.perpend"
    lock = own.with_name(own.name + ".lock")
    lock.touch()
    lock.chmod(0)
    other = here / "other" / "work.perpend"
    return {
        "own": attempt(lambda: open_file(own).close()),
        "other": attempt(lambda: open_file(other).close()),
    }


def rigged(path: str, work: str) -> dict[str, Any]:
    """Fail at the k-th thing asked of the disk, for every k, and look at what is left."""
    from tests.store.rigged_disk import RiggedDisk  # noqa: PLC0415 - changes the whole process

    try:
        disk = RiggedDisk()
    except (RuntimeError, AttributeError, OSError) as error:
        return {"skipped": str(error)}
    content = Path(path).read_bytes() if Path(path).exists() else None
    faults, said, bad, kinds = 0, set(), [], set()
    once, ever = (False, sqlite3.SQLITE_IOERR_WRITE), (True, sqlite3.SQLITE_FULL)
    ways = (once, ever) if work == "save" else (once, ever, (True, once[1]), (False, ever[1]))
    for for_ever, code in ways:
        k, counted = 0, 0
        while counted >= k:
            k += 1
            for leftover in Path(path).parent.iterdir():
                leftover.unlink()
            if content is not None:
                Path(path).write_bytes(content)
            sentence, counted = _rigged_once(disk, Path(path), work, (k, for_ever, code))
            faults += counted >= k
            kinds |= disk.asked
            said.add(sentence)
            found = _left(Path(path), work, acknowledged=not sentence)
            bad += [f"{k} {for_ever} {code}: {found}"] if found else []
    return {"faults": faults, "said": sorted(said), "bad": bad, "kinds": sorted(kinds)}


def _rigged_once(disk: Any, path: Path, work: str, how: tuple[int, bool, int]) -> tuple[str, int]:
    """Do the work on a disk that fails; return what is said, and how much was asked of it."""
    k, for_ever, code = how
    database = None
    if work.startswith("save"):
        database = open_file(path)
        save(database, "first", "")
    disk.rig(at=k, for_ever=for_ever, code=code)
    try:
        if database is None:
            said = attempt(lambda: open_file(path).close())
        else:
            said = attempt(lambda: save(database, "second", "x" * 20_000))
    finally:
        counted = disk.count
        disk.rig(at=0, for_ever=False, code=0)
        if database is not None:
            database.close()
    return said, counted


def _left(path: Path, work: str, *, acknowledged: bool) -> str:
    """Say what is wrong with the file that is left, or nothing."""
    with open_file(path) as database:
        names = saved(database)
    if not work.startswith("save"):
        return ""
    if names not in (["first"], ["first", "second"]):
        return f"holds {names}"
    return "lost what was acknowledged" if acknowledged and len(names) < 2 else ""


def libraries(path: str) -> int:
    """Open a file and count the copies of SQLite the program has loaded; none when built in."""
    open_file(Path(path)).close()
    with Path("/proc/self/maps").open(encoding="utf-8") as maps:
        return len({line.split()[-1] for line in maps if "libsqlite3" in line})


def may_write_past_us(path: str) -> str:
    """Try to write as another program would, which knows nothing of our lock."""
    raw = sqlite3.connect(path, timeout=0, isolation_level=None)
    try:
        raw.execute("BEGIN IMMEDIATE")
    except sqlite3.OperationalError:
        return "locked"
    raw.close()
    return "let in"


LOCALES = ("C", "en_GB.UTF-8", "de_DE.UTF-8", "tr_TR.UTF-8")


def dumps_by_locale(path: str) -> dict[str, str]:
    """Open a file and dump it under each locale the machine has."""
    dumps = {}
    for name in LOCALES:
        with suppress(locale.Error):
            locale.setlocale(locale.LC_ALL, name)
            with open_file(Path(path)) as database:
                held = json.dumps(dump(database.raw))
            dumps[name] = hashlib.sha256(held.encode()).hexdigest()
    return dumps


def open_without_rights(path: str) -> str:
    """Open a file as a user without rights."""
    _lose_rights()
    return attempt(lambda: open_file(Path(path)))


def mutated(path: str, count: str, seed: str) -> dict[str, Any]:
    """Open files of which bytes, pages or words of the schema were changed, and use them."""
    good, chance = Path(path).read_bytes(), random.Random(int(seed))
    verdicts: dict[str, int] = {}
    unforeseen, slowest = [], 0.0
    for number in range(int(count)):
        for leftover in Path(path).parent.iterdir():
            leftover.unlink()
        Path(path).write_bytes(_mutant(good, chance))
        began = time.monotonic()
        try:
            verdict = _used(Path(path))
        except Exception as error:  # noqa: BLE001 - told to the test, which expects none
            verdict = "unforeseen"
            unforeseen.append(f"seed {seed} file {number}: {type(error).__name__} {error}"[:300])
        slowest = max(slowest, time.monotonic() - began)
        verdicts[verdict] = verdicts.get(verdict, 0) + 1
    return {"verdicts": verdicts, "unforeseen": unforeseen, "slowest": slowest}


def _mutant(good: bytes, chance: random.Random) -> bytes:
    """Change a file in one of five ways."""
    torn = bytearray(good)
    way = chance.randrange(5)
    start, pages = (0, 100) if way == 0 else (0, len(good)), len(good) // 4096
    if way in {0, 1}:
        # Single bytes: of the header alone, or anywhere.
        for _change in range(chance.choice((1, 4, 40))):
            torn[chance.randrange(*start)] = chance.randrange(256)
    elif way == 2:
        # The first page, which holds the schema's own tree.
        for _change in range(chance.choice((1, 10))):
            torn[chance.randrange(100, 4096)] = chance.randrange(256)
    elif way == 3:
        one, other = chance.randrange(pages) * 4096, chance.randrange(pages) * 4096
        torn[one : one + 4096] = good[other : other + 4096]
    else:
        at = chance.randrange(len(good) - 512)
        torn[at : at + 512] = chance.randbytes(512)
    return bytes(torn)


def _used(path: Path) -> str:
    """Open a file, read all of it and save one thing."""
    try:
        with open_file(path) as database:
            _read_all(database)
            save(database, "one more", "thing")
    except WorldFault as fault:
        return "refused" if isinstance(fault, (DamagedFile, NotOurFile, NewerFile)) else "told"
    return "used"


def _read_all(database: Database) -> None:
    """Read every row of every table."""
    with database.reading() as connection:
        for table in Base.metadata.sorted_tables:
            connection.execute(select(table)).all()


def little_memory(path: str) -> list[dict[str, Any]]:
    """Open, read and save with ever less memory left to the program, in forks of this one."""
    open_file(Path(path)).close()
    return [_with_memory(Path(path), megabytes) for megabytes in (0, 1, 2, 3, 4, 6, 8, 12, 24, 64)]


def _with_memory(path: Path, megabytes: int) -> dict[str, Any]:
    """Work in a fork that may take so much more memory than it has; return how it ended."""
    out, into = os.pipe()
    child = os.fork()
    if not child:
        pages = int(Path("/proc/self/statm").read_text(encoding="utf-8").split()[0])
        limit = pages * resource.getpagesize() + (megabytes << 20)
        resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
        said = "nothing"
        try:
            said = attempt(lambda: _hungry(path, megabytes)) or "saved"
        except MemoryError:
            said = "no memory"
        finally:
            os.write(into, said.encode())
            os._exit(0)
    os.close(into)
    with os.fdopen(out, encoding="utf-8") as told:
        said = told.read()
    status = os.waitpid(child, 0)[1]
    with open_file(path) as database:
        return {"mb": megabytes, "said": said, "status": status, "after": saved(database)}


def _hungry(path: Path, megabytes: int) -> None:
    """Read all of a file and save something large."""
    with open_file(path) as database:
        with database.reading() as connection:
            held = connection.execute(select(Base.metadata.tables["surveys"])).all()
        save(database, f"{megabytes:02}", "x" * (8 << 20))
        del held


def die_half_way(path: str) -> str:
    """End without a word in the middle of a change of which half is in the file already."""
    child = os.fork()
    if not child:
        database = open_file(Path(path))
        database.raw.execute("PRAGMA cache_size = 2")
        with database.writing() as connection:
            connection.exec_driver_sql("UPDATE jobs SET notes = notes || 'half done'")
            for at in range(60):
                connection.execute(insert(Facts).values(name=f"half {at}", value="x" * 9000))
            os.kill(os.getpid(), signal.SIGKILL)
    os.waitpid(child, 0)
    return "dead"
