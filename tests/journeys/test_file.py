"""From a folder with nothing in it to jobs priced out of the file, all by commands."""

from __future__ import annotations

import json
import runpy
import sys
from pathlib import Path

import pytest

from estimator.command import main

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "demo"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented jobs in a file, as the demo makes it."""
    made = tmp_path_factory.mktemp("demo")
    sys.path.insert(0, str(DEMO))
    try:
        runpy.run_path(str(DEMO / "make_file.py"))["make_file"](made)
    finally:
        sys.path.remove(str(DEMO))
    return made


def typed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main.run(words) == main.Exit.DONE
    return capsys.readouterr().out


def job_named(title: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> str:
    listed = typed(capsys, "data", "jobs", "--data", str(folder)).splitlines()
    return next(line.split()[0] for line in listed if title in line)


def test_a_job_in_the_file_costs_what_its_survey_file_costs(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = job_named("Stepped crack", folder, capsys)
    filed = json.loads(typed(capsys, "price", "--job", job, "--data", str(folder), "--json"))
    loose = json.loads(typed(capsys, "price", str(DEMO / "window_lime.json"), "--json"))
    assert filed == loose


def test_every_invented_job_is_there_and_the_dangerous_one_has_no_paper(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert len(typed(capsys, "data", "jobs", "--data", str(folder)).splitlines()) == 6
    papers = typed(capsys, "data", "papers", "--data", str(folder))
    assert sorted(line.split()[0] for line in papers.splitlines()) == [
        *("E-0001", "Q-0001", "Q-0002", "Q-0003", "Q-0004")
    ]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["price", "--job", "zzzz"], "no job 'zzzz'"),
        (["price"], "nothing to price"),
        (["price", "survey.json", "--job", "zzzz"], "both named"),
    ],
)
def test_a_job_that_is_not_there_is_told_plainly(
    folder: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.run([*words, "--data", str(folder)]) == main.Exit.MISTAKE
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1


def test_an_empty_folder_says_how_to_begin(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["price", "--job", "zzzz", "--data", str(tmp_path)]
    assert main.run(words) == main.Exit.MISTAKE
    assert "data add" in capsys.readouterr().err


def test_a_file_that_is_gone_is_not_made_anew_over_its_backups(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ["--data", str(tmp_path)]
    typed(capsys, "data", "add", str(DEMO / "window_lime.json"), *folder)
    typed(capsys, "data", "backup", *folder)
    (tmp_path / "work.perpend").unlink()
    assert main.run(["data", "jobs", *folder]) == main.Exit.MISTAKE
    assert "data restore" in capsys.readouterr().err
    assert not (tmp_path / "work.perpend").exists()
    typed(capsys, "data", "restore", "newest", *folder)
    assert "Stepped crack" in typed(capsys, "data", "jobs", *folder)


def test_a_place_other_machines_reach_is_warned_of_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ["--data", str(tmp_path / "Cloud Files")]
    assert main.run(["data", "jobs", *folder]) == main.Exit.DONE
    assert "Take care: the file lies in Cloud Files" in capsys.readouterr().err
    assert main.run(["data", "jobs", *folder]) == main.Exit.DONE
    assert "Take care" not in capsys.readouterr().err


def test_numbers_given_since_a_backup_are_not_given_again_after_it_is_restored(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ["--data", str(tmp_path)]
    typed(capsys, "data", "add", str(DEMO / "window_lime.json"), *folder)
    job = job_named("Stepped crack", tmp_path, capsys)
    typed(capsys, "data", "backup", *folder)
    assert typed(capsys, "data", "issue", job, *folder).strip() == "Q-0001"
    restored = typed(capsys, "data", "restore", "newest", *folder)
    assert "Numbers go on from Q-0002" in restored
    assert typed(capsys, "data", "issue", job, *folder).strip() == "Q-0002"


def test_a_file_is_backed_up_before_it_is_changed_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ["--data", str(tmp_path)]
    typed(capsys, "data", "add", str(DEMO / "window_lime.json"), *folder)
    assert "(0)" in typed(capsys, "data", "where", *folder)
    typed(capsys, "data", "add", str(DEMO / "terrace.json"), *folder)
    typed(capsys, "data", "add", str(DEMO / "quoin_cavity.json"), *folder)
    assert "(1)" in typed(capsys, "data", "where", *folder)
