"""Statement and final account: every figure is found again, and all of them meet to the penny."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract.account import InvoiceFor, Paying, Payment
from estimator.contract.contract import Contract, Manner, Retention
from estimator.contract.deeds import CalledOff
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.statement import final_account
from estimator.contract.variation import Standing
from estimator.documents import account_paper, agreed_final, variation_paper
from estimator.documents.agreed_content import AgreedPaper, Bigs, Ledger
from estimator.money import NOTHING, Money, total
from estimator.pricing.offer import Group
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages, quick_pages

DATE = datetime.date(2027, 1, 20)
MINUS = "\u2212"


def statement(so_far: SoFar, date: datetime.date = DATE) -> AgreedPaper:
    return account_paper.statement_content(
        so_far, trader=made_up.trader(), number="S-0007", date=date
    )


def final(so_far: SoFar) -> AgreedPaper:
    return agreed_final.content_of(so_far, trader=made_up.trader(), number="S-0008", date=DATE)


def statement_text(so_far: SoFar) -> str:
    made = account_paper.render_statement(
        so_far, trader=made_up.trader(), number="S-0007", date=DATE
    )
    return flat("\n".join(pages(made)))


def final_text(so_far: SoFar) -> str:
    made = account_paper.render_final(so_far, trader=made_up.trader(), number="S-0008", date=DATE)
    return flat("\n".join(pages(made)))


def ledger(of: AgreedPaper, key: str) -> Ledger:
    return next(part for part in of.parts if isinstance(part, Ledger) and part.key == key)


def pounds(text: str) -> Money:
    return Money.of(text.replace(",", "").replace("+", "").replace(MINUS, "-") or "0")


def bigs(of: AgreedPaper) -> dict[str, str]:
    found = next(part for part in of.parts if isinstance(part, Bigs))
    return {one.label: one.figure for one in found.items}


JOBS = {
    "household": jobs.contract,
    "reverse charge": lambda: jobs.trade(jobs.contract()),
    "contractor": lambda: jobs.trade(jobs.contract(), reverse=False),
    "no tax": lambda: jobs.contract(registered=False),
}


@pytest.fixture(params=JOBS)
def contract(request: pytest.FixtureRequest) -> Contract:
    made: Contract = JOBS[request.param]()
    return made


def test_the_balance_runs_from_line_to_line(contract: Contract) -> None:
    made = statement(jobs.nearly_paid(contract))
    balance = NOTHING
    for line in ledger(made, "entries").lines:
        _day, asked, paid, after = line.figures
        balance += pounds(asked) - pounds(paid)
        assert balance == pounds(after), line.text
    assert bigs(made)["To pay"].removeprefix("£").replace(",", "") == str(balance)
    opened = ledger(made, "open")
    assert pounds(opened.sums[0].figures[0]) == balance


def test_what_is_asked_and_paid_is_named() -> None:
    text = statement_text(jobs.nearly_paid())
    for one in (
        "Invoice I-0001, due 10 December 2026",
        "Payment for I-0001, bank transfer",
        "Payment for I-0002, cheque",
        "Payment, cash",
        "19 days late",
        "The contract sum, with every variation agreed 742.09",
    ):
        assert flat(one) in text, one


def test_what_lies_after_the_day_is_not_on_the_statement() -> None:
    made = statement(jobs.nearly_paid(), datetime.date(2026, 12, 4))
    assert len(list(ledger(made, "entries").lines)) == 2
    assert bigs(made) == {"All paid": "£0.00"}


def test_too_much_paid_is_owed_back() -> None:
    so_far = jobs.nearly_paid()
    paid = Payment(datetime.date(2027, 1, 6), Money.of(1000), Paying.CARD)
    so_far = replace(so_far, payments=(*so_far.payments, paid))
    assert "We owe you" in bigs(statement(so_far))
    text = statement_text(so_far)
    assert f"{MINUS}" in text
    assert "Howtopay" not in text
    back = Payment(datetime.date(2027, 1, 7), Money.of("-50"), Paying.TRANSFER)
    assert flat("Paid back, bank transfer") in statement_text(
        replace(so_far, payments=(*so_far.payments, back))
    )


def test_before_anything_is_asked_for_nothing_is() -> None:
    made = statement(SoFar(contract=jobs.contract()))
    assert bigs(made) == {"To pay": "£0.00"}
    text = statement_text(SoFar(contract=jobs.contract()))
    assert flat("Nothing was asked for or paid yet.") in text


@pytest.mark.parametrize("name", ["household", "contractor"])
def test_interest_is_for_businesses_alone(name: str) -> None:
    # Late Payment of Commercial Debts (Interest) Act 1998.
    so_far = jobs.nearly_paid(JOBS[name]())
    for text in (statement_text(so_far), final_text(so_far)):
        assert ("Bankrate" in text) is (name == "contractor")


def test_the_final_account_goes_from_the_quotation_to_the_last_penny(contract: Contract) -> None:
    # The dossier: final account = original ± variations − paid − deducted; sum of the agreed
    # variations + original = the current sum on every paper.
    so_far = jobs.nearly_paid(contract)
    made, account = final(so_far), final_account(so_far)
    ladder = ledger(made, "ladder")
    for column in range(len(ladder.columns)):
        steps = total(pounds(line.figures[column]) for line in ladder.lines)
        assert steps == pounds(ladder.sums[0].figures[column])
    assert pounds(ladder.sums[0].figures[0]) == so_far.net
    papers = ledger(made, "papers")
    assert total(pounds(line.figures[-1]) for line in papers.lines) == account.gross
    settled = ledger(made, "settled")
    rest = total(pounds(line.figures[0]) for line in settled.lines)
    assert rest == pounds(settled.sums[0].figures[0]) == account.balance


def test_every_line_is_there_and_they_add_up(contract: Contract) -> None:
    so_far = jobs.nearly_paid(contract)
    lines = ledger(final(so_far), "lines")
    assert len(list(lines.lines)) == len(contract.lines) + len(jobs.bricks(contract).lines)
    for group in lines.groups:
        assert total(pounds(one.figures[2]) for one in group.lines) == pounds(group.figures[0])
    assert total(pounds(one.figures[2]) for one in lines.lines) == so_far.net


def test_variations_stand_by_number_with_what_they_rest_on() -> None:
    text = final_text(jobs.nearly_paid())
    assert flat("V-0001: Four more cracked bricks, one thin bed") in text
    assert flat(f"CR {MINUS}25.09 · PR +9.40 · PQ +148.00") in text
    assert flat("To pay") in text


def test_deduction_and_retention_are_shown_and_reconciled() -> None:
    so_far = jobs.nearly_paid(jobs.trade(jobs.contract()))
    account = final_account(so_far)
    assert account.deducted
    assert account.retained
    text = final_text(so_far)
    assert flat("Kept back under the Construction Industry Scheme, and paid by you to HMRC") in text
    assert flat(f"{MINUS}{account.deducted}") in text
    assert flat(f"Kept back of it, before VAT: £{account.retained}.") in text
    made = ledger(final(so_far), "settled")
    opened, later = (pounds(one.figures[0]) for one in made.sums[1:])
    assert opened + later == account.balance


def test_what_nobody_agreed_to_is_listed_and_counts_nowhere() -> None:
    # The dossier's value 72.
    so_far = jobs.nearly_paid()
    made = ledger(final(so_far), "uncounted")
    assert [line.figures[0] for line in made.lines] == ["no answer yet", "declined"]
    assert not made.sums
    without = replace(so_far, variations=so_far.variations[:1])
    assert ledger(final(without), "ladder") == ledger(final(so_far), "ladder")


def test_paid_to_the_penny_nothing_is_owed() -> None:
    so_far = jobs.nearly_paid()
    rest = final_account(so_far).balance
    paid = Payment(datetime.date(2027, 1, 6), rest, Paying.TRANSFER, "I-0003")
    so_far = replace(so_far, payments=(*so_far.payments, paid))
    assert bigs(final(so_far))["All paid"] == "£0.00"
    text = final_text(so_far)
    assert flat("Nothing is owed either way") in text
    assert "Howtopay" not in text


def test_before_completion_it_says_that_it_is_not_final() -> None:
    so_far = replace(jobs.nearly_paid(), completion=None)
    so_far = replace(so_far, invoices=so_far.invoices[:2])
    text = final_text(so_far)
    assert flat("as it stands, not final yet") in text
    assert flat("The price as it stands") in text
    assert "Finalsum" not in text
    assert flat("not invoiced yet") in text


def test_a_credit_note_comes_off_in_both_papers() -> None:
    so_far = jobs.nearly_paid()
    noted = replace(so_far, credits=(jobs.credit(so_far.invoices[2]),))
    text = statement_text(noted)
    assert flat("Credit note C-0001 against I-0003") in text
    assert f"{MINUS}57.00" in text
    assert f"{MINUS}57.00" in final_text(noted)


def test_years_of_payments_go_on_over_pages() -> None:
    so_far = jobs.nearly_paid()
    many = tuple(
        Payment(datetime.date(2027, 1, 1), Money(1), Paying.CASH, note=f"Coin {number}")
        for number in range(120)
    )
    so_far = replace(so_far, payments=many)
    made = account_paper.render_statement(
        so_far, trader=made_up.trader(), number="S-0007", date=DATE
    )
    shown = quick_pages(made)
    assert len(shown) > 2
    assert all(f"Coin {number}" in "".join(shown) for number in range(120))


def test_nothing_is_accounted_for_before_anything_was_accepted() -> None:
    for render in (account_paper.render_statement, account_paper.render_final):
        with pytest.raises(ValueError, match="accepted"):
            render(SoFar(), trader=made_up.trader(), number="S-0007", date=DATE)


def standing_as(number: int, standing: Standing, pence: int) -> Varied:
    """A variation of one line, on its way as far as this."""
    made = jobs.contract()
    rate = f"{abs(pence) / 100:.2f}"
    was, now = ("0", "1") if pence >= 0 else ("1", "0")
    line = jobs.valued(Group.BEDS, "More or less", rate, was, now)
    key = chr(ord("a") + number)
    variation = replace(jobs.bricks(made, key), lines=(line,), photos=(), survey=made.survey)
    when = datetime.datetime(2026, 12, 1, 9, number)
    told = replace(jobs.agreed(variation, f"V-{number + 1:04d}"), answered_at=when)
    return replace(told, standing=standing)


@settings(deadline=None, max_examples=40)
@given(
    st.lists(
        st.tuples(st.sampled_from(Standing), st.integers(-30_000, 60_000)), min_size=1, max_size=7
    )
)
def test_original_and_agreed_variations_are_the_sum_on_every_paper(
    told: list[tuple[Standing, int]],
) -> None:
    # The invariant of the dossier: those agreed and the original are the sum on every paper, and
    # nothing else ever counts.
    contract = jobs.contract()
    so_far = SoFar(
        contract=contract,
        variations=tuple(standing_as(n, *one) for n, one in enumerate(told)),
    )
    agreed = [Money(pence) for standing, pence in told if standing is Standing.AGREED]
    net = contract.net + total(agreed)
    assert pounds(ledger(final(so_far), "ladder").sums[0].figures[0]) == net
    assert pounds(ledger(final(so_far), "lines").sums[0].figures[0]) == net
    asked = ledger(statement(so_far), "against")
    assert pounds(next(asked.lines).figures[0]) == final_account(so_far).price.total
    last = so_far.agreed[-1:]
    for one in last:
        paper = variation_paper.content_of(
            so_far,
            one.variation.key,
            trader=made_up.trader(),
            number=one.number,
            date=DATE,
            pictures={},
        )
        assert pounds(ledger(paper, "ladder").sums[0].figures[0]) == net


def test_a_cancelled_contract_is_brought_down_to_what_was_done() -> None:
    """Consumer Contracts Regulations 2013, reg. 36, from memory: what was done is owed, no more."""
    off = CalledOff(datetime.date(2026, 12, 3), "Ines Marlowe", Manner.EMAIL, owed=Money.of(200))
    so_far = replace(jobs.under_way(), completion=None, called_off=off)
    assert bigs(final(so_far))["The price in the end"] == "£240.00"
    text = final_text(so_far)
    assert f"Notdone:thecontractwascancelled{MINUS}418.41{MINUS}83.68{MINUS}502.09" in text
    assert "Finalsum200.0040.00240.00" in text


def test_whoever_pays_all_that_is_open_quotes_every_invoice() -> None:
    """Found wanting: with two invoices open, the statement asked for the sum of both for one."""
    so_far = jobs.invoiced(SoFar(contract=jobs.contract()), InvoiceFor.DEPOSIT, jobs.ACCEPTED)
    so_far = jobs.invoiced(so_far, InvoiceFor.STAGE, datetime.date(2026, 12, 8))
    assert flat("quoting I-0001 and I-0002:") in statement_text(so_far)


def test_what_was_invoiced_is_summed_before_tax_and_in_tax_too(contract: Contract) -> None:
    """Found wanting: an accountant had to add the columns up to see that they meet the price."""
    papers = ledger(final(jobs.nearly_paid(contract)), "papers")
    (struck,) = papers.sums
    columns = list(zip(*(one.figures for one in papers.lines), strict=True))
    assert [pounds(one) for one in struck.figures] == [
        total(map(pounds, column)) for column in columns
    ]


def test_a_statement_with_the_constructions_schemes_rows_keeps_to_one_page() -> None:
    """Found wanting: eleven rows pushed three lines onto a page of their own. House rule."""
    so_far = jobs.nearly_paid(jobs.trade(jobs.contract()))
    made = account_paper.render_statement(
        so_far, trader=made_up.trader(), number="S-0007", date=DATE
    )
    assert len(pages(made)) == 1


def test_what_only_comes_later_is_not_asked_for_now() -> None:
    """Found wanting: "All paid" stood at the head, and "Still to pay" under it for the same sum."""
    contract = replace(jobs.contract(), retention=Retention(Decimal(5), 6))
    so_far = jobs.nearly_paid(contract)
    rest = Payment(DATE, final_account(so_far).open, Paying.TRANSFER)
    so_far = replace(so_far, payments=(*so_far.payments, rest))
    account = final_account(so_far)
    assert account.open == NOTHING
    assert account.not_invoiced > NOTHING
    (struck,) = ledger(final(so_far), "settled").sums
    assert struck.title == "To pay later"
    assert pounds(struck.figures[0]) == account.not_invoiced
