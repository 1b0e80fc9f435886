"""The programme: every visit and wait of the agreed work with its days.

Visits are working days, in halves; waits are whole calendar days between them, so that a weekend or
a holiday counts towards a wait. Each task has a key that stays the same when the works are planned
anew, so that a calendar entry can be brought up to date.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum

from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.contract.works import Plan
from estimator.notices import UserMistake
from estimator.pricing.offer import Step
from estimator.units import whole_up
from estimator.works.calendar import ONE_DAY, WorkingCalendar
from estimator.works.day_work import stages
from estimator.works.settings import Settings, shipped
from estimator.works.site_work import site_work

HALF = Decimal("0.5")


class TaskKind(Enum):
    """What a task of the programme is; the value begins its key."""

    VISIT = "visit"
    WAIT = "wait"
    LOOK_IN = "look_in"
    COVERED = "covered"


@dataclass(frozen=True, slots=True)
class DatedTask:
    """One visit or wait, with its days."""

    key: str
    """Stays the same when planned anew: ``visit/1``, ``wait/1``, ``look_in/2``, ``covered/1``."""
    kind: TaskKind
    title: str
    first: datetime.date
    last: datetime.date
    """The last day of it, still in it."""
    days: Decimal
    """Working days of a visit, calendar days of a wait. [day]"""
    starts: datetime.datetime
    ends: datetime.datetime
    """By the clock of the place, with no zone; a wait ends at midnight after its last day."""
    reason: str = ""
    gang: tuple[str, ...] = ()
    is_put_off: bool = False
    """Whether it waits for a day somebody named."""

    @property
    def is_worked(self) -> bool:
        """Whether somebody is there."""
        return self.kind in (TaskKind.VISIT, TaskKind.LOOK_IN)


@dataclass(frozen=True, slots=True)
class Dated:
    """Steps of an offer, and how they are to be dated."""

    steps: Sequence[Step]
    visits: int
    """How many of the steps that are worked are visits to work; the rest are look-ins."""
    more_days: Decimal = Decimal(0)
    """Working days agreed beyond the steps, less where negative; the last visit takes them."""


def programme(so_far: SoFar, *, settings: Settings | None = None) -> tuple[DatedTask, ...]:
    """Return the dated tasks of the work agreed; none before it is accepted and planned.

    >>> programme(SoFar())
    ()
    """
    if so_far.contract is None or so_far.plan is None:
        return ()
    return dated(_to_date(so_far, so_far.contract), so_far.plan, settings=settings)


def finish(so_far: SoFar, *, settings: Settings | None = None) -> datetime.date | None:
    """Return the last day somebody is there for the work agreed, None where nothing is planned.

    >>> finish(SoFar()) is None
    True
    """
    return finish_of(programme(so_far, settings=settings))


def finish_with(
    so_far: SoFar, key: str, *, settings: Settings | None = None
) -> datetime.date | None:
    """Return the last day somebody is there if a variation is agreed too, None where none is known.

    Raises:
        KeyError: when there is no variation of that key.

    >>> finish_with(SoFar(), "a")
    Traceback (most recent call last):
    ...
    KeyError: 'a'
    """
    varied = so_far.varied(key)
    as_if = tuple(
        replace(one, standing=Standing.AGREED) if one is varied else one
        for one in so_far.variations
    )
    return finish(replace(so_far, variations=as_if), settings=settings)


def dated(work: Dated, plan: Plan, *, settings: Settings | None = None) -> tuple[DatedTask, ...]:
    """Return the tasks of some work, one after another from the start of a plan.

    Raises:
        UserMistake: when the plan has no day on which anybody works.

    >>> steps = (Step("Cut, set, point", Decimal("1.5"), is_wait=False, reason=""),
    ...     Step("Keep covered", Decimal(2), is_wait=True, reason=""))
    >>> for task in dated(Dated(steps, 1), Plan(datetime.date(2026, 12, 23))):
    ...     print(task.key, task.first, task.last, task.ends.hour)
    visit/1 2026-12-23 2026-12-24 12
    covered/1 2026-12-25 2026-12-26 0
    """
    dating = _Dating(plan, settings or shipped())
    try:
        dating.all(work)
    except OverflowError as error:
        raise UserMistake("no day comes after that", do="write an earlier date") from error
    return tuple(sorted(dating.tasks, key=lambda task: (task.starts, task.kind.value)))


def finish_of(tasks: Iterable[DatedTask]) -> datetime.date | None:
    """Return the last day somebody is there, None where nothing is planned.

    What is kept covered afterwards is not waited for.

    >>> finish_of(()) is None
    True
    """
    return max((task.last for task in tasks if task.is_worked), default=None)


def _to_date(so_far: SoFar, contract: Contract) -> Dated:
    """Return the steps of the agreed work, and the days agreed that they do not tell of."""
    work = site_work(so_far)
    # Days agreed on paper count, also where they are for hours no measuring tells of.
    agreed = sum((one.variation.extra_days for one in so_far.agreed), contract.working_days)
    visits = len(stages(work.measure, work.book))
    return Dated(work.offer.programme, visits, agreed - work.offer.working_days)


def _lengthened(work: Dated) -> Sequence[Step]:
    """Return the steps with the last visit as much longer, or shorter, as was agreed besides."""
    places = [place for place, step in enumerate(work.steps) if not step.is_wait][: work.visits]
    if not work.more_days or not places:
        return work.steps
    steps = list(work.steps)
    last = steps[places[-1]]
    steps[places[-1]] = replace(last, days=max(last.days + work.more_days, HALF))
    return steps


class _Dating:
    """Gives one task after another its days."""

    def __init__(self, plan: Plan, settings: Settings) -> None:
        self.plan, self.settings = plan, settings
        self.calendar = WorkingCalendar.of(plan)
        self.put_off = dict(plan.not_before)
        self.ready = plan.start
        """First day on which the next visit may begin."""
        self.counted = dict.fromkeys(TaskKind, 0)
        self.tasks: list[DatedTask] = []
        self.worked_last = plan.start
        """Last day of the last visit."""
        self.looked_in = plan.start

    def all(self, work: Dated) -> None:
        """Date every step of some work."""
        for step in _lengthened(work):
            if step.is_wait:
                self.wait(step, is_last=self.counted[TaskKind.VISIT] >= work.visits)
            elif self.counted[TaskKind.VISIT] < work.visits:
                self.visit(step)
            else:
                self.look_in(step)

    def visit(self, step: Step) -> None:
        """Date a visit: whole days from a morning on, the last of them perhaps a half one."""
        key = self._key(TaskKind.VISIT)
        first, is_put_off = self._begin(key, self.ready)
        halves = whole_up(step.days / HALF)
        last = self.calendar.plus(first, whole_up(Decimal(halves) / 2) - 1)
        task = DatedTask(
            key,
            TaskKind.VISIT,
            step.title,
            first,
            last,
            Decimal(halves) * HALF,
            self._at(first),
            self._at(last, is_half=halves % 2 == 1, ends=True),
            step.reason,
            self.plan.gang,
            is_put_off,
        )
        self.tasks.append(task)
        self.worked_last, self.looked_in = last, last
        self.ready = last + ONE_DAY

    def wait(self, step: Step, *, is_last: bool) -> None:
        """Date a wait: whole calendar days after the last visit."""
        kind = TaskKind.COVERED if is_last else TaskKind.WAIT
        days = whole_up(step.days)
        if not days:
            return
        first = self.worked_last + ONE_DAY
        last = self.worked_last + days * ONE_DAY
        midnight = datetime.time()
        self.tasks.append(
            DatedTask(
                self._key(kind),
                kind,
                step.title,
                first,
                last,
                Decimal(days),
                datetime.datetime.combine(first, midnight),
                datetime.datetime.combine(last + ONE_DAY, midnight),
                step.reason,
            )
        )
        if not is_last:
            self.ready = last + ONE_DAY

    def look_in(self, step: Step) -> None:
        """Date a look-in: so many days after the pointing, never two on one day."""
        key = self._key(TaskKind.LOOK_IN)
        rule, number = self.settings.look_ins, self.counted[TaskKind.LOOK_IN]
        after = rule.first_after_days + (number - 1) * rule.then_every_days
        wanted = max(self.worked_last + after * ONE_DAY, self.looked_in + ONE_DAY)
        day, is_put_off = self._begin(key, wanted)
        task = DatedTask(
            key,
            TaskKind.LOOK_IN,
            step.title,
            day,
            day,
            step.days,
            self._at(day),
            self._at(day, is_half=True, ends=True),
            step.reason,
            self.plan.gang,
            is_put_off,
        )
        self.tasks.append(task)
        self.looked_in = day

    def _key(self, kind: TaskKind) -> str:
        self.counted[kind] += 1
        return f"{kind.value}/{self.counted[kind]}"

    def _begin(self, key: str, earliest: datetime.date) -> tuple[datetime.date, bool]:
        """Return the day a task begins, and whether it was put off to it."""
        usual = self.calendar.on_or_after(earliest)
        asked = self.put_off.get(key, earliest)
        first = self.calendar.on_or_after(max(earliest, asked))
        return first, first > usual

    def _at(
        self, day: datetime.date, *, is_half: bool = False, ends: bool = False
    ) -> datetime.datetime:
        length = self.settings.day
        hours = (length.half_hours if is_half else length.hours) if ends else 0
        begun = datetime.datetime.combine(day, datetime.time(self.plan.start_hour % 24))
        return begun + datetime.timedelta(hours=hours)
