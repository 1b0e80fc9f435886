"""What the gang is to do is what was agreed last, whenever it was agreed."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from estimator.contract.agreed_work import agreed_scope, agreed_work, not_agreed
from estimator.contract.contract import Contract
from estimator.contract.drafting import drawn_up
from estimator.contract.so_far import SoFar
from estimator.contract.valuation import value
from estimator.contract.variation import Standing, Variation
from estimator.survey.survey import CrackedBrick, Elevation, Treatment
from estimator.takeoff.difference import difference
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import LOCAL, PANEL, Scope
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

FRONT = wall(upright("a", 1120), hidden_bricks=2.0)
BRICKS = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (9, 10, 11, 12))
OPENED = replace(FRONT, bricks=BRICKS)
WIDER = replace(OPENED, cracks=(*FRONT.cracks, upright("b", 3145, courses=8)))


def contract() -> Contract:
    return made_up.contract(made_up.survey(FRONT))


def variation(job: SoFar, side: Elevation, scope: Scope, key: str, revision: int) -> Variation:
    return drawn_up(
        job,
        value(job, made_up.survey(side), scope),
        date=made_up.DAY,
        asked_by="found on site",
        reason="",
        revision=revision,
        key=key,
    )


def two() -> tuple[Contract, Variation, Variation]:
    """Bricks first, and then another crack and the whole panel."""
    given = contract()
    first = variation(SoFar(contract=given), OPENED, LOCAL, "a", 2)
    sent = made_up.answered(given, (first, Standing.SENT))
    return given, first, variation(sent, WIDER, PANEL, "b", 3)


def test_at_first_it_is_the_contract() -> None:
    work = agreed_work(SoFar(contract=contract()))
    assert not difference(work.measure, made_up.measured(made_up.survey(FRONT), LOCAL))
    assert work.offer == made_up.priced(made_up.survey(FRONT), LOCAL)
    assert work.scope == LOCAL


def test_found_bricks_are_where_they_are_and_use_up_what_was_allowed_for() -> None:
    given, first, _second = two()
    work = agreed_work(made_up.answered(given, (first, Standing.AGREED)))
    marks = [line.marks for line in work.measure.lines if line.item is Item.REPLACE_BRICK]
    assert marks == [tuple(f"front/brick/{one.course}/9" for one in BRICKS)]
    assert all(line.item is not Item.ALLOWED_BRICK for line in work.measure.lines)
    (side,) = work.survey.elevations
    assert (side.bricks, side.hidden_bricks) == (BRICKS, 0)
    assert work.offer.working_days == given.working_days + first.extra_days
    facing = next(one for one in work.offer.buying if one.material == "facing_brick")
    assert facing.needed.amount >= 4


def test_some_of_what_was_allowed_for_may_still_come() -> None:
    given = contract()
    one_found = replace(FRONT, bricks=BRICKS[:1])
    longer = replace(one_found, cracks=WIDER.cracks)
    first = variation(SoFar(contract=given), longer, LOCAL, "a", 2)
    work = agreed_work(made_up.answered(given, (first, Standing.AGREED)))
    assert work.survey.elevations[0].hidden_bricks == 1


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_the_latest_wall_counts_whichever_was_agreed_last(order: tuple[int, int]) -> None:
    given, first, second = two()
    told = ((first, Standing.AGREED), (second, Standing.AGREED))
    job = made_up.answered(given, *told, order=order)
    assert agreed_scope(job) == PANEL
    assert {crack.id for crack in agreed_work(job).survey.elevations[0].cracks} == {"a", "b"}
    assert not_agreed(job) == ()


def test_the_27th_variation_comes_after_the_26th() -> None:
    given, first, second = two()
    told = (
        (replace(first, key="z"), Standing.AGREED),
        (replace(second, key="aa"), Standing.AGREED),
    )
    assert agreed_scope(made_up.answered(given, *told)) == PANEL


def test_what_only_waits_is_not_to_be_done() -> None:
    given, first, second = two()
    job = made_up.answered(given, (first, Standing.AGREED), (second, Standing.SENT))
    assert agreed_scope(job) == LOCAL
    assert {crack.id for crack in agreed_work(job).survey.elevations[0].cracks} == {"a"}


def test_declined_work_that_still_stands_on_the_wall_is_told() -> None:
    given, first, second = two()
    job = made_up.answered(given, (first, Standing.DECLINED), (second, Standing.AGREED))
    (line,) = not_agreed(job)
    assert (line.item, line.was, line.now) == ("allowed_brick", 2, 4)
    assert line.marks == tuple(f"front/brick/{one.course}/9" for one in BRICKS)


def test_work_the_old_book_has_no_output_for_can_still_be_planned() -> None:
    given = contract()
    told = json.loads(made_up.BOOK)
    told["outputs"] = [one for one in told["outputs"] if one["item"] != "patch_brick"]
    old = replace(given, book=json.dumps(told))
    patched = replace(FRONT, bricks=(CrackedBrick(5, 5, Treatment.PATCH),))
    job = SoFar(contract=old)
    valuation = value(job, made_up.survey(patched), LOCAL, today=made_up.RATES)
    first = drawn_up(
        *(job, valuation),
        date=made_up.DAY,
        asked_by="x",
        reason="",
        revision=2,
        key="a",
    )
    work = agreed_work(made_up.answered(old, (first, Standing.AGREED)))
    assert any(line.item == "patch_brick" for line in work.offer.lines)


def test_without_a_contract_there_is_no_work() -> None:
    for ask in (agreed_work, agreed_scope):
        with pytest.raises(ValueError, match="nothing has been accepted"):
            ask(SoFar())


def test_a_variation_without_further_bricks_says_nothing_of_their_rate() -> None:
    """Found wanting: once the rate was open to review, every later variation said so again."""
    given, first, _second = two()
    assert any("open to review" in note for note in first.notes)
    job = made_up.answered(given, (first, Standing.AGREED))
    later = variation(job, WIDER, LOCAL, "b", 3)
    assert all(line.item != "allowed_brick" for line in later.lines)
    assert not any("open to review" in note for note in later.notes)
