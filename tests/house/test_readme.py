"""What the README tells a newcomer to type works, in its order, from an empty folder."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pytest

from estimator.desktop.commands import all_commands

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SECTION = re.compile(r"^## (.+?)\n(.*?)(?=^## |\Z)", re.MULTILINE | re.DOTALL)
SPOKEN = re.compile(r"(?<!\*)\*([A-Z][^*]+)\*(?!\*)")
"""What the screen says, as the README sets it."""
KEYS_TOLD = re.compile(r"\*\*(F\d+)\*\*")
LINK = re.compile(r"\[[^\]]*\]\(([^)#]+)[^)]*\)")
SET_UP = "packaging/"
"""Commands that set the machine up; continuous integration runs ``packaging/check`` itself."""
DESK = ".venv/bin/python -m estimator.desktop"
"""Opens the window and stays until it is closed, so it is tried apart from the others."""
STAMP = Path(sys.prefix) / "installed-dev"
"""Left by ``packaging/check``: a set-up that finds it installs nothing."""
LONGEST_WAIT = 60.0
THREE_JOBS = 3
AFTER_THE_QUOTATION = "When more cracked bricks appear"


def blocks(kind: str) -> list[str]:
    return [body for found, body in BLOCK.findall(README) if found == kind]


def commands() -> list[str]:
    lines = [line for body in blocks("sh") for line in body.splitlines() if line.strip()]
    return [line for line in lines if not line.startswith((SET_UP, DESK, "#"))]


@pytest.fixture
def newcomer(tmp_path: Path) -> Path:
    """A folder like a fresh checkout after set-up, holding only what the README speaks of."""
    shutil.copytree(ROOT / "demo", tmp_path / "demo")
    (tmp_path / ".venv").symlink_to(sys.prefix)
    (survey,) = blocks("json")
    (tmp_path / "my_wall.json").write_text(survey, encoding="utf-8")
    return tmp_path


def test_it_opens_with_one_paragraph_and_a_picture() -> None:
    title, opening, picture, *_rest = README.split("\n\n")
    assert title == "# Perpend"
    assert len(opening.split()) < 90
    assert picture.startswith("![")


def test_set_up_is_two_commands() -> None:
    typed = [
        line.split()[0]
        for body in blocks("sh")
        for line in body.splitlines()
        if line.startswith(SET_UP)
    ]
    assert typed == ["packaging/run", "packaging/check"]
    assert all(os.access(ROOT / command, os.X_OK) for command in typed)


@pytest.mark.slow
def test_the_commands_run_in_order(newcomer: Path) -> None:
    assert commands()
    done = subprocess.run(
        ["bash", "-euo", "pipefail", "-c", "\n".join(commands())],
        cwd=newcomer,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert list(newcomer.glob("out/*.pdf"))
    settled = newcomer.glob("out/gallery/*/*-final-account.pdf")
    assert len(list(settled)) == THREE_JOBS


@pytest.mark.slow
@pytest.mark.skipif(not STAMP.exists(), reason="this environment is not one packaging/check made")
def test_without_a_screen_the_first_command_writes_papers(tmp_path: Path) -> None:
    screens = {"DISPLAY", "WAYLAND_DISPLAY"}
    done = subprocess.run(
        [ROOT / "packaging" / "run", tmp_path / "out"],
        env={name: value for name, value in os.environ.items() if name not in screens}
        | {"PERPEND_ENV": sys.prefix},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert list(tmp_path.glob("out/*.pdf"))


@pytest.mark.slow
def test_the_desk_opens_on_a_file_of_its_own(newcomer: Path) -> None:
    (typed,) = [line for body in blocks("sh") for line in body.splitlines() if DESK in line]
    home = newcomer / "home"
    places = {"HOME": home, "XDG_DATA_HOME": home / "data", "XDG_CONFIG_HOME": home / "config"}
    opened = subprocess.Popen(
        shlex.split(typed),
        cwd=newcomer,
        env={**os.environ, "PYTHONPATH": str(ROOT)} | {one: str(at) for one, at in places.items()},
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        until = time.monotonic() + LONGEST_WAIT
        while opened.poll() is None and not list(home.rglob("work.perpend")):
            assert time.monotonic() < until, "the desk made no file"
            with suppress(subprocess.TimeoutExpired):
                opened.wait(0.1)
        assert opened.poll() is None, "the desk went away"
    finally:
        opened.terminate()
        _said, complaint = opened.communicate(timeout=LONGEST_WAIT)
    assert "Traceback" not in complaint


def test_what_is_pressed_after_the_quotation_stands_on_the_screen() -> None:
    told = " ".join(dict(SECTION.findall(README))[AFTER_THE_QUOTATION].split())
    words = (ROOT / "resources" / "locale" / "perpend.pot").read_text(encoding="utf-8")
    said = re.findall(r'^msgid "(.+)"$', re.sub(r'"\n"', "", words), re.MULTILINE)
    shown = {text.split("{")[0].rstrip(" :") for text in said}
    assert SPOKEN.findall(told)
    assert not set(SPOKEN.findall(told)) - shown


def test_every_function_key_told_does_something() -> None:
    known = {key for command in all_commands() for key in command.keys if isinstance(key, str)}
    told = set(KEYS_TOLD.findall(README)) - {"F1"}
    assert told == {key for key in known if re.fullmatch(r"F\d+", key)}


def test_links_and_pictures_lead_somewhere() -> None:
    targets = [target for target in LINK.findall(README) if "://" not in target]
    assert targets
    assert not [target for target in targets if not (ROOT / target).exists()]


def test_pictures_are_small() -> None:
    pictures = list((ROOT / "demo").glob("*.png"))
    assert pictures
    assert not [path.name for path in pictures if path.stat().st_size > 300_000]
