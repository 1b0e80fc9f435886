"""Invoices and credit notes drawn up from what was agreed; nothing is added up twice.

Each part of the price is a share of the contract sum as it stands, less what was invoiced before;
the last takes the balance, tax and deduction too. So all invoices together come to the contract
sum to the penny, whatever was varied in between. Retention is kept back before tax, and its tax
comes with its release.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.contract.account import CreditNote, Invoice, InvoiceFor, InvoiceLine, Payment
from estimator.contract.contract import Contract, StageDue
from estimator.contract.months import months_after
from estimator.contract.so_far import SoFar
from estimator.contract.sums import price_of, taxes_on
from estimator.money import NOTHING, Money, share_out, total
from estimator.notices import UserMistake
from estimator.pricing import tax
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax import Supply

HUNDRED = Decimal(100)
RELEASED_ON_COMPLETION = Decimal("0.5")
"""Of what is kept back; the rest at the end of the defects period. No setting: every paper and form
says half. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Invoiced:
    """What all invoices less credit notes come to so far."""

    work: Money
    """Before tax, what is kept back in it."""
    retained: Money
    taxed: Money
    """What tax was reckoned on."""
    taxes: Money
    """Charged or accounted for by the customer."""
    charged: Money
    """The tax that is charged."""
    deduction: Money
    stages: int
    """Stages covered, from the first."""


def invoiced(so_far: SoFar) -> Invoiced:
    """Return what was invoiced so far, credit notes taken off.

    >>> str(invoiced(SoFar()).work)
    '0.00'
    """
    bills, notes = so_far.invoices, so_far.credits
    return Invoiced(
        work=total(one.net + one.retained for one in bills)
        - total(one.net + one.retained for one in notes),
        retained=total(one.retained for one in bills) - total(one.retained for one in notes),
        taxed=_bases(bills) - _bases(notes),
        taxes=_all(bills) - _all(notes),
        charged=total(one.gross - one.net for one in bills)
        - total(one.gross - one.net for one in notes),
        deduction=total(one.deduction for one in bills) - total(one.deduction for one in notes),
        stages=max((one.stage for one in bills if standing(so_far, one.number)), default=0),
    )


def standing(so_far: SoFar, number: str) -> Money:
    """Return what an invoice still stands for before tax, credits off and retention in."""
    bill = _invoice(so_far, number)
    notes = (one for one in so_far.credits if one.invoice == number)
    return bill.net + bill.retained - total(one.net + one.retained for one in notes)


def next_stage(so_far: SoFar) -> int:
    """Return the stage to be invoiced next, from 1; 0 once all are.

    Raises:
        ValueError: before anything was accepted.
    """
    stages = _contract(so_far).stages
    done = invoiced(so_far).stages
    return done + 1 if done < len(stages) else 0


def next_invoice(
    so_far: SoFar,
    asks_for: InvoiceFor,
    *,
    date: datetime.date,
    materials_cost: Money | None = None,
) -> Invoice:
    """Return the next invoice, without its number.

    Args:
        so_far: What the job has come to.
        asks_for: What it asks for.
        date: Of the invoice. It is the tax point too, unless money for it came before: then the
            tax point is the day of that, see ``tax_point``.
        materials_cost: What materials and hire cost us of it, for the deduction; a share of those
            of the contract where None.

    Raises:
        ValueError: before anything was accepted.
        UserMistake: where there is nothing to invoice so.
    """
    if so_far.called_off is not None and asks_for in (InvoiceFor.DEPOSIT, InvoiceFor.STAGE):
        raise UserMistake("the contract is cancelled", do="settle the account for what was done")
    drawn = _Drawing(so_far, _contract(so_far), invoiced(so_far), date)
    match asks_for:
        case InvoiceFor.DEPOSIT:
            drawn.check_deposit()
            return drawn.stage(asks_for, 1, materials_cost)
        case InvoiceFor.STAGE:
            return drawn.stage(asks_for, drawn.check_stage(), materials_cost)
        case InvoiceFor.FINAL:
            return drawn.final(materials_cost)
        case InvoiceFor.RETENTION:
            return drawn.retention()


def tax_point(so_far: SoFar, date: datetime.date, payable: Money) -> datetime.date:
    """Return the tax point of an invoice: its date, or the day by which all of it had come before.

    Where only a part of it came before, that part has a tax point of its own by the law; invoice
    such a payment for itself, as a deposit, on the day it comes. Source: Value Added Tax Act 1994,
    s. 6(4), and VAT Regulations 1995, reg. 93, payment or invoice whichever is first; from memory.

    >>> tax_point(SoFar(), datetime.date(2026, 11, 25), Money.of(100)).isoformat()
    '2026-11-25'
    """
    asked = total(one.payable for one in so_far.invoices)
    asked -= total(one.payable for one in so_far.credits)
    covered: datetime.date | None = None
    came = NOTHING
    for payment in sorted(so_far.payments, key=_paid_on):
        came += payment.amount
        is_covered = NOTHING < payable <= came - asked
        covered = (covered or payment.on) if is_covered else None
    return min(covered or date, date)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One invoice being drawn up."""

    so_far: SoFar
    contract: Contract
    before: Invoiced
    date: datetime.date

    def check_deposit(self) -> None:
        """Refuse a deposit that was not agreed, or was asked for already."""
        stages = self.contract.stages
        if not stages or stages[0].due is not StageDue.ON_ACCEPTANCE:
            raise UserMistake("no deposit was agreed", do="invoice a stage, or the whole")
        if self.before.stages:
            raise UserMistake("the deposit is invoiced already", do="invoice the next stage")

    def check_stage(self) -> int:
        """Return the stage to be invoiced; the last is the final invoice."""
        place = next_stage(self.so_far)
        if not place:
            raise UserMistake("all stages are invoiced", do="see the account for what is open")
        if place == len(self.contract.stages):
            raise UserMistake(
                "only the last part is left to invoice",
                why="it takes the balance, with all that was agreed since",
                do="write the final invoice once the work is done",
            )
        return place

    def stage(self, asks_for: InvoiceFor, place: int, materials: Money | None) -> Invoice:
        """Return the invoice up to the end of a stage."""
        sum_now, stages = self.so_far.net, self.contract.stages
        shares = share_out(sum_now, [one.percent for one in stages])
        reached = total(shares[:place])
        percent = sum((one.percent for one in stages[:place]), Decimal(0))
        title = stages[place - 1].title
        share = f"{title}: {percent:f} % of the contract sum, £{sum_now.pounds:,} before tax"
        lines = [InvoiceLine(share, reached, self.contract.quotation), *self._earlier()]
        work = reached - self.before.work
        if work <= NOTHING:
            raise self._nothing_left(sum_now)
        kept = self._keep(self._kept_of(reached) - self.before.retained, work)
        lines += _retained(kept, f"{self.contract.retention.percent:f} % kept back")
        net = work - kept
        return self._made(
            asks_for,
            lines,
            taxes_on(self.contract, net),
            self._deduction(net, materials),
            stage=place,
            retained=kept,
        )

    def _nothing_left(self, sum_now: Money) -> UserMistake:
        if sum_now <= NOTHING:
            return _nothing_to_ask_for(self.so_far)
        if self.before.work <= NOTHING:
            return UserMistake(
                "that part of the price comes to nothing",
                do="go on to the final invoice once the work is done",
            )
        return UserMistake(
            "as much as that is invoiced already",
            why="the contract sum came down since",
            do="go on to the final invoice, or write a credit note",
        )

    def final(self, materials: Money | None) -> Invoice:
        """Return the invoice for all that was not invoiced yet."""
        if self.so_far.completion is None and self.so_far.called_off is None:
            raise UserMistake(
                "the work is not noted as done", do="note the completion, then invoice the rest"
            )
        due = self.so_far.due
        rest = due - self.before.work
        kept = self._keep(self._held_of(due) - self.before.retained, rest)
        held = self.before.retained + kept
        self._check_rest(rest, releases=bool(held) and kept < NOTHING)
        if rest <= kept:
            raise UserMistake(
                "more was released of what was kept back than is left to invoice",
                do="write a credit note for what was released first",
            )
        words = "Half of what is kept back" if kept > NOTHING else "Released of what was kept back"
        return self._made(
            InvoiceFor.FINAL,
            [*self._whole(), *self._earlier(), *_retained(kept, words)],
            self._rest_of_tax(due - held),
            self._rest_of_deduction(due - held, materials),
            stage=next_stage(self.so_far) and len(self.contract.stages),
            retained=kept,
        )

    def _whole(self) -> Iterator[InvoiceLine]:
        """Yield all that is owed: the quotation and every variation, or what was done of them."""
        if self.so_far.called_off is not None:
            words = "What was done before the contract was cancelled"
            yield InvoiceLine(words, self.so_far.due, self.contract.quotation)
            return
        yield InvoiceLine("The work as accepted", self.contract.net, self.contract.quotation)
        for one in self.so_far.agreed:
            yield InvoiceLine(one.variation.title, one.variation.net, one.number)

    def _held_of(self, due: Money) -> Money:
        """Return what is still kept back once the work is done."""
        ends = self._defects_end()
        if ends is None or self.date >= ends:
            return NOTHING
        kept = self._kept_of(due)
        return kept - kept.times(RELEASED_ON_COMPLETION)

    def _defects_end(self) -> datetime.date | None:
        """Return the day on which the rest of what is kept back falls due; None while unknown."""
        done, off = self.so_far.completion, self.so_far.called_off
        if off is not None:
            return off.on
        return None if done is None else months_after(done.on, self.contract.retention.months)

    def retention(self) -> Invoice:
        """Return the invoice for what is still kept back."""
        kept = self.before.retained
        if kept <= NOTHING:
            raise UserMistake("nothing is kept back", do="see the account for what is open")
        ends = self._defects_end()
        if ends is None or self.date < ends:
            when = "the work is done" if ends is None else ends.isoformat()
            raise UserMistake(
                f"what is kept back falls due only once {when}"
                if ends is None
                else f"what is kept back falls due on {when}",
                do="invoice it then",
            )
        lines = [InvoiceLine("Released of what was kept back", kept, self.contract.quotation)]
        return self._made(
            InvoiceFor.RETENTION,
            lines,
            self._rest_of_tax(self.before.work),
            self._rest_of_deduction(self.before.work, None),
            stage=0,
            retained=-kept,
        )

    def _made(
        self,
        asks_for: InvoiceFor,
        lines: list[InvoiceLine],
        taxes: tuple[TaxLine, ...],
        deduction: Money,
        *,
        stage: int,
        retained: Money,
    ) -> Invoice:
        due = self.date + datetime.timedelta(days=self.contract.due_days)
        made = Invoice(
            number="",
            asks_for=asks_for,
            date=self.date,
            tax_point=self.date,
            due=due,
            lines=tuple(lines),
            taxes=taxes,
            deduction=deduction,
            stage=stage,
            retained=retained,
        )
        return replace(made, tax_point=tax_point(self.so_far, self.date, made.payable))

    def _check_rest(self, rest: Money, *, releases: bool) -> None:
        if self.so_far.due <= NOTHING and not self.before.work:
            raise _nothing_to_ask_for(self.so_far)
        if rest < NOTHING:
            raise UserMistake(
                f"{-rest} more was invoiced than the work comes to",
                why="the contract sum came down since",
                do=f"write a credit note for {-rest} before tax first",
            )
        if not rest and not releases:
            raise UserMistake("all of it is invoiced already", do="see the account")

    def _standing(self) -> Iterator[Invoice]:
        yield from (one for one in self.so_far.invoices if standing(self.so_far, one.number))

    def _earlier(self) -> Iterator[InvoiceLine]:
        """Yield what was invoiced before, taken off again."""
        for one in self._standing():
            yield InvoiceLine("Invoiced before", -standing(self.so_far, one.number), one.number)

    def _keep(self, kept: Money, work: Money) -> Money:
        """Return what one invoice keeps back: never again what was released once."""
        return min(kept, max(self._kept_of(work), -self.before.retained, NOTHING))

    def _kept_of(self, work: Money) -> Money:
        return work.times(self.contract.retention.percent / HUNDRED)

    def _rest_of_tax(self, net: Money) -> tuple[TaxLine, ...]:
        """Return the tax on a sum less what was invoiced of it, so that nothing is lost."""
        whole = price_of(self.contract, net).taxes
        if not whole:
            return ()
        first, *others = whole
        base, amount = first.base - self.before.taxed, first.amount - self.before.taxes
        first = replace(first, base=base, amount=amount)
        return (first, *others)

    def _deduction(self, net: Money, materials: Money | None) -> Money:
        """Return the deduction on what is paid, which what is kept back is not yet."""
        if materials is None:
            materials = self._materials_of(net)
        return tax.deduction(Supply((net,), goods_cost=materials), self.contract.terms)

    def _rest_of_deduction(self, whole: Money, materials: Money | None) -> Money:
        net = whole - self.before.work + self.before.retained
        if materials is not None:
            return self._deduction(net, materials)
        # Materials typed on an earlier invoice were other than their share of this one: what is
        # deducted of a payment is never less than nothing, nor more than if all of it were labour.
        rest = self._deduction(whole, None) - self.before.deduction
        return min(max(rest, NOTHING), self._deduction(net, NOTHING))

    def _materials_of(self, work: Money) -> Money:
        contract = self.contract
        if not contract.net:
            return NOTHING
        return contract.materials_cost.times(work.pounds / contract.net.pounds)


def credit_of(
    so_far: SoFar,
    number: str,
    *,
    date: datetime.date,
    why: str,
    net: Money | None = None,
) -> CreditNote:
    """Return a credit note for an invoice, without its number.

    Args:
        so_far: What the job has come to.
        number: Of the invoice.
        date: Of the note.
        why: What was wrong.
        net: How much of it before tax; all that still stands where None.

    Raises:
        UserMistake: without a reason, and for more than still stands.
    """
    bill = _invoice(so_far, number)
    if not why.strip():
        raise UserMistake("the credit note has no reason", do="say what was wrong")
    rest = _rest_of(so_far, bill)
    if rest.net <= NOTHING:
        raise UserMistake(f"{number} is credited already", do="see the account")
    if net is not None and not NOTHING < net <= rest.net:
        raise UserMistake(
            f"{net} cannot be credited", do=f"write a sum before tax of up to {rest.net}"
        )
    if net is None or net == rest.net:
        return replace(rest, date=date, why=why)
    share = net.pounds / bill.net.pounds
    note = CreditNote(
        number="",
        date=date,
        invoice=number,
        why=why,
        lines=(InvoiceLine(f"Part of {number}", net, number),),
        taxes=tuple(
            replace(one, base=one.base.times(share), amount=one.amount.times(share))
            for one in bill.taxes
        ),
        deduction=bill.deduction.times(share),
        retained=bill.retained.times(share),
    )
    return _settling(so_far, note, rest)


def _settling(so_far: SoFar, note: CreditNote, rest: CreditNote) -> CreditNote:
    """Return a note that brings all invoices down to what is owed, with the tax on just that.

    No invoice could come after it for a penny of tax that rounding left over.
    """
    before = invoiced(so_far)
    work = before.work - note.net - note.retained
    if so_far.contract is None or work != so_far.due or not note.taxes:
        return note
    whole = price_of(so_far.contract, work - before.retained + note.retained).taxes
    amount = before.taxes - total(one.amount for one in whole)
    first, *others = note.taxes
    first = replace(first, amount=min(max(amount, NOTHING), rest.taxes[0].amount))
    return replace(note, taxes=(first, *others))


def _rest_of(so_far: SoFar, bill: Invoice) -> CreditNote:
    """Return all that still stands of an invoice, as what would take it back to the penny."""
    notes = [one for one in so_far.credits if one.invoice == bill.number]
    lines = tuple(InvoiceLine(one.description, one.net, one.refers) for one in bill.lines)
    if notes:
        left = bill.net - total(one.net for one in notes)
        lines = (InvoiceLine(f"The rest of {bill.number}", left, bill.number),)
    return CreditNote(
        number="",
        date=bill.date,
        invoice=bill.number,
        why="",
        lines=lines,
        taxes=tuple(_less(line, place, notes) for place, line in enumerate(bill.taxes)),
        deduction=bill.deduction - total(one.deduction for one in notes),
        retained=bill.retained - total(one.retained for one in notes),
    )


def _less(line: TaxLine, place: int, notes: list[CreditNote]) -> TaxLine:
    """Return a tax line less what notes took off it; they have its lines."""
    taken = [one.taxes[place] for one in notes if place < len(one.taxes)]
    base, amount = total(one.base for one in taken), total(one.amount for one in taken)
    return replace(line, base=line.base - base, amount=line.amount - amount)


def _paid_on(payment: Payment) -> datetime.date:
    return payment.on


def _retained(kept: Money, words: str) -> Iterator[InvoiceLine]:
    if kept:
        yield InvoiceLine(words, -kept)


def _all(papers: tuple[Invoice, ...] | tuple[CreditNote, ...]) -> Money:
    return total(line.amount for one in papers for line in one.taxes)


def _bases(papers: tuple[Invoice, ...] | tuple[CreditNote, ...]) -> Money:
    return total(line.base for one in papers for line in one.taxes)


def _nothing_to_ask_for(so_far: SoFar) -> UserMistake:
    if so_far.called_off is not None:
        return UserMistake("nothing is owed for what was done", do="see the account")
    how = "less than nothing" if so_far.net < NOTHING else "nothing"
    return UserMistake(
        f"the work comes to {how}, so there is nothing to invoice",
        do="look through the variations that were agreed",
    )


def _invoice(so_far: SoFar, number: str) -> Invoice:
    found = next((one for one in so_far.invoices if one.number == number), None)
    if found is None:
        raise UserMistake(
            f"there is no invoice '{number[:20]}' on this job", do="choose one from the account"
        )
    return found


def _contract(so_far: SoFar) -> Contract:
    if so_far.contract is None:
        raise ValueError("nothing has been accepted yet")
    return so_far.contract
