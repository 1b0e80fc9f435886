"""Opening the file: made whole, locked, checked, and as the tables say."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError

from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.database import (
    Database,
    describe,
    open_file,
    open_or_look,
    problems_in,
    version_of,
)
from estimator.store.faults import FileInUse, NotOurFile
from estimator.store.tables import Base, Facts, Surveys
from tests.store.dumps import dump, dump_at
from tests.store.in_child import done


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "work.perpend"


@pytest.fixture
def database(file: Path) -> Database:
    opened = open_file(file)
    yield opened
    opened.close()


def test_the_tables_are_what_the_migrations_make(database: Database) -> None:
    with database.reading() as connection:
        # What search keeps follows from the other tables, and no store reads it as a row.
        context = MigrationContext.configure(
            connection,
            opts={"include_name": lambda name, *_: not (name or "").startswith("search_")},
        )
        assert compare_metadata(context, Base.metadata) == []


def test_every_table_is_strict_and_every_constraint_named(database: Database) -> None:
    made = database.raw.execute("SELECT sql FROM sqlite_schema WHERE type = 'table'").fetchall()
    ours = [sql for (sql,) in made if "alembic_version" not in sql and "VIRTUAL" not in sql]
    assert len(ours) >= len(Base.metadata.tables)
    for sql in ours:
        if "CREATE TABLE 'search" in sql:
            continue
        assert sql.rstrip().endswith("STRICT"), sql


def test_a_new_file_has_this_version_and_is_private(database: Database, file: Path) -> None:
    assert version_of(database.raw) == migrations.HEAD
    assert file.stat().st_mode & 0o077 == 0


def test_a_second_window_is_told_who_has_the_file(database: Database, file: Path) -> None:
    with pytest.raises(FileInUse, match="is open already because program"):
        open_file(file)
    looking = open_file(file, read_only=True)
    with pytest.raises(WorldFault, match="read only"), looking.writing():
        pass
    looking.close()


def test_a_change_is_whole_or_not_at_all(database: Database) -> None:
    with pytest.raises(RuntimeError), database.writing() as connection:
        connection.execute(insert(Facts).values(name="a", value="1"))
        raise RuntimeError
    with database.reading() as connection:
        assert connection.execute(select(Facts.name)).all() == []


def test_rows_that_point_at_nothing_are_refused(database: Database) -> None:
    with pytest.raises(IntegrityError), database.writing() as connection:
        connection.execute(
            insert(Surveys).values(job_id=99, revision=1, document="", why="", made_at=None)
        )


@pytest.mark.parametrize("content", [b"hello", b"%PDF-1.7", b"SQLite format 3\x00"])
def test_another_kind_of_file_is_refused_and_left_alone(file: Path, content: bytes) -> None:
    file.write_bytes(content)
    with pytest.raises(NotOurFile):
        open_file(file)
    assert file.read_bytes() == content


ODD = (
    "two  spaces",
    "#1?%41&'x'",
    "+;=@$,! (1)",
    "Größe_ß_łódź_🧱",
    "ن و ה",
    "a" * 200,
    "e\u0301",
    ".hidden",
    "mode=ro&immutable=1",
)


@pytest.mark.parametrize("name", ODD)
def test_odd_names_open_save_and_open_again(quick: Path, name: str) -> None:
    folder = quick / name
    folder.mkdir()
    for path in (folder / f"{name}.perpend", folder / "link"):
        if path.name == "link":
            path.symlink_to(folder / f"{name}.perpend")
        with open_file(path) as database, database.writing() as connection:
            connection.execute(insert(Facts).values(name=path.name, value=name))
    with open_file(path) as database, database.reading() as connection:
        assert len(connection.execute(select(Facts.name)).all()) == 2
    assert sorted(one.name for one in quick.iterdir()) == [name]
    beside = {f"{name}.perpend", f"{name}.perpend.lock", "link"}
    assert {one.name for one in folder.iterdir()} == beside


def test_names_that_lead_nowhere_are_told(tmp_path: Path) -> None:
    for path, said in (
        (tmp_path / "no" / "such" / "folder.perpend", "there is no folder"),
        (tmp_path / ("x" * 300), "too long"),
        (tmp_path / "a\0b", "leads nowhere"),
    ):
        with pytest.raises(WorldFault, match=said):
            open_file(path)
    assert list(tmp_path.iterdir()) == []


def test_how_the_file_is_kept_can_be_asked(database: Database) -> None:
    told = describe(database)
    assert told.journal == "delete"
    assert told.synchronous == 3
    assert told.sqlite == sqlite3.sqlite_version
    assert told.version == migrations.HEAD
    assert told.size_bytes > 0


@pytest.mark.skipif(not Path("/proc/self/maps").exists(), reason="the system shows no map")
def test_one_copy_of_the_library_is_loaded(quick: Path) -> None:
    assert done("libraries", quick / "work.perpend") <= 1


def test_a_file_in_use_is_looked_at_with_the_reason_shown(database: Database, file: Path) -> None:
    with open_or_look(file) as looking:
        assert looking.is_read_only
        assert "is open already because program" in looking.why_read_only
        # Looking must not let go of the locks this very program holds.
        with database.writing() as connection:
            connection.execute(insert(Facts).values(name="a", value="1"))
            with pytest.raises(FileInUse):
                open_file(file)
            open_or_look(file).close()
            assert done("may_write_past_us", file) == "locked"


def test_the_same_file_reads_the_same_in_every_country_known_here(full: Path) -> None:
    told = done("dumps_by_locale", full)
    assert set(told) >= {"C"}
    assert len(set(told.values())) == 1


@pytest.mark.long
def test_the_same_file_reads_the_same_in_four_countries(full: Path, tmp_path: Path) -> None:
    make = shutil.which("localedef")
    if make is None:
        pytest.skip("countries cannot be made here")
    for country in ("en_GB", "de_DE", "tr_TR"):
        made = [make, "-i", country, "-f", "UTF-8", str(tmp_path / f"{country}.UTF-8")]
        subprocess.run(made, check=False, capture_output=True)
    told = done("dumps_by_locale", full, env={"LOCPATH": str(tmp_path)})
    assert len(told) == 4, f"only {sorted(told)} could be made"
    assert len(set(told.values())) == 1


def test_a_zero_pasted_into_a_note_does_not_lock_anybody_out(full: Path) -> None:
    with open_file(full) as database, database.writing() as connection:
        connection.exec_driver_sql("UPDATE jobs SET notes = 'a' || char(0) || 'b' WHERE id = 1")
    with open_file(full) as database:
        assert problems_in(database.raw) == []


def test_a_change_cut_off_is_put_back_by_the_next_who_may_write(full: Path) -> None:
    held = dump_at(full)
    assert done("die_half_way", full) == "dead"
    journal = full.with_name(full.name + "-journal")
    assert journal.stat().st_size > 0
    torn = full.read_bytes()
    with pytest.raises(WorldFault, match="cut off and has to be put back"):
        open_file(full, read_only=True)
    assert full.read_bytes() == torn
    with open_file(full) as database:
        assert dump(database.raw) == held
    assert not journal.exists()


def test_a_look_inside_a_change_is_refused_and_loses_nothing(database: Database) -> None:
    with database.writing() as connection:
        connection.execute(insert(Facts).values(name="a", value="1"))
        with pytest.raises(RuntimeError, match="under way"), database.reading():
            pass
    with database.reading() as connection:
        assert connection.execute(select(Facts.name)).all() == [("a",)]


def test_a_look_does_not_ask_to_write(database: Database, file: Path) -> None:
    with database.reading() as connection:
        connection.execute(select(Facts.name)).all()
        other = sqlite3.connect(file, isolation_level=None, timeout=0)
        other.execute("BEGIN IMMEDIATE")
        other.execute("ROLLBACK")
        other.close()
