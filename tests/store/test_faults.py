"""Full disks, failing disks and barred places: nothing is lost, and a sentence says what to do."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from estimator.store.database import open_file
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
