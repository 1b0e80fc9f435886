"""The program on a real display: it opens a window, keeps its file, and is quiet about it.

A display without a screen (Xvfb) stands in for a screen; where there is none, nothing here is said
to have been tried.
"""

from __future__ import annotations

import hashlib
import os
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from estimator.desktop import kept

ROOT = Path(__file__).resolve().parents[2]
FILE, LOCK = "work.perpend", "work.perpend.lock"
LONGEST_WAIT_S = 60.0
NEEDED = ("Xvfb", "xwininfo", "xdotool")
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(sys.platform != "linux", reason="X is tried on Linux alone"),
    pytest.mark.skipif(
        any(shutil.which(one) is None for one in NEEDED), reason=f"needs {', '.join(NEEDED)}"
    ),
]


def wait_until(is_so: Callable[[], bool], what: str) -> None:
    """Wait for another process: there is no signal from it to wait for."""
    end = time.monotonic() + LONGEST_WAIT_S
    while not is_so():
        if time.monotonic() > end:
            raise TimeoutError(what)
        time.sleep(0.05)


@pytest.fixture(scope="module")
def display() -> Iterator[str]:
    """A display of our own, its number chosen by the server."""
    told, tell = os.pipe()
    server = subprocess.Popen(
        [
            "Xvfb",
            "-displayfd",
            str(tell),
            "-screen",
            "0",
            "1920x1080x24",
            "-nolisten",
            "tcp",
            "-noreset",
        ],
        pass_fds=(tell,),
        stderr=subprocess.DEVNULL,
    )
    os.close(tell)
    try:
        if not select.select([told], [], [], LONGEST_WAIT_S)[0]:
            pytest.skip("no display came up")
        yield ":" + os.read(told, 16).decode().strip()
    finally:
        os.close(told)
        server.terminate()
        server.wait()


class Started:
    """The program in a process of its own, with a home of its own."""

    def __init__(self, home: Path, display: str, name: str) -> None:
        self.display, self.said = display, home / f"{name}.txt"
        # A locale and a home of its own, so that nothing of this machine is read or written.
        own = {"DISPLAY": display, "HOME": str(home), "QT_QPA_PLATFORM": "xcb", "LC_ALL": "C.UTF-8"}
        dropped = ("WAYLAND_DISPLAY", "QT_LOGGING_RULES", "XDG_CONFIG_HOME", "XDG_RUNTIME_DIR")
        kept = {key: value for key, value in os.environ.items() if key not in dropped}
        with self.said.open("wb") as said:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "estimator.desktop", "--data", str(home / "data")],
                cwd=ROOT,
                env=kept | own,
                stdout=said,
                stderr=said,
            )

    def run(self, *command: str) -> str:
        done = subprocess.run(
            command,
            env=os.environ | {"DISPLAY": self.display},
            capture_output=True,
            text=True,
            timeout=30,
            check=False,
        )
        return done.stdout

    def window(self) -> str:
        """Return the number X knows the window by; nothing while there is none."""
        asked = ("xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid))
        found = self.run(*asked).split()
        return found[0] if found else ""

    def press(self, *keys: str) -> None:
        self.run("xdotool", "windowfocus", "--sync", self.window(), "key", *keys)

    def quit(self) -> int:
        """Leave by the keyboard; without a window manager a key may find no window in front."""

        def is_gone() -> bool:
            if self.process.poll() is None and self.window():
                self.press("ctrl+q")
            return self.process.poll() is not None

        wait_until(is_gone, "it did not go")
        return self.process.returncode

    def words(self) -> list[str]:
        """Return what it wrote, without what Qt says of a display that has no window manager."""
        lines = self.said.read_text(encoding="utf-8").splitlines()
        return [
            one
            for one in lines
            if one and "propagateSizeHints" not in one and "XDG_RUNTIME_DIR" not in one
        ]

    def end(self, number: signal.Signals = signal.SIGKILL) -> int:
        if self.process.poll() is None:
            self.process.send_signal(number)
        return self.process.wait(LONGEST_WAIT_S)


@pytest.fixture
def start(tmp_path: Path, display: str) -> Iterator[Callable[[str], Started]]:
    begun: list[Started] = []

    def opened(name: str) -> Started:
        one = Started(tmp_path, display, name)
        begun.append(one)
        wait_until(lambda: bool(one.window()) or one.process.poll() is not None, "no window came")
        assert one.process.poll() is None, one.said.read_text(encoding="utf-8")
        return one

    yield opened
    for one in begun:
        one.end()


def fingerprint(folder: Path) -> str:
    return hashlib.sha256((folder / FILE).read_bytes()).hexdigest()


def is_free(folder: Path) -> bool:
    """Whether the file is whole, and nobody holds it."""
    with closing(kept.opened(folder)) as database:
        return not database.why_read_only


def children(pid: int) -> list[int]:
    """Return the processes another has begun, in whichever thread (proc(5))."""
    tasks = Path(f"/proc/{pid}/task").glob("*/children")
    return [int(one) for task in tasks for one in task.read_text(encoding="ascii").split()]


def is_running(pid: int) -> bool:
    try:
        state = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def has_file(folder: Path) -> bool:
    """Whether the file is there and whole; the name appears when it is."""
    return (folder / FILE).exists() and (folder / LOCK).exists()


def test_it_opens_a_window_keeps_a_file_and_says_nothing(
    start: Callable[[str], Started], tmp_path: Path
) -> None:
    desk = start("only")
    size = desk.run("xwininfo", "-id", desk.window())
    assert "Map State: IsViewable" in size
    assert "Perpend" in size
    wait_until(lambda: has_file(tmp_path / "data"), "no file was made")
    assert desk.quit() == 0
    assert not desk.words()
    assert is_free(tmp_path / "data")


def test_a_second_start_only_looks(start: Callable[[str], Started], tmp_path: Path) -> None:
    folder = tmp_path / "data"
    first = start("first")
    wait_until(lambda: has_file(folder), "no file was made")
    first.press("ctrl+n", "1")
    settled: list[str] = []

    def is_at_rest() -> bool:
        settled.append(fingerprint(folder))
        return len(settled) > 20 and len(set(settled[-20:])) == 1

    wait_until(is_at_rest, "the first never came to rest")
    held = (folder / LOCK).read_bytes()
    second = start("second")
    second.press("ctrl+n", "1")
    settled.clear()
    wait_until(is_at_rest, "the second never came to rest")
    assert second.quit() == 0
    assert not second.words()
    assert fingerprint(folder) == settled[0]
    assert (folder / LOCK).read_bytes() == held
    assert first.process.poll() is None


def test_it_leaves_nothing_behind_when_the_system_ends_it(
    start: Callable[[str], Started], tmp_path: Path
) -> None:
    """Logging out or shutting down sends SIGTERM: nothing typed is lost, nothing runs on."""
    desk = start("ended")
    wait_until(lambda: has_file(tmp_path / "data"), "no file was made")
    before = fingerprint(tmp_path / "data")
    desk.press("ctrl+n", "1")
    wait_until(lambda: fingerprint(tmp_path / "data") != before, "nothing was kept")
    helpers = children(desk.process.pid)
    assert helpers, "no worker was begun"
    assert desk.end(signal.SIGTERM) in (0, -signal.SIGTERM)
    wait_until(lambda: not any(map(is_running, helpers)), "a worker runs on")
    assert not desk.words()
    assert is_free(tmp_path / "data")
