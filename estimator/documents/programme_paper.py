"""The programme on paper: visits and waits over the days, and what may move them."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words, works_words
from estimator.documents.agreed_content import (
    AgreedPaper,
    Big,
    Bigs,
    Column,
    Days,
    Ledger,
    Line,
    Lines,
    Part,
    Prose,
)
from estimator.documents.agreed_words import Named, day
from estimator.documents.content import Points, Text
from estimator.documents.formats import plain
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader
from estimator.works.programme import DatedTask, finish, programme
from estimator.works.programme_notes import notes

DAY, COUNT = 96.0, 46.0


def render(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the programme as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return agreed_pages.lay_out(content_of(so_far, trader=trader, number=number, date=date))


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the paper says."""
    tasks = programme(so_far)
    parts: list[Part] = [*_dated(so_far, tasks)]
    if not tasks:
        parts.append(Prose("none", "", (Text(say("works.no_plan")),)))
    said = (say("works.visit_note"), *(one.text for one in notes(so_far)))
    parts.append(Prose("notes", say("works.notes"), (Points(tuple(dict.fromkeys(said))),)))
    named = Named(
        heading=say("works.programme_heading"),
        under=say("works.programme_under"),
        number=number,
        facts=(
            *works_words.facts(so_far, number, date),
            (say("works.gang"), agreed_words.listed(so_far.plan.gang if so_far.plan else ())),
        ),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _dated(so_far: SoFar, tasks: tuple[DatedTask, ...]) -> Iterator[Part]:
    done = finish(so_far)
    if not tasks or done is None:
        return
    bigs = (
        Big(say("works.days"), works_words.days_of(tasks)),
        Big(say("works.finish"), day(done), under=say("works.finish_note")),
    )
    yield Bigs(bigs)
    yield Days(
        tuple((one.title, one.first, one.last, one.is_worked) for one in tasks),
        so_far.plan.working_week if so_far.plan else (0, 1, 2, 3, 4),
    )
    columns = (
        Column(say("works.task_first"), DAY),
        Column(say("works.task_last"), DAY),
        Column(say("works.task_days"), COUNT, is_quiet=True),
    )
    yield Ledger("tasks", say("works.tasks"), columns, (Lines("", tuple(map(_line, tasks))),))


def _line(task: DatedTask) -> Line:
    under = task.reason if task.is_worked else say("works.task_wait")
    return Line(task.title, (day(task.first), day(task.last), plain(task.days)), under)
