"""Lines add up, rungs add up, and more work never costs less."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.pricing.offer import Group, Offer
from estimator.pricing.pricing import price
from estimator.pricing.tax_habits import Deduction
from estimator.pricing.terms import Terms
from estimator.survey.survey import (
    Basis,
    Crack,
    CustomerKind,
    Elevation,
    Party,
    Site,
    StraightRun,
    Survey,
)
from estimator.takeoff import rules
from estimator.takeoff.lines import Conditions, Item, Line, Measure, Need, Reach, Surety
from estimator.takeoff.measure import measure as measured
from estimator.takeoff.scope import LOCAL, PANEL
from estimator.units import Quantity, Unit
from tests.pricing import made_up

numbers = st.integers(0, 2**48)
"""Each makes one job."""
TERMS = Terms(made_up.DAY)
PRINTED = tuple(Group)


def job(number: int) -> tuple[Measure, price_book.PriceBook, Terms]:
    chance = Random(number)
    return made_up.measure(chance), chance.choice(made_up.books()), made_up.terms(chance)


def line_of(item: Item, quantity: str, unit: Unit, **conditions: object) -> Line:
    at = Conditions(**conditions)  # type: ignore[arg-type]
    return Line(item, "front", Quantity(Decimal(quantity), unit), "", ("front/bar/1",), at)


def work(*lines: Line, **parts: object) -> Measure:
    given_parts = {"bars": (), "needs": (), "reaches": (), "notices": (), "visible": (), **parts}
    return Measure(LOCAL, lines, **given_parts)  # type: ignore[arg-type]


def named(offer: Offer, key: str) -> Money:
    return total(line.amount for line in offer.lines if line.item == key)


@pytest.mark.slow
@settings(max_examples=10_000)
@given(numbers)
def test_printed_figures_add_up(number: int) -> None:
    offer = price(*job(number))
    for line in offer.lines:
        exact = line.quantity.amount * line.rate
        assert line.amount.pounds == exact.quantize(Decimal("0.01"), ROUND_HALF_UP)
        assert line.rate == round(line.rate, 2)
        assert line.amount.pence >= 0
    assert total(line.amount for line in offer.lines) == offer.net
    assert offer.net + total(tax.amount for tax in offer.taxes if tax.charged) == offer.total
    rungs = {rung.key: rung.amount for rung in offer.rungs}
    climbed = [rung.amount for rung in offer.rungs if rung.key not in {"net", "tax", "total"}]
    assert total(climbed) == rungs["net"] == offer.net
    assert rungs["total"] == offer.total
    groups = [PRINTED.index(line.group) for line in offer.lines]
    assert groups == sorted(groups)
    assert offer.deduction <= offer.net


def more(measure: Measure, chance: Random) -> Measure:
    """The same job with something more to do."""
    kind = chance.choice(("line", "quantity", "bar", "need", "reach", "higher"))
    if kind == "quantity" and measure.lines:
        place = chance.randrange(len(measure.lines))
        old = measure.lines[place]
        extra = Quantity(made_up.amount(chance, old.quantity.unit), old.quantity.unit)
        lines = list(measure.lines)
        lines[place] = replace(old, quantity=old.quantity + extra)
        return replace(measure, lines=tuple(lines))
    if kind == "bar":
        another = made_up.bar(chance, len(measure.bars) + 1)
        return replace(measure, bars=(*measure.bars, another))
    if kind == "need":
        return replace(measure, needs=(*measure.needs, made_up.need(chance)))
    if kind == "reach":
        another = made_up.reach(chance, len(measure.reaches))
        return replace(measure, reaches=(*measure.reaches, another))
    if kind == "higher" and measure.reaches:
        first, *rest = measure.reaches
        means = made_up.MEANS[min(made_up.MEANS.index(first.means) + 1, 3)]
        higher = replace(first, means=means, top_mm=first.top_mm + 500)
        return replace(measure, reaches=(higher, *rest))
    return replace(measure, lines=(*measure.lines, made_up.line(chance)))


@pytest.mark.slow
@settings(max_examples=3_000)
@given(numbers)
def test_more_work_never_costs_less(number: int) -> None:
    measure, book, terms = job(number)
    before = price(measure, book, terms)
    after = price(more(measure, Random(number + 1)), book, terms)
    assert after.net >= before.net
    assert after.labour_hours >= before.labour_hours
    assert after.working_days >= before.working_days


@pytest.mark.parametrize("item", Item)
def test_each_unit_more_raises_the_price(item: Item) -> None:
    # Steps of days and weeks are crossed on the way; no minimum charge hides them.
    book = made_up.books()[1]
    unit = book.outputs[item].unit
    nets = [
        price(work(line_of(item, str(count), unit, mortar="lime")), book, TERMS).net
        for count in range(1, 90)
    ]
    assert nets == sorted(nets)
    assert nets[-1] > nets[0]


@pytest.mark.parametrize("key", price_book.shipped().materials)
def test_each_unit_of_material_more_raises_the_price(key: str) -> None:
    book = price_book.shipped()
    slot = line_of(Item.CUT_SLOT, "9", Unit.METRE)
    nets = []
    for count in range(1, 90):
        quantity = Quantity(Decimal(count), book.materials[key].unit)
        need = Need(key, quantity, "", Item.SET_BAR)
        nets.append(price(work(slot, needs=(need,)), book, TERMS).net)
    assert nets == sorted(nets)


@pytest.mark.parametrize("seed", range(4))
def test_each_bar_more_raises_the_price(seed: int) -> None:
    chance, book = Random(seed), price_book.shipped()
    slot = line_of(Item.CUT_SLOT, "9", Unit.METRE)
    bars = tuple(made_up.bar(chance, number) for number in range(1, 31))
    offers = [price(work(slot, bars=bars[:count]), book, TERMS) for count in range(31)]
    assert all(offer.cutting.is_exact for offer in offers)
    nets = [offer.net for offer in offers]
    assert nets == sorted(nets)


@given(numbers)
def test_the_same_job_has_the_same_price(number: int) -> None:
    assert price(*job(number)) == price(*job(number))


@given(numbers, st.integers(1, 6))
def test_a_rate_does_not_hang_on_how_much_there_is(number: int, times: int) -> None:
    measure, book, terms = job(number)
    larger = replace(
        measure,
        lines=tuple(
            replace(line, quantity=Quantity(line.quantity.amount * times, line.quantity.unit))
            for line in measure.lines
        ),
    )
    kinds = {item.value for item in Item}
    few, many = (
        [
            (line.item, line.rate, line.description)
            for line in price(one, book, terms).lines
            if line.item in kinds
        ]
        for one in (measure, larger)
    )
    assert few == many


def test_the_same_work_on_two_elevations_is_one_line() -> None:
    slot = line_of(Item.CUT_SLOT, "3.00", Unit.METRE)
    other = replace(slot, elevation="rear", marks=("rear/bar/1",))
    offer = price(work(slot, other), price_book.shipped(), TERMS)
    (line,) = (line for line in offer.lines if line.item == "cut_slot")
    assert str(line.quantity) == "6.00 m"
    assert line.marks == ("front/bar/1", "rear/bar/1")


@pytest.mark.parametrize(
    "other",
    [{"surety": Surety.ALLOWED}, {"conditions": Conditions(mortar="lime", depth_mm=40)}],
)
def test_work_of_another_kind_is_a_line_of_its_own(other: dict[str, object]) -> None:
    slot = line_of(Item.CUT_SLOT, "3.00", Unit.METRE)
    changed = replace(slot, **other)  # type: ignore[arg-type]
    offer = price(work(slot, changed), price_book.shipped(), TERMS)
    assert [line.item for line in offer.lines].count("cut_slot") == 2


def test_parts_build_up_the_rate() -> None:
    offer = price(
        work(line_of(Item.CUT_SLOT, "8.00", Unit.METRE, depth_mm=35)),
        price_book.shipped(),
        TERMS,
    )
    line = offer.lines[0]
    assert round(sum(part.amount for part in line.parts), 2) == line.rate
    assert line.parts[0].working == "6.56 min at £33.64/h"
    assert [part.title for part in line.parts][-2:] == ["Overhead", "Profit"]


def test_materials_are_bought_for_the_whole_job() -> None:
    sand = [
        Need("sand", Quantity.of(15, Unit.KILOGRAM), "", item)
        for item in (Item.POINT_SLOT, Item.REPOINT, Item.POINT_CRACK_BED)
    ]
    slot = line_of(Item.POINT_SLOT, "3.00", Unit.METRE)
    offer = price(work(slot, needs=tuple(sand)), price_book.shipped(), TERMS)
    (bought,) = offer.buying
    assert (bought.packs, str(bought.needed), str(bought.cost)) == (2, "45.00 kg", "8.40")
    (line,) = (line for line in offer.lines if line.item == "sand")
    assert line.quantity.amount == 2


def test_an_allowed_brick_costs_what_a_further_one_does() -> None:
    allowed = line_of(Item.ALLOWED_BRICK, "3", Unit.NUMBER, mortar="hard cement")
    brick = Need("facing_brick", Quantity.of(4, Unit.NUMBER), "", Item.ALLOWED_BRICK)
    offer = price(work(allowed, needs=(brick,)), price_book.shipped(), TERMS)
    line = next(line for line in offer.lines if line.item == "allowed_brick")
    assert line.rate == offer.further_brick.pounds
    # Its bricks are in the rate: bought, and not charged a second time.
    assert [bought.material for bought in offer.buying] == ["facing_brick"]
    assert not named(offer, "facing_brick")


def test_a_small_job_is_lifted_to_the_minimum() -> None:
    book = price_book.shipped()
    offer = price(work(line_of(Item.PATCH_BRICK, "1", Unit.NUMBER)), book, TERMS)
    assert offer.net == book.minimum_charge
    assert offer.lines[-1].item == "minimum_charge"
    assert [rung.key for rung in offer.rungs][-4:] == ["minimum", "net", "tax", "total"]


def test_risk_is_a_line_of_its_own() -> None:
    offer = price(work(line_of(Item.CUT_SLOT, "40.00", Unit.METRE)), price_book.shipped(), TERMS)
    others = total(line.amount for line in offer.lines if line.item != "risk")
    assert named(offer, "risk") == others.times(Decimal("0.05"))


def test_no_work_costs_nothing() -> None:
    offer = price(work(), price_book.shipped(), TERMS)
    assert (offer.lines, str(offer.total), offer.programme) == ((), "0.00", ())


def test_access_goes_by_how_the_work_is_reached() -> None:
    slot = line_of(Item.CUT_SLOT, "8.00", Unit.METRE)
    nets = []
    for means in made_up.MEANS:
        reach = Reach("front", 3000, 2000, means, "")
        offer = price(work(slot, reaches=(reach,)), price_book.shipped(), TERMS)
        nets.append(offer.net)
    assert nets == sorted(set(nets))


def test_a_trader_not_registered_pays_tax_on_what_is_bought() -> None:
    grout = Need("grout", Quantity.of(2, Unit.LITRE), "", Item.SET_BAR)
    slot = line_of(Item.CUT_SLOT, "20.00", Unit.METRE)
    job_work = work(slot, needs=(grout,))
    book = price_book.shipped()
    registered = price(job_work, book, TERMS)
    not_registered = price(job_work, book, replace(TERMS, registered=False))
    assert not not_registered.taxes
    assert not_registered.total == not_registered.net
    assert named(not_registered, "grout") > named(registered, "grout")
    assert named(not_registered, "cut_slot") == named(registered, "cut_slot")


def test_a_contractor_keeps_back_nothing_on_materials_and_hire() -> None:
    grout = Need("grout", Quantity.of(2, Unit.LITRE), "", Item.SET_BAR)
    tower = Reach("front", 3000, 2000, "tower", "")
    slot = line_of(Item.CUT_SLOT, "20.00", Unit.METRE)
    terms = replace(TERMS, customer=CustomerKind.TRADE, deduction=Deduction.REGISTERED)
    offer = price(work(slot, needs=(grout,), reaches=(tower,)), price_book.shipped(), terms)
    # A tub at 23.50, a tower put up at 48 and hired for a week at 78: what they cost.
    assert offer.deduction == (offer.net - Money.of("149.50")).times(Decimal("0.2"))


def test_work_the_book_does_not_know_is_refused() -> None:
    book = price_book.shipped()
    outputs = {item: output for item, output in book.outputs.items() if item is not Item.SET_BAR}
    with pytest.raises(UserMistake, match="no output for 'set_bar'"):
        price(work(line_of(Item.SET_BAR, "1", Unit.METRE)), replace(book, outputs=outputs), TERMS)


def test_a_material_the_book_does_not_know_is_refused() -> None:
    need = Need("straw", Quantity.of(2, Unit.KILOGRAM), "", Item.SET_BAR)
    with pytest.raises(UserMistake, match="no material 'straw'"):
        price(
            work(line_of(Item.SET_BAR, "1", Unit.METRE), needs=(need,)),
            price_book.shipped(),
            TERMS,
        )


@pytest.mark.parametrize("unit", [Unit.NUMBER, Unit.LITRE])
def test_another_unit_is_refused(unit: Unit) -> None:
    with pytest.raises(UserMistake, match="it is measured in"):
        price(work(line_of(Item.SET_BAR, "1", unit)), price_book.shipped(), TERMS)


def test_eight_stitches_cost_a_few_hundred_pounds() -> None:
    crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    front = Elevation("front", "Front", outline, cracks=(crack,))
    seen = Survey("1", "Front", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    book = price_book.shipped()
    shipped = rules.shipped()
    local, panel = (price(measured(seen, scope, shipped), book, TERMS) for scope in (LOCAL, PANEL))
    assert sum(len(bar.pieces_mm) for bar in local.cutting.bars) == 8
    assert Money.of(300) < local.net < panel.net < Money.of(1000)
