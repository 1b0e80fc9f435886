"""Erasing a person: nothing of them left to the byte, and what tax needs left as it was."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import select, update
from sqlalchemy.exc import IntegrityError

from estimator.notices import UserMistake
from estimator.store import customers, drafts, emptied, indexing, issued, jobs, people
from estimator.store.customers import Customer
from estimator.store.database import Database, open_file, problems_in
from estimator.store.jobs import Job, Stage
from estimator.store.tables import Customers, Facts, IssuedPapers, Surveys
from estimator.survey import survey_file
from estimator.survey.survey import Reading, Survey
from tests.store import people_made_up as made_up
from tests.store import work
from tests.store.people_made_up import CANARIES, LATELY, TODAY

OTHER = {
    "name": "Barnaby Underhill",
    "address": "4 Plain Street",
    "telephone": "01632 960001",
    "email": "b.underhill@example.com",
    "vat_number": "",
    "notes": "rings twice",
    "site": "Rose Barn",
    "said": "it leaks",
}
PRINTED = ("name", "address")
"""What the paper itself has to say of its customer."""


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "work.perpend"
    path.write_bytes(made_up.fresh())
    with open_file(path) as opened:
        yield opened


def found(database: Database) -> set[str]:
    """The canaries, and the rare words in them, found in the file or beside it in any form."""
    words = [*CANARIES.values(), *(part for word in CANARIES.values() for part in rare(word))]
    return set(made_up.found_in(database.path.parent, words))


def rare(word: str) -> list[str]:
    """The single words of a canary that nothing else holds: an index keeps words singly."""
    return [part for part in word.replace("-", " ").split() if len(part) >= 8]


def searched(database: Database, word: str) -> int:
    rows = database.raw.execute(
        "SELECT count(*) FROM search_words WHERE search_words MATCH ?", (f'"{word}"',)
    )
    return int(rows.fetchone()[0])


def test_canaries_are_found_before_an_erasure(database: Database) -> None:
    # Otherwise finding none of them afterwards would show nothing.
    made_up.customer(database)
    assert set(CANARIES.values()) <= found(database)
    assert searched(database, "Quillfeather") == 2


def test_an_erasure_leaves_no_canary_in_any_byte(database: Database) -> None:
    made = made_up.customer(database)
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert found(database) == set()
    assert searched(database, "Quillfeather") == 0
    assert (done.jobs, done.surveys, done.drafts) == (1, 2, 1)
    assert done.is_written_anew
    assert problems_in(database.raw) == []


def test_blanked_pages_hold_nothing_even_where_the_file_cannot_be_written_anew(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(people, "_write_anew", lambda raw: False)
    made = made_up.customer(database)
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert not done.is_written_anew
    assert found(database) == set()


def test_a_paper_tax_needs_keeps_its_pdf_and_prices_and_nothing_else(database: Database) -> None:
    made = made_up.customer(database, issued_at=LATELY)
    pdf, total = issued.pdf_of(database, made.number), issued.find(database, made.number).total
    options = json.loads(issued.content_text(database, made.number))["quotation"]["options"]
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert [paper.number for paper in done.kept] == [made.number]
    assert done.kept[0].until == date(2033, 4, 5)
    assert issued.pdf_of(database, made.number) == pdf
    assert issued.find(database, made.number).total == total
    left = json.loads(issued.content_text(database, made.number))
    prices = [option["offer"]["total"] for option in left["quotation"]["options"]]
    assert prices == [option["offer"]["total"] for option in options]
    expected = {word for name in PRINTED for word in (CANARIES[name], *rare(CANARIES[name]))}
    assert found(database) == expected
    assert issued.verify(database) == ()


def test_an_old_paper_keeps_number_and_total(database: Database) -> None:
    made = made_up.customer(database)
    before = issued.find(database, made.number)
    done = people.erase_customer(database, made.uid, today=TODAY)
    after = issued.find(database, made.number)
    assert (after.number, after.total, after.issued_at) == (
        before.number,
        before.total,
        before.issued_at,
    )
    assert [paper.total_pence for paper in done.emptied] == [before.total.pence]
    assert issued.pdf_of(database, made.number) == b""
    assert json.loads(issued.content_text(database, made.number))["emptied"] == "2026-11-25"
    assert issued.verify(database) == ()


def test_a_kept_paper_is_emptied_when_asked_again_years_later(database: Database) -> None:
    made = made_up.customer(database, issued_at=LATELY)
    people.erase_customer(database, made.uid, today=TODAY)
    assert people.to_erase(database, made.uid, today=date(2033, 4, 5)).emptied == ()
    later = people.erase_customer(database, made.uid, today=date(2033, 4, 6))
    assert [paper.number for paper in later.emptied] == [made.number]
    assert found(database) == set()
    assert people.to_erase(database, made.uid, today=date(2040, 1, 1)).emptied == ()


def test_everybody_else_stays_as_they_were(database: Database) -> None:
    made = made_up.customer(database)
    other = made_up.customer(database, words=OTHER)
    before = (customers.find(database, other.uid), jobs.find(database, other.job))
    survey, content = jobs.survey(database, other.job), issued.content_text(database, other.number)
    people.erase_customer(database, made.uid, today=TODAY)
    assert (customers.find(database, other.uid), jobs.find(database, other.job)) == before
    assert jobs.survey(database, other.job) == survey
    assert issued.content_text(database, other.number) == content
    assert [draft.key for draft in drafts.every(database)] == [f"survey/{other.job}"]


def test_what_was_measured_stays_and_the_survey_still_opens(database: Database) -> None:
    made = made_up.customer(database)
    before = jobs.survey(database, made.job, revision=1)
    people.erase_customer(database, made.uid, today=TODAY)
    after = jobs.survey(database, made.job, revision=1)
    assert shape(after) == shape(before)
    assert after.customer.kind == before.customer.kind
    assert after.elevations[0].name == "Elevation 1"
    assert jobs.revisions(database, made.job)[0].why == emptied.ERASED


def shape(survey: Survey) -> object:
    """What was measured, without names."""
    walls = [replace(wall, id="", name="", ornament="") for wall in survey.elevations]
    return survey.date, survey.basis, survey.signs, walls


def test_a_person_called_like_a_word_of_the_file_leaves_it_readable() -> None:
    told = json.loads(made_up.survey())
    told["elevations"][0]["brickwork"] = {"bond": "stretcher", "mortar": "lime"}
    left = emptied.survey(json.dumps(told), ["lime", "stretcher", "stepped", "measured on site"])
    assert survey_file.read(left).elevations[0].brickwork.mortar.value == "lime"


def strings(value: object) -> set[str]:
    """Every text anywhere in a JSON value."""
    if isinstance(value, dict):
        return set().union(*(strings(inner) for inner in value.values()), set())
    if isinstance(value, list):
        return set().union(*(strings(inner) for inner in value), set())
    return {value} if isinstance(value, str) else set()


SURVEYS = [
    path for path in sorted(work.DEMO.glob("*.json")) if "perpend_survey" in path.read_text()
]


@pytest.mark.parametrize("path", SURVEYS, ids=lambda path: path.stem)
def test_every_demo_wall_measures_the_same_without_its_person(path: Path) -> None:
    document = path.read_text(encoding="utf-8")
    # The worst there is: a person whose words are all the words of the file.
    words = emptied.own_words(strings(json.loads(document)))
    before, left = survey_file.read(document), emptied.survey(document, words)
    after = survey_file.read(left)
    assert walls(after) == walls(before)
    party = [before.customer.name, *before.customer.address, before.customer.telephone]
    assert [word for word in party if word and word in left] == []


def walls(survey: Survey) -> list[object]:
    """What was measured, without anything that can be typed freely."""
    return [
        replace(
            wall,
            id="",
            name="",
            ornament="",
            openings=tuple(replace(one, id="", kind="") for one in wall.openings),
            cracks=tuple(replace(one, id="") for one in wall.cracks),
            areas=tuple(replace(one, id="") for one in wall.areas),
            bars=tuple(replace(one, id="") for one in wall.bars),
        )
        for wall in survey.elevations
    ]


@pytest.mark.parametrize("document", ["", "not JSON", "[1]", "null"])
def test_a_document_nobody_can_read_is_emptied_whole(document: str) -> None:
    assert emptied.survey(document) == "{}"


def test_nothing_is_erased_when_a_step_fails(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = made_up.customer(database)
    before = list(database.raw.iterdump())

    def fails(connection: object) -> None:
        raise RuntimeError("cut off")

    monkeypatch.setattr(indexing, "forget", fails)
    with pytest.raises(RuntimeError):
        people.erase_customer(database, made.uid, today=TODAY)
    assert list(database.raw.iterdump()) == before


def test_papers_and_surveys_are_frozen_again_afterwards(database: Database) -> None:
    made = made_up.customer(database)
    people.erase_customer(database, made.uid, today=TODAY)
    with database.reading() as connection:
        assert connection.scalar(select(Facts.name).where(Facts.name == people.ERASING)) is None
    for table, column in ((IssuedPapers, "content"), (Surveys, "document")):
        with pytest.raises(IntegrityError), database.writing() as connection:
            connection.execute(update(table).values({column: "{}"}))


def test_to_erase_says_the_same_and_changes_nothing(database: Database) -> None:
    made = made_up.customer(database, stage=Stage.OFFERED)
    before = list(database.raw.iterdump())
    said = people.to_erase(database, made.uid, today=TODAY)
    assert list(database.raw.iterdump()) == before
    assert said.open_jobs == (made.job,)
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert replace(done, is_written_anew=False) == said


def test_other_places_that_name_the_person_are_told(database: Database) -> None:
    made = made_up.customer(database)
    neighbour = customers.add(
        database, Customer("Neighbour", notes=f"sent by {CANARIES['name'].upper()}")
    )
    job = jobs.add(database, Job("Gable", notes=f"call {CANARIES['telephone']}"))
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert done.mentions == (f"customer {neighbour.uid}", f"job {job.uid}")


def test_a_person_is_found_by_uid_or_by_a_part_of_the_name(database: Database) -> None:
    made = made_up.customer(database)
    for words in (made.uid, "quillf", " ZEPHYRINE QUILLFEATHER "):
        assert people.person(database, words).uid == made.uid


@pytest.mark.parametrize(
    ("words", "said"),
    [("Nobody", "no customer is called"), ("", "no customer"), ("a", "fits 2 customers")],
)
def test_a_name_that_fits_nobody_or_several_is_told(
    database: Database, words: str, said: str
) -> None:
    made_up.customer(database, words={**OTHER, "name": "Ada Älv"})
    customers.add(database, Customer("Barnaby"))
    with pytest.raises(UserMistake, match=said):
        people.person(database, words)


def test_letters_beyond_english_are_found_in_either_case(database: Database) -> None:
    added = customers.add(database, Customer("Örn Ægisson"))
    assert people.person(database, "öRN æGIS").uid == added.uid


def test_an_unknown_customer_is_told(database: Database) -> None:
    with pytest.raises(UserMistake, match="there is no customer"):
        people.erase_customer(database, "f" * 32, today=TODAY)
    with database.reading() as connection:
        assert connection.scalars(select(Customers.uid)).all() == []


def test_whoever_read_a_watched_crack_is_emptied_out_of_its_readings() -> None:
    read = Reading("a", "foot", "2026-10-01", 1.2, reader="I. Marlowe")
    document = survey_file.write(replace(work.demo(), readings=(read,)))
    left = survey_file.read(emptied.survey(document, []))
    assert left.readings == (replace(read, reader=""),)
