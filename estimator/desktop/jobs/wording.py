"""Jobs in words: stages as the strip calls them, papers, days, and why one needs a look."""

from __future__ import annotations

import datetime
from functools import cache
from types import ModuleType
from typing import TYPE_CHECKING

from estimator.desktop.desk import STAGE_OF
from estimator.desktop.language import LANGUAGE, _, counted, in_context
from estimator.desktop.strip import STAGES, stage_words
from estimator.documents import formats
from estimator.quoting.quotation import Paper

if TYPE_CHECKING:
    from estimator.store.attention import Needed
    from estimator.store.job_list import JobLine, LastPaper
    from estimator.store.jobs import Stage

Filter = str
"""A stage as the strip calls it, or nothing for all."""
SOON = 7
"""Days within which a weekday says more than a date."""


@cache
def _dates() -> ModuleType:
    from babel import dates  # noqa: PLC0415 - loads slowly, and no page is shown before it is read

    return dates


def filters() -> dict[Filter, str]:
    """Return the words the list is cut down by, in order."""
    return {"": in_context("jobs", "All"), **stage_words()}


def stages_of(stage: Filter) -> tuple[Stage, ...]:
    """Return the stages in the file that one of the strip stands for; none of them for all."""
    from estimator.store.jobs import Stage  # noqa: PLC0415 - loads the database library

    return tuple(one for one in Stage if stage and STAGE_OF[one.value] == stage)


def reached(job: JobLine) -> int:
    """Return how many stages of the strip lie behind a job."""
    return STAGES.index(STAGE_OF[job.stage.value])


def stage_word(job: JobLine) -> str:
    """Return where a job stands."""
    if job.stage.value == "lost":
        return in_context("stage", "Not wanted")
    return stage_words()[STAGE_OF[job.stage.value]]


def name_of(job: JobLine) -> str:
    """Return whose job it is, or what it is called where nobody is named."""
    return plain(job.customer) or plain(job.title) or _("No name yet")


def place_of(job: JobLine) -> str:
    """Return where the wall is and what is wrong with it, as far as it is told."""
    site = next((line for line in job.site if line.strip()), "")
    title = job.title if job.customer.strip() else ""
    told = [plain(title)] if site and site in title else [plain(site), plain(title)]
    return " · ".join(part for part in told if part)


def plain(text: str) -> str:
    r"""Return a text on one line, without signs that turn the reading direction or cannot be seen.

    >>> plain("a\nb\u202ec  d")
    'a bc d'
    """
    return " ".join("".join(" " if one.isspace() else one for one in text if _is_seen(one)).split())


def _is_seen(letter: str) -> bool:
    return letter.isprintable() or letter.isspace() or letter in "\u200c\u200d"


def paper_of(paper: LastPaper) -> str:
    """Return what a paper is called and its number."""
    kind = _("Quotation {number}") if paper.kind is Paper.QUOTATION else _("Estimate {number}")
    return kind.format(number=plain(paper.number))


def total_of(paper: LastPaper) -> str:
    """Return a quotation's sum to the penny, or the range an estimate said."""
    if paper.low is not None and paper.high is not None:
        low, high = formats.whole_money(paper.low), formats.whole_money(paper.high)
        return _("{low} to {high}").format(low=low, high=high)
    if paper.total is None:
        return ""
    if paper.kind is Paper.QUOTATION:
        return formats.money(paper.total)
    return _("likely {total}").format(total=formats.whole_money(paper.total))


def day(on: datetime.date, today: datetime.date) -> str:
    """Return a day as one says it: today, yesterday, or its date with the month as a word."""
    if on == today:
        return _("Today")
    if on == today - datetime.timedelta(days=1):
        return _("Yesterday")
    pattern = "d MMMM" if on.year == today.year else "d MMMM y"
    said: str = _dates().format_date(on, pattern, locale=LANGUAGE.tag)
    return said


def local_day(at: datetime.datetime) -> datetime.date:
    """Return the day a moment fell on here."""
    return at.astimezone().date()


def ago(since: datetime.date, today: datetime.date) -> str:
    """Return how long ago a day was, for the middle of a sentence."""
    days = (today - since).days
    if days <= 0:
        return _("today")
    return _("yesterday") if days == 1 else counted("{n} day ago", "{n} days ago", days)


def until(last: datetime.date, today: datetime.date) -> str:
    """Return the last day a paper stands, for the middle of a sentence."""
    days = (last - today).days
    if days <= 0:
        return _("today")
    if days == 1:
        return _("tomorrow")
    if days < SOON:
        weekday: str = _dates().format_date(last, "EEEE", locale=LANGUAGE.tag)
        return weekday
    return day(last, today)


def why(needed: Needed, today: datetime.date) -> str:
    """Return in a plain sentence why a job asks to be looked at."""
    since = ago(needed.since, today)
    if needed.job.paper is None:
        return _("Taken up {ago}, and no price has gone out yet.").format(ago=since)
    paper = paper_of(needed.job.paper)
    if needed.until is None or needed.reason.name == "NO_ANSWER":
        return _("{paper} went out {ago} and nobody has answered.").format(paper=paper, ago=since)
    if needed.reason.name == "LAPSED":
        return _("{paper} ran out {ago} and nobody has answered.").format(
            paper=paper, ago=ago(needed.until, today)
        )
    return _("{paper} stands until {day} and nobody has answered.").format(
        paper=paper, day=until(needed.until, today)
    )


def counted_jobs(number: int) -> str:
    """Return a number of jobs."""
    return counted("{n} job", "{n} jobs", number)
