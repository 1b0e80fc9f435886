"""One writer at a time, and no lock that outlives its program."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from estimator.notices import WorldFault
from estimator.store.database import open_file
from estimator.store.faults import FileInUse
from estimator.store.lock import Lock, lock_path
from tests.store.in_child import done

STARTS = 20


def test_twenty_starts_at_once_make_one_writer(quick: Path) -> None:
    told = done("starts_at_once", quick / "work.perpend", STARTS)
    said = told["said"]
    assert len(said) == STARTS
    assert said.count("writer") == 1
    in_use = [one for one in said if one.startswith("work.perpend is open already because ")]
    assert len(in_use) == STARTS - 1
    assert all(one.endswith("holds it; go on in that window.") for one in in_use)
    # The writer was killed with the file open; what it saved is there, and the next start waits
    # for nothing and asks nothing.
    assert len(told["after"]) == 1
    assert told["again"] < 2


def dead_pid() -> int:
    """Return the number of a program that has ended."""
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    return child.pid


@pytest.mark.parametrize("kind", ["dead", "alive", "elsewhere", "empty", "garbage"])
def test_a_lock_file_left_behind_locks_nobody_out(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "work.perpend"
    here = socket.gethostname()
    told = {
        "dead": lambda: json.dumps({"pid": dead_pid(), "host": here, "since": "2024-01-01"}),
        "alive": lambda: json.dumps({"pid": os.getppid(), "host": here, "since": "2024-01-01"}),
        "elsewhere": lambda: json.dumps({"pid": 1, "host": "elsewhere", "since": "2024-01-01"}),
        "empty": lambda: "",
        "garbage": lambda: "\x00\xff[" * 5000,
    }
    lock_path(path).write_text(told[kind](), encoding="utf-8")
    with open_file(path):
        written = json.loads(lock_path(path).read_text(encoding="utf-8"))
        assert written["pid"] == os.getpid()
        with pytest.raises(FileInUse, match=f"program {os.getpid()} on"):
            Lock(path).take()


@pytest.mark.parametrize("text", ["", "[" * 4096, '{"pid": "x"}', "[1]", "null"])
def test_a_held_lock_that_tells_nothing_is_held_all_the_same(tmp_path: Path, text: str) -> None:
    path = tmp_path / "work.perpend"
    with open_file(path):
        lock_path(path).write_text(text, encoding="utf-8")
        with pytest.raises(FileInUse, match="another program holds it"):
            open_file(path)


def test_all_names_of_one_file_share_one_lock(tmp_path: Path) -> None:
    path, link = tmp_path / "work.perpend", tmp_path / "link"
    link.symlink_to(path)
    with open_file(link):
        assert path.exists()
        with pytest.raises(FileInUse):
            open_file(path)
        with pytest.raises(FileInUse):
            open_file(tmp_path / "." / ".." / tmp_path.name / "work.perpend")


def test_a_link_with_the_locks_name_leads_to_no_harm(tmp_path: Path) -> None:
    path, other = tmp_path / "work.perpend", tmp_path / "diary"
    other.write_text("dear diary")
    lock_path(path).symlink_to(other)
    with pytest.raises(WorldFault, match="is in the way"):
        open_file(path)
    assert other.read_text() == "dear diary"


def test_a_folder_or_a_pipe_with_the_locks_name_is_told(tmp_path: Path) -> None:
    path = tmp_path / "work.perpend"
    lock_path(path).mkdir()
    with pytest.raises(WorldFault, match="is in the way"):
        open_file(path)
    lock_path(path).rmdir()
    os.mkfifo(lock_path(path))
    with pytest.raises(WorldFault, match="is in the way"):
        open_file(path)


def test_a_lock_let_go_can_be_taken_again(tmp_path: Path) -> None:
    path = tmp_path / "work.perpend"
    for _time in range(3):
        lock = Lock(path)
        lock.take()
        lock.close()
        lock.close()
