"""What went out is told to the customer's own books as it was printed, and not priced again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.exchange import ubl_quotation
from estimator.notices import UserMistake
from estimator.office import electronic_quotations
from estimator.store import issued, jobs
from estimator.store.database import Database
from estimator.store.issued import Origin
from tests.exchange.test_ubl import quoted, schema_faults
from tests.store import work


def issue(database: Database, name: str) -> str:
    """Issue a quotation or an estimate of the demonstration, and return its number."""
    quotation = quoted(name)
    job = jobs.add(database, jobs.Job(quotation.survey.title)).uid
    jobs.accept_survey(database, job, quotation.survey, why="measured")
    origin = Origin(job, 1)
    return issued.issue(database, quotation, origin=origin, make_pdf=work.pdf).number


@pytest.mark.parametrize("name", ["quoin_cavity", "terrace", "window_lime"])
@pytest.mark.parametrize("option", [0, 1])
def test_it_is_byte_for_byte_the_paper(database: Database, name: str, option: int) -> None:
    """The frozen text of the paper leads to the document the quotation itself leads to."""
    number = issue(database, name)
    made = electronic_quotations.document(database, number, option)
    assert made == ubl_quotation.quotation(replace(quoted(name), number=number), option)
    assert schema_faults(made) == []


def test_an_estimate_is_refused(database: Database) -> None:
    number = issue(database, "phone_call")
    with pytest.raises(UserMistake, match="an estimate is not sent as a quotation"):
        electronic_quotations.document(database, number, 0)


@pytest.mark.parametrize("option", [-1, 2])
def test_a_choice_that_is_not_there_is_refused(database: Database, option: int) -> None:
    number = issue(database, "window_lime")
    with pytest.raises(UserMistake, match="no such choice"):
        electronic_quotations.document(database, number, option)
