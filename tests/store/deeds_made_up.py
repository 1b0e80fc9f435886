"""A job from its acceptance to its last penny, deed by deed, all invented."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from estimator import resources
from estimator.contract.account import (
    CreditNote,
    Invoice,
    InvoiceFor,
    InvoiceLine,
    Paying,
    Payment,
)
from estimator.contract.contract import Contract, Manner
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.deeds import (
    Accepted,
    Answered,
    Booked,
    BuiltThere,
    CalledOff,
    Completed,
    Confirmed,
    Credited,
    DayworkKept,
    Deed,
    Drafted,
    HeldThere,
    Invoiced,
    Paid,
    Planned,
    Sent,
)
from estimator.contract.frozen import rules_text
from estimator.contract.position import sold
from estimator.contract.variation import Standing, Valued, ValuedBy, Variation
from estimator.contract.works import Booking, Built, Completion, Feature, Held, Plan, Used
from estimator.money import NOTHING, Money
from estimator.pricing import price_book
from estimator.pricing.offer import Group, TaxLine
from estimator.pricing.terms import Terms
from estimator.survey import survey_file
from estimator.takeoff.lines import Item
from estimator.takeoff.rules import shipped
from estimator.units import Unit
from tests.store import work

DAY = datetime.date(2026, 11, 26)
EVENING = datetime.datetime(2026, 11, 27, 18, 5, tzinfo=datetime.UTC)
WHO = "Ines Marlowe"
PICTURE = "ab" * 32


@lru_cache(maxsize=1)
def contract() -> Contract:
    quoted = work.quotation()
    offer, other = (one.offer for one in quoted.options)
    return Contract(
        quotation="Q-0001",
        scope=offer.scope,
        accepted_by=WHO,
        how=Manner.TELEPHONE,
        accepted_on=DAY,
        revision=1,
        survey=survey_file.write(quoted.survey),
        book=resources.path("price_book.json").read_text(encoding="utf-8"),
        rules=rules_text(shipped()),
        terms=Terms.of(quoted.survey, price_book.shipped(), date=DAY),
        net=offer.net,
        total=offer.total,
        lines=tuple(sold(line) for line in offer.lines),
        offered=tuple(sold(line) for line in other.lines),
        further_brick=offer.further_brick,
        working_days=offer.working_days,
        materials_cost=Money.of(80),
    )


def variation(key: str = "a", amount: str = "147.64") -> Variation:
    return Variation(
        key=key,
        date=DAY,
        title="4 more cracked bricks",
        asked_by="found on site",
        found=("Front: 4 more cracked bricks, in courses 5 to 8.",),
        reason=f"{WHO} was shown them",
        lines=(
            Valued(
                item=Item.ALLOWED_BRICK.value,
                group=Group.BRICKS,
                description="Further cracked bricks",
                unit=Unit.NUMBER,
                rate=Decimal("36.91"),
                was=Decimal(0),
                now=Decimal(4),
                amount=Money.of(amount),
                basis=ValuedBy.PROVISIONAL_QUANTITY,
                why="the rate for further bricks in Q-0001",
                marks=("front/brick/5/3",),
            ),
        ),
        extra_days=Decimal("0.5"),
        scope=contract().scope,
        revision=1,
        survey=survey_file.write(work.demo()),
        photos=(PICTURE,),
    )


def daywork() -> DayworkSheet:
    return DayworkSheet(
        key="d1",
        variation="",
        what="Propped the sill",
        hours=(Hours(DAY, "Ada", "bricklayer", Decimal("2.5"), Money.of(22)),),
        materials=(Spent("Timber", "2 lengths", Money.of("11.80")),),
        plant=(),
        labour_percent=Decimal(110),
        materials_percent=Decimal(15),
        plant_percent=Decimal(15),
        signed_by=WHO,
        signed_on=DAY,
    )


def invoice(number: str = "I-0001", net: str = "100") -> Invoice:
    tax = TaxLine("VAT at 20 %", Decimal(20), Money.of(net), Money.of(net).times(Decimal("0.2")))
    return Invoice(
        number=number,
        asks_for=InvoiceFor.DEPOSIT,
        date=DAY,
        tax_point=DAY,
        due=DAY + datetime.timedelta(days=14),
        lines=(InvoiceLine("Deposit", Money.of(net), "Q-0001"),),
        taxes=(tax,),
        deduction=NOTHING,
        stage=1,
    )


def credit(number: str = "C-0001", of: str = "I-0001") -> CreditNote:
    told = invoice(of)
    return CreditNote(number, DAY, of, f"{WHO} paid twice", told.lines, told.taxes)


def journey() -> tuple[Deed, ...]:
    """Deeds of every kind but a slip struck out, in an order that makes sense."""
    return (
        Accepted(contract()),
        Confirmed("", "S-0001", DAY),
        Invoiced(invoice()),
        Paid(Payment(DAY, Money.of(120), Paying.TRANSFER, "I-0001", f"from {WHO}")),
        Planned(Plan(DAY, ("Ada", "Ben"), closed=(DAY,), not_before=(("point", DAY),))),
        Drafted(variation(amount="110.73")),
        Drafted(variation()),
        Sent("a", "V-0001", DAY, Manner.EMAIL),
        Answered("a", Standing.AGREED, WHO, Manner.TELEPHONE, EVENING, "Yes, do."),
        Confirmed("a", "S-0002", DAY),
        DayworkKept(daywork()),
        BuiltThere(
            Built(
                "front/bar/1",
                DAY,
                "bar set",
                "B 77/4",
                35,
                f"{WHO} wanted it lower",
                (PICTURE,),
                (f"Shown to {WHO}",),
            )
        ),
        HeldThere(Held(Feature.DEPTH, "front/bar/1", DAY, "Ada")),
        Booked(
            Booking(
                DAY,
                Item.CUT_SLOT,
                Decimal("1.5"),
                Decimal("4.8"),
                "Ada",
                (Used("grout", Decimal(1), Money.of("23.50")),),
            )
        ),
        Drafted(variation("b")),
        Sent("b", "V-0002", DAY, Manner.EMAIL),
        Answered("b", Standing.DECLINED, WHO, Manner.IN_PERSON, EVENING),
        Completed(Completion(DAY, "Ada", (f"{WHO} was told to look again in spring.",))),
        Invoiced(replace(invoice("I-0002", "200"), asks_for=InvoiceFor.FINAL, stage=3)),
        Credited(credit()),
        CalledOff(DAY, WHO, Manner.EMAIL, "We are selling the house."),
    )
