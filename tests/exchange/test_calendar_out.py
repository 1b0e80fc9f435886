"""The programme as a calendar file, read back by another library than the one that wrote it."""

from __future__ import annotations

import datetime
import re
import warnings
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.exchange.calendar_out import About, legible, to_ics, uid_of
from estimator.works.programme import DatedTask, TaskKind
from estimator.works.reissued import Reissue

with warnings.catch_warnings():
    # The reading library's own use of older Python.
    warnings.simplefilter("ignore")
    import vobject

HOSTILE = 'Müller; \\Sons, "O\'Neil" & <b>Co</b>\r\nBEGIN:VEVENT\nX-EVIL:1'
ABOUT = About(
    job="0123456789abcdef0123456789abcdef",
    title="Stepped crack under the front window",
    site="14 Tarn Street, Eastmere Vale",
    firm="Tarn & Pike",
    stamp=datetime.datetime(2026, 11, 25, 18, 5, 7, 123, tzinfo=datetime.UTC),
)
MONDAY = datetime.date(2026, 11, 30)


def task(key: str, first: datetime.date, last: datetime.date, **changes: Any) -> DatedTask:
    is_wait = key.startswith("wait")
    made = DatedTask(
        key=key,
        kind=TaskKind.WAIT if is_wait else TaskKind.VISIT,
        title="Wait for the grout" if is_wait else "Cut the beds, set the bars",
        first=first,
        last=last,
        days=Decimal(1),
        starts=datetime.datetime.combine(first, datetime.time(8)),
        ends=datetime.datetime.combine(last, datetime.time(16)),
        reason="6.1 h of work",
        gang=("Ada", "Ben"),
    )
    return replace(made, **changes)


FIRST = task("visit/1", MONDAY, MONDAY + datetime.timedelta(days=1))
WAIT = task("wait/1", MONDAY + datetime.timedelta(days=2), MONDAY + datetime.timedelta(days=3))


def read(data: bytes) -> dict[str, Any]:
    """Return the events of a file by UID, as the other library reads them."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        (calendar,) = vobject.readComponents(data.decode())
    return {event.uid.value: event for event in calendar.vevent_list}


def test_days_are_whole_and_end_the_day_after_the_last() -> None:
    """RFC 5545, 3.6.1: DTEND of a date is exclusive."""
    events = read(to_ics(Reissue(1, (FIRST, WAIT), ()), ABOUT))
    event = events[uid_of(ABOUT.job, "visit/1")]
    assert event.dtstart.value == MONDAY
    assert event.dtend.value == MONDAY + datetime.timedelta(days=2)
    assert event.transp.value == "OPAQUE"
    assert event.location.value == ABOUT.site
    assert events[uid_of(ABOUT.job, "wait/1")].transp.value == "TRANSPARENT"


def test_a_file_sent_again_moves_what_is_there() -> None:
    """RFC 5545, 3.8.7.4 and RFC 5546, 2.1.4: the same UID, a higher SEQUENCE."""
    later = replace(FIRST, first=MONDAY + datetime.timedelta(days=7))
    later = replace(later, last=later.first)
    one = read(to_ics(Reissue(1, (FIRST, WAIT), ()), ABOUT))
    two = read(to_ics(Reissue(2, (later,), (WAIT,)), ABOUT))
    assert one.keys() == two.keys()
    for uid, event in two.items():
        assert int(event.sequence.value) > int(one[uid].sequence.value)
    assert two[uid_of(ABOUT.job, "visit/1")].dtstart.value == later.first
    assert two[uid_of(ABOUT.job, "wait/1")].status.value == "CANCELLED"
    assert two[uid_of(ABOUT.job, "visit/1")].status.value == "CONFIRMED"


def test_what_anybody_typed_stays_in_its_line() -> None:
    about = replace(ABOUT, title=HOSTILE, site=HOSTILE, firm=HOSTILE)
    data = to_ics(Reissue(1, (replace(FIRST, gang=(HOSTILE,)),), ()), about)
    events = read(data)
    assert len(events) == 1
    (event,) = events.values()
    assert event.location.value.splitlines()[0] == HOSTILE.splitlines()[0]
    assert not hasattr(event, "x_evil")
    assert HOSTILE.splitlines()[0] in event.description.value


def test_lines_are_folded_and_end_as_the_standard_says() -> None:
    """RFC 5545, 3.1: CRLF, and no line longer than 75 octets."""
    about = replace(ABOUT, title="Straße " * 40)
    data = to_ics(Reissue(1, (FIRST,), ()), about)
    assert data.endswith(b"\r\n")
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    assert read(data)[uid_of(ABOUT.job, "visit/1")].summary.value.endswith("Straße ")


@pytest.mark.parametrize(
    "typed", ["a\x00b", "a\x07b", "a\x1fb", "a\x7fb", "a\ud800b", "a\udfffb", "a\x0bb"]
)
def test_no_control_gets_into_a_calendar(typed: str) -> None:
    """RFC 5545, 3.1: CONTROL is none of the letters of a text."""
    about = replace(ABOUT, title=typed, site=typed, firm=typed)
    data = to_ics(Reissue(1, (replace(FIRST, title=typed, reason=typed),), ()), about)
    assert not re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", data)
    event = read(data)[uid_of(ABOUT.job, "visit/1")]
    assert event.location.value == "ab"
    assert event.summary.value == "ab: ab"


@given(st.text(), st.text(), st.text())
def test_any_words_come_back_from_another_library(title: str, site: str, gang: str) -> None:
    about = replace(ABOUT, title=title, site=site)
    data = to_ics(Reissue(1, (replace(FIRST, gang=(gang,)),), ()), about)
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    assert b"\n" not in data.replace(b"\r\n", b"")
    event = read(data)[uid_of(ABOUT.job, "visit/1")]
    shown = legible(f"{FIRST.title}: {title}" if title else FIRST.title)
    assert event.summary.value == shown
    assert (event.location.value if site else "") == legible(site)
    assert legible(gang) in event.description.value


@pytest.mark.parametrize("name", ["prodid", "version"])
def test_what_every_calendar_must_say_is_there(name: str) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        (calendar,) = vobject.readComponents(to_ics(Reissue(1, (FIRST,), ()), ABOUT).decode())
    assert getattr(calendar, name).value
