"""The programme as an iCalendar file (RFC 5545), for any calendar.

Each task keeps its UID for good and its SEQUENCE rises with every plan, so that a file sent again
moves the events a calendar has already. A task that fell out is sent as cancelled.
"""

from __future__ import annotations

import datetime
import re
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from estimator.works.programme import DatedTask
from estimator.works.reissued import Reissue

if TYPE_CHECKING:
    from icalendar import Event

PRODUCT = "-//Perpend//Programme//EN"
ONE_DAY = datetime.timedelta(days=1)
_NO_TEXT = re.compile("[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")
"""Controls that RFC 5545, 3.1, keeps out of a text, and halves of letters no file can hold."""


@dataclass(frozen=True, slots=True)
class About:
    """What stands beside every task."""

    job: str
    """The job's uid, 32 hexadecimal digits."""
    title: str
    site: str
    firm: str
    stamp: datetime.datetime
    """When the file is written, with its zone."""


def to_ics(programme: Reissue, about: About) -> bytes:
    """Return a programme as the bytes of an iCalendar file.

    Days on site are busy days; waits are shown and take nobody's time. All are whole days.

    Args:
        programme: The tasks now, and those that fell out.
        about: What stands beside them.
    """
    # Loaded only here: it takes longer than all else of a file.
    from icalendar import Calendar  # noqa: PLC0415

    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for task in programme.tasks:
        calendar.add_component(_event(task, about, programme.sequence, "CONFIRMED"))
    for task in programme.gone:
        calendar.add_component(_event(task, about, programme.sequence, "CANCELLED"))
    return bytes(calendar.to_ical())


def uid_of(job: str, key: str) -> str:
    """Return the name of a task in every calendar, for good.

    >>> uid_of("0" * 32, "visit/1") == uid_of("0" * 32, "visit/1")
    True
    """
    return str(uuid.uuid5(uuid.UUID(job), key))


def legible(text: str) -> str:
    r"""Return a text with its lines, and nothing else in it that no calendar may hold.

    >>> legible("14 Tarn Street\r\n\x00Eastmere Vale")
    '14 Tarn Street\nEastmere Vale'
    """
    return _NO_TEXT.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))


def _event(task: DatedTask, about: About, sequence: int, status: str) -> Event:
    from icalendar import Event  # noqa: PLC0415

    event = Event()
    stamp = about.stamp.astimezone(datetime.UTC).replace(microsecond=0)
    event.add("uid", uid_of(about.job, task.key))
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("sequence", sequence)
    event.add("status", status)
    event.add("dtstart", task.first)
    # The end of whole days is the day after the last.
    event.add("dtend", task.last + ONE_DAY)
    event.add("transp", "OPAQUE" if task.is_worked else "TRANSPARENT")
    event.add("summary", legible(": ".join(filter(None, (task.title, about.title)))))
    if about.site:
        event.add("location", legible(about.site))
    event.add("description", legible("\n".join(_words(task, about))))
    return event


def _words(task: DatedTask, about: About) -> Iterator[str]:
    if task.reason:
        yield task.reason
    if task.is_worked:
        yield "Weather permitting."
    if task.gang:
        yield ", ".join(task.gang)
    if about.firm:
        yield about.firm
