"""Quotations made by hand: real walls, invented rates, so that paper is tested without pricing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from estimator.money import NOTHING, Money, total
from estimator.notices import Notice, Severity
from estimator.pricing.offer import Group, Offer, OfferLine, Step, TaxLine
from estimator.quoting import trader_file
from estimator.quoting.quotation import Option, Paper, Quotation, Spread, Trader
from estimator.survey import survey_file
from estimator.survey.ranges import settled
from estimator.survey.survey import CustomerKind, Survey
from estimator.survey.triage import assess
from estimator.takeoff.cutting import CuttingList
from estimator.takeoff.lines import Item, Line, Measure
from estimator.takeoff.measure import measure_all
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import USUAL, Scope
from estimator.units import Quantity, Unit

DEMO = Path(__file__).resolve().parents[2] / "demo"
WORK = {
    Item.CUT_SLOT: (Group.BEDS, "Cut out beds, clean and damp", "20.91"),
    Item.SKIM_ARRIS: (Group.BEDS, "Skim the arris of thin beds", "9.40"),
    Item.SET_BAR: (Group.BARS, "Set 6 mm helical bars in grout", "18.33"),
    Item.TURN_BAR: (Group.BARS, "Turn bars round the quoin", "12.00"),
    Item.LAP_BAR: (Group.BARS, "Lap bars", "8.10"),
    Item.POINT_SLOT: (Group.CRACK, "Point over the cuts", "9.05"),
    Item.POINT_CRACK_BED: (Group.CRACK, "Rake and point the crack along beds", "11.20"),
    Item.POINT_PERPEND: (Group.CRACK, "Rake and point perpends along the crack", "2.15"),
    Item.RAKE_OUT: (Group.PANEL, "Rake out the panel 20 mm deep", "6.61"),
    Item.REPOINT: (Group.PANEL, "Repoint the panel in lime, bucket-handle joint", "139.57"),
    Item.REPLACE_BRICK: (Group.BRICKS, "Cut out a cracked brick and replace it", "37.00"),
    Item.REPLACE_HALF_BRICK: (Group.BRICKS, "Cut out the outer half of a brick, slip it", "33.00"),
    Item.TURN_BRICK: (Group.BRICKS, "Cut out a brick, turn it and set it again", "30.00"),
    Item.PATCH_BRICK: (Group.BRICKS, "Patch a brick in dyed mortar", "14.50"),
    Item.TOOTH_IN: (Group.BRICKS, "Tooth in", "4.00"),
    Item.ALLOWED_BRICK: (Group.BRICKS, "Further cracked bricks, not seen yet", "37.00"),
    Item.MAKE_GOOD: (Group.PROTECT, "Make good and clean down", "5.50"),
    Item.PROTECT: (Group.PROTECT, "Protect what stands near", "4.75"),
    Item.CLEAR_WASTE: (Group.PROTECT, "Take waste away", "1.90"),
}
FURTHER_BRICK = Money.of("37")
HOUSEHOLD = "window_lime"


@cache
def survey(name: str = HOUSEHOLD) -> Survey:
    """One of the invented jobs."""
    return survey_file.load(DEMO / f"{name}.json")


@cache
def trader() -> Trader:
    """The invented firm."""
    return trader_file.load(DEMO / "firm.json")


def priced(line: Line) -> OfferLine:
    """A measured line at a made-up rate."""
    group, words, rate = WORK[line.item]
    return OfferLine(
        item=line.item.value,
        group=group,
        description=words,
        quantity=line.quantity,
        rate=Decimal(rate),
        amount=Money.of(rate).times(line.quantity.amount),
        marks=line.marks,
        surety=line.surety,
    )


def extra(item: str, group: Group, words: str, rate: str, quantity: Quantity) -> OfferLine:
    """A line that is not measured on the wall."""
    amount = Money.of(rate).times(quantity.amount)
    return OfferLine(item, group, words, quantity, Decimal(rate), amount)


def lines_of(measure: Measure, visits: int) -> tuple[OfferLine, ...]:
    """All lines of one option."""
    trips = Quantity.of(visits, Unit.VISIT)
    item = Quantity.of(1, Unit.ITEM)
    return (
        *map(priced, measure.lines),
        extra("visit", Group.VISITS, "Travel and setting up", "85.00", trips),
        extra("preliminaries", Group.PRELIMINARIES, "Preliminaries", "61.00", item),
        extra("risk", Group.PRELIMINARIES, "Risk of what is hidden", "34.20", item),
    )


def taxed(offer: Offer, *taxes: TaxLine) -> Offer:
    """The same work under other tax."""
    charged = total(tax.amount for tax in taxes if tax.charged)
    return replace(offer, taxes=taxes, total=offer.net + charged)


def vat(net: Money, *, charged: bool = True) -> TaxLine:
    """VAT at the standard rate."""
    title = "VAT at 20 %" if charged else "Reverse charge: customer to account for VAT at 20 %"
    return TaxLine(title, Decimal(20), net, net.times(Decimal("0.2")), charged)


def offer_of(lines: Sequence[OfferLine], scope: Scope, visits: int = 1) -> Offer:
    """An offer of any lines, with VAT."""
    net = total(line.amount for line in lines)
    programme = [Step("Cut, set and point", Decimal(1), is_wait=False, reason="6.5 hours")]
    if visits > 1:
        programme += [
            Step("Lime cures under damp hessian", Decimal(7), is_wait=True, reason="lime, 7 days"),
            Step("Repoint the panel", Decimal(2), is_wait=False, reason="11 hours"),
        ]
    offer = Offer(
        scope=scope,
        lines=tuple(lines),
        rungs=(),
        net=net,
        taxes=(),
        total=net,
        deduction=NOTHING,
        labour_hours=Decimal("6.5"),
        working_days=Decimal(1 if visits == 1 else 3),
        programme=tuple(programme),
        buying=(),
        cutting=CuttingList((), 0, 0, 0, is_exact=True),
        further_brick=FURTHER_BRICK,
        notices=(),
        visible=(),
    )
    return taxed(offer, vat(net))


def option_of(measure: Measure, visits: int) -> Option:
    """A measured scope with made-up prices."""
    offer = offer_of(lines_of(measure, visits), measure.scope, visits)
    return Option(measure, replace(offer, visible=measure.visible))


@cache
def quotation(name: str = HOUSEHOLD, scopes: tuple[Scope, ...] = USUAL) -> Quotation:
    """One of the invented jobs as a quotation."""
    seen = survey(name)
    measures = measure_all(settled(seen), scopes, shipped())
    return Quotation(
        paper=Paper.QUOTATION,
        number=seen.reference,
        date="2026-11-25",
        valid_until="2026-12-25",
        trader=trader(),
        survey=seen,
        assessment=assess(seen),
        options=tuple(option_of(one, visits) for visits, one in enumerate(measures, 1)),
        rates_confirmed=True,
    )


def estimate(name: str = "phone_call") -> Quotation:
    """A job told by telephone, as an estimate."""
    exact = quotation(name)
    sure = "About 8 in 10 jobs told like this end inside it."
    bands = ((620, 760, 980), (1150, 1400, 1850), (1500, 1700, 2100))
    options = tuple(
        replace(option, spread=Spread(*map(Money.of, band), sure))
        for option, band in zip(exact.options, bands, strict=False)
    )
    return replace(exact, paper=Paper.ESTIMATE, options=options, rates_confirmed=False)


def with_lines(count: int) -> Quotation:
    """A quotation whose every option has this many lines, grouped."""
    exact = quotation()
    groups = list(Group)

    def longer(option: Option) -> Option:
        lines = [
            extra(
                f"own{n}",
                groups[min(n * len(groups) // count, len(groups) - 1)],
                f"Own line {n + 1}: rake, clean and point, with all that goes with it",
                f"{10 + n}.37",
                Quantity.of(1.25 + n, Unit.METRE),
            )
            for n in range(count)
        ]
        return replace(option, offer=offer_of(lines, option.offer.scope))

    return replace(exact, options=tuple(map(longer, exact.options)))


def for_customer(given: Quotation, kind: CustomerKind) -> Quotation:
    """The same paper for another kind of customer."""
    customer = replace(given.survey.customer, kind=kind)
    return replace(given, survey=replace(given.survey, customer=customer))


LOUD = Notice("look", Severity.REFER, "Ask a structural engineer before bar 3 is set.", "house")
