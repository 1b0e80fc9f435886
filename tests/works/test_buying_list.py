"""What to buy, from whom, and what more a variation asks for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.contract.variation import Standing
from estimator.money import total
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.takeoff.scope import LOCAL, PANEL
from estimator.works.buying_list import buying_list, list_of, more_to_buy
from estimator.works.site_work import site_work
from estimator.works.suppliers import MERCHANT, folded
from tests.works import made_up

KEYS = ("bar_1500", "bar_3000", "grout", "sand", "cement", "hydrated_lime")
CASES = [(name, scope) for name in made_up.JOBS for scope in ("local", "panel")]


@pytest.mark.parametrize(("name", "scope"), CASES)
def test_it_is_what_the_job_was_priced_with(name: str, scope: str) -> None:
    found, chosen = buying_list(made_up.accepted(name, scope)), made_up.option(name, scope)
    assert found.cost == total(one.cost for one in chosen.offer.buying)
    [group] = found.groups
    assert group.supplier == MERCHANT
    for thing, bought in zip(group.things, chosen.offer.buying, strict=True):
        assert (thing.material, thing.packs) == (bought.material, bought.packs)
        assert thing.left.amount >= 0
        assert thing.needed.amount + thing.left.amount == thing.packs * bought.pack_size


def test_things_stand_under_their_supplier() -> None:
    suppliers = {"bar_3000": "Bars & Co", "bar_1500": "Bars & Co", "sand": "Quarry"}
    found = buying_list(made_up.accepted("terrace"), suppliers)
    by_name = {group.supplier: [thing.material for thing in group.things] for group in found.groups}
    assert by_name["Bars & Co"] == ["bar_1500", "bar_3000"]
    assert by_name["Quarry"] == ["sand"]
    assert set(by_name) == {MERCHANT, "Bars & Co", "Quarry"}
    assert found.cost == buying_list(made_up.accepted("terrace")).cost


def test_a_name_in_other_capitals_or_spaces_is_the_same_counter() -> None:
    suppliers = {
        "grout": "Bars & Co",
        "bar_1500": "  BARS  &\tco\n",
        "sand": "\u202ebars & co",
        "cement": "   ",
        "facing_brick": "MERCHANT",
    }
    found = buying_list(made_up.accepted("quoin_cavity"), suppliers)
    [merchant] = buying_list(made_up.accepted("quoin_cavity")).groups
    theirs = {"grout", "bar_1500", "sand"}
    by_name = {group.supplier: group.things for group in found.groups}
    assert by_name == {
        "Bars & Co": tuple(one for one in merchant.things if one.material in theirs),
        MERCHANT: tuple(one for one in merchant.things if one.material not in theirs),
    }


@given(st.dictionaries(st.sampled_from(KEYS), st.text(max_size=90)))
def test_whatever_is_typed_nothing_is_lost_or_bought_twice(suppliers: dict[str, str]) -> None:
    bought = made_up.option("terrace", "local").offer.buying
    found, plain = list_of(bought, suppliers), list_of(bought)
    [merchant] = plain.groups
    listed = [thing for group in found.groups for thing in group.things]
    assert sorted(listed, key=lambda one: one.material) == sorted(
        merchant.things, key=lambda one: one.material
    )
    names = [group.supplier for group in found.groups]
    assert len({folded(name) for name in names}) == len(names)
    assert all(name and name.isprintable() and name == name.strip() for name in names)
    # The counters come in the order of the list.
    order = [thing.material for thing in merchant.things]
    firsts = [order.index(group.things[0].material) for group in found.groups]
    assert firsts == sorted(firsts)


def test_a_variation_that_changes_nothing_asks_for_nothing() -> None:
    so_far = made_up.accepted("terrace")
    same = made_up.varied("a", made_up.survey("terrace"), LOCAL, standing=Standing.SENT)
    assert more_to_buy(made_up.with_variation(so_far, same), "a").groups == ()


def test_repointing_after_all_asks_for_mortar_beyond_the_bags_bought() -> None:
    # Terrace: 1 bag of sand for stitching alone and 2 for the panel; bars, grout, cement as before.
    so_far = made_up.with_variation(
        made_up.accepted("terrace"),
        made_up.varied("a", made_up.survey("terrace"), PANEL, standing=Standing.SENT),
    )
    [group] = more_to_buy(so_far, "a").groups
    assert [(thing.material, thing.packs) for thing in group.things] == [("sand", 1)]
    # 39.23 kg are needed and 25 bought: 14.23 of the second bag.
    assert group.things[0].needed.amount == Decimal("14.23")


def test_further_bricks_are_bought_beyond_the_spares() -> None:
    found = made_up.survey("quoin_cavity")
    side = found.elevations[0]
    more = tuple(CrackedBrick(course, 14, Treatment.REPLACE) for course in (9, 11, 13))
    varied = replace(found, elevations=(replace(side, bricks=(*side.bricks, *more)),))
    so_far = made_up.with_variation(
        made_up.accepted("quoin_cavity"), made_up.varied("a", varied, LOCAL)
    )
    before, now = (
        {one.material: one.packs for one in site_work(job).offer.buying}
        for job in (made_up.accepted("quoin_cavity"), so_far)
    )
    [group] = more_to_buy(so_far, "a").groups
    assert {thing.material: thing.packs for thing in group.things} == {
        "facing_brick": now["facing_brick"] - before["facing_brick"]
    }


def test_bars_that_came_to_it_are_cut_from_new_stock() -> None:
    # One more crack beside the first: only its own pieces are bought, however it might have been
    # cut had all been known before.
    found = made_up.survey("window_lime")
    front = found.elevations[0]
    shorter = replace(found, elevations=(replace(front, cracks=()),))
    so_far = made_up.with_variation(
        made_up.accepted("window_lime"), made_up.varied("a", shorter, PANEL)
    )
    back = made_up.with_variation(so_far, made_up.varied("b", found, LOCAL))
    assert not [
        thing
        for group in more_to_buy(back, "a").groups
        for thing in group.things
        if thing.material.startswith("bar_")
    ]
    [again] = [
        thing
        for group in more_to_buy(back, "b").groups
        for thing in group.things
        if thing.material.startswith("bar_")
    ]
    pieces = Counter(
        piece
        for bar in made_up.option("window_lime", "local").measure.bars
        for piece in bar.pieces_mm
    )
    assert (again.material, again.packs) == ("bar_3000", 2)
    assert pieces == {1200: 4}
