"""Everything about one customer, and nothing about anybody else."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.store import issued, people, person_export
from estimator.store.database import Database, open_file
from estimator.survey import survey_file
from tests.store import people_made_up as made_up
from tests.store.people_made_up import CANARIES, TODAY

OTHER = {name: f"Somebody {name}" for name in CANARIES}


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "work.perpend"
    path.write_bytes(made_up.fresh())
    with open_file(path) as opened:
        yield opened


def test_everything_typed_about_them_is_in_both_forms(database: Database) -> None:
    made = made_up.customer(database)
    made_up.customer(database, words=OTHER)
    export = person_export.export_customer(database, made.uid)
    for text in (export.as_json(), export.as_text()):
        assert [word for word in CANARIES.values() if word not in text] == []
        assert "Somebody" not in text


def test_every_revision_paper_and_draft_is_listed(database: Database) -> None:
    made = made_up.customer(database)
    export = person_export.export_customer(database, made.uid)
    held = json.loads(export.as_json())
    (job,) = held["jobs"]
    assert held["customer"]["uid"] == made.uid
    assert [survey["revision"] for survey in job["surveys"]] == [1, 2]
    kept = survey_file.read(json.dumps(job["surveys"][0]["document"]))
    assert kept == survey_file.read(made_up.survey())
    assert [(paper["number"], paper["pdf"]) for paper in job["papers"]] == [
        (made.number, f"quotation-{made.number}.pdf")
    ]
    assert job["papers"][0]["content"]["survey"]["said"] == CANARIES["said"]
    assert [draft["key"] for draft in held["drafts"]] == [f"survey/{made.job}"]


def test_a_pdf_is_handed_over_as_it_went_out(database: Database) -> None:
    made = made_up.customer(database)
    (paper,) = person_export.export_customer(database, made.uid).papers
    assert paper.pdf == issued.pdf_of(database, made.number)


def test_text_and_json_say_the_same(database: Database) -> None:
    made = made_up.customer(database)
    export = person_export.export_customer(database, made.uid)
    text = " ".join(export.as_text().split())

    def leaves(value: object) -> Iterator[str]:
        if isinstance(value, dict):
            for inner in value.values():
                yield from leaves(inner)
        elif isinstance(value, list):
            for inner in value:
                yield from leaves(inner)
        elif isinstance(value, str):
            yield " ".join(value.split())

    found = list(leaves(export.held))
    assert len(found) > 100
    assert [leaf for leaf in found if leaf not in text] == []


def test_no_row_number_is_handed_over(database: Database) -> None:
    made = made_up.customer(database)
    held = person_export.export_customer(database, made.uid).held
    assert not {"id", "customer_id"} & {*held["customer"], *held["jobs"][0]}


def test_somebody_erased_is_handed_over_as_what_is_left(database: Database) -> None:
    made = made_up.customer(database)
    people.erase_customer(database, made.uid, today=TODAY)
    export = person_export.export_customer(database, made.uid)
    assert export.papers == ()
    assert [word for word in CANARIES.values() if word in export.as_text()] == []


def test_an_unknown_customer_is_told(database: Database) -> None:
    with pytest.raises(UserMistake, match="there is no customer"):
        person_export.export_customer(database, "0" * 32)
