"""Set-up looks before it acts, and says plainly what it cannot do."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGING = ROOT / "packaging"
PYTHON = """#!/bin/sh
# Stands for the environment's Python: tells what it was asked, and fails at what it is told to.
echo "$*" >> "$TOLD"
case "$*" in
    -V) echo "Python 3.11.2" ;;
    *"$FAILS_AT"*) exit 1 ;;
esac
"""


@pytest.fixture
def told(tmp_path: Path) -> Path:
    """A project with an environment whose Python writes down what it is asked."""
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    python = tmp_path / "env" / "bin" / "python"
    python.parent.mkdir(parents=True)
    python.write_text(PYTHON, encoding="utf-8")
    python.chmod(0o755)
    return tmp_path / "told"


def shell(
    script: str, told: Path, fails_at: str = "never asked"
) -> subprocess.CompletedProcess[str]:
    project = told.parent
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", f"source {PACKAGING}/setup; root={project}; {script}"],
        env={**os.environ, "PERPEND_ENV": str(project / "env"), "TOLD": str(told)}
        | {"FAILS_AT": fails_at},
        capture_output=True,
        text=True,
        check=False,
    )


def installs(told: Path) -> int:
    return told.read_text(encoding="utf-8").count("pip install")


@pytest.mark.parametrize("name", ["packaging/setup", "packaging/run", "packaging/check", ".ci/run"])
def test_scripts_can_be_read_by_the_shell(name: str) -> None:
    assert subprocess.run(["bash", "-n", ROOT / name], check=False).returncode == 0
    assert name.endswith("setup") or os.access(ROOT / name, os.X_OK)


def test_integration_runs_the_command_the_readme_gives() -> None:
    assert "packaging/check" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_nothing_is_installed_twice(told: Path) -> None:
    done = shell("install_project dev; install_project dev; install_project ''", told)
    assert done.returncode == 0, done.stderr
    assert installs(told) == 1


def test_a_changed_project_is_installed_again(told: Path) -> None:
    shell("install_project dev; echo 'name = 1' >> $root/pyproject.toml; install_project dev", told)
    assert installs(told) == 2


def test_without_a_network_it_goes_on_with_what_is_there(told: Path) -> None:
    done = shell("install_project dev; echo went on", told, fails_at="pip install")
    assert done.stdout == "went on\n"
    assert "is there a network?" in done.stderr


def test_a_first_install_that_fails_stops(told: Path) -> None:
    done = shell("install_project dev; echo went on", told, fails_at="i")
    assert (done.returncode, done.stdout) == (1, "")
    assert "could not be installed" in done.stderr


def test_a_folder_of_somebody_elses_is_left_alone(told: Path) -> None:
    kept = told.parent / "env" / "letters.txt"
    kept.write_text("dear", encoding="utf-8")
    done = shell("make_environment", told, fails_at="import sys, pip")
    assert done.returncode == 1
    assert "is not an empty folder" in done.stderr
    assert kept.exists()


def test_a_python_without_venv_is_said_plainly(told: Path) -> None:
    (told.parent / "env" / "pyvenv.cfg").touch()
    script = "PYTHON=$environment/bin/python; install_packages() { return 1; }; make_environment"
    done = shell(script, told, fails_at="pip")
    assert done.returncode == 1
    assert "has no venv module; install the package python3-venv" in done.stderr


def test_packages_that_may_not_be_installed_are_named(told: Path) -> None:
    script = (
        "id() { echo 1000; }; sudo() { return 1; }; dpkg-query() { :; }; apt-get() { :; };"
        "install_packages libgl1 || echo went on"
    )
    done = shell(script, told)
    assert done.stdout == "went on\n"
    assert "ask for: apt-get install libgl1" in done.stderr
