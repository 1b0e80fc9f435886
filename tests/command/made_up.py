"""A quotation made by hand, so that printing it is tested without measuring or pricing."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from estimator.money import NOTHING, Money
from estimator.notices import Notice, Severity
from estimator.pricing.offer import Bought, Group, Mixed, Offer, OfferLine, Rung, Step, TaxLine
from estimator.quoting.quotation import Option, Paper, Quotation, Spread, Trader
from estimator.survey.survey import Basis, Elevation, Party, Site, Survey
from estimator.survey.triage import Assessment, Outcome, Route
from estimator.takeoff.cutting import CutBar, CuttingList
from estimator.takeoff.lines import Bar, Item, Line, Measure, Reason
from estimator.takeoff.scope import LOCAL, PANEL, Scope
from estimator.units import Quantity, Unit

WALL = Elevation("front", "Front", ((0, 0), (900, 0), (900, 900), (0, 900)))
SURVEY = Survey("Q-7", "Crack", "2026-11-25", Basis.MEASURED, Party(), Site(), (WALL,))
BAR = Bar(
    id="front/bar/1",
    elevation="front",
    course=3,
    left_mm=0,
    right_mm=1000,
    y_mm=160,
    turn_left_mm=0,
    turn_right_mm=0,
    pieces_mm=(1000,),
    slot_depth_mm=35,
    bed_mm=10,
    thin=False,
    cracks=("a",),
    reasons=(Reason("anchorage", "500 mm beyond the crack on each side", "common_practice"),),
)
CAUTION = Notice("dust", Severity.CAUTION, "Mortar dust harms lungs", "house")
LOUDER = Notice("look", Severity.REFER, "Ask an engineer", "house")
OUTCOME = Outcome("R3", Route.REFER, "Still moving", "It may move again.", "it grows", "house")


def offer(scope: Scope, pounds: str) -> Offer:
    """An offer of one line and one tax."""
    net, tax = Money.of(pounds), Money.of(pounds).times(Decimal("0.2"))
    line = OfferLine(
        item="cut_slot",
        group=Group.BEDS,
        description="Cut out beds 35 mm deep",
        quantity=Quantity.of(1.0, Unit.METRE),
        rate=Decimal(pounds),
        amount=net,
        marks=("front/bar/1",),
    )
    return Offer(
        scope=scope,
        lines=(line,),
        rungs=(Rung("net", "Net", "", net),),
        net=net,
        taxes=(TaxLine("VAT at 20 %", Decimal(20), net, tax),),
        total=net + tax,
        deduction=NOTHING,
        labour_hours=Decimal("6.50"),
        working_days=Decimal("1.0"),
        programme=(
            Step("Cut, set and point", Decimal(1), is_wait=False, reason=""),
            Step("Lime cures", Decimal(7), is_wait=True, reason=""),
        ),
        buying=(
            Bought("grout", "Grout", Quantity.of(2, Unit.LITRE), 1, Decimal(3), net, net),
            Bought(
                "sand",
                "Sand",
                Quantity.of(len(scope.key), Unit.KILOGRAM),
                1,
                *(Decimal(25), net, net),
            ),
        ),
        cutting=CuttingList((CutBar(3000, (1000,)),), 900, 900, 2000, is_exact=True),
        further_brick=Money.of("37"),
        notices=(CAUTION,),
        visible=("One paler line.",),
        mixing=(Mixed("Grout", 2, Quantity.of(1.5, Unit.LITRE), 45),),
    )


def option(scope: Scope, pounds: str) -> Option:
    """One scope, measured and priced."""
    slot = Line(Item.CUT_SLOT, "front", Quantity.of(1.0, Unit.METRE), "1 × 1.0", ("front/bar/1",))
    panel = Line(
        Item.REPOINT, "front", Quantity.of(0.81, Unit.SQUARE_METRE), "0.9 × 0.9", ("front",)
    )
    lines = (slot, panel) if scope is PANEL else (slot,)
    measure = Measure(scope, lines, (BAR,), (), (), (CAUTION, LOUDER), ("One paler line.",))
    return Option(measure, offer(scope, pounds))


def quotation() -> Quotation:
    """Two options at an exact price."""
    return Quotation(
        paper=Paper.QUOTATION,
        number="Q-7",
        date="2026-11-25",
        valid_until="2026-12-25",
        trader=Trader("Sample Masonry"),
        survey=SURVEY,
        assessment=Assessment(2, "Slight", Route.PRICE, (), (CAUTION,)),
        options=(option(LOCAL, "1033.33"), option(PANEL, "1500.00")),
        rates_confirmed=True,
    )


def estimate() -> Quotation:
    """The same work told by telephone."""
    spread = Spread(Money.of(900), Money.of(1200), Money.of(1650), "About 8 in 10 end inside it")
    exact = quotation()
    return replace(
        exact,
        paper=Paper.ESTIMATE,
        assessment=Assessment(2, "Slight", Route.RANGE, (), ()),
        options=tuple(replace(one, spread=spread) for one in exact.options),
        rates_confirmed=False,
    )


def refusal() -> Quotation:
    """A wall that somebody else must look at first."""
    assessment = Assessment(3, "Moderate", Route.REFER, (OUTCOME,), (LOUDER,))
    return replace(quotation(), assessment=assessment, options=())
