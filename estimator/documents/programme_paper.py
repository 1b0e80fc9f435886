"""The programme on paper: visits and waits over the days, and what may move them."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

from estimator.contract.so_far import SoFar
from estimator.contract.works import Plan
from estimator.documents import agreed_words, works_pages, works_withheld, works_words
from estimator.documents.agreed_content import AgreedPaper, Big, Bigs, Part, Prose
from estimator.documents.agreed_words import Named
from estimator.documents.content import Text
from estimator.documents.formats import plain, short_day
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Chart,
    ChartTask,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
    Topic,
    Topics,
)
from estimator.notices import Notice
from estimator.quoting.quotation import Trader
from estimator.works.calendar import ONE_DAY, WorkingCalendar
from estimator.works.programme import HALF, DatedTask, TaskKind, finish_of, programme
from estimator.works.programme_notes import notes
from estimator.works.site_work import site_work
from estimator.works.weather import mortars_of

WHEN, COUNT = 150.0, 44.0
KEYS = ("worked", "wait", "week", "holiday")
TOPIC_OF = {
    "weather_permitting": "weather",
    "lime_in_winter": "temperature",
    "not_worked": "days_off",
}
"""Which topic a note of the programme belongs to; all others are about starting."""


def render(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> bytes:
    """Return the programme as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return works_pages.lay_out(content_of(so_far, trader=trader, number=number, date=date))


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the paper says."""
    tasks, plan = programme(so_far), so_far.plan
    parts: list[Part] = []
    if tasks and plan is not None:
        not_agreed = works_withheld.counted_in(so_far, "planned_for")
        parts += [_bigs(tasks), *not_agreed, chart_of(tasks, plan), _table(tasks)]
    else:
        parts.append(Prose("none", "", (Text(say("works.no_plan")),)))
    parts.append(Topics("moves", say("works.moves"), tuple(_topics(so_far))))
    named = Named(
        heading=say("works.programme_heading"),
        under=say("works.programme_under"),
        number=number,
        facts=(
            *works_words.facts(so_far, number, date),
            (say("works.gang"), agreed_words.listed(plan.gang if plan else ())),
        ),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def chart_of(tasks: Sequence[DatedTask], plan: Plan) -> Chart:
    """Return the tasks over the days, with the days of the working week nobody works."""
    calendar = WorkingCalendar.of(plan)
    first, last = min(one.first for one in tasks), max(one.last for one in tasks)
    holidays = []
    on = first - first.weekday() * ONE_DAY
    while on <= last + (6 - last.weekday()) * ONE_DAY:
        why = calendar.why_not(on)
        if why and on.weekday() in plan.working_week:
            holidays.append((on, why))
        on += ONE_DAY
    shown = {"worked"} | {"wait" for one in tasks if not one.is_worked}
    shown |= {"holiday"} if holidays else set()
    shown |= {"week"} if len(set(plan.working_week)) < len("MTWTFSS") else set()
    return Chart(
        tuple(
            ChartTask(
                one.title,
                one.first,
                one.last,
                one.is_worked,
                is_half=one.is_worked and one.days % 1 == HALF,
            )
            for one in tasks
        ),
        plan.working_week,
        tuple(holidays),
        finish_of(tasks),
        say("works.finish_mark"),
        tuple((key, say(f"works.key_{key}")) for key in KEYS if key in shown),
    )


def _bigs(tasks: Sequence[DatedTask]) -> Bigs:
    done = finish_of(tasks) or max(one.last for one in tasks)
    told = [
        ("works.starts", min(one.first for one in tasks if one.is_worked)),
        ("works.finish", done),
    ]
    covered = [one.last for one in tasks if one.kind is TaskKind.COVERED]
    if covered:
        told.append(("works.covered_until", max(covered)))
    return Bigs(tuple(Big(say(key), short_day(on), under=str(on.year)) for key, on in told))


def _table(tasks: Sequence[DatedTask]) -> Grid:
    return Grid(
        "tasks",
        say("works.tasks"),
        (
            GridColumn(say("works.task_when"), WHEN),
            GridColumn(say("works.task_what"), 0),
            GridColumn(say("works.task_days"), COUNT, is_right=True, is_quiet=True),
        ),
        (GridGroup("", tuple(map(_row, tasks))),),
    )


def _row(task: DatedTask) -> GridRow:
    when = works_words.from_to(task.first, task.last)
    beside = [task.reason, *([] if task.is_worked else [say("works.task_wait")])]
    if task.is_put_off:
        beside.append(say("works.task_put_off"))
    words = agreed_words.listed(beside)
    what = f"{task.title}\n{words}" if words else task.title
    return GridRow((when, what, plain(task.days)))


def _topics(so_far: SoFar) -> Iterator[Topic]:
    """Yield what may move a date, each under a word of its own."""
    said: dict[str, list[str]] = {"weather": [], "temperature": []}
    for kind in mortars_of(site_work(so_far).measure):
        said["temperature"].append(
            say(
                "works.temperature_limit",
                title=kind.title,
                limit=f"{kind.least_temperature_c:g}",
                days=str(kind.cure_days),
            )
        )
    for note in notes(so_far):
        said.setdefault(_topic_of(note), []).append(note.text)
    said["weather"].append(say("works.visit_note"))
    for key, texts in said.items():
        if texts:
            yield Topic(say(f"works.{key}"), tuple(dict.fromkeys(texts)))


def _topic_of(note: Notice) -> str:
    return TOPIC_OF.get(note.code, "starting")
