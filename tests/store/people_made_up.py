"""A made-up customer with a canary in every field that is about a person."""

from __future__ import annotations

import json
import tempfile
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache
from pathlib import Path

from estimator.pricing import price_book
from estimator.quoting import offering
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation, Trader
from estimator.store import customers, drafts, issued, jobs
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file
from estimator.store.issued import MakePdf, Origin
from estimator.store.jobs import Job, Stage
from estimator.survey import survey_file
from estimator.takeoff import rules

TODAY = date(2026, 11, 25)
LONG_AGO = datetime(2019, 3, 1, 9, tzinfo=UTC)
"""Papers of this day were needed until 5 April 2025."""
LATELY = datetime(2026, 6, 1, 9, tzinfo=UTC)
CANARIES = {
    "name": "Zephyrine Quillfeather",
    "address": "77 Xylocarp Mews",
    "telephone": "01632 960777",
    "email": "zq.canary@example.com",
    "vat_number": "GB987654399",
    "notes": "prefers-visits-at-duskfall",
    "site": "Oakumber Wharf Cottage",
    "said": "my-brother-is-a-plumberwright",
}
"""Eight words that stand nowhere but in what is about this person."""


def survey(words: dict[str, str] = CANARIES) -> str:
    """A survey file with the person in every text that may hold one."""
    return json.dumps(
        {
            "perpend_survey": 1,
            "reference": f"2026-014 {words['name']}",
            "title": f"Crack at {words['site']}",
            "date": "2026-11-25",
            "basis": "measured on site",
            "customer": {
                "name": words["name"],
                "kind": "household",
                "address": [words["address"], "Anytown"],
                "site": [words["site"]],
                "telephone": words["telephone"],
                "email": words["email"],
                "vat_number": words["vat_number"],
            },
            "site": {"built": f"by the father of {words['name']}, 1931"},
            "elevations": [
                {
                    "id": f"front {words['name']}",
                    "name": f"Front of {words['site']}",
                    "outline": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]],
                    "ornament": words["notes"],
                    "cracks": [
                        {
                            "id": "a",
                            "width_mm": 3,
                            "run": {"runs": "stepped", "x_mm": 1575, "course": 2, "courses": 11},
                        }
                    ],
                }
            ],
            "said": words["said"],
            "not_seen": words["notes"],
            "engineers_report": {
                "engineer": f"friend of {words['name']}",
                "reference": words["address"],
                "date": "2026-10-01",
            },
        }
    )


@dataclass(frozen=True, slots=True)
class Made:
    """What was put into the file."""

    uid: str
    job: str
    number: str


def customer(
    database: Database,
    *,
    issued_at: datetime = LONG_AGO,
    words: dict[str, str] = CANARIES,
    stage: Stage = Stage.DONE,
    make_pdf: MakePdf | None = None,
) -> Made:
    """Put a customer into the file with a job, a survey in two revisions, a draft and a paper."""

    def now() -> datetime:
        return issued_at

    who = customers.add(
        database,
        Customer(
            words["name"],
            address=(words["address"], "Anytown"),
            telephone=words["telephone"],
            email=words["email"],
            vat_number=words["vat_number"],
            notes=words["notes"],
        ),
        now=now,
    )
    title = f"Front wall, {words['name']}"
    job = jobs.add(
        database,
        Job(title, who.uid, (words["site"],), stage, notes=words["notes"]),
        now=now,
    )
    seen = survey_file.read(survey(words))
    for why in (f"as {words['name']} asked", "looked again"):
        jobs.accept_survey(database, job.uid, seen, why=why, now=now)
    drafts.keep(database, f"survey/{job.uid}", json.dumps(words), now=now)
    paper = issued.issue(
        database,
        quoted(json.dumps(words)),
        origin=Origin(job.uid, 2),
        make_pdf=make_pdf or plain_pdf,
        now=now,
    )
    return Made(who.uid, job.uid, paper.number)


@lru_cache(maxsize=1)
def fresh() -> bytes:
    """The bytes of a file with nothing in it, so that each test need not make one."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "fresh.perpend"
        open_file(path).close()
        return path.read_bytes()


@lru_cache(maxsize=8)
def quoted(words: str) -> Quotation:
    """A real quotation, for words written as JSON."""
    practice = Practice(price_book.shipped(), rules.shipped(), Trader("Sample Masonry"))
    return offering.prepare(survey_file.read(survey(json.loads(words))), practice)


def plain_pdf(quotation: Quotation) -> bytes:
    """Bytes that stand for a PDF, with the person plain to see in them."""
    party = quotation.survey.customer
    return f"%PDF-1.7 {quotation.number} {party.name} {party.address[0]}".encode()


def forms(word: str) -> tuple[bytes, ...]:
    """A word in every way of writing it down that a file might use."""
    small = word.casefold()
    return tuple(
        one.encode(how)
        for one in {word, small, word.upper()}
        for how in ("utf-8", "utf-16-le", "utf-16-be")
    )


def found_in(folder: Path, words: list[str]) -> dict[str, list[str]]:
    """The files under a folder that hold a word in any of its forms."""
    there = {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
    return {
        word: hits
        for word in words
        if (
            hits := [
                path.name
                for path, content in there.items()
                if any(form in content for form in forms(word))
            ]
        )
    }
