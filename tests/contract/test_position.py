"""The lines now covered: those of the contract and what variations made of them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract import drafting
from estimator.contract.contract import Contract, Sold
from estimator.contract.position import is_measured, joined, key_of, position
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing, Valued, ValuedBy, Variation
from estimator.money import Money
from estimator.pricing.offer import Group
from estimator.takeoff.scope import LOCAL
from estimator.units import Unit
from tests.contract import made_up
from tests.takeoff.walls import upright, wall


def contract() -> Contract:
    return made_up.contract(made_up.survey(wall(upright("a", 1120))))


def variation(*lines: Valued, key: str = "a") -> Variation:
    return Variation(key, made_up.DAY, "x", "y", (), "", lines, Decimal(0), LOCAL, 2, "")


def more(line: Sold, by: str, *marks: str) -> Valued:
    now = line.quantity + Decimal(by)
    amount = Money.of(line.rate * now) - Money.of(line.rate * line.quantity)
    return Valued(
        *(line.item, line.group, line.description, line.unit, line.rate),
        *(line.quantity, now, amount, ValuedBy.CONTRACT_RATE, "", marks),
    )


def test_before_a_contract_nothing_is_covered() -> None:
    assert position(SoFar()) == ()


def test_at_first_it_is_what_was_agreed() -> None:
    given = contract()
    assert position(SoFar(contract=given)) == tuple(joined(given.lines).values())


@pytest.mark.parametrize("standing", list(Standing))
def test_only_what_is_covered_moves_it(standing: Standing) -> None:
    given = contract()
    line = given.lines[0]
    done = made_up.answered(given, (variation(more(line, "2", "front/bar/9")), standing))
    (now,) = [one for one in position(done) if key_of(one) == key_of(line)]
    by = Decimal(2) if standing.is_covered or standing is Standing.DRAFTED else Decimal(0)
    assert now.quantity == line.quantity + by
    assert set(now.marks) >= set(line.marks)
    assert ("front/bar/9" in now.marks) is bool(by)


def test_a_line_taken_off_whole_is_gone() -> None:
    given = contract()
    line = given.lines[0]
    out = variation(more(line, str(-line.quantity)))
    done = made_up.answered(given, (out, Standing.AGREED))
    assert key_of(line) not in {key_of(one) for one in position(done)}


def test_the_same_sum_is_one_line_whatever_it_comes_to() -> None:
    given = contract()
    risk = next(line for line in given.lines if line.item == "risk")
    dearer = replace(risk, rate=risk.rate + 10)
    assert key_of(risk) == key_of(dearer)
    line = given.lines[0]
    assert key_of(line) != key_of(replace(line, rate=line.rate + 1))


def test_a_line_cannot_change_under_another_unit() -> None:
    line = contract().lines[0]
    assert key_of(line) != key_of(replace(line, unit=Unit.KILOGRAM))


def test_lines_written_in_by_hand_are_told_from_measured_ones() -> None:
    hand = drafting.provisional_sum("Drain", allowed=Money.of(6), actual=Money.of(5))
    own = drafting.one_sum("own_line", "Skip", Money.of(40), ValuedBy.FAIR_RATE, "")
    assert not any(map(is_measured, (*hand, own)))
    assert all(map(is_measured, contract().lines))
    assert own.group is Group.PRELIMINARIES
