"""Opening the file: made whole, locked, checked, and as the tables say."""

from __future__ import annotations

from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import insert, select
from sqlalchemy.exc import IntegrityError

from estimator.notices import WorldFault
from estimator.store import migrations
from estimator.store.database import Database, open_file, version_of
from estimator.store.faults import FileInUse, NotOurFile
from estimator.store.tables import Base, Facts, Surveys


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
