"""Customers, jobs and papers to test with, all invented."""

from __future__ import annotations

import random
import tempfile
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path

from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation, Trader
from estimator.store import customers, issued, jobs
from estimator.store.clock import Clock
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.issued import IssuedPaper, Origin
from estimator.store.jobs import Job
from estimator.store.within import Place
from estimator.survey import survey_file
from estimator.survey.survey import Survey
from estimator.takeoff import rules

DEMO = Path(__file__).resolve().parents[2] / "demo"
MORNING = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)


def at_nine() -> datetime:
    """A clock that stands still."""
    return MORNING


@lru_cache(maxsize=8)
def demo(name: str = "window_lime") -> Survey:
    return survey_file.load(DEMO / f"{name}.json")


def survey_text(name: str = "window_lime") -> str:
    return survey_file.write(demo(name))


@lru_cache(maxsize=8)
def quotation(name: str = "window_lime") -> Quotation:
    practice = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
    return offering.prepare(demo(name), practice)


def pdf(quoted: Quotation) -> bytes:
    """Bytes that stand for a PDF and say which paper they are of."""
    return b"%PDF-1.7\n" + quoted.number.encode() * 200


def job_in(place: Place, name: str = "window_lime", *, now: Clock = at_nine) -> str:
    """Add a customer, a job and its survey; return the job's uid."""
    who = customers.add(place, customers.from_party(demo(name).customer), now=now)
    job = jobs.add(place, Job(demo(name).title, customer=who.uid), now=now)
    jobs.accept_survey(place, job.uid, demo(name), why="first visit", now=now)
    return job.uid


def issued_for(
    place: Place, job: str, *, name: str = "window_lime", supersedes: str = "", now: Clock = at_nine
) -> IssuedPaper:
    origin = Origin(job, 1, supersedes=supersedes)
    return issued.issue(place, quotation(name), origin=origin, make_pdf=pdf, now=now)


def changed_survey(note: str, name: str = "window_lime") -> Survey:
    """The survey with another note, as one edit leaves it."""
    return replace(demo(name), said=note)


def busy(database: Database, papers: int = 4) -> list[str]:
    """Fill a file with a job of several papers, the last superseding the first; their numbers."""
    job = job_in(database)
    numbers = [issued_for(database, job).number for _ in range(papers - 1)]
    numbers.append(issued_for(database, job, supersedes=numbers[0]).number)
    customers.add(database, Customer("Somebody else"))
    return numbers


PIECES = (
    *("O'Brien & Sons <Ltd>", "<b>x</b>", "<img src=x>", "</para>", "&amp;", "<!-- c -->"),
    *('"; DROP TABLE jobs; --', "%_\\", "{}[]", "=1+1", "@SUM(A1)", "-5", "+44 (0)1632 960112"),
    *("½ in. £4 / m²", "25 mm", "Straße", "İstanbul ıI", "e\u0301é", "ﬃ", "\u00a0", "  ", "\t"),
    *("مثال", "\u202eabc\u202c", "עברית", "🧱👩‍🔧", "𝄞", "\u200b", "\ufeff", "\u2028", "\ufffd"),
    *("\x00", "\x07", "\x1f", "\x7f", "\r", "NULL", "nan", "🏴󠁧󠁢󠁥󠁮󠁧󠁿", "\U0010fffd", "\ufdd0"),
)
"""Scraps that text of all kinds is made of, none with a line end."""


def nasty_texts(count: int, seed: int) -> list[str]:
    """Texts hard to keep: markup, commands, every direction, no letters at all, 20,000 letters."""
    chance = random.Random(seed)
    texts = ["", " ", "x" * 20_000, "🧱" * 20_000, *PIECES]
    while len(texts) < count:
        texts.append("".join(chance.choices(PIECES, k=chance.randint(2, 12))))
    return texts[:count]


@lru_cache(maxsize=1)
def _empty() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "work.perpend"
        open_file(path).close()
        return path.read_bytes()


def fresh(folder: Path) -> Path:
    """A file with nothing in it; made once and copied, as making one takes longest."""
    path = folder / "work.perpend"
    path.write_bytes(_empty())
    return path
