"""What it takes to make a paper about the works, from what the job has come to down to the PDF.

Target on two cores at rest: the terrace with a variation agreed, its bars built and signed for,
each paper within a second; none is made in the window's thread, so nobody's typing waits.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from estimator.contract.contract import Manner
from estimator.contract.deeds import (
    Accepted,
    Answered,
    BuiltThere,
    Completed,
    Deed,
    Drafted,
    Happening,
    HeldThere,
    Planned,
    Sent,
)
from estimator.contract.so_far import SoFar, so_far
from estimator.contract.valuation import value
from estimator.contract.variation import Standing
from estimator.contract.works import Built, Completion, Feature, Held, Plan
from estimator.documents import (
    as_built_paper,
    buying_paper,
    completion_paper,
    programme_paper,
    site_sheet,
)
from estimator.quoting.quotation import Trader
from estimator.takeoff.scope import LOCAL, PANEL
from estimator.works.site_work import site_work
from tests.benchmarks import made_up
from tests.benchmarks.test_variation import as_found
from tests.contract import made_up as contracts
from tests.contract.test_valuation import drawn_up

DAY = datetime.date(2026, 12, 14)
NOON = datetime.datetime(2026, 12, 14, 12, tzinfo=datetime.UTC)
TRADER = Trader("Sample Masonry", address=("1 Kiln Row",), telephone="01632 960100")
FEATURES = (Feature.DEPTH, Feature.DRY_FIT, Feature.DUST_OUT, Feature.DAMPED)
PAPERS: dict[str, Callable[..., bytes]] = {
    "site sheet": site_sheet.render,
    "programme": programme_paper.render,
    "buying list": buying_paper.render,
    "as built": as_built_paper.render,
    "completion": completion_paper.render,
}


def folded(*deeds: Deed) -> SoFar:
    return so_far(Happening(str(place), NOON, deed) for place, deed in enumerate(deeds))


@cache
def job() -> SoFar:
    """The terrace: planned, varied once, every bar built and signed for, complete."""
    survey = made_up.demo("terrace")
    given = contracts.contract(survey, LOCAL, (PANEL,))
    begun = SoFar(contract=given)
    more = drawn_up(begun, value(begun, as_found(survey), LOCAL))
    agreed: tuple[Deed, ...] = (
        Accepted(given),
        Planned(Plan(DAY, ("Ada Pike", "Ben Tarn"))),
        Drafted(more),
        Sent(more.key, "V-0001", DAY, Manner.EMAIL),
        Answered(more.key, Standing.AGREED, "Ines Marlowe", Manner.EMAIL, NOON),
    )
    bars = site_work(folded(*agreed)).measure.bars
    built = (BuiltThere(Built(one.id, DAY, "bar set", "G-17", one.slot_depth_mm)) for one in bars)
    held = (HeldThere(Held(what, one.id, DAY, "Ada Pike")) for one in bars for what in FEATURES)
    return folded(*agreed, *built, *held, Completed(Completion(DAY, "Ada Pike")))


@pytest.mark.parametrize("paper", PAPERS)
def test_a_paper_about_the_works(benchmark: Any, paper: str) -> None:
    done, render = job(), PAPERS[paper]
    made = benchmark.pedantic(
        render,
        args=(done,),
        kwargs={"trader": TRADER, "number": "S-0001", "date": DAY},
        rounds=20,
        warmup_rounds=2,
    )
    assert made.startswith(b"%PDF")


def test_what_was_noted_before_a_variation_is_looked_up(benchmark: Any) -> None:
    """All notes on the terrace, made before the work was varied: each finds its bar again."""
    from estimator.works.as_built import as_built  # noqa: PLC0415 - measured apart from papers

    done = job()
    then = replace(done.built_then[0], agreed=())
    before = replace(
        done,
        built_then=(then,) * len(done.built),
        held_then=(then,) * len(done.held),
    )
    found = benchmark.pedantic(as_built, args=(before,), rounds=50, warmup_rounds=2)
    assert found.marks
