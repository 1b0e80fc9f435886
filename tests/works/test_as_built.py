"""The as-built record: nothing is taken as done that nobody noted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.contract.works import Built, Feature, Held
from estimator.takeoff.rules import shipped
from estimator.works.as_built import State, as_built
from estimator.works.hold_points import hold_points
from tests.works import made_up

DAY = made_up.START
CASES = [(name, scope) for name in made_up.JOBS for scope in ("local", "panel")]


@pytest.mark.parametrize(("name", "scope"), CASES)
def test_everything_planned_is_there_and_nothing_is_taken_as_done(name: str, scope: str) -> None:
    found, chosen = as_built(made_up.accepted(name, scope)), made_up.option(name, scope)
    there = [mark.mark for mark in found.marks]
    assert len(set(there)) == len(there)
    placed = {bar.id for bar in chosen.measure.bars}
    placed |= {mark for line in chosen.measure.lines for mark in line.marks if "/brick/" in mark}
    placed |= {mark for line in chosen.measure.lines for mark in line.marks if "/area/" in mark}
    assert placed <= set(there)
    assert placed <= {mark.mark for mark in found.not_noted}
    assert all(mark.state is State.NOT_NOTED for mark in found.marks)
    assert len(found.missing) == len(hold_points(chosen.measure, shipped()))


def test_what_was_noted_stands_at_its_mark() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        built=(
            Built("street/bar/1", DAY, "Bar set", "G-1", 36, photos=("p1",)),
            Built("street/bar/2", DAY, "Bar set", "G-1", 30),
            Built("street/bar/3", DAY, "Bar set", "G-2", 35, "Bar cut 50 mm short at a pipe"),
            Built("street/brick/9/9", DAY, "Brick replaced, loose", photos=("p1", "p2")),
        ),
        held=(Held(Feature.DEPTH, "street/bar/1", DAY, "Ada"),),
    )
    found = as_built(so_far)
    by_mark = {mark.mark: mark for mark in found.marks}
    states = {key: by_mark[f"street/{key}"].state for key in ("bar/1", "bar/2", "bar/3", "bar/4")}
    assert states == {
        "bar/1": State.DONE,
        "bar/2": State.DEVIATES,
        "bar/3": State.DEVIATES,
        "bar/4": State.NOT_NOTED,
    }
    # Slot planned 35 mm deep and noted 30.
    assert by_mark["street/bar/2"].shallow_mm == 5
    assert by_mark["street/brick/9/9"].state is State.NOT_PLANNED
    assert by_mark["street/bar/1"].planned == "1,150 mm of bar, slot 35 mm deep"
    assert by_mark["street/bar/1"].words == "Bar 1, bed under course 2"
    assert [point.feature for point in by_mark["street/bar/1"].signed] == [Feature.DEPTH]
    assert len(by_mark["street/bar/1"].missing) == 4
    assert found.batches == ("G-1", "G-2")
    assert found.photos == ("p1", "p2")
    assert [one.deviation for one in found.deviations] == ["Bar cut 50 mm short at a pipe"]


def test_the_last_depth_noted_counts() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        built=(
            Built("street/bar/2", DAY, "Slot cut", depth_mm=30),
            Built("street/bar/2", DAY, "Slot cut deeper", depth_mm=35),
        ),
    )
    [mark] = [one for one in as_built(so_far).marks if one.mark == "street/bar/2"]
    assert mark.state is State.DONE
    assert len(mark.done) == 2


def test_a_perpend_noted_is_planned_work_and_a_side_noted_too() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        built=(
            Built("street/perpend/1/7", DAY, "Pointed"),
            Built("street", DAY, "Covered"),
        ),
    )
    states = {mark.mark: mark.state for mark in as_built(so_far).marks}
    assert states["street/perpend/1/7"] is State.DONE
    assert states["street"] is State.DONE
