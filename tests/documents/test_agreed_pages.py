"""Papers on money as they come out: in their margins, the same to the byte, safe from any text."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import inch
from reportlab.platypus import Paragraph, SimpleDocTemplate, Table

from estimator.contract.account import CreditNote, Invoice, InvoiceLine, Paying, Payment
from estimator.contract.daywork import DayworkSheet
from estimator.contract.so_far import SoFar, Varied
from estimator.documents import (
    account_paper,
    confirmation,
    credit_paper,
    daywork_paper,
    invoice_paper,
    styles,
    variation_confirmation,
    variation_paper,
)
from estimator.documents.page import Gap
from estimator.money import Money
from estimator.pricing.offer import Group
from estimator.quoting.quotation import Trader
from estimator.survey import survey_file
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages, placed, quick_pages, reader

DATE = datetime.date(2026, 12, 2)
HOSTILE = '<b>O\u2019Neill & "Søn"</b> <img src="x"/> {number} %s \u202eevil\x07 🧱 '
SHOWN = '<b>O\u2019Neill & "Søn"</b> <img src="x"/> {number} %s evil ☐'
LONG = "a name that goes on and on " * 60

Render = Callable[[SoFar, Trader], bytes]


def _confirmation(so_far: SoFar, trader: Trader) -> bytes:
    return confirmation.render(so_far, trader=trader, number="S-0001", date=DATE)


def _variation(so_far: SoFar, trader: Trader) -> bytes:
    return variation_paper.render(so_far, "b", trader=trader, number="V-0002", date=DATE)


def _variation_confirmation(so_far: SoFar, trader: Trader) -> bytes:
    return variation_confirmation.render(so_far, "a", trader=trader, number="S-0002", date=DATE)


def _invoice(so_far: SoFar, trader: Trader) -> bytes:
    return invoice_paper.render(so_far, so_far.invoices[-1], trader=trader)


def _credit(so_far: SoFar, trader: Trader) -> bytes:
    return credit_paper.render(so_far, so_far.credits[-1], trader=trader)


def _daywork(so_far: SoFar, trader: Trader) -> bytes:
    return daywork_paper.render(so_far, "d", trader=trader, number="S-0003", date=DATE)


def _statement(so_far: SoFar, trader: Trader) -> bytes:
    return account_paper.render_statement(so_far, trader=trader, number="S-0007", date=DATE)


def _final(so_far: SoFar, trader: Trader) -> bytes:
    return account_paper.render_final(so_far, trader=trader, number="S-0008", date=DATE)


PAPERS: dict[str, tuple[Render, str]] = {
    "confirmation": (_confirmation, "Confirmation S-0001"),
    "variation": (_variation, "Variation V-0002"),
    "spoken": (_variation_confirmation, "Confirmation S-0002"),
    "invoice": (_invoice, "VAT invoice I-0002"),
    "credit": (_credit, "Credit note C-0001"),
    "daywork": (_daywork, "Daywork sheet S-0003"),
    "statement": (_statement, "Statement S-0007"),
    "account": (_final, "Account S-0008"),
}


def usual() -> SoFar:
    """A job on which everything has happened."""
    so_far = jobs.under_way()
    return replace(
        so_far,
        invoices=(jobs.deposit(), jobs.final()),
        credits=(jobs.credit(),),
        payments=(Payment(DATE, Money.of(100), Paying.CASH),),
        daywork=(jobs.sheet(),),
    )


def hostile(words: str) -> SoFar:
    """The same, with every text that somebody typed being this one."""
    so_far, made = usual(), jobs.contract()
    survey = survey_file.read(made.survey)
    name = re.sub(r"[\x07\u202e]", "", words[:150]).strip()
    survey = replace(survey, customer=replace(survey.customer, name=name))
    return replace(
        so_far,
        contract=replace(made, survey=survey_file.write(survey), accepted_by=words),
        variations=tuple(_varied(one, words) for one in so_far.variations),
        invoices=tuple(replace(one, lines=_lines(one, words)) for one in so_far.invoices),
        credits=tuple(replace(one, why=words, lines=_lines(one, words)) for one in so_far.credits),
        daywork=tuple(_sheet(one, words) for one in so_far.daywork),
        payments=tuple(replace(one, note=words) for one in so_far.payments),
    )


def _varied(one: Varied, words: str) -> Varied:
    of = one.variation
    variation = replace(
        of,
        title=words,
        asked_by=words,
        found=(words,),
        reason=words,
        notes=(words,),
        lines=tuple(replace(line, description=words, why=words) for line in of.lines),
    )
    return replace(one, who=words, words=words if one.words else "", variation=variation)


def _lines(of: Invoice | CreditNote, words: str) -> tuple[InvoiceLine, ...]:
    return tuple(replace(line, description=words) for line in of.lines)


def _sheet(of: DayworkSheet, words: str) -> DayworkSheet:
    return replace(
        of,
        what=words,
        hours=tuple(replace(row, who=words, trade=words) for row in of.hours),
        materials=tuple(replace(row, what=words) for row in of.materials),
    )


@pytest.fixture(scope="module", params=PAPERS)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def paper(name: str) -> bytes:
    return PAPERS[name][0](usual(), made_up.trader())


def test_the_same_paper_is_the_same_to_the_byte(name: str, paper: bytes) -> None:
    assert PAPERS[name][0](usual(), made_up.trader()) == paper


def test_the_file_says_what_it_is(name: str, paper: bytes) -> None:
    opened = reader(paper)
    assert opened.metadata is not None
    assert opened.metadata.title == PAPERS[name][1]
    assert opened.metadata.author == "Tarn & Pike"
    assert opened.metadata.subject
    root = opened.trailer["/Root"].get_object()
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"].get_object()["/DisplayDocTitle"]


def test_every_page_knows_its_number_and_its_paper(name: str, paper: bytes) -> None:
    shown = pages(paper)
    for number, text in enumerate(shown, 1):
        assert f"page {number} of {len(shown)}" in text
        assert PAPERS[name][1] in text


def test_text_keeps_to_the_margins_and_is_never_small(paper: bytes) -> None:
    for run in placed(paper):
        assert run.size >= styles.SMALL - 0.01, run
        assert run.base >= styles.MARGIN - 0.01, run
        assert run.base <= styles.PAGE_HEIGHT - styles.MARGIN, run
        assert run.left >= styles.MARGIN - 0.01, run
        # A line may end in a space that nobody sees; a height beside a wall stands upright.
        is_upright = re.fullmatch(r"[\d.]+ m", run.text.strip())
        assert is_upright or run.right <= styles.PAGE_WIDTH - styles.MARGIN + 2.5, run


def test_only_the_two_shipped_fonts_are_used(paper: bytes) -> None:
    names = set()
    for page in reader(paper).pages:
        for font in page["/Resources"].get_object()["/Font"].get_object().values():
            names.add(font.get_object()["/BaseFont"].split("+")[-1])
    assert names == {"SourceSansPro-Regular", "SourceSansPro-Semibold"}


def test_less_is_written_with_a_true_minus(paper: bytes) -> None:
    assert not re.search(r"-[£\d]\S*\.\d\d", "".join(pages(paper)))


def test_what_anybody_typed_is_printed_as_it_stands(name: str) -> None:
    text = flat("".join(quick_pages(PAPERS[name][0](hostile(HOSTILE), made_up.trader()))))
    assert flat(SHOWN) in text
    assert "☐" in text


def test_long_texts_go_on_over_pages_and_none_of_them_is_lost(name: str) -> None:
    made = PAPERS[name][0](hostile(LONG.strip()), made_up.trader())
    shown = quick_pages(made)
    assert "".join(shown).count("goes on") >= 60
    for number, text in enumerate(shown, 1):
        assert f"page {number} of {len(shown)}" in text


def test_a_nameless_firm_is_warned_on_every_page(name: str) -> None:
    for text in quick_pages(PAPERS[name][0](usual(), Trader(""))):
        assert "DRAFT: your firm" in text


def test_a_hundred_lines_keep_their_heading_and_their_sums_are_never_alone() -> None:
    made = jobs.contract()
    for count in (1, 30, 61, 140):
        lines = tuple(
            jobs.valued(
                list(Group)[number * len(Group) // count],
                f"Own line {number}: rake, clean and point, with all that goes with it",
                "1.37",
                "0",
                f"{number + 1}",
            )
            for number in range(count)
        )
        variation = replace(jobs.bricks(made, "b"), lines=lines, extra_days=Decimal(9))
        so_far = SoFar(contract=made, variations=(jobs.sent(variation, "V-0002"),))
        shown = quick_pages(_variation(so_far, made_up.trader()))
        with_lines = [text for text in shown if "Own line" in text]
        assert all("What changes" in text and "Rate £" in text for text in with_lines)
        last = next(text for text in shown if "This variation, with VAT" in text)
        above = last[: last.index("This variation, with VAT")]
        assert above.count("Own line") >= min(2, count), count
        everything = "".join(shown)
        assert all(f"Own line {number}:" in everything for number in range(count))


def test_a_long_invoice_keeps_its_sums_with_its_lines() -> None:
    for count in (1, 38, 39, 40, 90):
        rows = [(f"Own line {number} of the invoice", "Q-0147", "10") for number in range(count)]
        so_far = replace(usual(), invoices=(jobs.invoice(rows),))
        shown = quick_pages(_invoice(so_far, made_up.trader()))
        last = next(text for text in shown if "Total with VAT" in text)
        above = last[: last.index("Total with VAT")]
        assert above.count("Own line") >= min(2, count), count


def test_no_page_begins_with_room_that_was_left_under_the_page_before() -> None:
    """Found wanting: where a page was full, the gap under its last part stood over the next."""
    look = styles.sheet()
    block = Table([[""]], colWidths=100, rowHeights=400)
    written = io.BytesIO()
    made = Gap(0, 300)
    frame = SimpleDocTemplate(written, pagesize=A4)
    frame.build([block, made, Paragraph("first on its page", look.body)])
    runs = [run for run in placed(written.getvalue()) if "first" in run.text]
    assert [run.page for run in runs] == [2]
    assert runs[0].base > A4[1] - inch - 30
