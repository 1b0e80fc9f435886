"""Days, papers and reasons as one says them, and names that are only names."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from estimator.desktop.desk import STAGE_OF
from estimator.desktop.jobs import wording
from estimator.desktop.strip import STAGES
from estimator.money import Money
from estimator.quoting.quotation import Paper
from estimator.store.attention import Needed, Reason
from estimator.store.job_list import JobLine, LastPaper
from estimator.store.jobs import Stage

TODAY = datetime.date(2026, 11, 25)
AT = datetime.datetime(2026, 11, 16, 9, tzinfo=datetime.UTC)
PAPER = LastPaper("E-0031", Paper.ESTIMATE, Money.of("762.40"), AT, datetime.date(2026, 12, 16))
JOB = JobLine("a" * 32, "Crack", Stage.OFFERED, (), AT, AT, "Ines Marlowe", "", "", 1, PAPER)


@pytest.mark.parametrize(
    ("back", "said"),
    [(0, "Today"), (1, "Yesterday"), (2, "23 November"), (400, "21 October 2025")],
)
def test_a_day_is_said_with_its_month_as_a_word(back: int, said: str) -> None:
    assert wording.day(TODAY - datetime.timedelta(days=back), TODAY) == said


@pytest.mark.parametrize(
    ("reason", "until", "said"),
    [
        (Reason.NO_ANSWER, 21, "Estimate E-0031 went out 9 days ago and nobody has answered."),
        (Reason.LAPSED, -1, "Estimate E-0031 ran out yesterday and nobody has answered."),
        (Reason.LAPSED, -3, "Estimate E-0031 ran out 3 days ago and nobody has answered."),
        (Reason.LAPSING, 0, "Estimate E-0031 stands until today and nobody has answered."),
        (Reason.LAPSING, 1, "Estimate E-0031 stands until tomorrow and nobody has answered."),
        (Reason.LAPSING, 4, "Estimate E-0031 stands until Sunday and nobody has answered."),
    ],
)
def test_a_reason_is_a_plain_sentence(reason: Reason, until: int, said: str) -> None:
    last = TODAY + datetime.timedelta(days=until)
    assert wording.why(Needed(JOB, reason, AT.date(), last), TODAY) == said


def test_a_call_without_a_paper_says_so() -> None:
    needed = Needed(replace(JOB, paper=None), Reason.NO_PAPER, datetime.date(2026, 11, 24))
    assert wording.why(needed, TODAY) == "Taken up yesterday, and no price has gone out yet."


def test_an_estimate_is_never_a_sum_to_the_penny() -> None:
    assert wording.total_of(PAPER) == "likely £762"
    ranged = replace(PAPER, low=Money.of("620"), high=Money.of("980"))
    assert wording.total_of(ranged) == "£620 to £980"
    assert wording.total_of(replace(PAPER, kind=Paper.QUOTATION)) == "£762.40"


def test_every_stage_of_the_file_is_under_one_word() -> None:
    words = [word for word in wording.filters() if word]
    assert words == list(STAGES)
    assert {one for word in words for one in wording.stages_of(word)} == set(Stage)
    assert {wording.reached(replace(JOB, stage=one)) for one in Stage} <= set(range(len(STAGES)))
    assert set(STAGE_OF) == {one.value for one in Stage}


@pytest.mark.parametrize(
    ("given", "shown"),
    [
        ("\u202eevil\u202c", "evil"),
        ("a\n\tb  c", "a b c"),
        ("<b>x</b> & co", "<b>x</b> & co"),
        ("\x00\x07", ""),
    ],
)
def test_a_name_is_one_line_of_plain_text(given: str, shown: str) -> None:
    assert wording.plain(given) == shown


def test_a_job_without_a_name_is_called_by_what_it_is() -> None:
    assert wording.name_of(replace(JOB, customer=" ")) == "Crack"
    assert wording.name_of(replace(JOB, customer="", title="")) == "No name yet"
    assert wording.place_of(replace(JOB, site=("4 Mill Lane",))) == "4 Mill Lane · Crack"
