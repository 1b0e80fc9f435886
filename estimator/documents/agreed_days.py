"""Tasks drawn over the days: what is worked is full, what is waited for is hatched."""

from __future__ import annotations

import datetime
from typing import Any

from reportlab.platypus import Flowable

from estimator.documents import styles
from estimator.documents.agreed_content import Days
from estimator.documents.formats import short_day

ROW, TOP = 18.0, 30.0
NAMES = 205.0
"""Room for the names of the tasks."""
GAP = 3.0
LEAST_DAY = 3.0
LABEL = 56.0
"""Least room from one date to the next."""


class DayChart(Flowable):
    """One row a task; days nobody works lie on a tint."""

    def __init__(self, days: Days) -> None:
        super().__init__()
        self._days = days
        self._first = min(first for _title, first, _last, _worked in days.tasks)
        last = max(last for _title, _first, last, _worked in days.tasks)
        self._count = (last - self._first).days + 1
        self._across = max((styles.WIDTH - NAMES) / self._count, LEAST_DAY)
        self.width = styles.WIDTH
        self.height = TOP + ROW * len(days.tasks)

    def wrap(self, *_room: float) -> tuple[float, float]:
        """Return the room it takes."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the days, then a bar for each task."""
        canvas = self.canv
        canvas.saveState()
        foot, head = 0.0, self.height - TOP
        for place in range(self._count):
            on = self._first + datetime.timedelta(days=place)
            if on.weekday() not in self._days.working_week:
                canvas.setFillColor(styles.GROUND)
                canvas.rect(self._left(on), foot, self._across, head, stroke=0, fill=1)
        self._dates(canvas, head)
        for number, (title, first, last, is_worked) in enumerate(self._days.tasks):
            self._task(canvas, head - (number + 1) * ROW, (title, first, last), is_worked)
        canvas.restoreState()

    def _dates(self, canvas: Any, head: float) -> None:
        canvas.setFillColor(styles.MUTED)
        canvas.setFont(styles.REGULAR, styles.SMALL)
        free = NAMES
        for place in range(self._count):
            on = self._first + datetime.timedelta(days=place)
            left = self._left(on)
            if left >= free and left + LABEL <= self.width + LABEL / 2:
                canvas.drawString(left, head + 6, short_day(on))
                free = left + LABEL

    def _task(
        self,
        canvas: Any,
        foot: float,
        task: tuple[str, datetime.date, datetime.date],
        is_worked: bool,  # noqa: FBT001 - one of two looks
    ) -> None:
        title, first, last = task
        canvas.setFillColor(styles.INK)
        canvas.setFont(styles.REGULAR, styles.SMALL)
        canvas.drawString(0, foot + GAP + 2, _fitting(canvas, title))
        left, right = self._left(first), self._left(last) + self._across
        canvas.setStrokeColor(styles.INK)
        canvas.setLineWidth(styles.HAIRLINE)
        canvas.setFillColor(styles.ACT if is_worked else styles.PAPER)
        canvas.rect(left, foot + GAP, right - left, ROW - 2 * GAP, stroke=not is_worked, fill=1)
        if is_worked:
            return
        step = ROW - 2 * GAP
        box = canvas.beginPath()
        box.rect(left, foot + GAP, right - left, step)
        canvas.saveState()
        canvas.clipPath(box, stroke=0, fill=0)
        at = left - step
        while at < right:
            canvas.line(at, foot + GAP, at + step, foot + GAP + step)
            at += step / 2
        canvas.restoreState()

    def _left(self, on: datetime.date) -> float:
        return NAMES + (on - self._first).days * self._across


def _fitting(canvas: Any, title: str) -> str:
    """Return a title cut to its room."""
    while canvas.stringWidth(title, styles.REGULAR, styles.SMALL) > NAMES - 8:
        title = f"{title.rstrip('…')[:-1]}…"
    return title
