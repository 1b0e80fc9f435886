"""What happened to a job, handed over to its customer, and without them once they are erased."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from estimator.contract import keeping
from estimator.contract.deeds import Accepted, Deed, Drafted, Struck
from estimator.contract.frozen import frozen
from estimator.contract.so_far import SoFar
from estimator.contract.sums import running
from estimator.money import Money
from estimator.store import (
    emptied,
    happenings,
    jobs,
    kept_papers,
    paper_checks,
    people,
    person_export,
    photos,
    retention,
)
from estimator.store.database import Database, open_file
from estimator.store.kept_papers import Made, PaperKind
from tests.store import deeds_made_up, people_made_up
from tests.store.people_made_up import CANARIES, LATELY, LONG_AGO, TODAY

BROTHER = "Ignatius Featherstonehaugh"
"""Somebody else who answered for the customer, whom no other field knows of."""
PRINTED = {CANARIES["name"], "Zephyrine", "Quillfeather"}
"""What stays of the customer in the bytes of a paper that is kept."""


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "work.perpend"
    path.write_bytes(people_made_up.fresh())
    with open_file(path) as opened:
        yield opened


def about_them(deed: Deed) -> Deed:
    """A deed of the made-up job as one of this customer, who is named wherever anybody can be."""
    text = keeping.written(deed).replace(deeds_made_up.WHO, BROTHER)
    told = keeping.read(text.replace("Front: 4 more", f"Front of {CANARIES['site']}: 4 more"))
    survey = people_made_up.survey()
    if isinstance(told, Accepted):
        terms = replace(told.contract.terms, customer_tax_number=CANARIES["vat_number"])
        return Accepted(replace(told.contract, survey=survey, terms=terms))
    if isinstance(told, Drafted):
        lines = tuple(
            replace(line, marks=(f"front {CANARIES['name']}/brick/5/3",))
            for line in told.variation.lines
        )
        title = f"Bricks of {CANARIES['name']}"
        return Drafted(replace(told.variation, survey=survey, title=title, lines=lines))
    return told


def with_deeds(database: Database, *, at: datetime = LATELY) -> people_made_up.Made:
    """A customer whose job has seen every kind of deed, and an invoice with its paper."""
    made = people_made_up.customer(database, issued_at=at)

    def now() -> datetime:
        return at

    for deed in deeds_made_up.journey():
        happenings.add(database, made.job, about_them(deed), now=now)
    slip = happenings.add(database, made.job, deeds_made_up.journey()[3], now=now)
    happenings.add(database, made.job, Struck(slip.uid, f"{BROTHER} rang"), now=now)

    def invoice(number: str) -> Made:
        said = {"deed": keeping.plain(about_them(deeds_made_up.journey()[2]))}
        pdf = f"%PDF-1.7 {number} {CANARIES['name']}".encode()
        return Made(pdf, {**said, "for": CANARIES["name"]}, Money.of(120))

    kept_papers.keep(database, PaperKind.INVOICE, job=made.job, make=invoice, now=now)
    return made


def found(database: Database) -> set[str]:
    words = [*CANARIES.values(), BROTHER, "Zephyrine", "Quillfeather", "selling the house"]
    return set(people_made_up.found_in(database.path.parent, words))


def figures(so_far: SoFar) -> tuple[object, ...]:
    """All that tax and the account need."""
    assert so_far.contract is not None
    return (
        so_far.net,
        so_far.contract.net,
        so_far.contract.total,
        [(line.rate, line.quantity, line.amount) for line in so_far.contract.lines],
        [(one.number, one.standing, one.variation.net) for one in so_far.variations],
        [(one.number, one.date, one.net, one.gross) for one in so_far.invoices],
        [(one.number, one.date, one.gross) for one in so_far.credits],
        [(one.on, one.amount, one.how) for one in so_far.payments],
        [(one.on, one.item, one.hours, one.used) for one in so_far.bookings],
        running(so_far, "a").after.total,
    )


def test_the_words_are_there_before_an_erasure(database: Database) -> None:
    # Otherwise finding none of them afterwards would show nothing.
    with_deeds(database)
    assert {*CANARIES.values(), BROTHER, "selling the house"} <= found(database)


def test_an_erasure_leaves_figures_and_nobody(database: Database) -> None:
    made = with_deeds(database, at=LONG_AGO)
    before = figures(happenings.so_far(database, made.job))
    count = len(happenings.of_job(database, made.job))
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert done.happenings == count
    assert found(database) == set()
    after = happenings.so_far(database, made.job)
    assert figures(after) == before
    assert len(happenings.of_job(database, made.job)) == count
    assert happenings.damaged(database) == ()
    assert paper_checks.verify(database) == ()


def test_papers_that_tax_needs_stay_to_the_byte_and_say_no_name(database: Database) -> None:
    made = with_deeds(database)
    pdf = kept_papers.pdf_of(database, "I-0001")
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert "I-0001" in [paper.number for paper in done.kept]
    assert kept_papers.pdf_of(database, "I-0001") == pdf
    said = kept_papers.said_by(database, "I-0001")
    assert said["deed"]["invoice"]["lines"][0]["net"] == "100.00"
    assert not [word for word in PRINTED if word in json.dumps(said)]
    # The two papers themselves still name whom they were for, and nothing else does.
    assert found(database) == {*PRINTED, CANARIES["address"]}
    later = people.erase_customer(database, made.uid, today=date(2033, 4, 6))
    assert "I-0001" in [paper.number for paper in later.emptied]
    assert found(database) == set()
    assert happenings.damaged(database) == ()


def test_what_was_agreed_can_still_be_measured_and_priced(database: Database) -> None:
    made = with_deeds(database)
    people.erase_customer(database, made.uid, today=TODAY)
    contract = happenings.so_far(database, made.job).contract
    assert contract is not None
    survey = frozen(contract).survey
    assert survey.elevations[0].cracks
    assert survey.customer.name == ""


@pytest.mark.parametrize(
    "name", ["Drafted", "cut_slot", "Stitch", "2026-11-26", "agreed", "front/bar", "I-0001"]
)
def test_whatever_somebody_is_called_their_deeds_can_be_read(name: str) -> None:
    for deed in deeds_made_up.journey():
        text = keeping.written(deed)
        after = keeping.read(emptied.deed(text, [name]))
        assert type(after) is type(deed)


def test_others_keep_what_happened_to_them(database: Database) -> None:
    made = with_deeds(database)
    other = with_deeds(database)
    before = happenings.of_job(database, other.job)
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert happenings.of_job(database, other.job) == before
    assert f"what happened to job {other.job}" in done.mentions


def test_a_photograph_in_a_deed_goes_with_the_person(database: Database) -> None:
    made = people_made_up.customer(database)
    name = photos.keep(database, made.job, b"\xff\xd8\xff", width_px=9, height_px=9)
    deeds = deeds_made_up.journey()
    happenings.add(database, made.job, deeds[0])
    variation = replace(deeds_made_up.variation(), photos=(name,))
    happenings.add(database, made.job, Drafted(variation))
    assert people.erase_customer(database, made.uid, today=TODAY).photos == 1
    assert photos.load(database, made.job, name) is None


def test_all_that_happened_is_handed_over_but_not_the_price_list(database: Database) -> None:
    made = with_deeds(database)
    export = person_export.export_customer(database, made.uid)
    (job,) = export.held["jobs"]
    kinds = [one["kind"] for one in job["happenings"]]
    assert kinds[:2] == ["Accepted", "Confirmed"]
    assert len(kinds) == len(deeds_made_up.journey()) + 2
    contract = job["happenings"][0]["document"]["contract"]
    assert contract["accepted_by"] == BROTHER
    assert contract["survey"]["said"] == CANARIES["said"]
    assert contract["lines"][0]["amount"] == str(deeds_made_up.contract().lines[0].amount)
    for text in (export.as_json(), export.as_text()):
        assert BROTHER in text
        assert "perpend_price_book" not in text
    names = [paper.name for paper in export.papers]
    assert names == [f"quotation-{made.number}.pdf", "invoice-I-0001.pdf"]


def test_a_contract_called_off_is_looked_at_again_and_its_papers_are_counted(
    database: Database,
) -> None:
    made = with_deeds(database, at=LONG_AGO)
    jobs.move(database, made.job, jobs.Stage.ACCEPTED, now=lambda: LONG_AGO)
    assert retention.due(database, today=TODAY) == ()
    jobs.move(database, made.job, jobs.Stage.LOST, now=lambda: LONG_AGO)
    (due,) = retention.due(database, today=date(2024, 1, 1))
    assert (due.uid, due.papers_kept, due.papers_emptied) == (made.uid, 2, 0)
    assert due.kept_until == date(2025, 4, 5)
