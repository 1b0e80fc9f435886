"""The commands for jobs and papers, as they are typed."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from estimator.command import main
from estimator.command.exits import Exit
from estimator.money import Money
from estimator.office.place import file_in
from estimator.store import jobs, kept_papers
from estimator.store.database import open_file
from estimator.store.kept_papers import Made, PaperKind

DEMO = Path(__file__).resolve().parents[2] / "demo"
Told = tuple[int, str, str]
"""Exit code, answer, complaint."""
Data = Callable[..., Told]


@pytest.fixture
def data(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Data:
    """Runs one data command in a folder of its own."""

    def run(*words: object) -> Told:
        code = main.run(["data", *map(str, words), "--data", str(tmp_path / "work")])
        told = capsys.readouterr()
        return code, told.out, told.err

    return run


def added(data: Data, name: str) -> str:
    """Take a demo survey in; the letters its job is known by."""
    code, out, err = data("add", DEMO / f"{name}.json")
    assert code == Exit.DONE, err
    return out.split()[0]


def test_no_jobs_yet_is_said(data: Data) -> None:
    code, out, err = data("jobs")
    assert (code, out) == (Exit.DONE, "")
    assert "There are no jobs here yet; add one with the command data add." in err


def test_a_job_is_issued_with_its_pdf_and_listed(data: Data, tmp_path: Path) -> None:
    job = added(data, "window_lime")
    folder = tmp_path / "papers"
    firm = DEMO / "firm.json"
    code, out, err = data("issue", job, "--firm", firm, "--pdf", folder, "--date", "2026-11-25")
    assert code == Exit.DONE
    assert out.splitlines()[0] == "Q-0001"
    assert "Some rates on it are illustrations" in err
    written = (folder / "quotation-Q-0001.pdf").read_bytes()
    assert written.startswith(b"%PDF")
    assert data("paper", "Q-0001", tmp_path / "again")[0] == Exit.DONE
    assert (tmp_path / "again" / "quotation-Q-0001.pdf").read_bytes() == written
    assert f"{job}  " in data("jobs")[1]
    assert "offered   Ines Marlowe" in data("jobs")[1]


def test_papers_are_numbered_by_kind_and_superseded(data: Data) -> None:
    measured, told = added(data, "window_lime"), added(data, "phone_call")
    data("issue", measured)
    assert data("issue", measured, "--supersede", "Q-0001")[1] == "Q-0002\n"
    assert data("issue", told)[1] == "E-0001\n"
    code, out, _err = data("papers")
    assert code == Exit.DONE
    first, second, third = out.splitlines()
    assert first.startswith("Q-0001  ")
    assert first.endswith("superseded by Q-0002")
    assert second.startswith("Q-0002  ")
    assert third.startswith("E-0001  ")


def test_papers_that_follow_an_offer_are_listed_and_written_out(data: Data, tmp_path: Path) -> None:
    data("issue", added(data, "window_lime"))
    with open_file(file_in(tmp_path / "work")) as database:
        job = jobs.list_jobs(database)[0].uid

        def credit(number: str) -> Made:
            return Made(b"%PDF-1.7 " + number.encode(), {}, Money.of("1120.50"))

        kept_papers.keep(database, PaperKind.CREDIT_NOTE, job=job, make=credit)
    code, out, _err = data("papers")
    assert code == Exit.DONE
    last = out.splitlines()[-1]
    assert last.startswith("C-0001  ")
    assert last.endswith("credit note  £1,120.50")
    assert data("paper", "C-0001", tmp_path / "out")[0] == Exit.DONE
    written = tmp_path / "out" / "credit-note-C-0001.pdf"
    assert written.read_bytes() == b"%PDF-1.7 C-0001"
    assert "C-0001  issued" in data("numbers")[1]


def test_a_changed_paper_is_told_by_number(data: Data, tmp_path: Path) -> None:
    data("issue", added(data, "window_lime"))
    with sqlite3.connect(file_in(tmp_path / "work")) as file:
        guard = "SELECT sql FROM sqlite_schema WHERE name = 'tr_issued_papers_frozen'"
        (sql,) = file.execute(guard).fetchone()
        file.execute("DROP TRIGGER tr_issued_papers_frozen")
        file.execute("UPDATE issued_papers SET total_pence = total_pence - 1")
        file.execute(sql)
    file.close()
    code, _out, err = data("papers")
    assert code == Exit.FAULT
    assert "Q-0001 is not as it was issued: its total was changed." in err
    assert "data restore" in err


def test_nothing_is_issued_where_nobody_may_price(data: Data) -> None:
    code, out, err = data("issue", added(data, "refer"))
    assert (code, out) == (Exit.MISTAKE, "")
    assert "no price is given for a wall with the route 'refer to a chartered" in err
    assert data("papers") == (Exit.DONE, "", "")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["issue", "nothing"], "There is no job 'nothing' in the file"),
        (["paper", "Q-0009", "out"], "There is no paper 'Q-0009' in the file"),
        (["issue"], "JOB"),
    ],
)
def test_what_cannot_be_used_is_said_in_words(data: Data, words: list[str], said: str) -> None:
    code, out, err = data(*words)
    assert (code, out) == (Exit.MISTAKE, "")
    assert said in err


def test_a_bad_date_or_scope_uses_up_no_number(data: Data) -> None:
    job = added(data, "window_lime")
    assert data("issue", job, "--date", "30/02/2026")[0] == Exit.MISTAKE
    assert data("issue", job, "--scope", "nothing")[0] == Exit.MISTAKE
    assert data("issue", job, "--supersede", "Q-0009")[0] == Exit.MISTAKE
    assert data("issue", job)[1] == "Q-0001\n"


def test_numbers_go_on_from_an_earlier_book_and_say_why(data: Data) -> None:
    code, out, _err = data("numbers", "--next", "q-148", "--why", "in the paper book")
    assert (code, out) == (Exit.DONE, "Q-0001 to Q-0147  left out: in the paper book\n")
    assert data("issue", added(data, "window_lime"))[1] == "Q-0148\n"
    assert data("numbers")[1].splitlines()[1] == "Q-0148  issued"
    assert data("numbers", "--next", "Q-0100", "--why", "a slip")[0] == Exit.MISTAKE
    assert data("numbers", "--next", "Q-0200")[0] == Exit.MISTAKE
