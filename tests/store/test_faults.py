"""Full disks, failing disks and barred places: nothing is lost, and a sentence says what to do."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import time
from pathlib import Path

import pytest
from sqlalchemy import select

from estimator.store.database import open_file
from estimator.store.tables import Jobs
from tests.store import big_file
from tests.store.conftest import stored
from tests.store.dumps import dump_at
from tests.store.in_child import NOBODY, done

ROOT_ONLY = pytest.mark.skipif(os.geteuid() != 0, reason="only root may act as somebody else")


@pytest.fixture
def empty(quick: Path) -> Path:
    path = quick / "work.perpend"
    open_file(path).close()
    return path


def test_twenty_sizes_of_full_disk(empty: Path) -> None:
    tries = done("full_disk", empty)
    assert len(tries) == 20
    failed = [one for one in tries if one["said"]]
    assert len(failed) >= 15
    for one in failed:
        assert one["kept"], "the earlier data is intact"
        assert "not saved" in one["said"]
        assert "save again" in one["said"]
        assert str(empty) in one["said"], "the place is named"
    # What was to be saved is still in the caller's hands, and goes in once there is room.
    assert all(one["saved"] for one in tries)
    assert [one["again"] for one in failed] == [""] * len(failed)


def test_twenty_sizes_of_full_disk_by_sqlites_own_code(empty: Path) -> None:
    told = done("no_pages_left", empty)
    assert len(told) == 20
    for said in told:
        assert said.startswith("the disk is full")
        assert said.endswith("free some space, or choose another place, and save again.")


@ROOT_ONLY
def test_places_that_may_only_be_read(shared: Path) -> None:
    for case in ("folder", "file", "both", "later"):
        path = shared / case / "work.perpend"
        path.parent.mkdir()
        open_file(path).close()
        path.with_name(path.name + ".lock").unlink()
        os.chown(path.parent, NOBODY, NOBODY)
        os.chown(path, NOBODY, NOBODY)
    for case in ("file", "both"):
        (shared / case / "work.perpend").chmod(0o444)
    for case in ("folder", "both"):
        (shared / case).chmod(0o555)
    told = done("without_rights", shared)
    for case in ("folder", "file", "both"):
        assert "open" in told[case]["refused"]
        assert told[case]["why"] == told[case]["refused"]
        assert told[case]["read"] == []
        assert "open to read only" in told[case]["write"]
    assert "write to its folder" in told["later"]["write"]
    assert told["later"]["read"] == ["before"]
    assert told["later"]["again"] == ""


@ROOT_ONLY
def test_lock_files_that_may_not_be_read(shared: Path) -> None:
    for case in ("own", "other"):
        path = shared / case / "work.perpend"
        path.parent.mkdir()
        os.chown(path.parent, NOBODY, NOBODY)
        open_file(path).close()
        os.chown(path, NOBODY, NOBODY)
    (shared / "own" / "work.perpend.lock").unlink()
    (shared / "other" / "work.perpend.lock").chmod(0)
    told = done("locks_without_rights", shared)
    assert told["own"] == ""
    assert "may not be written to" in told["other"]


@pytest.mark.parametrize(
    "work",
    [
        "save",
        pytest.param("save, both ways with both codes", marks=pytest.mark.long),
        pytest.param("migrate", marks=pytest.mark.long),
        pytest.param("new", marks=pytest.mark.long),
    ],
)
def test_any_single_thing_asked_of_the_disk_may_fail(quick: Path, work: str) -> None:
    path = quick / "place" / "work.perpend"
    path.parent.mkdir()
    if work.startswith("save"):
        open_file(path).close()
    if work == "migrate":
        stored("v0001", path)
    told = done("rigged", path, work, within=600)
    if "skipped" in told:
        pytest.skip(told["skipped"])
    assert told["bad"] == []
    assert told["faults"] > 40
    assert {"create", "delete", "sync", "write"} <= set(told["kinds"])
    for said in told["said"]:
        assert said == "" or said.endswith("."), said
    if work == "migrate":
        assert dump_at(path) == dump_at(stored("v0001", path.with_name("again")))


@pytest.mark.long
def test_ten_sizes_of_little_memory(quick: Path) -> None:
    path = quick / "work.perpend"
    big_file.make(path, jobs=1000)
    told = done("little_memory", path, within=300)
    acknowledged: list[str] = []
    for one in told:
        assert one["status"] == 0
        assert one["said"] in {"saved", "no memory"} or "no memory left" in one["said"], one
        acknowledged += [f"{one['mb']:02}"] if one["said"] == "saved" else []
        assert one["after"] == acknowledged
    assert told[0]["said"] != "saved"
    assert told[-1]["said"] == "saved"


@pytest.mark.long
def test_a_big_file_stays_quick(quick: Path) -> None:
    path = quick / "work.perpend"
    big_file.make(path)
    began = time.monotonic()
    with open_file(path) as database:
        assert time.monotonic() - began < 2
        newest = select(Jobs).order_by(Jobs.changed_at.desc()).limit(200)
        took = []
        for _time in range(3):
            began = time.monotonic()
            with database.reading() as connection:
                assert len(connection.execute(newest).all()) == 200
            took.append(time.monotonic() - began)
        assert min(took) < 0.1
        began = time.monotonic()
        with contextlib.closing(sqlite3.connect(path.with_name("copy"))) as copy:
            database.raw.backup(copy)
        assert time.monotonic() - began < 1
