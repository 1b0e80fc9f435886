"""An account led astray in every way, and what it then still comes to: to the penny."""

from __future__ import annotations

import datetime
import random
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract import allowed
from estimator.contract.account import Invoice, InvoiceFor, Paying, Payment
from estimator.contract.contract import Contract, Manner, Retention
from estimator.contract.deeds import (
    Accepted,
    Answered,
    CalledOff,
    Completed,
    Credited,
    Deed,
    Drafted,
    Happening,
    Invoiced,
    Sent,
)
from estimator.contract.invoicing import (
    credit_of,
    invoiced,
    next_invoice,
    standing,
    tax_point,
)
from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account, open_on, statement
from estimator.contract.sums import price_of
from estimator.contract.variation import Standing
from estimator.contract.works import Completion
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing import tax
from estimator.pricing.tax import Supply
from estimator.pricing.tax_habits import SalesTax
from estimator.pricing.terms import Terms
from tests.contract.test_account import (
    DAY,
    HOUSEHOLD,
    LATER,
    REVERSE,
    UNREGISTERED,
    agreed,
    billed,
    contract,
    done,
)

ONE_DAY = datetime.timedelta(days=1)
TRADE = replace(REVERSE, reverse_charge=False)
NOON = datetime.datetime(2026, 11, 25, 12, tzinfo=datetime.UTC)
KEPT = Retention(Decimal(5), 6)


def credited(so_far: SoFar, number: str, net: Money | None = None) -> SoFar:
    made = credit_of(so_far, number, date=DAY, why="Wrong", net=net)
    note = replace(made, number=f"C-{len(so_far.credits) + 1:04}")
    return replace(so_far, credits=(*so_far.credits, note))


def paid(so_far: SoFar, amount: Money, on: datetime.date = DAY, invoice: str = "") -> SoFar:
    came = Payment(on, amount, Paying.TRANSFER, invoice)
    return replace(so_far, payments=(*so_far.payments, came))


def happened(so_far: SoFar, *bills: Invoice) -> tuple[Happening, ...]:
    """The deeds of a job that is complete, its variations agreed, with some invoices."""
    assert so_far.contract is not None
    deeds: list[Deed] = [Accepted(so_far.contract)]
    for one in so_far.variations:
        key = one.variation.key
        deeds += [Drafted(one.variation), Sent(key, one.number, DAY, Manner.EMAIL)]
        deeds.append(Answered(key, Standing.AGREED, "Ines Marlowe", Manner.EMAIL, NOON))
    deeds += [Completed(Completion(DAY, "Ada")), *map(Invoiced, bills)]
    return tuple(Happening(str(place), NOON, deed) for place, deed in enumerate(deeds))


def one_step(so_far: SoFar, chance: random.Random) -> SoFar:
    """Something that may well happen; what is refused does not."""
    numbers = [one.number for one in so_far.invoices] or ["I-0001"]
    change = Money(chance.randint(-30_00, 90_00) * 10 + chance.randint(0, 9))
    steps = (
        lambda: agreed(so_far, max(change, Money(100) - so_far.net)),
        lambda: billed(so_far, InvoiceFor.STAGE),
        lambda: billed(so_far, InvoiceFor.DEPOSIT),
        lambda: credited(so_far, chance.choice(numbers)),
        lambda: credited(so_far, chance.choice(numbers), Money(chance.randint(1, 90_00))),
        lambda: paid(so_far, Money(chance.randint(-50_00, 200_00)), invoice=chance.choice(numbers)),
        lambda: paid(so_far, Money(chance.randint(1, 200_00))),
        lambda: done(so_far),
        lambda: billed(so_far, InvoiceFor.FINAL),
        lambda: billed(so_far, InvoiceFor.RETENTION, LATER),
    )
    try:
        return chance.choice(steps)()
    except UserMistake:
        return so_far


def brought_to_an_end(so_far: SoFar) -> SoFar:
    """Take back what was invoiced too much, then invoice all that is left."""
    so_far = done(so_far)
    for number in [one.number for one in so_far.invoices]:
        over = invoiced(so_far).work - so_far.due
        if over > NOTHING and standing(so_far, number) > NOTHING:
            so_far = credited(so_far, number)
    for one in so_far.invoices:
        # What was kept back of an invoice that was credited may have been released before.
        is_open = one.net > total(note.net for note in so_far.credits if note.invoice == one.number)
        if invoiced(so_far).retained < NOTHING and one.retained < NOTHING and is_open:
            so_far = credited(so_far, one.number)
    for asks_for in (InvoiceFor.FINAL, InvoiceFor.RETENTION):
        try:
            so_far = billed(so_far, asks_for, LATER)
        except UserMistake:
            continue
    return so_far


def adds_up(so_far: SoFar) -> None:
    """Whatever happened, the account and the statement say the same."""
    account, told = final_account(so_far), statement(so_far, until=LATER)
    assert account.balance == account.price.total - account.deducted - account.paid
    assert told.balance == account.open
    assert account.open + account.not_invoiced == account.balance
    lines = (account.original, *account.variations, *account.not_done)
    assert total(one.net for one in lines) == account.price.net
    for one in so_far.invoices:
        left = open_on(so_far, one.number)
        assert left >= NOTHING


@settings(max_examples=250, deadline=None)
@given(
    st.integers(1_00, 90_000_00).map(Money),
    st.sampled_from((HOUSEHOLD, TRADE, REVERSE, UNREGISTERED)),
    st.sampled_from(((30, 40, 30), (25, 75), (100,), (10, 20, 30, 40))),
    st.randoms(use_true_random=False),
)
def test_whatever_happens_all_of_it_comes_to_the_sum(
    net: Money, terms: object, shares: tuple[int, ...], chance: random.Random
) -> None:
    kept = KEPT if terms is not HOUSEHOLD else Retention()
    made = contract(net, terms, shares=shares, retention=kept, materials=net.times(Decimal("0.3")))  # type: ignore[arg-type]
    so_far = SoFar(contract=made)
    for _step in range(chance.randint(3, 14)):
        so_far = one_step(so_far, chance)
        adds_up(so_far)
    so_far = brought_to_an_end(so_far)
    adds_up(so_far)
    whole, papers, notes = price_of(made, so_far.due), so_far.invoices, so_far.credits
    assert total(one.net for one in papers) - total(one.net for one in notes) == so_far.net
    assert total(one.gross for one in papers) - total(one.gross for one in notes) == whole.total
    told = total(line.amount for one in papers for line in one.taxes)
    told -= total(line.amount for one in notes for line in one.taxes)
    assert told == total(line.amount for line in whole.taxes)
    account = final_account(so_far)
    assert account.not_invoiced == NOTHING == account.retained
    materials = made.materials_cost.times(so_far.net.pounds / made.net.pounds)
    whole_deduction = tax.deduction(Supply((so_far.net,), goods_cost=materials), made.terms)
    # Each deduction is one of its own payment, rounded there; no payment makes up for another.
    assert abs((account.deducted - whole_deduction).pence) <= len(papers)
    for one in papers:
        assert one.net > NOTHING
        assert one.deduction >= NOTHING
        assert one.payable > NOTHING


@settings(max_examples=150, deadline=None)
@given(
    st.integers(10, 9_000_00).map(Money),
    st.lists(st.integers(1, 400), min_size=1, max_size=6),
    st.sampled_from((HOUSEHOLD, TRADE, REVERSE)),
    st.randoms(use_true_random=False),
)
def test_an_invoice_credited_bit_by_bit_leaves_no_penny(
    net: Money, parts: list[int], terms: object, chance: random.Random
) -> None:
    made = contract(net, terms, shares=(100,), retention=KEPT, materials=net.times(Decimal("0.3")))  # type: ignore[arg-type]
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    for part in parts:
        try:
            so_far = credited(so_far, "I-0001", Money(part))
        except UserMistake:
            break
    rest = so_far.invoices[0].net - total(one.net for one in so_far.credits)
    if rest:
        so_far = credited(so_far, "I-0001", chance.choice((None, rest)))
    before = invoiced(so_far)
    assert (before.work, before.taxes, before.deduction, before.retained) == (NOTHING,) * 4
    assert open_on(so_far, "I-0001") == NOTHING


# -- single cases


def test_part_of_an_invoice_is_credited_with_its_part_of_what_was_kept_back() -> None:
    """A tenth of £8,385.00 payable before tax, and of the £215.00 kept back."""
    made = contract(Money.of(8600), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    note = credit_of(so_far, "I-0001", date=DAY, why="A tenth too much", net=Money.of("838.50"))
    assert str(note.retained) == "21.50"


def test_what_materials_cost_of_one_invoice_sets_its_deduction() -> None:
    """20 % of £500.00 less £200.00 is £60.00; the usual share would be 30 % of it: £70.00."""
    made = contract(Money.of(1000), TRADE, shares=(50, 50), materials=Money.of(300))
    so_far = billed(SoFar(contract=made), InvoiceFor.STAGE)
    assert str(so_far.invoices[0].deduction) == "70.00"
    told = next_invoice(done(so_far), InvoiceFor.FINAL, date=DAY, materials_cost=Money.of(200))
    assert str(told.deduction) == "60.00"
    stage = next_invoice(
        SoFar(contract=made), InvoiceFor.STAGE, date=DAY, materials_cost=Money.of(200)
    )
    assert str(stage.deduction) == "60.00"


def test_an_invoice_of_what_was_kept_back_can_be_taken_back() -> None:
    made = contract(Money.of(8600), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    so_far = credited(so_far, "I-0002")
    assert str(final_account(so_far).retained) == "215.00"
    assert str(next_invoice(so_far, InvoiceFor.RETENTION, date=LATER).net) == "215.00"


def test_what_is_agreed_after_the_final_invoice_is_invoiced_too() -> None:
    made = contract(Money.of(1000))
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    so_far = billed(agreed(so_far, Money.of(50)), InvoiceFor.FINAL)
    assert [str(one.net) for one in so_far.invoices] == ["1000.00", "50.00"]
    assert final_account(so_far).not_invoiced == NOTHING
    allowed.check(happened(so_far, so_far.invoices[0]), Invoiced(so_far.invoices[1]))


def test_nothing_is_kept_back_of_what_is_agreed_after_the_defects_period() -> None:
    made = contract(Money.of(8600), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    late = next_invoice(agreed(so_far, Money.of(100)), InvoiceFor.FINAL, date=LATER)
    assert (str(late.net), late.retained) == ("100.00", NOTHING)


def test_half_is_released_on_completion_where_all_else_is_invoiced() -> None:
    """50 % of £1,000 invoiced with 5 % kept back; the rest is left out by a variation."""
    made = contract(Money.of(1000), REVERSE, shares=(50, 50), retention=KEPT)
    so_far = billed(SoFar(contract=made), InvoiceFor.STAGE)
    so_far = done(agreed(so_far, Money.of(-500)))
    so_far = billed(so_far, InvoiceFor.FINAL)
    assert (str(so_far.invoices[1].net), str(invoiced(so_far).retained)) == ("12.50", "12.50")
    with pytest.raises(UserMistake, match="invoiced already"):
        next_invoice(so_far, InvoiceFor.FINAL, date=DAY)
    so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    assert final_account(so_far).not_invoiced == NOTHING


def test_a_late_variation_is_not_taxed_with_what_was_kept_back() -> None:
    made = contract(Money.of(8600), TRADE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    released = next_invoice(agreed(so_far, Money.of(1000)), InvoiceFor.RETENTION, date=LATER)
    assert (str(released.net), str(released.gross)) == ("215.00", "258.00")


def test_money_that_came_first_sets_the_tax_point() -> None:
    """Value Added Tax Act 1994, s. 6(4), from memory: the earlier of payment and invoice."""
    so_far = SoFar(contract=contract(Money.of(1000)))
    paid_on = DAY - 3 * ONE_DAY
    ahead = paid(so_far, Money.of(360), on=paid_on)
    assert next_invoice(ahead, InvoiceFor.DEPOSIT, date=DAY).tax_point == paid_on
    short = paid(so_far, Money.of("359.99"), on=paid_on)
    assert next_invoice(short, InvoiceFor.DEPOSIT, date=DAY).tax_point == DAY
    back = paid(ahead, Money.of(-360), on=paid_on + ONE_DAY)
    assert next_invoice(back, InvoiceFor.DEPOSIT, date=DAY).tax_point == DAY
    asked_before = paid(billed(so_far, InvoiceFor.DEPOSIT), Money.of(360), on=paid_on)
    assert next_invoice(asked_before, InvoiceFor.STAGE, date=DAY).tax_point == DAY
    freed = credited(asked_before, "I-0001")
    assert next_invoice(freed, InvoiceFor.DEPOSIT, date=DAY).tax_point == paid_on
    assert tax_point(paid(so_far, Money.of(360), on=LATER), DAY, Money.of(360)) == DAY


def test_a_statement_of_a_day_knows_nothing_of_later_days() -> None:
    so_far = billed(SoFar(contract=contract(Money.of(1000))), InvoiceFor.DEPOSIT)
    so_far = paid(so_far, Money.of(360), on=DAY + 2 * ONE_DAY)
    then = statement(so_far, until=DAY + ONE_DAY)
    assert (str(then.balance), [str(one.amount) for one in then.open]) == ("360.00", ["360.00"])
    assert statement(so_far, until=DAY + 2 * ONE_DAY).open == ()
    assert statement(so_far, until=DAY - ONE_DAY).entries == ()
    note = replace(credit_of(so_far, "I-0001", date=DAY + ONE_DAY, why="Wrong"), number="C-0001")
    so_far = replace(so_far, credits=(note,))
    assert [str(one.amount) for one in statement(so_far, until=DAY).open] == ["360.00"]


def test_days_late_are_counted_from_the_day_it_was_due() -> None:
    so_far = billed(SoFar(contract=contract(Money.of(1000))), InvoiceFor.DEPOSIT)
    due = so_far.invoices[0].due
    assert due == DAY + 14 * ONE_DAY
    assert statement(so_far, until=due).open[0].days_late == 0
    assert statement(so_far, until=due + ONE_DAY).open[0].days_late == 1


# -- cancelled


def called_off(so_far: SoFar, owed: Money = NOTHING) -> SoFar:
    return replace(so_far, called_off=CalledOff(DAY, "Ines Marlowe", Manner.EMAIL, owed=owed))


def test_what_is_cancelled_in_time_is_owed_no_more_and_paid_back() -> None:
    """Consumer Contracts Regulations 2013, regs 34 and 36, from memory."""
    so_far = billed(SoFar(contract=contract(Money.of(1000))), InvoiceFor.DEPOSIT)
    so_far = called_off(paid(so_far, Money.of(360)))
    assert str(final_account(so_far).balance) == "-360.00"
    for asks_for in (InvoiceFor.DEPOSIT, InvoiceFor.STAGE):
        with pytest.raises(UserMistake, match="cancelled"):
            next_invoice(so_far, asks_for, date=DAY)
    with pytest.raises(UserMistake, match=r"credit note for 300\.00"):
        next_invoice(so_far, InvoiceFor.FINAL, date=DAY)
    so_far = paid(credited(so_far, "I-0001"), Money.of(-360))
    account = final_account(so_far)
    assert account.is_settled
    assert account.not_invoiced == NOTHING
    adds_up(so_far)


def test_what_was_done_by_request_is_invoiced_once_it_is_cancelled() -> None:
    """£3,480 × 1.5 / 4 days = £1,305.00; £1,044.00 of it was invoiced as 30 % beforehand."""
    so_far = billed(SoFar(contract=contract(Money.of(3480))), InvoiceFor.DEPOSIT)
    so_far = called_off(so_far, Money.of(1305))
    assert str(final_account(so_far).not_done[0].net) == "-2175.00"
    so_far = billed(so_far, InvoiceFor.FINAL)
    assert str(so_far.invoices[1].net) == "261.00"
    account = final_account(so_far)
    assert (str(account.gross), account.not_invoiced) == ("1566.00", NOTHING)
    adds_up(so_far)


def test_what_was_kept_back_is_released_when_it_is_cancelled() -> None:
    made = contract(Money.of(1000), REVERSE, shares=(50, 50), retention=KEPT)
    so_far = called_off(billed(SoFar(contract=made), InvoiceFor.STAGE), Money.of(500))
    so_far = billed(so_far, InvoiceFor.RETENTION)
    assert str(so_far.invoices[1].net) == "25.00"
    assert final_account(so_far).not_invoiced == NOTHING


def test_no_contract_follows_a_cancelled_one_whose_invoices_stand() -> None:
    made = contract(Money.of(1000))
    so_far = billed(SoFar(contract=made), InvoiceFor.DEPOSIT)
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    note = Credited(credited(so_far, "I-0001").credits[0])
    told = [
        Happening(str(place), NOON, deed)
        for place, deed in enumerate((Accepted(made), Invoiced(so_far.invoices[0]), off))
    ]
    with pytest.raises(UserMistake, match="still stand"):
        allowed.check(told, Accepted(made))
    allowed.check([*told, Happening("note", NOON, note)], Accepted(made))


def test_nothing_is_cancelled_in_the_account_of_what_goes_on() -> None:
    assert final_account(SoFar(contract=contract(Money.of(1000)))).not_done == ()


# -- led astray, and mended


def test_a_credit_note_down_to_what_is_owed_leaves_no_penny_of_tax() -> None:
    """Of £333.34 invoiced, with £66.67 tax, £266.67 is left with £53.33: 20 % of it.

    Its share of the tax alone would be £13.33, and a penny would stay that no invoice can ask for.
    """
    so_far = billed(
        done(SoFar(contract=contract(Money.of("333.34"), shares=(100,)))), InvoiceFor.FINAL
    )
    so_far = agreed(so_far, -Money.of("66.67"))
    so_far = credited(so_far, "I-0001", Money.of("66.67"))
    assert str(so_far.credits[0].taxes[0].amount) == "13.34"
    account = final_account(so_far)
    assert account.not_invoiced == NOTHING
    assert final_account(paid(so_far, account.balance)).is_settled


@settings(max_examples=100, deadline=None)
@given(st.integers(2_00, 90_000_00), st.data())
def test_a_cancelled_contract_is_credited_down_to_the_penny(net: int, data: st.DataObject) -> None:
    so_far = billed(SoFar(contract=contract(Money(net))), InvoiceFor.DEPOSIT)
    owed = Money(data.draw(st.integers(0, so_far.invoices[0].net.pence - 1)))
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL, "", owed)
    so_far = credited(replace(so_far, called_off=off), "I-0001", so_far.invoices[0].net - owed)
    assert final_account(so_far).not_invoiced == NOTHING


def test_no_more_is_deducted_of_what_was_kept_back_than_it_comes_to() -> None:
    """Materials cost £500.00 and not £200.00; 20 % of £25.00 is £5.00, the usual rest £65.00."""
    made = contract(Money.of(1000), TRADE, shares=(100,), retention=KEPT, materials=Money.of(200))
    so_far = done(SoFar(contract=made))
    told = next_invoice(so_far, InvoiceFor.FINAL, date=DAY, materials_cost=Money.of(500))
    so_far = replace(so_far, invoices=(replace(told, number="I-0001"),))
    last = next_invoice(so_far, InvoiceFor.RETENTION, date=LATER)
    assert (str(last.net), str(last.deduction), str(last.payable)) == ("25.00", "5.00", "25.00")


def test_nothing_is_deducted_where_too_much_was_before() -> None:
    """£500.00 of labour alone was deducted from; the rest is materials, so nothing comes off it."""
    made = contract(Money.of(1000), TRADE, shares=(50, 50), materials=Money.of(900))
    told = next_invoice(SoFar(contract=made), InvoiceFor.STAGE, date=DAY, materials_cost=NOTHING)
    assert str(told.deduction) == "100.00"
    so_far = replace(done(SoFar(contract=made)), invoices=(replace(told, number="I-0001"),))
    last = next_invoice(so_far, InvoiceFor.FINAL, date=LATER)
    assert (last.deduction, str(last.payable)) == (NOTHING, "600.00")


def with_goods(net: Money, goods: Money, terms: Terms) -> Contract:
    supply = Supply((net,), goods_cost=goods, materials_sold=goods)
    charged = tax.charged(tax.charge(supply, terms).lines)
    return replace(contract(net, terms), total=net + charged)


IRISH = Terms(DAY, country="IE")
TEXAN = Terms(DAY, country="US", sales_tax=SalesTax.SEPARATED, sales_tax_percent=Decimal("8.25"))


@pytest.mark.parametrize(
    ("net", "goods", "terms", "deposit", "last"),
    [
        ("1500", "1050", IRISH, ("23", "450.00", "103.50"), ("23", "1050.00", "241.50")),
        ("1200", "300", TEXAN, ("8.25", "90.00", "7.43"), ("8.25", "210.00", "17.32")),
    ],
)
def test_a_deposit_is_taxed_as_the_contract_is(
    net: str, goods: str, terms: Terms, deposit: object, last: object
) -> None:
    """Ireland's two thirds make all of it goods; Texas taxes £300.00 of materials, £24.75 in all.

    Sources: revenue.ie on the two-thirds rule; Texas Comptroller, publication 94-116.
    """
    so_far = SoFar(contract=with_goods(Money.of(net), Money.of(goods), terms))
    so_far = billed(done(billed(so_far, InvoiceFor.DEPOSIT)), InvoiceFor.FINAL)
    told = [
        (str(line.rate), str(line.base), str(line.amount))
        for one in so_far.invoices
        for line in one.taxes
    ]
    assert told == [deposit, last]
    assert final_account(so_far).not_invoiced == NOTHING


def test_money_that_went_back_leaves_its_invoice_open_again() -> None:
    """A cheque that bounced, noted with no invoice beside it."""
    so_far = done(SoFar(contract=contract(Money.of(1000))))
    so_far = billed(billed(so_far, InvoiceFor.DEPOSIT), InvoiceFor.FINAL)
    so_far = paid(so_far, Money.of(360), invoice="I-0001")
    so_far = paid(so_far, Money.of(840), invoice="I-0002")
    so_far = paid(so_far, -Money.of(900))
    told = statement(so_far, until=LATER)
    assert [(one.number, str(one.amount)) for one in told.open] == [
        ("I-0001", "60.00"),
        ("I-0002", "840.00"),
    ]
    assert total(one.amount for one in told.open) == told.balance


@pytest.mark.parametrize(("change", "words"), [("-1000", "to nothing"), ("-1100", "to less than")])
@pytest.mark.parametrize("asks_for", [InvoiceFor.DEPOSIT, InvoiceFor.STAGE, InvoiceFor.FINAL])
def test_of_nothing_it_is_said_that_there_is_nothing_to_invoice(
    asks_for: InvoiceFor, change: str, words: str
) -> None:
    """And not that as much was invoiced before, nor that a credit note be written for it."""
    so_far = done(agreed(SoFar(contract=contract(Money.of(1000))), Money.of(change)))
    with pytest.raises(UserMistake, match=words):
        next_invoice(so_far, asks_for, date=DAY)


def test_what_was_released_once_is_not_kept_back_again() -> None:
    """Found wanting: a final invoice of less than nothing after what was kept back had come."""
    made = contract(Money.of("8426.16"), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    so_far = credited(so_far, "I-0001", Money.of("23.20"))
    last = next_invoice(so_far, InvoiceFor.FINAL, date=DAY)
    # 23.20 and the 59 pence kept back of it; 5 % of that is kept back, no more.
    assert (str(last.net + last.retained), str(last.retained)) == ("23.79", "1.19")
    later = next_invoice(so_far, InvoiceFor.FINAL, date=LATER)
    assert str(later.net + later.retained) == "23.79"
    assert later.net >= Money.of("23.20")


def test_what_was_released_of_an_invoice_that_was_credited_is_credited_first() -> None:
    """Found wanting: a final invoice of 19 pence less than nothing."""
    made = contract(Money.of("23.80"), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    so_far = billed(so_far, InvoiceFor.RETENTION, LATER)
    so_far = credited(agreed(so_far, -Money.of("23.30")), "I-0001")
    with pytest.raises(UserMistake, match="credit note for what was released"):
        next_invoice(so_far, InvoiceFor.FINAL, date=LATER)
    last = next_invoice(credited(so_far, "I-0002"), InvoiceFor.FINAL, date=LATER)
    assert (str(last.net), last.retained) == ("0.50", NOTHING)


@pytest.mark.parametrize("asks_for", [InvoiceFor.FINAL, InvoiceFor.RETENTION])
def test_nothing_is_asked_for_twice_by_an_invoice_drawn_up_before(asks_for: InvoiceFor) -> None:
    """Found wanting: what was kept back, and what was agreed after all stages, came twice."""
    made = contract(Money.of(8600), REVERSE, shares=(100,), retention=KEPT)
    so_far = billed(done(SoFar(contract=made)), InvoiceFor.FINAL)
    if asks_for is InvoiceFor.FINAL:
        so_far = agreed(so_far, Money.of(100))
    told = next_invoice(so_far, asks_for, date=LATER)
    first, again = replace(told, number="I-0002"), replace(told, number="I-0003")
    allowed.check(happened(so_far, *so_far.invoices), Invoiced(first))
    with pytest.raises(UserMistake, match="invoiced already"):
        allowed.check(happened(so_far, *so_far.invoices, first), Invoiced(again))
