"""What it takes to value a wall as found, which happens in the window after each edit.

Target on two cores at rest: the terrace, four bricks and a thin bed found since, in 6 ms. Each
round takes a wall that nothing remembers, as it is after an edit.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from estimator.contract.agreed_work import agreed_work
from estimator.contract.so_far import SoFar
from estimator.contract.sums import running
from estimator.contract.valuation import Valuation, value
from estimator.contract.variation import Standing
from estimator.survey.survey import CrackedBrick, Survey, ThinBed, Treatment
from estimator.takeoff.scope import LOCAL, PANEL
from tests.benchmarks import made_up
from tests.contract import made_up as contracts
from tests.contract.test_valuation import drawn_up


def as_found(survey: Survey) -> Survey:
    """The terrace with four more cracked bricks and a thin bed."""
    first, *rest = survey.elevations
    bricks = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (9, 10, 11, 12))
    first = replace(first, bricks=(*first.bricks, *bricks), thin_beds=(ThinBed(9, 0, 3000, 6.0),))
    return replace(survey, elevations=(first, *rest))


def bench(benchmark: Any, job: SoFar, survey: Survey, scope: Any) -> Valuation:
    found: Valuation = benchmark.pedantic(
        value,
        setup=lambda: ((job, made_up.anew(survey), scope), {}),
        rounds=100,
        warmup_rounds=3,
    )
    return found


def test_bricks_and_a_thin_bed_on_the_terrace(benchmark: Any) -> None:
    survey = made_up.demo("terrace")
    job = SoFar(contract=contracts.contract(survey, LOCAL, (PANEL,)))
    assert bench(benchmark, job, as_found(survey), LOCAL).lines


def test_another_choice_on_the_terrace_with_a_variation_agreed(benchmark: Any) -> None:
    survey = made_up.demo("terrace")
    given = contracts.contract(survey, LOCAL, (PANEL,))
    job = SoFar(contract=given)
    first = drawn_up(job, value(job, as_found(survey), LOCAL))
    done = contracts.answered(given, (first, Standing.AGREED))
    assert bench(benchmark, done, as_found(survey), PANEL).lines


def test_the_agreed_work_and_the_running_sum(benchmark: Any) -> None:
    survey = made_up.demo("terrace")
    given = contracts.contract(survey, LOCAL, (PANEL,))
    job = SoFar(contract=given)
    first = drawn_up(job, value(job, as_found(survey), LOCAL))
    done = contracts.answered(given, (first, Standing.AGREED))

    def look() -> object:
        return agreed_work(done), running(done, "a")

    assert benchmark(look)
