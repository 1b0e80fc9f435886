"""Jobs under way, made by hand: an accepted quotation with made-up rates, and what came after."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from estimator import resources
from estimator.contract.account import (
    CreditNote,
    Invoice,
    InvoiceFor,
    InvoiceLine,
    Paying,
    Payment,
)
from estimator.contract.contract import (
    Cancelling,
    Contract,
    Made,
    Manner,
    Retention,
    Sold,
    StageDue,
    StageTerm,
)
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.frozen import rules_text
from estimator.contract.invoicing import next_invoice
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.variation import Standing, Valued, ValuedBy, Variation
from estimator.contract.works import Completion
from estimator.money import Money, total
from estimator.pricing.offer import Group, OfferLine, TaxLine
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.quoting.quotation import Option, Quotation
from estimator.survey import survey_file
from estimator.survey.survey import (
    CrackedBrick,
    CustomerKind,
    Photo,
    Survey,
    ThinBed,
    Treatment,
)
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import PANEL, Scope
from estimator.units import Unit
from tests.documents import made_up

ACCEPTED = datetime.date(2026, 11, 26)
STAGES = (
    StageTerm("Deposit", Decimal(30), StageDue.ON_ACCEPTANCE),
    StageTerm("When the bars are in", Decimal(40), StageDue.DURING),
    StageTerm("Balance", Decimal(30), StageDue.ON_COMPLETION),
)
PICTURE = "a" * 64


def sold(line: OfferLine) -> Sold:
    """A line of an offer as it was sold."""
    return Sold(
        line.item,
        line.group,
        line.description,
        line.quantity.unit,
        line.rate,
        line.quantity.amount,
        line.amount,
        line.marks,
    )


def contract(
    quotation: Quotation | None = None,
    *,
    option: int = 0,
    kind: CustomerKind = CustomerKind.HOUSEHOLD,
    how: Manner = Manner.TELEPHONE,
    registered: bool = True,
    stages: Sequence[StageTerm] = STAGES,
) -> Contract:
    """An accepted option of the window."""
    quoted = quotation or made_up.quotation()
    survey = replace(quoted.survey, customer=replace(quoted.survey.customer, kind=kind))
    taken: Option = quoted.options[option]
    others = [one for number, one in enumerate(quoted.options) if number != option]
    offer = taken.offer
    return Contract(
        quotation=quoted.number,
        scope=taken.measure.scope,
        accepted_by=survey.customer.name,
        how=how,
        accepted_on=ACCEPTED,
        revision=3,
        survey=survey_file.write(survey),
        book=resources.path("price_book.json").read_text(encoding="utf-8"),
        rules=rules_text(shipped()),
        terms=Terms(ACCEPTED, customer=kind, registered=registered),
        net=offer.net,
        total=offer.total if registered else offer.net,
        lines=tuple(map(sold, offer.lines)),
        offered=tuple(sold(line) for one in others for line in one.offer.lines),
        further_brick=offer.further_brick,
        working_days=offer.working_days,
        materials_cost=Money.of("88.10"),
        stages=tuple(stages),
        cancelling=Cancelling(Made.AT_A_DISTANCE, notice_given=datetime.date(2026, 11, 25)),
    )


def trade(given: Contract, *, reverse: bool = True) -> Contract:
    """The same for another contractor: reverse charge, deduction, retention."""
    survey = survey_file.read(given.survey)
    party = replace(
        survey.customer,
        name="Kestrel Contractors Ltd",
        kind=CustomerKind.TRADE,
        vat_number="GB 999 9999 99",
        is_end_user=not reverse,
    )
    return replace(
        given,
        survey=survey_file.write(replace(survey, customer=party)),
        terms=replace(
            given.terms,
            customer=CustomerKind.TRADE,
            reverse_charge=reverse,
            customer_tax_number=party.vat_number,
            is_end_user=not reverse,
            deduction=Deduction.REGISTERED,
        ),
        total=given.net if reverse else given.total,
        retention=Retention(Decimal(5), 6),
        due_days=30,
    )


def found_survey(given: Contract) -> Survey:
    """The window with four more cracked bricks and one thin bed."""
    survey = survey_file.read(given.survey)
    (front,) = survey.elevations
    bricks = tuple(
        CrackedBrick(course, place, Treatment.REPLACE)
        for course, place in ((3, 8), (5, 10), (7, 11), (9, 9))
    )
    front = replace(front, bricks=bricks, thin_beds=(ThinBed(4, 1300, 2300, 7),))
    photo = Photo(
        "1", "front", PICTURE, 400, 300, caption="The bed under the sill", taken="2026-12-01"
    )
    return replace(survey, elevations=(front,), photos=(photo,))


def valued(
    group: Group,
    words: str,
    rate: str,
    was: str,
    now: str,
    *,
    unit: Unit = Unit.NUMBER,
    basis: ValuedBy = ValuedBy.CONTRACT_RATE,
    why: str = "",
) -> Valued:
    """One line of a variation, each side rounded as printed."""
    change = Money.of(rate).times(Decimal(now)) - Money.of(rate).times(Decimal(was))
    return Valued(
        "own",
        group,
        words,
        unit,
        Decimal(rate),
        Decimal(was),
        Decimal(now),
        change,
        basis,
        why,
    )


def bricks(given: Contract, key: str = "a", scope: Scope | None = None) -> Variation:
    """Four more cracked bricks, one thin bed, a bar that cannot go in."""
    lines = (
        valued(
            Group.BEDS, "Cut out beds, clean and damp", "20.91", "4.80", "3.60", unit=Unit.METRE
        ),
        valued(
            Group.BEDS,
            "Skim the arris of thin beds",
            "9.40",
            "0",
            "1.00",
            unit=Unit.METRE,
            basis=ValuedBy.PRO_RATA,
            why="built up as the rate in Q-0147, for other conditions",
        ),
        valued(
            Group.BRICKS,
            "Further cracked bricks",
            "37.00",
            "0",
            "4",
            basis=ValuedBy.PROVISIONAL_QUANTITY,
            why="the rate for further bricks in Q-0147",
        ),
    )
    return Variation(
        key=key,
        date=datetime.date(2026, 12, 1),
        title="Four more cracked bricks, one thin bed",
        asked_by="found on site",
        found=(
            "When the second bed was opened, four bricks were found cracked through.",
            "The bed under course 4 is only 7 mm thick between 1.30 m and 2.30 m.",
        ),
        reason="Cracked bricks on either side of a bar would let it pull out.",
        lines=lines,
        extra_days=Decimal("0.5"),
        scope=scope or given.scope,
        revision=4,
        survey=survey_file.write(found_survey(given)),
        photos=(PICTURE,),
        notes=(
            "1 further brick was allowed for and 4 were found: a fifth or more apart, so "
            "their rate is open to review by either side.",
        ),
    )


def repoint_after_all(given: Contract, key: str = "b") -> Variation:
    """The customer wants the whole panel pointed after all."""
    lines = (
        valued(Group.CRACK, "Point over the cuts", "9.05", "4.80", "0", unit=Unit.METRE),
        valued(Group.PANEL, "Rake out the panel 20 mm deep", "6.61", "0", "30.71", unit=Unit.METRE),
        valued(
            Group.PANEL, "Repoint the panel in lime", "139.57", "0", "2.00", unit=Unit.SQUARE_METRE
        ),
        valued(Group.VISITS, "Travel and setting up", "85.00", "1", "3", unit=Unit.VISIT),
    )
    return Variation(
        key=key,
        date=datetime.date(2026, 12, 3),
        title="Repoint the whole panel after all",
        asked_by="Ines Marlowe",
        found=("You asked us to repoint the whole panel, so that the repair does not show.",),
        reason="",
        lines=lines,
        extra_days=Decimal(2),
        scope=PANEL,
        revision=5,
        survey=survey_file.write(found_survey(given)),
    )


def only_less(given: Contract, key: str = "c") -> Variation:
    """Less work than was agreed."""
    line = valued(
        Group.PROTECT, "Protect what stands near", "4.75", "12.00", "2.00", unit=Unit.METRE
    )
    return replace(
        bricks(given, key),
        title="Less to protect",
        lines=(line,),
        extra_days=Decimal(0),
        survey=given.survey,
        found=("The border in front was cleared before we came.",),
        photos=(),
        notes=(),
        reason="",
    )


def sent(variation: Variation, number: str) -> Varied:
    """A variation that waits for its answer."""
    return Varied(variation, Standing.SENT, number, datetime.date(2026, 12, 1))


def agreed(variation: Variation, number: str, how: Manner = Manner.TELEPHONE) -> Varied:
    """A variation that was agreed."""
    return replace(
        sent(variation, number),
        standing=Standing.AGREED,
        who="Ines Marlowe",
        how=how,
        answered_at=datetime.datetime(2026, 12, 1, 14, 20),
        words="Yes, go on, and send me the paper.",
    )


def declined(variation: Variation, number: str) -> Varied:
    """A variation that was declined."""
    return replace(agreed(variation, number), standing=Standing.DECLINED, words="")


def under_way(given: Contract | None = None) -> SoFar:
    """One variation agreed, one sent, one declined."""
    made = given or contract()
    return SoFar(
        contract=made,
        variations=(
            agreed(bricks(made), "V-0001"),
            sent(repoint_after_all(made), "V-0002"),
            declined(only_less(made), "V-0003"),
        ),
    )


def sheet(key: str = "d") -> DayworkSheet:
    """The daywork of the dossier's worked example: 388.30.

    Worked from the shape of RICS, Definition of Prime Cost of Daywork, option A; percentages
    illustrative.
    """
    return DayworkSheet(
        key=key,
        variation="",
        what="Took out an iron cramp that nobody could have seen, and made good behind it.",
        hours=(
            Hours(
                datetime.date(2026, 12, 1), "Ned Ashby", "bricklayer", Decimal("3.5"), Money.of(18)
            ),
            Hours(
                datetime.date(2026, 12, 2), "Ned Ashby", "bricklayer", Decimal("3"), Money.of(18)
            ),
        ),
        materials=(
            Spent("Stainless steel dowel, 12 mm", "2 nr", Money.of(24)),
            Spent("Lime mortar", "3 bags", Money.of(60)),
        ),
        plant=(Spent("Cutting disc and core drill", "1 day", Money.of(40)),),
        labour_percent=Decimal(110),
        materials_percent=Decimal(15),
        plant_percent=Decimal(15),
    )


def invoice(
    lines: Sequence[tuple[str, str, str]],
    *,
    number: str = "I-0001",
    asks_for: InvoiceFor = InvoiceFor.DEPOSIT,
    taxes: tuple[TaxLine, ...] | None = None,
    deduction: str = "0",
    retained: str = "0",
    days: int = 14,
) -> Invoice:
    """An invoice of lines: description, what it rests on, pounds."""
    made = tuple(InvoiceLine(words, Money.of(net), refers) for words, refers, net in lines)
    net = total(one.net for one in made)
    return Invoice(
        number=number,
        asks_for=asks_for,
        date=ACCEPTED,
        tax_point=ACCEPTED,
        due=ACCEPTED + datetime.timedelta(days=days),
        lines=made,
        taxes=(made_up.vat(net),) if taxes is None else taxes,
        deduction=Money.of(deduction),
        retained=Money.of(retained),
    )


def deposit() -> Invoice:
    """The first part of the price."""
    return invoice([("Deposit: 30 % of the price", "Q-0147", "145.83")])


def final() -> Invoice:
    """The balance: the contract with its variation, less what was invoiced before."""
    lines = [
        ("The contract as accepted", "Q-0147", "486.10"),
        ("Four more cracked bricks, one thin bed", "V-0001", "132.31"),
        ("Less invoiced before: deposit", "I-0001", "-145.83"),
    ]
    return invoice(lines, number="I-0002", asks_for=InvoiceFor.FINAL)


def reverse_charged() -> Invoice:
    """The worked invoice of the dossier: 2,000.00 net, 400.00 accounted for, 280.00 deducted."""
    net = Money.of(2000)
    return invoice(
        [("Labour", "Q-0147", "1400"), ("Materials", "Q-0147", "480"), ("Hire", "Q-0147", "120")],
        taxes=(made_up.vat(net, charged=False),),
        deduction="280",
        days=30,
    )


def credit(of: Invoice | None = None) -> CreditNote:
    """What takes a part of an invoice back."""
    line = InvoiceLine("Protection that was not needed", Money.of("47.50"), "V-0003")
    taxes = (made_up.vat(line.net),)
    return CreditNote(
        "C-0001",
        ACCEPTED + datetime.timedelta(days=7),
        (of or deposit()).number,
        "The border was cleared before we came.",
        (line,),
        taxes,
    )


def invoiced(so_far: SoFar, asks_for: InvoiceFor, date: datetime.date) -> SoFar:
    """The job with its next invoice sent."""
    number = f"I-{len(so_far.invoices) + 1:04d}"
    made = replace(next_invoice(so_far, asks_for, date=date), number=number)
    return replace(so_far, invoices=(*so_far.invoices, made))


def nearly_paid(given: Contract | None = None) -> SoFar:
    """All done and invoiced in three parts, two of them paid, and £100 on the third."""
    so_far = under_way(given)
    waiting = so_far.variations
    so_far = invoiced(replace(so_far, variations=()), InvoiceFor.DEPOSIT, ACCEPTED)
    so_far = replace(so_far, variations=waiting)
    so_far = invoiced(so_far, InvoiceFor.STAGE, datetime.date(2026, 12, 8))
    done = datetime.date(2026, 12, 18)
    so_far = replace(so_far, completion=Completion(done, "Ned Ashby"))
    so_far = invoiced(so_far, InvoiceFor.FINAL, done)
    first, second, _third = so_far.invoices
    return replace(
        so_far,
        payments=(
            Payment(datetime.date(2026, 12, 3), first.payable, Paying.TRANSFER, first.number),
            Payment(datetime.date(2026, 12, 20), second.payable, Paying.CHEQUE, second.number),
            Payment(datetime.date(2027, 1, 5), Money.of(100), Paying.CASH),
        ),
    )
