"""Bricks found since, offered another way."""

from __future__ import annotations

from dataclasses import replace

from estimator.contract.other_repairs import other_repair
from estimator.contract.so_far import SoFar
from estimator.money import Money
from estimator.survey import survey_file
from estimator.survey.survey import CrackedBrick, Survey, Treatment
from tests.contract.test_account import contract
from tests.desktop.wall.walls import demo

QUOTED = demo("quoin_cavity")


def agreed() -> SoFar:
    made = contract(Money(100_00))
    return SoFar(contract=replace(made, survey=survey_file.write(QUOTED)))


def with_bricks(*bricks: CrackedBrick) -> Survey:
    (side, *others) = QUOTED.elevations
    return replace(QUOTED, elevations=(replace(side, bricks=(*side.bricks, *bricks)), *others))


def test_only_what_was_found_since_is_repaired_another_way() -> None:
    found = with_bricks(
        CrackedBrick(3, 3, Treatment.REPLACE, half=True), CrackedBrick(4, 3, Treatment.REPLACE)
    )
    other = other_repair(agreed(), found)
    assert other is not None
    assert other.treatment is Treatment.PATCH
    after = other.on(found).elevations[0].bricks
    assert after[: len(QUOTED.elevations[0].bricks)] == QUOTED.elevations[0].bricks
    assert [(one.treatment, one.half) for one in after[-2:]] == [(Treatment.PATCH, False)] * 2
    again = other_repair(agreed(), other.on(found))
    assert again is not None
    assert again.treatment is Treatment.REPLACE


def test_nothing_is_offered_for_nothing_or_for_a_mixture() -> None:
    assert other_repair(agreed(), QUOTED) is None
    mixed = with_bricks(CrackedBrick(3, 3, Treatment.REPLACE), CrackedBrick(4, 3, Treatment.PATCH))
    assert other_repair(agreed(), mixed) is None
    assert other_repair(agreed(), with_bricks(CrackedBrick(3, 3, Treatment.TURN))) is None
    assert other_repair(agreed(), with_bricks(CrackedBrick(3, 3, Treatment.LEAVE))) is None
