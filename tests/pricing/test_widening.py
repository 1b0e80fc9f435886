"""How far drawn cracks and areas may lie off, worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.region import Point, Region
from estimator.money import Money
from estimator.pricing.price_book import shipped
from estimator.pricing.pricing import price
from estimator.pricing.risk import Plan, sampled, spread
from estimator.pricing.terms import Terms
from estimator.pricing.widening import is_plain, redrawn, run_to
from estimator.survey.ranges import Range, Told
from estimator.survey.survey import (
    Area,
    Basis,
    Crack,
    CrackRun,
    Elevation,
    Party,
    Site,
    SteppedRun,
    Survey,
    TracedRun,
)
from estimator.takeoff import rules
from estimator.takeoff.measure import measure_all
from estimator.takeoff.scope import LOCAL, REPOINT, Scope
from tests.pricing.made_up import DAY

WALL = Region.rectangle(0, 0, 3600, 2400)
TALL = ((0.0, 0.0), (3600.0, 0.0), (3600.0, 2400.0), (0.0, 2400.0))
BENT = TracedRun(((0, 0), (0, 600), (300, 1000)), cuts=(2,))
"""Two legs, 600 and 500 mm long, the second through bricks."""


def survey(
    run: CrackRun, *, basis: Basis = Basis.TOLD, width: Told = 2.0, areas: tuple[Area, ...] = ()
) -> Survey:
    wall = Elevation("f", "Front", TALL, cracks=(Crack("a", run, width),), areas=areas)
    return Survey("1", "W", "2026-11-25", basis, Party(), Site(), (wall,), drawn=True)


def width_of(seen: Survey, scope: Scope = LOCAL) -> Money:
    book = shipped()

    def totals(drawn: Survey) -> tuple[Money, ...]:
        terms = Terms.of(drawn, book, date=DAY)
        return (price(measure_all(drawn, (scope,), rules.shipped())[0], book, terms).total,)

    (band,) = spread(totals, seen, book=book, draws=60)
    return band.high - band.low


def test_a_crack_ends_sooner_on_its_own_way() -> None:
    # Half of 1,100 mm ends in the first leg, and no leg cuts bricks any more.
    assert run_to(BENT, 0.5, WALL) == TracedRun(((0, 0), (0, 550)))
    # 0.75 of it is 825: 600 and 225 of the 500, which is 45 hundredths of the second leg.
    assert run_to(BENT, 0.75, WALL).points == ((0, 0), (0, 600), (135, 780))
    assert run_to(BENT, 0.75, WALL).cuts == (2,)


def test_a_crack_runs_on_the_way_it_went() -> None:
    # 1.25 of 1,100 is 1,375: the second leg is then 775 long, 465 along and 620 up.
    assert run_to(BENT, 1.25, WALL).points == ((0, 0), (0, 600), (465, pytest.approx(1220)))


def test_a_crack_runs_on_no_further_than_there_is_wall() -> None:
    up = TracedRun(((900, 400), (900, 2000)))
    assert run_to(up, 1.5, WALL).points[1] == (900, pytest.approx(2400, abs=0.01))
    gable = Region.of(((0, 0), (3600, 0), (1800, 1800)))
    assert run_to(TracedRun(((900, 0), (900, 800))), 1.25, gable).points[1] == (
        900,
        pytest.approx(900, abs=0.01),
    )


@given(st.floats(0.75, 1.25), st.booleans())
def test_which_end_a_crack_was_drawn_from_makes_no_difference(factor: float, cut: bool) -> None:  # noqa: FBT001
    run = replace(BENT, cuts=(1,) if cut else (2,))
    back = TracedRun(run.points[::-1], cuts=(2,) if cut else (1,))
    there, again = run_to(run, factor, WALL), run_to(back, factor, WALL)
    assert there.points == again.points[::-1]
    assert {len(there.points) - leg for leg in there.cuts} == set(again.cuts)
    assert _length(there.points) == pytest.approx(factor * 1100)


def _length(points: tuple[Point, ...]) -> float:
    return sum(math.dist(*leg) for leg in pairwise(points))


def test_a_told_area_is_larger_or_smaller_and_a_measured_one_is_not() -> None:
    area = Area("x", ((1000, 200), (2000, 200), (2000, 1200), (1000, 1200)))
    told = survey(BENT, areas=(area,))
    (drawn,) = redrawn(told, lambda _path, span: span.high, 21).elevations[0].areas
    # 1.21 of a square metre is a square of 1.1 m, about the same middle.
    assert drawn.outline[0] == (pytest.approx(950), pytest.approx(150))
    measured = replace(told, basis=Basis.MEASURED)
    assert redrawn(measured, lambda _path, span: span.high, 21).elevations[0].areas == (area,)


def test_a_traced_crack_told_on_the_telephone_is_as_unsure_as_a_stepped_one() -> None:
    # Its points hold no range, so that a crack drawn by hand was once taken to be exact.
    traced, stepped = survey(TracedRun(((1000, 80), (1900, 1300)))), survey(SteppedRun(1000, 2, 16))
    ((draw,),) = [sampled(lambda _s: (), traced, book=shipped(), plan=Plan(1, 1), part=range(1))]
    assert "elevations[0].cracks[0].run.points" in dict(draw.inputs)
    by_traced, by_stepped = width_of(traced).pence, width_of(stepped).pence
    assert by_traced == pytest.approx(by_stepped, rel=0.35)


def test_a_told_area_moves_the_range() -> None:
    area = Area("x", ((1000, 200), (3000, 200), (3000, 2200), (1000, 2200)))
    along = SteppedRun(1000, 2, Range(8, 8, 8))
    told = survey(along, areas=(area,))
    measured = replace(told, basis=Basis.MEASURED)
    assert width_of(told, REPOINT) > width_of(measured, REPOINT)


def test_not_knowing_a_width_makes_no_range_narrower() -> None:
    # A width that was still a range once kept everything else from being taken as unsure.
    known = survey(SteppedRun(1000, 2, 16), basis=Basis.MEASURED)
    unknown = survey(SteppedRun(1000, 2, 16), basis=Basis.MEASURED, width=Range(0.3, 2, 5))
    assert is_plain(known)
    assert is_plain(unknown)
    assert width_of(unknown) == width_of(known)
    assert not is_plain(survey(SteppedRun(1000, 2, Range(8, 12, 16))))
