"""The processes beside the window: right, replaced when they die, gone when closed."""

from __future__ import annotations

import datetime
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from multiprocessing.context import SpawnProcess
from pathlib import Path
from queue import Empty, Queue
from threading import Event, Thread, current_thread, main_thread
from types import MappingProxyType
from typing import IO, Any

import pytest

from estimator.desktop import workers
from estimator.desktop.workers import SLICES, WorkerLost, Workers, opened, packed
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.quoting.offering import Practice, prepare
from estimator.quoting.outlook import Outlook, outlook, slice_of
from estimator.quoting.quotation import Trader
from estimator.survey import survey_file
from estimator.survey.survey import Survey
from estimator.takeoff import rules
from estimator.takeoff.scope import USUAL

DEMO = Path(__file__).resolve().parents[2] / "demo"
DAY = datetime.date(2026, 11, 25)
pytestmark = pytest.mark.slow
LONG = 60.0
"""Seconds after which a test gives up; a busy machine is slow to start a process."""


class Answers:
    """Collects what is called back, in the order it comes."""

    def __init__(self) -> None:
        self.came: Queue[tuple[str, Any]] = Queue()

    def done(self, found: Any) -> None:
        self.came.put(("done", found))

    def failed(self, error: BaseException) -> None:
        self.came.put(("failed", error))

    def next(self) -> tuple[str, Any]:
        return self.came.get(timeout=LONG)

    def nothing_more(self) -> bool:
        try:
            self.came.get_nowait()
        except Empty:
            return True
        return False


@pytest.fixture
def pool() -> Iterator[Workers]:
    made = Workers()
    yield made
    made.close()


@pytest.fixture(scope="module")
def warm() -> Iterator[Workers]:
    """A pool for what leaves it as it was; starting the processes takes longer than the work."""
    made = Workers()
    yield made
    made.close()


@pytest.fixture(scope="module")
def practice() -> Practice:
    return Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))


@pytest.fixture(scope="module")
def told() -> Survey:
    return survey_file.load(DEMO / "phone_call.json")


def run(pool: Workers, function: Any, *arguments: Any) -> tuple[str, Any]:
    answers = Answers()
    pool.run(function, *arguments, on_done=answers.done, on_failed=answers.failed)
    return answers.next()


def is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


# -- what the processes do; functions of a module, so that they can cross


def loaded(*names: str) -> list[str]:
    """The modules in the process that are or lie under one of these."""
    return [one for one in sys.modules if one.split(".")[0] in names]


def whose() -> int:
    return os.getpid()


def die_always() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def die_once(mark: str) -> str:
    """Die, and come back with an answer in the process that takes the place."""
    if not Path(mark).exists():
        Path(mark).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return "survived"


def wait_at(gate: str) -> None:
    """Stand at a named pipe until its other end is opened and closed again."""
    Path(gate).read_bytes()


def noted(mark: str) -> None:
    with Path(mark).open("a", encoding="utf-8") as marks:
        marks.write("x")


def mistaken() -> None:
    raise UserMistake("the tin is empty", why="it was used up", do="buy another")


class Odd(Exception):
    def __init__(self, one: int, two: int) -> None:
        super().__init__(f"{one} and {two}")


def oddly() -> None:
    raise Odd(1, 2)


# -- outlooks


def test_an_outlook_is_the_one_worked_out_here(
    warm: Workers, told: Survey, practice: Practice
) -> None:
    answers = Answers()
    warm.outlook(told, practice, USUAL, DAY, on_done=answers.done, on_failed=answers.failed)
    assert answers.next() == ("done", outlook(told, practice, scopes=USUAL, date=DAY))
    assert answers.nothing_more()


def test_the_newest_request_supersedes_those_before(
    warm: Workers, told: Survey, practice: Practice
) -> None:
    answers = [Answers() for _request in range(20)]
    for number, answer in enumerate(answers):
        survey = replace(told, title=f"Wall {number}")
        warm.outlook(survey, practice, USUAL, DAY, on_done=answer.done, on_failed=answer.failed)
    word, found = answers[-1].next()
    assert word == "done"
    assert isinstance(found, Outlook)
    assert all(answer.nothing_more() for answer in answers[:-1])


def test_an_outdated_outlook_is_not_worked_out_to_its_end(
    pool: Workers, told: Survey, practice: Practice, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    mark = tmp_path / "mark"
    monkeypatch.setattr(workers, "slice_of", noted_slice)
    old, new = Answers(), Answers()
    gates = held(pool, tmp_path)
    first = replace(told, said=str(mark))
    pool.outlook(first, practice, USUAL, DAY, on_done=old.done, on_failed=old.failed)
    pool.outlook(told, practice, USUAL, DAY, on_done=new.done, on_failed=new.failed)
    for gate in gates:
        gate.close()
    assert new.next()[0] == "done"
    assert old.nothing_more()
    assert not mark.exists()


def held(pool: Workers, folder: Path) -> list[IO[bytes]]:
    """Give both processes work that they stay at until what is returned is closed."""
    paths, answers = [folder / "gate-1", folder / "gate-2"], Answers()
    for path in paths:
        os.mkfifo(path)
        pool.run(wait_at, str(path), on_done=answers.done, on_failed=answers.failed)
    # A pipe opens for writing no sooner than the process has opened it for reading.
    return [path.open("wb") for path in paths]


def noted_slice(survey: Survey, *given: Any) -> Any:
    if Path(survey.said).is_absolute():
        noted(survey.said)
    return slice_of(survey, *given)


def test_a_ticket_called_back_calls_nobody(pool: Workers, told: Survey, practice: Practice) -> None:
    first, second = Answers(), Answers()
    ticket = pool.outlook(told, practice, USUAL, DAY, on_done=first.done, on_failed=first.failed)
    ticket.cancel()
    pool.run(whose, on_done=second.done, on_failed=second.failed)
    assert second.next()[0] == "done"
    pool.close()
    assert first.nothing_more()


# -- other work


def test_a_process_that_works_knows_no_window_and_no_file(
    pool: Workers, told: Survey, practice: Practice
) -> None:
    # By a program of its own: this one has loaded Qt, and the tests bring more with them.
    program = (
        "import sys, tests.desktop.test_workers as t\n"
        "from queue import Queue\n"
        "from estimator.desktop.workers import Workers\n"
        "if __name__ == '__main__':\n"
        "    pool, came = Workers(), Queue()\n"
        "    pool.outlook(*t.request(), on_done=came.put, on_failed=came.put)\n"
        "    print(type(came.get(timeout=60)).__name__)\n"
        "    pool.run(t.loaded, 'PySide6', 'sqlalchemy', 'reportlab', 'babel', 'estimator',\n"
        "        on_done=came.put, on_failed=came.put)\n"
        "    print(*came.get(timeout=60))\n"
        "    pool.close()\n"
    )
    said = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=120
    )
    name, found = said.stdout.splitlines()
    assert (name, said.stderr) == ("Outlook", "")
    modules = found.split()
    assert "estimator.quoting.outlook" in modules
    assert not [one for one in modules if not one.startswith("estimator")]
    assert [one for one in modules if ".desktop." in one] == ["estimator.desktop.workers"]


def request() -> tuple[Any, ...]:
    practice = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
    return survey_file.load(DEMO / "phone_call.json"), practice, USUAL, DAY


def test_a_whole_quotation_comes_across(warm: Workers, told: Survey, practice: Practice) -> None:
    word, quoted = run(warm, prepare, told, practice)
    assert word == "done"
    assert quoted == prepare(told, practice)


def test_callbacks_come_in_a_thread_of_the_pool(warm: Workers) -> None:
    called, names = Event(), []

    def done(_found: Any) -> None:
        names.append(current_thread())
        called.set()

    warm.run(whose, on_done=done, on_failed=done)
    assert called.wait(LONG)
    assert names != [main_thread()]


def test_a_mistake_comes_back_as_it_was_said(warm: Workers) -> None:
    word, error = run(warm, mistaken)
    assert word == "failed"
    assert isinstance(error, UserMistake)
    assert str(error) == "the tin is empty because it was used up; buy another."


def test_an_error_that_cannot_cross_comes_back_in_words(warm: Workers) -> None:
    word, error = run(warm, oddly)
    assert (word, str(error)) == ("failed", "Odd: 1 and 2")


def test_what_cannot_be_sent_fails_and_holds_nobody_up(warm: Workers) -> None:
    assert run(warm, lambda: 1)[0] == "failed"
    assert run(warm, whose, Thread())[0] == "failed"
    assert run(warm, whose)[0] == "done"


# -- death


def test_work_whose_process_was_killed_is_done_by_another(pool: Workers, tmp_path: Path) -> None:
    assert run(pool, die_once, str(tmp_path / "mark")) == ("done", "survived")


def test_work_that_kills_twice_is_given_up_and_the_pool_lives(pool: Workers) -> None:
    word, error = run(pool, die_always)
    assert word == "failed"
    assert isinstance(error, WorkerLost)
    assert run(pool, whose)[0] == "done"


@pytest.mark.parametrize("error", [OSError("no more"), RuntimeError("too early")])
def test_where_no_process_can_start_the_work_fails_in_words(
    monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def refused(_process: object) -> None:
        raise error

    monkeypatch.setattr(SpawnProcess, "start", refused)
    pool = Workers()
    kind, found = run(pool, whose)
    pool.close()
    assert kind == "failed"
    assert isinstance(found, WorkerLost)


def test_an_outlook_survives_the_death_of_both_processes(
    pool: Workers, told: Survey, practice: Practice
) -> None:
    run(pool, whose)
    before = set(pool.processes())
    answers = Answers()
    pool.outlook(told, practice, USUAL, DAY, on_done=answers.done, on_failed=answers.failed)
    for pid in before:
        os.kill(pid, signal.SIGKILL)
    assert answers.next() == ("done", outlook(told, practice, scopes=USUAL, date=DAY))
    assert not before & set(pool.processes())


def test_closing_leaves_no_process_even_in_the_middle_of_work(tmp_path: Path) -> None:
    pool, answers = Workers(), Answers()
    gates = held(pool, tmp_path)
    pool.run(whose, on_done=answers.done, on_failed=answers.failed)
    pids = pool.processes()
    assert len(pids) == 2
    pool.close()
    assert not [pid for pid in pids if is_alive(pid)]
    for gate in gates:
        gate.close()
    assert answers.nothing_more()
    pool.run(whose, on_done=answers.done, on_failed=answers.failed)
    pool.close()
    assert pool.processes() == ()


def test_closing_what_never_started_is_nothing() -> None:
    pool = Workers()
    pool.close()
    assert pool.processes() == ()


# -- packing


def test_a_practice_crosses_once_and_prices_the_same(told: Survey, practice: Practice) -> None:
    survey, first = opened(packed((told, practice)))
    assert survey == told
    assert opened(packed([practice]))[0] is first
    assert outlook(told, first, scopes=USUAL, date=DAY) == outlook(
        told, practice, scopes=USUAL, date=DAY
    )


def test_a_table_that_is_read_only_stays_so() -> None:
    (back,) = opened(packed((MappingProxyType({"a": 1}),)))
    assert isinstance(back, MappingProxyType)
    assert back == {"a": 1}


def test_there_are_about_eight_slices(practice: Practice) -> None:
    assert practice.book.ranges.draws % SLICES == 0
