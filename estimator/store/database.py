"""Opening the file: lock, identity, version, checks, and the two ways of using it.

Start-up goes in that order, and each step that fails says so before anything is touched. The file
keeps a rollback journal that is deleted after each change, synchronised to the disk and the folder;
one connection writes, in short transactions that begin by saying they will write.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Connection, Engine, StaticPool, create_engine, event

from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.faults import DamagedFile, FileInUse, MayNotWrite, NotOurFile, in_words
from estimator.store.indexing import catch_up
from estimator.store.lock import Lock
from estimator.store.looking import RESTORE, check_identity, look_at, prove_writable
from estimator.store.shape import strangers_in

SAFE = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA journal_mode = DELETE",
    "PRAGMA synchronous = EXTRA",
    "PRAGMA secure_delete = ON",
    "PRAGMA trusted_schema = OFF",
    "PRAGMA cell_size_check = ON",
    "PRAGMA mmap_size = 0",
)


A_ZERO, MANY_ZEROS = "char(0)", "CAST(zeroblob(32) AS TEXT)"
LONG_TEXTS = (
    ("surveys", "document", A_ZERO),
    ("issued_papers", "content", A_ZERO),
    ("happenings", "document", A_ZERO),
    ("catalogue_rates", "body", A_ZERO),
    ("jobs", "choices", A_ZERO),
    ("drafts", "document", MANY_ZEROS),
    ("settings", "document", MANY_ZEROS),
    ("customers", "notes", MANY_ZEROS),
    ("jobs", "notes", MANY_ZEROS),
    ("catalogue_rates", "notes", MANY_ZEROS),
)
"""Texts that may fill pages of their own, and what shows that one was lost: it reads as zeros.

JSON holds none; into a note somebody may have pasted a few.
"""


@dataclass(frozen=True, slots=True)
class Description:
    """What a file is and how it is kept, for the log and for whoever asks."""

    version: int
    size_bytes: int
    sqlite: str
    """The version of the library."""
    journal: str
    synchronous: int
    is_read_only: bool


LOOKING = "perpend_looking"
"""Marks a connection that will only look, so that it does not ask to write."""
Before = Callable[["Database"], None]
"""Called on an older file before it is migrated: makes the forced backup."""


@dataclass
class Database:
    """One open file, for the thread that opened it."""

    path: Path
    engine: Engine
    raw: sqlite3.Connection
    """The one connection; only backups and checks use it directly."""
    is_read_only: bool
    lock: Lock | None = None
    why_read_only: str = ""
    """The sentence to show while it is open, when it could not be opened to write."""
    thread: int = field(default_factory=threading.get_ident)
    """The one that opened it and alone may use it: SQLite lets no other at the connection."""

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Look at the file; nothing is changed, and nobody who writes is kept waiting."""
        self._refuse_inside()
        looking = self.engine.connect().execution_options(**{LOOKING: True})
        with in_words(self.path), looking as connection:
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Change the file: all of it, or nothing of it when anything is raised.

        Raises:
            WorldFault: when the disk would not take it; the file is then as it was.
        """
        if self.is_read_only:
            raise WorldFault(
                f"{self.path.name} is open to read only",
                do="close the window that has it, or ask for leave to write to its folder",
            )
        self._refuse_inside()
        with in_words(self.path), self.engine.begin() as connection:
            yield connection
            catch_up(connection)

    def _refuse_inside(self) -> None:
        """Refuse to begin inside what has begun: ending the inner would undo the outer unheard."""
        if threading.get_ident() != self.thread:
            raise RuntimeError("another thread opened the file; have that one use it")
        if self.raw.in_transaction:
            raise RuntimeError("a change or a look is under way; hand its connection on instead")

    def close(self) -> None:
        """Close the file and let the lock go."""
        self.engine.dispose()
        self.raw.close()
        if self.lock is not None:
            self.lock.close()

    def __enter__(self) -> Database:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def open_file(
    path: Path, *, read_only: bool = False, before_migration: Before | None = None
) -> Database:
    """Open the file, making it when it is not there.

    Args:
        path: Where it is.
        read_only: Look only; takes no lock.
        before_migration: Called before an older file is changed.

    Raises:
        FileInUse: when another program writes to it.
        NotOurFile: when it is something else.
        NewerFile: when a later version of the program made it.
        DamagedFile: when the checks find fault with it.
        MayNotWrite: when it may only be read.
        WorldFault: when the disk or folder is in the way.
    """
    real = look_at(path, read_only=read_only)
    with ExitStack() as undone:
        lock = None
        if not read_only:
            lock = Lock(real)
            undone.callback(lock.close)
            lock.take()
        database = _connected(path, real, read_only=read_only)
        undone.callback(database.close)
        database.lock = lock
        with in_words(path):
            _settle(database, before_migration)
        # All went well: what would have been undone is kept.
        undone.pop_all()
    return database


def open_or_look(path: Path, *, before_migration: Before | None = None) -> Database:
    """Open the file to write, or to read only where it may not be written or is in use.

    Why it is read only is in ``why_read_only``, as a sentence to show for as long as it is open.

    Raises:
        WorldFault: as ``open_file`` does, when it cannot even be read.
    """
    try:
        return open_file(path, before_migration=before_migration)
    except (FileInUse, MayNotWrite) as fault:
        database = open_file(path, read_only=True)
        database.why_read_only = str(fault)
        return database


def describe(database: Database) -> Description:
    """Return what an open file is and how it is kept."""
    raw = database.raw
    return Description(
        version=version_of(raw),
        size_bytes=database.path.stat().st_size,
        sqlite=sqlite3.sqlite_version,
        journal=str(raw.execute("PRAGMA journal_mode").fetchone()[0]),
        synchronous=int(raw.execute("PRAGMA synchronous").fetchone()[0]),
        is_read_only=database.is_read_only,
    )


def version_of(connection: sqlite3.Connection) -> int:
    """Return the version a file says it has."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def problems_in(connection: sqlite3.Connection) -> list[str]:
    """Return what the quick check and the foreign keys find wrong; nothing for a sound file."""
    try:
        found = [row[0] for row in connection.execute("PRAGMA quick_check(20)") if row[0] != "ok"]
        loose = connection.execute("PRAGMA foreign_key_check").fetchmany(20)
        holes = _holes_in(connection)
    except (sqlite3.DatabaseError, UnicodeDecodeError) as error:
        return [str(error)]
    return found + [f"a row of {row[0]} points at nothing in {row[2]}" for row in loose] + holes


def _holes_in(connection: sqlite3.Connection) -> list[str]:
    """Return which long texts have lost a page: the quick check does not read what is in them."""
    found = []
    for table, column, zeros in LONG_TEXTS:
        # An older file has yet to be given some of them.
        has_it = "SELECT 1 FROM pragma_table_info(?) WHERE name = ?"
        if connection.execute(has_it, (table, column)).fetchone() is None:
            continue
        holed = f"SELECT 1 FROM {table} WHERE instr({column}, {zeros}) LIMIT 1"
        if connection.execute(holed).fetchone() is not None:
            found.append(f"part of a {column} in {table} is missing")
    return found


def _connected(path: Path, real: Path, *, read_only: bool) -> Database:
    """Open the one connection, with the settings that make saved mean saved."""
    mode = "ro" if read_only else "rwc"
    with in_words(path), ExitStack() as undone:
        raw = sqlite3.connect(f"{real.as_uri()}?mode={mode}", uri=True, isolation_level=None)
        undone.callback(raw.close)
        if not read_only and real.stat().st_size == 0:
            real.chmod(0o600)
        try:
            for setting in SAFE:
                raw.execute(setting)
        except sqlite3.OperationalError as error:
            # A header that asks for a form of file nobody has made yet.
            if error.sqlite_errorcode == sqlite3.SQLITE_ERROR:
                raise DamagedFile(f"{path.name} cannot be read", do=RESTORE) from error
            raise
        undone.pop_all()
    # What a statement was given may be about a person, and an error may end up in a log.
    engine = create_engine(
        "sqlite://", creator=lambda: raw, poolclass=StaticPool, hide_parameters=True
    )

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        looks = read_only or connection.get_execution_options().get(LOOKING, False)
        connection.exec_driver_sql("BEGIN" if looks else "BEGIN IMMEDIATE")

    return Database(path, engine, raw, is_read_only=read_only)


def _settle(database: Database, before_migration: Before | None) -> None:
    """Check identity, shape and soundness, and bring an older file up to date."""
    raw, name = database.raw, database.path.name
    is_new = _checked(database)
    if not database.is_read_only:
        prove_writable(raw, name)
    version = version_of(raw)
    if version == migrations.HEAD:
        return
    if database.is_read_only:
        raise WorldFault(
            f"{name} is of version {version} and must be brought up to {migrations.HEAD} first",
            do="open it once where it may be written to",
        )
    if not is_new and before_migration is not None:
        before_migration(database)
    # Rebuilding a table drops it for a moment, which foreign keys would not let pass; they can
    # only be switched outside a transaction, and each step checks them before it is believed.
    raw.execute("PRAGMA foreign_keys = OFF")
    try:
        with database.engine.connect() as connection:
            migrations.upgrade(connection)
    finally:
        raw.execute("PRAGMA foreign_keys = ON")
    _believe(raw, name)


def _checked(database: Database) -> bool:
    """Check a file before anything in it is used; return whether it is still to be made."""
    raw, name = database.raw, database.path.name
    try:
        if check_identity(raw, name):
            return True
        strangers = strangers_in(raw, version_of(raw))
        size = database.path.stat().st_size
        pages = raw.execute("SELECT * FROM pragma_page_count, pragma_page_size").fetchone()
    except sqlite3.DatabaseError as error:
        code = getattr(error, "sqlite_errorcode", None)
        if code in {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR}:
            raise DamagedFile(f"{name} cannot be read", do=RESTORE) from error
        raise
    if strangers:
        raise NotOurFile(
            f"{name} holds what no version of this program made ({strangers[0]})", do=RESTORE
        )
    if size != pages[0] * pages[1]:
        raise DamagedFile(f"{name} has lost its end", do=RESTORE)
    _believe(raw, name)
    return False


def _believe(raw: sqlite3.Connection, name: str) -> None:
    """Refuse a file the checks find fault with."""
    found = problems_in(raw)
    if found:
        raise DamagedFile(f"{name} is damaged ({found[0][:120]})", do=RESTORE)
