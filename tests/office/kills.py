"""Killing a program that notes deeds, for a process of its own; prints what was left as JSON.

The killed ones are forks, made while no file is open.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, event

from estimator.contract.account import Invoice, Paying, Payment
from estimator.contract.contract import Manner
from estimator.contract.deeds import Booked, CalledOff, DayworkKept, Planned
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.contract.works import Booking, Completion, Plan
from estimator.money import Money
from estimator.office import agreed_papers, contracts
from estimator.office.noting import stage_of
from estimator.store import happenings, jobs, kept_papers, numbering, paper_checks
from estimator.store.database import Database, open_file, problems_in
from estimator.store.kept_papers import PaperKind
from estimator.store.numbering import Fate, Series
from tests.office import under_way
from tests.office.under_way import DAY, TRADER, WHO
from tests.store import deeds_made_up, work

Step = Callable[[Database, str], object]
PDF_BYTES = 60_000
"""Many pages of the file, so that a change takes a while to write."""


def paper(sheet: agreed_papers.Sheet, number: str) -> bytes:
    """Stand for a PDF: the same for the same number."""
    assert sheet.so_far.contract is not None
    return random.Random(number).randbytes(PDF_BYTES)


def bill() -> Invoice:
    """An invoice for no stage, so that there may be any number of them."""
    return replace(deeds_made_up.invoice(""), stage=0)


def _draft(key: str, courses: tuple[int, ...]) -> Step:
    def step(database: Database, job: str) -> None:
        variation = under_way.drawn_up(contracts.so_far(database, job), courses)
        assert variation.key == key
        contracts.draft(database, job, variation)

    return step


def _send(key: str) -> Step:
    return lambda database, job: contracts.send_variation(
        database, job, key, how=Manner.EMAIL, trader=TRADER, date=DAY, now=work.at_nine
    )


def _answer(key: str, given: Standing) -> Step:
    return lambda database, job: contracts.answer(
        database, job, key, given, who=WHO, how=Manner.TELEPHONE, now=work.at_nine
    )


def _confirm(key: str) -> Step:
    return lambda database, job: contracts.confirm(
        database, job, key, trader=TRADER, now=work.at_nine
    )


def _invoice(database: Database, job: str) -> object:
    return contracts.invoice(database, job, bill(), trader=TRADER)


def _do(deed: Any) -> Step:
    return lambda database, job: contracts.do(database, job, deed)


STEPS: tuple[Step, ...] = (
    lambda database, job: under_way.accept(database, job, "Q-0001"),
    _confirm(""),
    _invoice,
    _do(contracts.Paid(Payment(DAY, Money.of(120), Paying.TRANSFER, "I-0001"))),
    _do(Planned(Plan(DAY))),
    _draft("a", (5, 6, 7, 8)),
    _send("a"),
    _answer("a", Standing.AGREED),
    _confirm("a"),
    _draft("b", (5, 6, 7, 8, 9)),
    _send("b"),
    _answer("b", Standing.DECLINED),
    _do(DayworkKept(deeds_made_up.daywork())),
    _do(Booked(Booking(DAY, None, Decimal(2)))),
    lambda database, job: contracts.sheet(
        database, job, PaperKind.SITE_SHEET, trader=TRADER, now=work.at_nine
    ),
    lambda database, job: contracts.complete(
        database, job, Completion(DAY, "Ada"), trader=TRADER, now=work.at_nine
    ),
    lambda database, job: contracts.credit(
        database, job, deeds_made_up.credit(""), trader=TRADER, now=work.at_nine
    ),
    _do(CalledOff(DAY, WHO, Manner.EMAIL)),
)
"""A job from its acceptance to its end, each step one transaction."""
SITE_SHEET = 14
"""The one step that is noted nowhere but as a paper."""


def faults(path: Path, job: str, allowed: tuple[SoFar, ...]) -> tuple[list[str], SoFar]:
    """Reopen a file and say what is wrong with it; return what the job has come to as well."""
    found = []
    with open_file(path) as database:
        come_to = contracts.so_far(database, job)
        if come_to not in allowed:
            found.append("is in a state nobody brought it to")
        found += problems_in(database.raw)
        found += [f"{one.number} {one.what}" for one in paper_checks.verify(database)]
        found += [f"{one.uid} is damaged" for one in happenings.damaged(database)]
        papers = kept_papers.list_papers(database, job=job)
        numbers = {one.number for one in papers if one.kind is not PaperKind.SITE_SHEET}
        if numbers != noted(come_to):
            found.append(f"papers {sorted(numbers)} for deeds {sorted(noted(come_to))}")
        for series in Series:
            told = numbering.explain(database, series)
            if {one.fate for one in told} - {Fate.ISSUED}:
                found.append(f"a gap in {series.value} numbers")
        stage = jobs.find(database, job).stage
        if stage is not (stage_of(come_to) or jobs.Stage.ENQUIRY):
            found.append(f"stands at {stage.value}")
    return found, come_to


def noted(come_to: SoFar) -> set[str]:
    """The numbers that deeds name."""
    given = {come_to.contract_confirmed_by}
    given |= {one for varied in come_to.variations for one in (varied.number, varied.confirmed_by)}
    given |= {one.number for one in (*come_to.invoices, *come_to.credits)}
    completed = {"S-0004"} if come_to.completion else set()
    return (given | completed) - {""}


def asked_of_file(step: Step, path: Path, job: str, place: int = 0) -> int:
    """Do a step in a fork, killed just before the k-th thing it asks of the file, if one is named.

    Returns how many things it asked; less than none where it was killed.
    """
    child = os.fork()
    if not child:
        _step_and_die(step, path, job, place)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def _step_and_die(step: Step, path: Path, job: str, place: int) -> None:
    asked = 0

    def count(*_given: Any, **_named: Any) -> None:
        nonlocal asked
        asked += 1
        if asked == place:
            os.kill(os.getpid(), signal.SIGKILL)

    with open_file(path) as database:
        event.listen(Engine, "before_cursor_execute", count)
        event.listen(Engine, "commit", count)
        step(database, job)
    os._exit(asked)


def every_state(folder: str, one_in: str) -> dict[str, Any]:
    """Kill each step before one in so many things it asks of the file, then let it be done."""
    path = work.fresh(Path(folder))
    with open_file(path) as database:
        job, _offer = under_way.offered(database)
    told: dict[str, Any] = {"kills": 0, "bad": []}
    before = SoFar()
    for number, step in enumerate(STEPS):
        image = path.read_bytes()
        things = asked_of_file(step, path, job)
        done = path.read_bytes()
        for place in range(1 + number % int(one_in), things + 1, int(one_in)):
            path.write_bytes(image)
            told["kills"] += asked_of_file(step, path, job, place) == -signal.SIGKILL
            wrong, _now = faults(path, job, (before,))
            told["bad"] += [f"step {number}, thing {place}: {one}" for one in wrong]
        path.with_name(f"{path.name}-journal").unlink(missing_ok=True)
        path.write_bytes(done)
        with open_file(path) as database:
            after = contracts.so_far(database, job)
        if after == before and number != SITE_SHEET:
            told["bad"].append(f"step {number} did nothing")
        wrong, before = faults(path, job, (after,))
        told["bad"] += [f"step {number} done: {one}" for one in wrong]
    return told


def at_random(folder: str, trials: str, seed: str) -> dict[str, Any]:
    """Kill a program that invoices and books without a pause, at random moments."""
    chance = random.Random(seed)
    path = work.fresh(Path(folder))
    with open_file(path) as database:
        job, _so_far = under_way.accepted(database)
    told: dict[str, Any] = {"trials": 0, "saved": 0, "journals": 0, "bad": []}
    for turn in range(int(trials)):
        saved = _killed_while_busy(path, job, chance.uniform(0, 0.08))
        told["trials"] += 1
        told["saved"] += len(saved)
        told["journals"] += path.with_name(f"{path.name}-journal").exists()
        with open_file(path) as database:
            come_to = contracts.so_far(database, job)
        wrong, _same = faults(path, job, (come_to,))
        there = {one.number for one in come_to.invoices} | {
            f"{one.hours:f}" for one in come_to.bookings
        }
        wrong += [f"{one} was told and is gone" for one in saved if one not in there]
        told["bad"] += [f"seed {seed}, turn {turn}: {one}" for one in wrong]
    return told


def _killed_while_busy(path: Path, job: str, after: float) -> list[str]:
    out, into = os.pipe()
    child = os.fork()
    if not child:
        os.close(out)
        try:
            _busy(path, job, into)
        finally:
            os._exit(1)
    os.close(into)
    with os.fdopen(out, encoding="utf-8") as lines:
        first = lines.readline()
        time.sleep(after)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        rest = lines.read().split("\n")
    # A line cut short was not told.
    return [one for one in (first.strip(), *rest[:-1]) if one]


def _busy(path: Path, job: str, into: int) -> None:
    with open_file(path) as database:
        count = len(contracts.so_far(database, job).bookings)
        while True:
            count += 1
            contracts.do(database, job, Booked(Booking(DAY, None, Decimal(count))))
            os.write(into, f"{count}\n".encode())
            gone = contracts.invoice(database, job, bill(), trader=TRADER)
            os.write(into, f"{gone.number}\n".encode())


if __name__ == "__main__":
    agreed_papers.rendered = paper
    work.quotation()
    print(json.dumps(globals()[sys.argv[1]](*sys.argv[2:])))
