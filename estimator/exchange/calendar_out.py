"""The programme as an iCalendar file (RFC 5545), for any calendar.

Each task keeps its UID for good and its SEQUENCE rises with every plan, so that a file sent again
moves the events a calendar has already. A task that fell out is sent as cancelled.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterator
from dataclasses import dataclass

from icalendar import Calendar, Event

from estimator.works.programme import DatedTask
from estimator.works.reissued import Reissue

PRODUCT = "-//Perpend//Programme//EN"
ONE_DAY = datetime.timedelta(days=1)


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


def _event(task: DatedTask, about: About, sequence: int, status: str) -> Event:
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
    event.add("summary", f"{task.title}: {about.title}" if about.title else task.title)
    if about.site:
        event.add("location", about.site)
    event.add("description", "\n".join(_words(task, about)))
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
