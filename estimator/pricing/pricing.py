"""From measured work to a priced offer.

Every line is quantity × rate, rounded once, and net is the sum of the lines as printed. Rates hang
on the work and its conditions, never on how much there is; packs, days, visits and weeks only rise
as work is added; so more work never costs less. The ladder behind the lines runs on exact costs;
the pennies between the two are a rung of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.money import NOTHING, Money, total
from estimator.pricing import tax
from estimator.pricing.build_up import ladder
from estimator.pricing.buying import Pooled, pooled
from estimator.pricing.material_lines import bar_lines, buying_list, cut_bars, material_lines
from estimator.pricing.mixing import mixing_list
from estimator.pricing.offer import Group, Offer, OfferLine, Part, Rung, TaxLine
from estimator.pricing.price_book import PriceBook
from estimator.pricing.programme import Programme, plan
from estimator.pricing.rates import MATERIALS, RUNGS, Costed, gang_hour, unit_rate
from estimator.pricing.site_lines import (
    access_lines,
    plant_lines,
    preliminary_lines,
    site_of,
    visit_lines,
)
from estimator.pricing.tax import Supply
from estimator.pricing.terms import Terms
from estimator.pricing.work_lines import Work, work_of
from estimator.takeoff.cutting import CuttingList
from estimator.takeoff.grout_and_mortar import mortar
from estimator.takeoff.lines import Conditions, Item, Measure
from estimator.units import Quantity, Unit, rounded

HUNDRED = Decimal(100)
ORDER = {group: place for place, group in enumerate(Group)}
ONE_ITEM = Quantity(Decimal(1), Unit.ITEM)
TITLES = {
    "labour": "Labour",
    "materials": "Materials",
    "plant": "Plant and tipping",
    "access": "Access",
    "visits": "Travel and setting up",
    "preliminaries": "Preliminaries",
}


def price(measure: Measure, book: PriceBook, terms: Terms) -> Offer:
    """Return one scope, priced.

    Raises:
        UserMistake: when the price book lacks something the work needs, or the terms ask for tax
            to be treated as the law does not allow.

    >>> from datetime import date
    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.lines import Line
    >>> from estimator.takeoff.scope import LOCAL
    >>> slot = Line(Item.CUT_SLOT, "front", Quantity.of(8, Unit.METRE), "8 × 1.00 m", ())
    >>> work = Measure(LOCAL, (slot,), (), (), (), (), ())
    >>> offer = price(work, shipped(), Terms(date(2026, 11, 25)))
    >>> total(line.amount for line in offer.lines) == offer.net
    True
    """
    pools = pooled(measure.needs, book.materials)
    job = _Job(measure, book, terms, tax.input_factor(terms), pools)
    work = work_of(measure.lines, book, job.bought_in)
    programme = job.programme(work)
    cutting = cut_bars(measure.bars, book, job.bought_in)
    costed = job.costed(work, programme, cutting)
    sold = _sold(costed, book)
    spent = _spent(costed)
    supply = _supply(sold.lines, costed, spent)
    net = sold.worked + sold.lift
    taxed = tax.charge(supply, terms)
    paid = net + tax.charged(taxed.lines)
    hours = sum(work.hours.values(), Decimal(0))
    climbed = ladder(_cost_rungs(spent, hours, book), book.additions)
    return Offer(
        scope=measure.scope,
        lines=sold.lines,
        rungs=(*climbed, *_last_rungs(climbed, sold, taxed.lines, paid)),
        net=net,
        taxes=taxed.lines,
        total=paid,
        deduction=tax.deduction(supply, terms),
        labour_hours=rounded(hours, 2),
        working_days=programme.working_days,
        programme=programme.steps,
        buying=buying_list(job.pools, cutting, book),
        cutting=cutting,
        further_brick=job.further_brick(),
        notices=taxed.notices,
        visible=measure.visible,
        mixing=mixing_list(pools, work.hours),
    )


@dataclass(frozen=True, slots=True)
class _Job:
    """The work to be priced, and what it is priced by."""

    measure: Measure
    book: PriceBook
    terms: Terms
    bought_in: Decimal
    """What bought-in things cost for each pound before tax."""
    pools: tuple[Pooled, ...]

    def programme(self, work: Work) -> Programme:
        """Return the visits and waits of the work."""
        keys = (line.conditions.new_mortar for line in self.measure.lines)
        mortars = [mortar(key) for key in dict.fromkeys(keys) if key]
        labour = self.book.labour
        return plan(work.hours, self.book.timing, day_hours=labour.day_capacity, mortars=mortars)

    def costed(self, work: Work, programme: Programme, cutting: CuttingList) -> tuple[Costed, ...]:
        """Return every line with its costs, in the order they are printed."""
        if not work.lines:
            return ()
        # The sort is stable: within a group lines stay as they come.
        found = sorted(
            self._all_lines(work, programme, cutting), key=lambda one: ORDER[one.line.group]
        )
        return tuple(found)

    def _all_lines(
        self, work: Work, programme: Programme, cutting: CuttingList
    ) -> Iterator[Costed]:
        measure, book, bought_in = self.measure, self.book, self.bought_in
        yield from work.lines
        yield from bar_lines(cutting, book, bought_in, work.marks.get(Item.SET_BAR, ()))
        yield from material_lines(self.pools, book, bought_in, work.marks)
        site = site_of(book, bought_in, self.terms.travel_miles)
        yield from plant_lines(site, work.hours, programme, book)
        yield from access_lines(site, measure.reaches, programme, book)
        yield from visit_lines(site, programme)
        yield from preliminary_lines(site, programme)

    def further_brick(self) -> Money:
        """Return the rate for a further cracked brick, in the hardest mortar of the job."""
        mortars = {line.conditions.mortar for line in self.measure.lines} or {""}
        return Money.of(max(_brick_rate(self.book, one, self.bought_in) for one in mortars))


def _brick_rate(book: PriceBook, mortar_found: str, bought_in: Decimal) -> Decimal:
    at = Conditions(mortar=mortar_found)
    return unit_rate(book, Item.ALLOWED_BRICK, Unit.NUMBER, at, bought_in).rate


@dataclass(frozen=True, slots=True)
class _Sold:
    """The lines as printed, and what they add up to on the way."""

    lines: tuple[OfferLine, ...]
    worked: Money
    """All lines but the lift to the minimum charge."""
    lift: Money


def _sold(costed: Sequence[Costed], book: PriceBook) -> _Sold:
    """Return the lines with the risk and, where the job is small, the lift to the minimum."""
    lines = [one.line for one in costed]
    percent = book.additions.risk_percent
    before = total(line.amount for line in lines)
    risk = before.times(percent / HUNDRED)
    if risk:
        title = f"Allowance for risk, {percent:f} % of the lines above"
        lines.append(_whole("risk", title, risk))
    worked = before + risk
    lift = max(book.minimum_charge - worked, NOTHING) if lines else NOTHING
    if lift:
        title = f"To the minimum charge of {book.symbol}{book.minimum_charge}"
        lines.append(_whole("minimum_charge", title, lift))
    return _Sold(tuple(lines), worked, lift)


def _whole(key: str, title: str, amount: Money) -> OfferLine:
    """Return a line that is one sum."""
    parts = (Part(title, "one sum", amount.pounds),)
    return OfferLine(key, Group.PRELIMINARIES, title, ONE_ITEM, amount.pounds, amount, parts=parts)


def _spent(costed: Sequence[Costed]) -> dict[str, Decimal]:
    """Return what the job costs, by kind, in the order of the ladder."""
    spent = dict.fromkeys(RUNGS, Decimal(0))
    for one in costed:
        for rung, cost in one.costs:
            spent[rung] += cost
    return spent


def _supply(
    lines: Sequence[OfferLine], costed: Sequence[Costed], spent: Mapping[str, Decimal]
) -> Supply:
    """Return what tax needs to know of the job."""
    return Supply(
        tuple(line.amount for line in lines),
        materials_sold=total(one.line.amount for one in costed if one.is_goods),
        goods_cost=Money.of(spent[MATERIALS]),
        hire_cost=Money.of(sum((one.hired for one in costed if one.hired), Decimal(0))),
    )


def _cost_rungs(spent: Mapping[str, Decimal], hours: Decimal, book: PriceBook) -> list[Rung]:
    """Return what the job costs, by kind, each rounded once."""
    workings = {
        "labour": f"{hours:.2f} h of a bricklayer with the gang at {book.symbol}{gang_hour(book)}",
        "materials": "whole packs and bars, at the merchant's prices",
    }
    return [
        Rung(key, TITLES[key], workings.get(key, ""), Money.of(cost)) for key, cost in spent.items()
    ]


def _last_rungs(
    climbed: Sequence[Rung], sold: _Sold, taxes: Sequence[TaxLine], paid: Money
) -> Iterator[Rung]:
    """Yield the rungs from rounding to the total."""
    pennies = sold.worked - total(rung.amount for rung in climbed)
    why = "between this ladder and the lines, whose rates are each rounded to the penny"
    yield Rung("rounding", "Rounding", why, pennies)
    if sold.lift:
        yield Rung("minimum", "Minimum charge", "lifts the price to the least charged", sold.lift)
    yield Rung("net", "Net", "the sum of the lines", sold.worked + sold.lift)
    for line in taxes:
        shown = line.amount if line.charged else NOTHING
        yield Rung("tax", line.title, f"on {line.base}", shown)
    yield Rung("total", "Total", "what the customer pays", paid)
