"""Terms of payment: typed in plain words, said in words, kept with the agreement, on the paper."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest
from pytestqt.qtbot import QtBot

from estimator.contract.contract import Contract, Retention
from estimator.desktop.agreed import typed_terms
from estimator.desktop.agreed.acceptance_page import AcceptancePage
from estimator.desktop.agreed.payment_terms import said
from estimator.desktop.columns import Columns
from estimator.desktop.papers.written import Written
from estimator.notices import UserMistake
from estimator.pricing.tax_habits import Deduction
from estimator.survey.survey import CustomerKind, Survey
from tests.desktop.agreed.conftest import WAIT, NoDrafts, shown
from tests.desktop.fakes import WorkersAtOnce, answered, demo_survey, session_on


@pytest.fixture
def survey() -> Survey:
    """The wall another contractor has asked for."""
    seen = demo_survey("window_lime")
    trade = replace(
        seen.customer, kind=CustomerKind.TRADE, vat_number="GB123456789", is_end_user=False
    )
    return replace(seen, customer=trade)


@pytest.fixture
def columns(qtbot: QtBot, tmp_path: Path, survey: Survey) -> Iterator[Columns]:
    session = session_on(tmp_path, survey, workers=NoDrafts())
    yield shown(session, qtbot)
    session.filing.close()


@pytest.fixture
def page(quoted: Columns, qtbot: QtBot) -> AcceptancePage:
    """The page of acceptance, its first option taken."""
    return opened(quoted, qtbot)


def opened(columns: Columns, qtbot: QtBot) -> AcceptancePage:
    columns.agreeing.accept()
    page = columns.agreeing.acceptance
    qtbot.waitUntil(lambda: bool(page.options), timeout=WAIT)
    page.options[0].box.setChecked(True)
    return page


def typed(field: Written, text: str) -> None:
    field.show_text(text)
    field.typed.emit(text)


def take(columns: Columns, qtbot: QtBot) -> Contract:
    columns.agreeing.acceptance.take.click()
    following = columns.agreeing.following
    qtbot.waitUntil(lambda: following.has_contract, timeout=WAIT)
    answered(columns._session)
    assert following.so_far.contract is not None
    return following.so_far.contract


@pytest.mark.parametrize(
    ("read", "text", "meant"),
    [
        (typed_terms.due_days, "30", 30),
        (typed_terms.due_days, " 30 Days. ", 30),
        (typed_terms.due_days, "30d", 30),
        (typed_terms.due_days, "30 da", 30),
        (typed_terms.due_days, "2 weeks", 14),
        (typed_terms.due_days, "4 wks", 28),
        (typed_terms.due_days, "0", 0),
        (typed_terms.due_days, "120", 120),
        (typed_terms.months, "12", 12),
        (typed_terms.months, "1 month", 1),
        (typed_terms.months, "1 year", 12),
        (typed_terms.months, "0", 0),
        (typed_terms.kept_back, "5", Decimal(5)),
        (typed_terms.kept_back, "5%", Decimal(5)),
        (typed_terms.kept_back, "5 %", Decimal(5)),
        (typed_terms.kept_back, "2.5 per ce", Decimal("2.5")),
        (typed_terms.kept_back, "3 percent", Decimal(3)),
        (typed_terms.kept_back, "nothing", Decimal(0)),
        (typed_terms.kept_back, "10", Decimal(10)),
    ],
)
def test_plain_words_are_read(read: Callable[[str], object], text: str, meant: object) -> None:
    assert read(text) == meant


@pytest.mark.parametrize(
    ("read", "text"),
    [
        *(
            (typed_terms.due_days, one)
            for one in ("soon", "-3", "121", "30 %", "1.5", "٣", "18 wks")
        ),
        *((typed_terms.months, one) for one in ("never", "37", "4 years", "6 days", "²")),
        *((typed_terms.kept_back, one) for one in ("some", "11", "-1", "5 £", "2,5", "3.333", "%")),
        *((typed_terms.kept_back, one) for one in ("5 days", "1e1", "NaN", "٣")),
    ],
)
def test_what_means_nothing_is_told_in_one_sentence(
    read: Callable[[str], object], text: str
) -> None:
    with pytest.raises(UserMistake) as told:
        read(text)
    sentence = str(told.value)
    assert sentence.startswith("Type ")
    assert sentence.count(".") <= 2  # the end, and that of a number
    assert sentence.endswith(".")


@pytest.mark.parametrize(
    ("days", "kept", "sentence"),
    [
        (14, Retention(), "Paid within 14 days, nothing kept back."),
        (1, Retention(), "Paid within 1 day, nothing kept back."),
        (0, Retention(), "Paid on the day of the invoice, nothing kept back."),
        (30, Retention(Decimal(5)), "Paid within 30 days; 5 % kept back until the work is done."),
        (
            30,
            Retention(Decimal("2.5"), 12),
            "Paid within 30 days; 2.5 % kept back, half until the work is done, half until"
            " 12 months later.",
        ),
    ],
)
def test_terms_are_said_in_words(days: int, kept: Retention, sentence: str) -> None:
    assert said(days, kept) == sentence


def test_most_jobs_need_neither(quoted: Columns, page: AcceptancePage, qtbot: QtBot) -> None:
    assert page.terms.said.text() == "Paid within 14 days, nothing kept back."
    assert not page.terms.fields.isVisible()
    contract = take(quoted, qtbot)
    assert (contract.due_days, contract.retention) == (14, Retention())
    assert contract.terms.deduction is Deduction.REGISTERED


def test_days_retention_and_deduction_are_kept_with_the_agreement(
    quoted: Columns, page: AcceptancePage, qtbot: QtBot
) -> None:
    terms = page.terms
    terms.change.click()
    qtbot.waitUntil(terms.days.editor.hasFocus, timeout=WAIT)
    typed(terms.days, "30 days")
    assert not terms.months.isVisible()
    typed(terms.kept, "5 %")
    assert terms.months.isVisible()
    typed(terms.months, "1 year")
    assert terms.said.text() == (
        "Paid within 30 days; 5 % kept back, half until the work is done, half until"
        " 12 months later."
    )
    assert terms.scheme_said.text() == "20 % of the labour goes to the tax office."
    terms.scheme.pick(Deduction.UNVERIFIED)
    terms.scheme.changed.emit()
    assert terms.scheme_said.text() == "30 % of the labour goes to the tax office."
    terms.change.click()
    assert not terms.fields.isVisible()
    contract = take(quoted, qtbot)
    assert contract.due_days == 30
    assert contract.retention == Retention(Decimal(5), 12)
    assert contract.terms.deduction is Deduction.UNVERIFIED


def test_what_cannot_be_read_stays_and_nothing_is_agreed(
    quoted: Columns, page: AcceptancePage, qtbot: QtBot
) -> None:
    terms = page.terms
    terms.change.click()
    typed(terms.kept, "a little")
    assert terms.kept.problem.text() == ("Type a share in per cent, such as 5 or 2.5, at most 10.")
    assert terms.said.text() == "Paid within 14 days, nothing kept back."
    terms.change.click()
    assert terms.fields.isVisible()
    page.take.click()
    qtbot.waitUntil(terms.kept.editor.hasFocus, timeout=WAIT)
    assert terms.kept.text == "a little"
    assert not quoted.agreeing.following.has_contract
    typed(terms.kept, "")
    assert take(quoted, qtbot).retention == Retention()


def test_what_was_typed_stays_while_the_page_is_left_and_goes_with_the_job(
    quoted: Columns, page: AcceptancePage, qtbot: QtBot
) -> None:
    typed(page.terms.days, "45")
    typed(page.who, "Jo Bell")
    quoted.agreeing.job.back()
    opened(quoted, qtbot)
    assert page.terms.said.text() == "Paid within 45 days, nothing kept back."
    assert page.who.text == "Jo Bell"
    quoted._session.new_job()
    answered(quoted._session)
    quoted.agreeing.accept()
    assert page.terms.days.text == ""
    assert page.who.text == ""


def test_a_business_that_turns_out_a_household_keeps_nothing_back(
    quoted: Columns, page: AcceptancePage, qtbot: QtBot
) -> None:
    typed(page.terms.kept, "5")
    session = quoted._session
    seen = session.work.survey
    home = replace(seen, customer=replace(seen.customer, kind=CustomerKind.HOUSEHOLD))
    session._put(replace(session.work, survey=home))
    quoted.agreeing.job.back()
    opened(quoted, qtbot)
    assert page.terms.household.isVisible()
    assert "A household keeps nothing back" in page.terms.household.text()
    page.terms.change.click()
    assert page.terms.days.isVisible()
    assert not page.terms.kept.isVisible()
    assert not page.terms.scheme.isVisible()
    assert page.terms.said.text() == "Paid within 14 days, nothing kept back."


class TestHousehold:
    """A household is asked for days alone."""

    @pytest.fixture
    def survey(self) -> Survey:
        return demo_survey("window_lime")

    def test_a_household_is_asked_for_days_alone(
        self, quoted: Columns, page: AcceptancePage, qtbot: QtBot
    ) -> None:
        page.terms.change.click()
        assert page.terms.days.isVisible()
        for part in (page.terms.kept, page.terms.months, page.terms.scheme, page.terms.household):
            assert not part.isVisible()
        typed(page.terms.days, "7 days")
        contract = take(quoted, qtbot)
        assert (contract.due_days, contract.retention) == (7, Retention())
        assert contract.terms.deduction is Deduction.NONE


class TestBusiness:
    """A business that is no contractor keeps nothing back for the tax office."""

    @pytest.fixture
    def survey(self) -> Survey:
        seen = demo_survey("window_lime")
        return replace(seen, customer=replace(seen.customer, kind=CustomerKind.BUSINESS))

    def test_only_a_contractor_is_asked_for_the_tax_office(
        self, quoted: Columns, page: AcceptancePage, qtbot: QtBot
    ) -> None:
        page.terms.change.click()
        assert page.terms.kept.isVisible()
        assert not page.terms.scheme.isVisible()
        typed(page.terms.kept, "3")
        assert take(quoted, qtbot).retention == Retention(Decimal(3), 6)


class TestPaper:
    """The confirmation lies in the middle as it would go out."""

    @pytest.fixture
    def columns(self, qtbot: QtBot, tmp_path: Path, survey: Survey) -> Iterator[Columns]:
        session = session_on(tmp_path, survey, workers=WorkersAtOnce())
        yield shown(session, qtbot)
        session.filing.close()

    def test_the_paper_follows_what_is_typed(
        self, quoted: Columns, qtbot: QtBot, page: AcceptancePage
    ) -> None:
        laid: list[bytes] = []
        page.paper.done.connect(laid.append)

        def paper() -> str:
            return read(laid[-1]) if laid else ""

        qtbot.waitUntil(lambda: quoted.agreeing.job.has_paper, timeout=WAIT)
        typed(page.terms.days, "30")
        qtbot.waitUntil(lambda: "due 30 days after" in paper(), timeout=WAIT)
        typed(page.terms.kept, "5")
        wanted = "You keep back 5 % of each invoice before VAT. Half of it is due at completion"
        qtbot.waitUntil(lambda: wanted in paper(), timeout=WAIT)
        assert "the rest 6 months later" in paper()
        number = len(laid)
        typed(page.terms.kept, "lots")
        assert quoted.agreeing.job.has_paper
        assert len(laid) == number
        typed(page.terms.kept, "5")
        take(quoted, qtbot)
        assert not quoted.agreeing.job.has_paper


def read(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)
