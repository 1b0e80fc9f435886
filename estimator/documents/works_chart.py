"""Tasks drawn over the days: what is worked is full, what is waited for is hatched."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable, Paragraph

from estimator.documents import styles
from estimator.documents.formats import short_day
from estimator.documents.text import fitted, paragraph
from estimator.documents.works_content import Chart, ChartTask

NAMES = 172.0
"""Room for the names of the tasks."""
NAME_GAP = 12.0
BAR, PAD = 13.0, 6.0
HEAD = 36.0
"""Room for months and days above the tasks."""
FOOT = 15.0
"""Room for what the last day means, under the tasks."""
MOST_DAY = 60.0
"""Width of a day at the most."""
SINGLE = 15.0
"""From this width on every day has its number."""
MONTH = 46.0
"""Least room from the name of one month to that of the next."""
HATCH = 5.0
SIGN = (18.0, 9.0)
"""Width and height of what a key explains."""
LONGEST = 120
DAYS_OF_WEEK = "MTWTFSS"


class DayChart(Flowable):
    """One row a task; days nobody works lie on a tint, holidays are crossed."""

    def __init__(self, chart: Chart) -> None:
        super().__init__()
        self._chart = chart
        self._first = min(one.first for one in chart.tasks)
        # A whole week begins it, so that weekends are where one looks for them.
        self._first -= datetime.timedelta(days=self._first.weekday())
        last = max(one.last for one in chart.tasks)
        last += datetime.timedelta(days=6 - last.weekday())
        self._count = (last - self._first).days + 1
        room = (styles.WIDTH - NAMES) / self._count
        self._across = min(room, MOST_DAY)
        self._holidays = dict(chart.holidays)
        look = styles.sheet()
        self._names = [paragraph(_fitted_words(one.title), look.line) for one in chart.tasks]
        self._rows = [
            max(name.wrap(NAMES - NAME_GAP, styles.PAGE_HEIGHT)[1], BAR) + PAD
            for name in self._names
        ]
        self.width = styles.WIDTH
        self.height = HEAD + sum(self._rows) + FOOT

    def wrap(self, *_room: float) -> tuple[float, float]:
        """Return the room it takes."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw the days, then a bar for each task, then the day it is done."""
        canvas = self.canv
        canvas.saveState()
        head = self.height - HEAD
        for on in self._days():
            self._ground(canvas, on, (FOOT, head))
        self._months(canvas, head)
        if self._across >= SINGLE:
            self._numbers(canvas, head)
        else:
            self._weeks(canvas, head)
        top = head
        for task, name, high in zip(self._chart.tasks, self._names, self._rows, strict=True):
            self._task(canvas, task, name, (top - high, top))
            top -= high
        self._finish(canvas, head)
        canvas.restoreState()

    def _days(self) -> Iterator[datetime.date]:
        return (self._first + datetime.timedelta(days=place) for place in range(self._count))

    def _ground(self, canvas: Any, on: datetime.date, rows: tuple[float, float]) -> None:
        left, (foot, head) = self._left(on), rows
        if on in self._holidays:
            holiday(canvas, (left, foot, left + self._across, head))
        elif on.weekday() not in self._chart.working_week:
            canvas.setFillColor(styles.GROUND)
            canvas.rect(left, foot, self._across, head - foot, stroke=0, fill=1)
        if on.weekday() == 0 or self._across >= SINGLE:
            canvas.setStrokeColor(styles.RULE)
            canvas.setLineWidth(styles.HAIRLINE)
            canvas.line(left, foot, left, head)

    def _months(self, canvas: Any, head: float) -> None:
        """Write each month where it begins."""
        canvas.setFillColor(styles.INK)
        canvas.setFont(styles.SEMIBOLD, styles.SMALL)
        free = 0.0
        for on in self._days():
            if (on == self._first or on.day == 1) and self._left(on) >= free:
                canvas.drawString(self._left(on), head + 24, month(on))
                free = self._left(on) + MONTH

    def _numbers(self, canvas: Any, head: float) -> None:
        """Write the letter and the number of every day."""
        for on in self._days():
            is_worked = on.weekday() in self._chart.working_week and on not in self._holidays
            middle = self._left(on) + self._across / 2
            canvas.setFillColor(styles.INK if is_worked else styles.MUTED)
            canvas.setFont(styles.REGULAR, styles.SMALL)
            canvas.drawCentredString(middle, head + 14, DAYS_OF_WEEK[on.weekday()])
            canvas.setFont(styles.SEMIBOLD if is_worked else styles.REGULAR, styles.SMALL)
            canvas.drawCentredString(middle, head + 3, str(on.day))

    def _weeks(self, canvas: Any, head: float) -> None:
        """Write the day each week begins with, as often as there is room."""
        canvas.setFillColor(styles.MUTED)
        canvas.setFont(styles.REGULAR, styles.SMALL)
        free = 0.0
        for on in self._days():
            if on.weekday() == 0 and self._left(on) >= free:
                canvas.drawString(self._left(on), head + 4, str(on.day))
                free = self._left(on) + 18

    def _task(
        self, canvas: Any, task: ChartTask, name: Paragraph, rows: tuple[float, float]
    ) -> None:
        foot, head = rows
        name.drawOn(canvas, 0, (foot + head - name.height) / 2)
        canvas.setStrokeColor(styles.RULE)
        canvas.setLineWidth(styles.HAIRLINE)
        canvas.line(0, foot, self._left(self._first) + self._count * self._across, foot)
        middle = (foot + head) / 2
        end = self._left(task.last) + self._across * (0.5 if task.is_half else 1)
        box = (self._left(task.first) + 1, middle - BAR / 2, end - 1, middle + BAR / 2)
        if not task.is_worked:
            waited(canvas, box)
            return
        for part in self._worked(task, box):
            worked(canvas, part)

    def _worked(
        self, task: ChartTask, box: tuple[float, float, float, float]
    ) -> Iterator[tuple[float, float, float, float]]:
        """Yield a bar for each run of days that are worked: nobody comes on those between."""
        run: float | None = None
        on = task.first
        while on <= task.last:
            is_off = on.weekday() not in self._chart.working_week or on in self._holidays
            left = self._left(on)
            if is_off and run is not None:
                yield run, box[1], left - 1, box[3]
                run = None
            elif not is_off and run is None:
                run = max(left + 1, box[0])
            on += datetime.timedelta(days=1)
        if run is not None:
            yield run, box[1], box[2], box[3]

    def _finish(self, canvas: Any, head: float) -> None:
        """Mark the last day somebody is there by a line, and say so under it."""
        done = self._chart.finish
        if done is None:
            return
        x = self._left(done) + self._across
        canvas.setStrokeColor(styles.INK)
        canvas.setLineWidth(styles.STRONG_RULE)
        canvas.line(x, FOOT - 3, x, head)
        words = f"{self._chart.finish_words} {short_day(done)}"
        wide = stringWidth(words, styles.SEMIBOLD, styles.SMALL)
        canvas.setFillColor(styles.INK)
        canvas.setFont(styles.SEMIBOLD, styles.SMALL)
        canvas.drawString(min(x - wide / 2, self.width - wide), 1, words)

    def _left(self, on: datetime.date) -> float:
        return NAMES + (on - self._first).days * self._across


class ChartKeys(Flowable):
    """What the looks of days and tasks mean, in one line or more."""

    def __init__(self, keys: tuple[tuple[str, str], ...]) -> None:
        super().__init__()
        self._places: list[tuple[float, int, str, str]] = []
        x, row = 0.0, 0
        for kind, words in keys:
            wide = SIGN[0] + 5 + stringWidth(words, styles.REGULAR, styles.SMALL) + 14
            if x and x + wide > styles.WIDTH:
                x, row = 0.0, row + 1
            self._places.append((x, row, kind, words))
            x += wide
        self.width = styles.WIDTH
        self.height = 14.0 * (row + 1)

    def wrap(self, *_room: float) -> tuple[float, float]:
        """Return the room it takes."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw each look with its words."""
        canvas = self.canv
        for x, row, kind, words in self._places:
            foot = self.height - 14.0 * (row + 1) + 2
            box = (x, foot, x + SIGN[0], foot + SIGN[1])
            canvas.saveState()
            _LOOKS[kind](canvas, box)
            canvas.restoreState()
            canvas.setFillColor(styles.MUTED)
            canvas.setFont(styles.REGULAR, styles.SMALL)
            canvas.drawString(x + SIGN[0] + 5, foot + 1, words)


def month(on: datetime.date) -> str:
    """Return the month of a day and its year.

    >>> month(datetime.date(2026, 12, 14))
    'Dec 2026'
    """
    return f"{short_day(on).rsplit(' ', 1)[-1]} {on.year}"


def _fitted_words(title: str) -> str:
    """Return a title, cut where it would take a page: it stands in full in the table."""
    return fitted(title, styles.REGULAR, styles.SMALL, 4 * (NAMES - NAME_GAP))


def worked(canvas: Any, box: tuple[float, float, float, float]) -> None:
    """Draw days somebody is there: full."""
    left, bottom, right, top = box
    canvas.setFillColor(styles.ACT)
    canvas.roundRect(left, bottom, right - left, top - bottom, 2, stroke=0, fill=1)


def waited(canvas: Any, box: tuple[float, float, float, float]) -> None:
    """Draw days that are waited for: hatched."""
    left, bottom, right, top = box
    canvas.setFillColor(styles.PAPER)
    canvas.setStrokeColor(styles.ACT)
    canvas.setLineWidth(styles.HAIRLINE)
    canvas.rect(left, bottom, right - left, top - bottom, stroke=1, fill=1)
    _hatched(canvas, box, HATCH)


def holiday(canvas: Any, box: tuple[float, float, float, float]) -> None:
    """Draw a day of the working week on which nobody works: a tint, hatched the other way."""
    left, bottom, right, top = box
    canvas.setFillColor(styles.GROUND)
    canvas.rect(left, bottom, right - left, top - bottom, stroke=0, fill=1)
    canvas.setStrokeColor(styles.FRAME)
    canvas.setLineWidth(styles.HAIRLINE)
    _hatched(canvas, box, -HATCH)


def _weekend(canvas: Any, box: tuple[float, float, float, float]) -> None:
    left, bottom, right, top = box
    canvas.setFillColor(styles.GROUND)
    canvas.rect(left, bottom, right - left, top - bottom, stroke=0, fill=1)


def _hatched(canvas: Any, box: tuple[float, float, float, float], step: float) -> None:
    """Draw slanting lines over a box, up to the right, or up to the left where less than nought."""
    left, bottom, right, top = box
    high = top - bottom
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(left, bottom, right - left, high)
    canvas.clipPath(path, stroke=0, fill=0)
    at = left - high
    while at < right + high:
        lean = high if step > 0 else -high
        canvas.line(at, bottom, at + lean, top)
        at += abs(step)
    canvas.restoreState()


_LOOKS = {"worked": worked, "wait": waited, "week": _weekend, "holiday": holiday}
