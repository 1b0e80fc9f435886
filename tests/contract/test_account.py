"""Whatever is varied, invoiced, credited and paid: the account comes out to the penny."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract.account import InvoiceFor, Paying, Payment
from estimator.contract.contract import (
    Contract,
    Manner,
    Retention,
    Sold,
    StageDue,
    StageTerm,
)
from estimator.contract.invoicing import credit_of, invoiced, next_invoice, next_stage
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.statement import final_account, open_on, statement
from estimator.contract.sums import price_of
from estimator.contract.variation import Standing, Valued, ValuedBy, Variation
from estimator.contract.works import Completion
from estimator.money import NOTHING, Money, share_out, total
from estimator.notices import UserMistake
from estimator.pricing import tax
from estimator.pricing.offer import Group
from estimator.pricing.tax import Supply
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind
from estimator.takeoff.scope import LOCAL
from estimator.units import Unit

DAY = datetime.date(2026, 11, 25)
LATER = DAY + datetime.timedelta(days=400)
ONE = Decimal(1)
HOUSEHOLD = Terms(DAY)
REVERSE = Terms(
    DAY,
    customer=CustomerKind.TRADE,
    reverse_charge=True,
    customer_tax_number="GB 000 0000 27",
    is_end_user=False,
    deduction=Deduction.REGISTERED,
)
UNREGISTERED = Terms(DAY, registered=False)


def contract(
    net: Money,
    terms: Terms = HOUSEHOLD,
    *,
    shares: tuple[int, ...] = (30, 40, 30),
    retention: Retention | None = None,
    materials: Money = NOTHING,
) -> Contract:
    line = Sold("work", Group.BEDS, "Work", Unit.ITEM, net.pounds, ONE, net)
    charged = tax.charged(tax.charge(Supply((net,)), terms).lines)
    due = [StageDue.ON_ACCEPTANCE, *[StageDue.DURING] * len(shares)]
    return Contract(
        quotation="Q-0001",
        scope=LOCAL,
        accepted_by="Ines Marlowe",
        how=Manner.SIGNED,
        accepted_on=DAY,
        revision=1,
        survey="",
        book="",
        rules=(),
        terms=terms,
        net=net,
        total=net + charged,
        lines=(line,),
        offered=(),
        further_brick=NOTHING,
        working_days=ONE,
        materials_cost=materials,
        stages=tuple(
            StageTerm(f"Part {place}", Decimal(share), due[place])
            for place, share in enumerate(shares)
        ),
        retention=retention or Retention(),
    )


def varied(key: str, net: Money, standing: Standing) -> Varied:
    line = Valued(
        "more", Group.BRICKS, "More", Unit.ITEM, abs(net.pounds), ONE, ONE, net,
        ValuedBy.CONTRACT_RATE,
    )  # fmt: skip
    made = Variation(key, DAY, "More", "found on site", (), "", (line,), ONE, LOCAL, 1, "")
    return Varied(made, standing, number=f"V-{key}")


def billed(so_far: SoFar, asks_for: InvoiceFor, date: datetime.date = DAY) -> SoFar:
    made = next_invoice(so_far, asks_for, date=date)
    number = f"I-{len(so_far.invoices) + 1:04}"
    return replace(so_far, invoices=(*so_far.invoices, replace(made, number=number)))


def agreed(so_far: SoFar, *amounts: Money) -> SoFar:
    more = [
        varied(f"{len(so_far.variations) + place}", amount, Standing.AGREED)
        for place, amount in enumerate(amounts)
    ]
    return replace(so_far, variations=(*so_far.variations, *more))


def done(so_far: SoFar) -> SoFar:
    return replace(so_far, completion=Completion(DAY, "Ada"))


def settled(so_far: SoFar) -> SoFar:
    """Invoice all that is left, stage by stage, then the rest and what was kept back."""
    while 0 < next_stage(so_far) < len(so_far.contract.stages):  # type: ignore[union-attr]
        try:
            so_far = billed(so_far, InvoiceFor.STAGE)
        except UserMistake:
            break
    so_far = done(so_far)
    if so_far.net != invoiced(so_far).work:
        so_far = billed(so_far, InvoiceFor.FINAL)
    if invoiced(so_far).retained:
        so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    return so_far


pounds = st.integers(1_00, 90_000_00).map(Money)
changes = st.integers(-50_00, 9_000_00).map(Money)
plans = st.lists(st.integers(1, 98), min_size=0, max_size=4).map(
    lambda cuts: tuple(
        b - a for a, b in zip([0, *sorted(set(cuts))], [*sorted(set(cuts)), 100], strict=True)
    )
)


@settings(max_examples=300, deadline=None)
@given(
    pounds,
    st.sampled_from((HOUSEHOLD, REVERSE, UNREGISTERED)),
    plans,
    st.lists(changes, max_size=4),
    st.sampled_from((0, 3, 5)),
)
def test_all_invoices_together_come_to_the_sum_and_its_tax(
    net: Money, terms: Terms, shares: tuple[int, ...], amounts: list[Money], percent: int
) -> None:
    """However the sum was varied between the stages."""
    kept = Retention(Decimal(percent), 6) if terms is not HOUSEHOLD else Retention()
    so_far = SoFar(contract=contract(net, terms, shares=shares, retention=kept))
    for amount in amounts:
        so_far = agreed(so_far, max(amount, Money(100) - so_far.net))
        if next_stage(so_far) < len(shares):
            try:
                so_far = billed(so_far, InvoiceFor.STAGE)
            except UserMistake:
                continue
    if invoiced(so_far).work > so_far.net:
        return
    so_far = settled(so_far)
    made = so_far.contract
    assert made is not None
    whole = price_of(made, so_far.net)
    assert total(one.net for one in so_far.invoices) == so_far.net
    assert total(one.gross for one in so_far.invoices) == whole.total
    told = total(line.amount for one in so_far.invoices for line in one.taxes)
    assert told == total(line.amount for line in whole.taxes)
    account = final_account(so_far)
    assert account.not_invoiced == NOTHING == account.retained
    assert account.balance == whole.total - account.deducted
    assert account.open == account.balance


@settings(max_examples=200, deadline=None)
@given(pounds, st.lists(changes, min_size=2, max_size=5), st.randoms())
def test_the_order_of_agreeing_moves_nothing(
    net: Money, amounts: list[Money], chance: object
) -> None:
    start = SoFar(contract=contract(net))
    others = amounts[:]
    chance.shuffle(others)  # type: ignore[attr-defined]
    one, two = final_account(agreed(start, *amounts)), final_account(agreed(start, *others))
    assert one.price == two.price
    assert one.balance == two.balance


@settings(max_examples=200, deadline=None)
@given(pounds, st.lists(st.tuples(changes, st.sampled_from(Standing)), max_size=6))
def test_the_account_adds_up_and_counts_what_is_agreed_alone(
    net: Money, told: list[tuple[Money, Standing]]
) -> None:
    variations = tuple(varied(f"{at}", *one) for at, one in enumerate(told))
    so_far = SoFar(contract=contract(net), variations=variations)
    account = final_account(so_far)
    counted = account.original.net + total(one.net for one in account.variations)
    assert counted == account.price.net == so_far.net
    assert all(one.standing is Standing.AGREED for one in account.variations)
    assert all(one.standing is not Standing.AGREED for one in account.uncounted)
    assert len(account.variations) + len(account.uncounted) == len(told)


@settings(max_examples=200, deadline=None)
@given(pounds, st.lists(st.integers(1, 5_000_00).map(Money), max_size=5))
def test_a_statement_ends_where_the_account_does(net: Money, paid: list[Money]) -> None:
    so_far = settled(billed(SoFar(contract=contract(net)), InvoiceFor.DEPOSIT))
    payments = tuple(Payment(DAY, amount, Paying.TRANSFER) for amount in paid)
    so_far = replace(so_far, payments=payments)
    told = statement(so_far, until=LATER)
    assert told.balance == final_account(so_far).balance
    open_sum = total(one.amount for one in told.open)
    assert open_sum == max(told.balance, NOTHING)


def test_a_credit_note_frees_its_stage_and_its_tax() -> None:
    so_far = billed(SoFar(contract=contract(Money.of(1000))), InvoiceFor.DEPOSIT)
    note = credit_of(so_far, "I-0001", date=DAY, why="Wrong name on it")
    assert (str(note.net), str(note.gross)) == ("300.00", "360.00")
    so_far = replace(so_far, credits=(replace(note, number="C-0001"),))
    assert invoiced(so_far).work == NOTHING
    assert next_stage(so_far) == 1
    assert open_on(so_far, "I-0001") == NOTHING
    assert final_account(settled(so_far)).not_invoiced == NOTHING
    with pytest.raises(UserMistake, match="credited already"):
        credit_of(so_far, "I-0001", date=DAY, why="Again")


def test_part_of_an_invoice_is_credited_with_its_part_of_the_tax() -> None:
    so_far = billed(SoFar(contract=contract(Money.of(1000))), InvoiceFor.DEPOSIT)
    note = credit_of(so_far, "I-0001", date=DAY, why="Too much", net=Money.of(100))
    assert (str(note.net), str(note.gross)) == ("100.00", "120.00")
    so_far = replace(so_far, credits=(replace(note, number="C-0001"),))
    account = final_account(settled(so_far))
    assert account.not_invoiced == NOTHING
    with pytest.raises(UserMistake, match=r"200\.00"):
        credit_of(so_far, "I-0001", date=DAY, why="Too much", net=Money.of("200.01"))


def test_a_sum_that_came_down_is_credited_before_it_is_settled() -> None:
    so_far = billed(SoFar(contract=contract(Money.of(1000), shares=(90, 10))), InvoiceFor.DEPOSIT)
    so_far = done(agreed(so_far, Money.of(-200)))
    with pytest.raises(UserMistake, match="more was invoiced"):
        next_invoice(so_far, InvoiceFor.FINAL, date=DAY)
    note = credit_of(so_far, "I-0001", date=DAY, why="Left out", net=Money.of(100))
    so_far = replace(so_far, credits=(replace(note, number="C-0001"),))
    assert final_account(so_far).not_invoiced == NOTHING


def test_nothing_is_settled_before_it_is_done_nor_kept_longer_than_agreed() -> None:
    kept = Retention(Decimal(5), 6)
    so_far = SoFar(contract=contract(Money.of(8600), REVERSE, shares=(100,), retention=kept))
    with pytest.raises(UserMistake, match="not noted as done"):
        next_invoice(so_far, InvoiceFor.FINAL, date=DAY)
    so_far = billed(done(so_far), InvoiceFor.FINAL)
    with pytest.raises(UserMistake, match="2027-05-25"):
        next_invoice(so_far, InvoiceFor.RETENTION, date=datetime.date(2027, 5, 24))
    assert next_invoice(so_far, InvoiceFor.RETENTION, date=datetime.date(2027, 5, 25)).net


def test_shares_follow_the_sum_as_it_stands() -> None:
    """Money's own way of sharing out is held to the dossier's figures elsewhere."""
    so_far = agreed(SoFar(contract=contract(Money.of(1000))), Money.of("33.33"))
    so_far = billed(billed(so_far, InvoiceFor.DEPOSIT), InvoiceFor.STAGE)
    shares = share_out(Money.of("1033.33"), [30, 40, 30])
    assert [one.net for one in so_far.invoices] == list(shares[:2])
