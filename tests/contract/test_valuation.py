"""What a wall as found changes: it adds up to the price of the work as it is, to the penny."""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from estimator.contract import drafting
from estimator.contract.contract import Contract, Sold
from estimator.contract.position import joined, position
from estimator.contract.so_far import SoFar
from estimator.contract.valuation import Valuation, value
from estimator.contract.variation import Standing, ValuedBy, Variation
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing.offer import Group
from estimator.survey.survey import CrackedBrick, Elevation, Mortar, StraightRun, Survey, Treatment
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT, Scope
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

PAIRS = 400
MANY_PAIRS = 10_000
FURTHER = Item.ALLOWED_BRICK.value


def figures(lines: Iterable[Sold]) -> dict[object, tuple[Decimal, Money]]:
    """What each line comes to, lines alike joined, nothing left out but their marks."""
    found = joined(lines).items()
    return {key: (line.quantity, line.amount) for key, line in found if line.quantity}


def drawn_up(so_far: SoFar, valuation: Valuation, key: str = "a", revision: int = 2) -> Variation:
    return drafting.drawn_up(
        so_far,
        valuation,
        date=made_up.DAY,
        asked_by="found on site",
        reason="",
        revision=revision,
        key=key,
    )


def net(valuation: Valuation) -> Money:
    return total(line.amount for line in valuation.lines)


def check_pair(seed: int) -> str:
    """Hold one random pair of walls to prices worked out apart, and say what kind it was."""
    chance = random.Random(seed)
    before = made_up.side(chance)
    after = made_up.as_found(chance, before)
    first = chance.choice(made_up.SCOPES)
    then_scope, scope = (first, first) if chance.random() < 0.7 else (first, made_up.PANEL)
    others = [one for one in made_up.SCOPES if one is not first]
    given = made_up.contract(made_up.survey(before), then_scope, others[: chance.randint(0, 2)])
    job = SoFar(contract=given)
    found = made_up.survey(after)
    expected = made_up.priced_now(given, before, after, scope)
    valuation = value(job, found, scope)
    assert given.net + net(valuation) == expected.net
    if not expected.further:
        # No promised rate comes into it: this is the very price of the wall.
        alone = replace(found, elevations=(replace(after, hidden_bricks=0.0),))
        assert expected.net == made_up.priced(alone, scope).net
    if valuation.lines:
        done = made_up.answered(given, (drawn_up(job, valuation), Standing.AGREED))
        assert done.net == expected.net
        assert figures(position(done)) == figures(expected.lines)
        assert value(done, found, scope).lines == ()
    if not valuation.lines:
        return "the same"
    return "with further bricks" if expected.further else "changed"


@pytest.mark.slow
def test_contract_and_variation_add_up_to_the_price_of_the_work_as_it_is() -> None:
    kinds = Counter(map(check_pair, range(PAIRS)))
    assert len(kinds) == 3
    assert min(kinds.values()) > PAIRS / 20


@pytest.mark.long
def test_ten_thousand_pairs_add_up_to_the_penny() -> None:
    kinds = Counter(map(check_pair, range(MANY_PAIRS)))
    print(kinds)
    assert kinds.total() == MANY_PAIRS


# -- chains


def chain(seed: int) -> tuple[Contract, list[Variation], Survey, Scope]:
    """A contract and three variations, each of what is found after the one before."""
    chance = random.Random(seed)
    sides = [made_up.side(chance, "front"), made_up.side(chance, "flank")]
    scope = LOCAL
    given = made_up.contract(made_up.survey(*sides), scope, (PANEL,))
    made: list[Variation] = []
    for number in range(3):
        sides = [made_up.as_found(chance, one) for one in sides]
        scope = chance.choice((scope, PANEL))
        job = made_up.answered(given, *((one, Standing.SENT) for one in made))
        valuation = value(job, made_up.survey(*sides), scope)
        if valuation.lines:
            made.append(drawn_up(job, valuation, "abc"[number], number + 2))
    return given, made, made_up.survey(*sides), scope


@pytest.mark.parametrize("seed", range(20))
def test_a_chain_of_variations_comes_to_the_same_as_one(seed: int) -> None:
    given, made, found, scope = chain(seed)
    done = made_up.answered(given, *((one, Standing.AGREED) for one in made))
    at_once = value(SoFar(contract=given), found, scope)
    assert done.net == given.net + net(at_once)
    assert value(done, found, scope).lines == ()
    assert total(line.amount for line in position(done)) == done.net


@pytest.mark.parametrize("seed", range(20))
def test_the_order_of_agreeing_does_not_matter(seed: int) -> None:
    given, made, _found, _scope = chain(seed)
    told = [(one, Standing.AGREED) for one in made]
    forward = made_up.answered(given, *told)
    backward = made_up.answered(given, *told, order=reversed(range(len(told))))
    assert forward.net == backward.net
    assert figures(position(forward)) == figures(position(backward))


@pytest.mark.parametrize("standing", [Standing.DECLINED, Standing.WITHDRAWN, Standing.SENT])
def test_only_agreed_variations_move_the_sum(standing: Standing) -> None:
    given, made, _found, _scope = next(
        found for found in map(chain, range(20)) if len(found[1]) == 3 and found[1][1].net
    )
    kept = [(one, Standing.AGREED) for one in made]
    kept[1] = (made[1], standing)
    job = made_up.answered(given, *kept)
    assert job.net == given.net + made[0].net + made[2].net


def test_what_was_declined_may_be_offered_again() -> None:
    before, after = front(), front(bricks=BRICKS)
    given = made_up.contract(made_up.survey(before))
    job = SoFar(contract=given)
    first = value(job, made_up.survey(after), LOCAL)
    declined = made_up.answered(given, (drawn_up(job, first), Standing.DECLINED))
    again = value(declined, made_up.survey(after), LOCAL)
    assert again.lines == first.lines
    assert (again.extra_days, again.found) == (first.extra_days, first.found)


@pytest.mark.parametrize("seed", range(20))
def test_left_out_and_put_back_comes_to_nothing(seed: int) -> None:
    chance = random.Random(seed)
    whole = made_up.side(chance)
    less = replace(whole, bricks=whole.bricks[1:], cracks=whole.cracks[1:], thin_beds=())
    given = made_up.contract(made_up.survey(whole))
    job = SoFar(contract=given)
    out = value(job, made_up.survey(less), LOCAL)
    if not out.lines:
        return
    first = drawn_up(job, out)
    shorter = made_up.answered(given, (first, Standing.AGREED))
    back = drawn_up(shorter, value(shorter, made_up.survey(whole), LOCAL), "b", 3)
    done = made_up.answered(given, (first, Standing.AGREED), (back, Standing.AGREED))
    assert first.net + back.net == NOTHING
    assert first.extra_days + back.extra_days == 0
    assert figures(position(done)) == figures(given.lines)
    assert {(line.rate, -line.change) for line in first.lines if line.change} == {
        (line.rate, line.change) for line in back.lines if line.change
    }


# -- further bricks

BRICKS = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (9, 10, 11, 12))


def front(**more: Any) -> Elevation:
    return wall(upright("a", 1120), **more)


def counted(hidden: float, number: int, **more: Any) -> tuple[Contract, Valuation]:
    given = made_up.contract(made_up.survey(front(hidden_bricks=hidden)))
    places = [(course, 9 + column) for column in range(3) for course in range(4, 14)]
    bricks = tuple(CrackedBrick(*place, Treatment.REPLACE) for place in places[:number])
    found = made_up.survey(front(hidden_bricks=hidden, bricks=bricks))
    return given, value(SoFar(contract=given), found, LOCAL, **more)


def test_further_bricks_come_at_the_promised_rate_and_in_no_other_line() -> None:
    given, valuation = counted(0, 4)
    (line,) = valuation.lines
    assert (line.item, line.basis) == (FURTHER, ValuedBy.PROVISIONAL_QUANTITY)
    assert line.rate == given.further_brick.pounds
    assert (line.was, line.now) == (0, 4)
    assert line.amount == Money.of(line.rate * 4)
    assert line.marks == tuple(f"front/brick/{course}/9" for course in range(4, 8))
    assert valuation.extra_days >= 0


def test_an_allowance_is_used_up_before_more_is_charged() -> None:
    assert counted(5, 3)[1].lines == ()
    (line,) = counted(5, 7)[1].lines
    assert (line.was, line.now, line.change) == (5, 7, 2)


def test_what_was_allowed_for_on_one_side_is_used_up_on_another() -> None:
    def sides(*bricks: int) -> Survey:
        return made_up.survey(
            *(
                front(
                    id=f"side{place}",
                    name=f"Side {place}",
                    hidden_bricks=2.0,
                    bricks=tuple(CrackedBrick(4 + n, 9, Treatment.REPLACE) for n in range(number)),
                )
                for place, number in enumerate(bricks)
            )
        )

    job = SoFar(contract=made_up.contract(sides(0, 0, 0)))
    for found, change in (((5, 0, 0), 0), ((0, 3, 2), 0), ((6, 0, 0), 0), ((5, 0, 3), 2)):
        lines = value(job, sides(*found), LOCAL).lines
        assert sum(line.change for line in lines if line.item == FURTHER) == change


def test_an_allowance_is_counted_down_once_all_is_found() -> None:
    given, valuation = counted(5, 3, all_found=True)
    line = next(line for line in valuation.lines if line.item == FURTHER)
    assert (line.was, line.now) == (5, 3)
    assert line.amount == -Money.of(line.rate * 2)
    assert net(valuation) <= line.amount
    sentence = "All is opened: 5 further bricks were allowed for and 3 were found."
    assert valuation.found[-1] == sentence
    # And it stays so, whoever asks next.
    job = SoFar(contract=given)
    done = made_up.answered(given, (drawn_up(job, valuation), Standing.AGREED))
    assert value(done, valuation.survey, LOCAL).lines == ()


# Source: NRM2, by way of designingbuildings.co.uk: a fifth and more off a provisional quantity.
@pytest.mark.parametrize(("found", "is_open"), [(14, False), (16, False), (17, True)])
def test_the_rate_is_open_to_review_from_a_fifth_more(found: int, *, is_open: bool) -> None:
    _given, valuation = counted(14, found)
    assert valuation.is_open_to_review is is_open
    assert any("open to review" in note for note in valuation.notes) is is_open


def test_fewer_open_the_rate_only_once_all_is_found() -> None:
    assert not counted(14, 8)[1].is_open_to_review
    assert counted(14, 8, all_found=True)[1].is_open_to_review


def test_a_reviewed_rate_is_taken_only_where_it_may_be_and_then_stays() -> None:
    rate = Decimal("39.00")
    assert counted(14, 16, reviewed_rate=rate)[1].lines == counted(14, 16)[1].lines
    given, valuation = counted(14, 17, reviewed_rate=rate)
    now, before = (line for line in valuation.lines if line.item == FURTHER)
    assert (now.rate, now.now, now.why) == (rate, 17, "the rate as reviewed")
    assert (before.was, before.now) == (14, 0)
    assert net(valuation) == Money.of(rate * 17) - Money.of(given.further_brick.pounds * 14)
    done = made_up.answered(given, (drawn_up(SoFar(contract=given), valuation), Standing.AGREED))
    assert value(done, valuation.survey, LOCAL).lines == ()


def test_a_harder_mortar_does_not_undo_the_promise() -> None:
    soft = front(brickwork=replace(front().brickwork, mortar=Mortar.LIME))
    given = made_up.contract(made_up.survey(soft))
    hard = replace(
        soft, bricks=BRICKS, brickwork=replace(soft.brickwork, mortar=Mortar.HARD_CEMENT)
    )
    assert made_up.priced(made_up.survey(hard), LOCAL).further_brick > given.further_brick
    lines = value(SoFar(contract=given), made_up.survey(hard), LOCAL).lines
    line = next(line for line in lines if line.item == FURTHER)
    assert (line.rate, line.now) == (given.further_brick.pounds, 4)
    assert {one.basis for one in lines if one.item == "point_perpend" and one.change > 0} == {
        ValuedBy.PRO_RATA
    }


def test_bricks_on_a_side_where_nothing_else_is_done_are_measured() -> None:
    bare = wall(id="flank", name="Flank")
    given = made_up.contract(made_up.survey(front(), bare))
    found = made_up.survey(front(), replace(bare, bricks=BRICKS))
    items = {line.item for line in value(SoFar(contract=given), found, LOCAL).lines}
    assert "replace_brick" in items
    assert FURTHER not in items


def test_bricks_that_were_agreed_are_not_further_ones() -> None:
    bricks = made_up.survey(front(bricks=BRICKS))
    given = made_up.contract(bricks)
    out = value(SoFar(contract=given), made_up.survey(front(bricks=BRICKS[1:])), LOCAL)
    assert all(line.item != FURTHER for line in out.lines)
    assert any((line.item, line.change) == ("replace_brick", -1) for line in out.lines)


# -- on what footing


def test_rates_of_another_choice_are_rates_of_the_contract() -> None:
    survey = made_up.survey(front())
    quoted = made_up.contract(survey, LOCAL, (PANEL,))
    unquoted = made_up.contract(survey, LOCAL)
    panel = value(SoFar(contract=quoted), survey, PANEL).lines
    alone = value(SoFar(contract=unquoted), survey, PANEL).lines
    assert {line.basis for line in panel} == {ValuedBy.CONTRACT_RATE}
    assert [line.amount for line in panel] == [line.amount for line in alone]
    by_item = {line.item: line for line in alone}
    assert by_item["repoint"].basis is ValuedBy.FAIR_RATE
    assert by_item["repoint"].why == "from the price list behind Q-0001"


def test_a_rate_agreed_in_a_variation_is_a_rate_of_the_contract() -> None:
    survey = made_up.survey(front())
    given = made_up.contract(survey)
    job = SoFar(contract=given)
    first = drawn_up(job, value(job, survey, PANEL))
    done = made_up.answered(given, (first, Standing.AGREED))
    back = value(done, survey, LOCAL).lines
    repoint = next(line for line in back if line.item == "repoint")
    assert (repoint.basis, repoint.why) == (ValuedBy.CONTRACT_RATE, "the rate agreed in V-0001")


def test_what_the_old_book_lacks_is_taken_from_today_and_said() -> None:
    told = json.loads(made_up.BOOK)
    told["outputs"] = [one for one in told["outputs"] if one["item"] != "patch_brick"]
    given = replace(made_up.contract(made_up.survey(front())), book=json.dumps(told))
    patched = tuple(replace(one, treatment=Treatment.PATCH) for one in BRICKS)
    found = made_up.survey(front(bricks=patched))
    job = SoFar(contract=given)
    with pytest.raises(UserMistake):
        value(job, found, LOCAL)
    dear = replace(made_up.RATES, minimum_charge=Money.of(9999))
    valuation = value(job, found, LOCAL, today=dear)
    line = next(line for line in valuation.lines if line.item == "patch_brick")
    assert (line.basis, line.why) == (ValuedBy.FAIR_RATE, "our rate of today")
    assert any("rates of today" in note for note in valuation.notes)
    # Nothing else comes from today's book.
    assert all(line.item != "minimum_charge" for line in valuation.lines)


def test_time_saved_is_told_like_time_needed() -> None:
    long = wall(*(upright(f"c{n}", 445 + 675 * n) for n in range(5)))
    given = made_up.contract(made_up.survey(long))
    less = made_up.survey(replace(long, cracks=long.cracks[:1]))
    assert value(SoFar(contract=given), less, LOCAL).extra_days < 0


def test_lines_written_in_by_hand_are_not_taken_off_again() -> None:
    survey = made_up.survey(front())
    given = made_up.contract(survey)
    job = SoFar(contract=given)
    hand = drafting.provisional_sum("Drain", allowed=Money.of(0), actual=Money.of(538))
    variation = drafting.drawn_up(
        *(job, value(job, survey, LOCAL)),
        date=made_up.DAY,
        asked_by="x",
        reason="",
        revision=2,
        added=hand,
    )
    done = made_up.answered(given, (variation, Standing.AGREED))
    assert done.net == given.net + Money.of(538)
    assert value(done, survey, LOCAL).lines == ()


def test_only_what_is_new_is_marked() -> None:
    one = wall(upright("a", 1120))
    two = replace(
        one, cracks=(*one.cracks, replace(upright("b", 3145), run=StraightRun(3145, 1, 9)))
    )
    given = made_up.contract(made_up.survey(one))
    before = {bar.id for bar in made_up.measured(made_up.survey(one), LOCAL).bars}
    bars = made_up.measured(made_up.survey(two), LOCAL).bars
    lines = value(SoFar(contract=given), made_up.survey(two), LOCAL).lines
    marked = set(next(line for line in lines if line.item == "set_bar").marks)
    assert marked == {bar.id for bar in bars if bar.left_mm > 2000}
    assert len(bars) > len(before)


def test_repoint_without_bars_takes_the_bars_off() -> None:
    survey = made_up.survey(front())
    given = made_up.contract(survey, LOCAL, (REPOINT,))
    lines = value(SoFar(contract=given), survey, REPOINT).lines
    bars = next(line for line in lines if line.item == "set_bar")
    assert (bars.now, bars.amount) == (0, -Money.of(bars.rate * bars.was))


def test_lines_stand_in_the_order_of_the_paper() -> None:
    survey = made_up.survey(front(bricks=BRICKS))
    given = made_up.contract(made_up.survey(front()), LOCAL, (PANEL,))
    groups = [line.group for line in value(SoFar(contract=given), survey, PANEL).lines]
    assert len(set(groups)) > 3
    assert groups == sorted(groups, key=list(Group).index)


def test_without_a_contract_nothing_is_valued() -> None:
    with pytest.raises(ValueError, match="nothing has been accepted"):
        value(SoFar(), made_up.survey(front()), LOCAL)


def test_what_only_the_contractor_should_look_at_goes_on_no_paper() -> None:
    """Rules changed between quotation and acceptance: said beside the wall, to nobody else."""
    contract, _valued = counted(0, 2)
    so_far = SoFar(contract=replace(contract, drift=Money(100)))
    valued = value(so_far, made_up.survey(front()), LOCAL)
    assert any("Look through them" in text for text in valued.warnings)
    assert not any("Look through them" in text for text in valued.notes)
