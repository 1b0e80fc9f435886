"""Two measures compared: nothing where they are one, and all that one has and another has not."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import given

from estimator.survey.survey import CrackedBrick, Elevation, StraightRun, ThinBed, Treatment
from estimator.takeoff.difference import Kind, difference
from estimator.takeoff.lines import Item, Measure
from estimator.takeoff.scope import LOCAL, PANEL
from tests.takeoff.strategies import elevations
from tests.takeoff.walls import measured, upright, wall


@given(elevations())
def test_a_measure_differs_in_nothing_from_itself(side: Elevation) -> None:
    work = measured(side)
    found = difference(work, work)
    assert not found
    assert found.lines == found.bars_added == found.bars_omitted == ()


@given(elevations(), elevations())
def test_then_and_the_difference_are_now(before: Elevation, after: Elevation) -> None:
    then, now = measured(before), measured(after, scope=PANEL)
    found = difference(then, now)
    sums = amounts(then)
    for line in found.lines:
        alike = (line.item, line.elevation, line.conditions, line.surety)
        sums[alike] = sums.get(alike, Decimal(0)) + line.change
        assert line.change
    assert {alike: amount for alike, amount in sums.items() if amount} == amounts(now)


@given(elevations(), elevations())
def test_there_and_back_are_opposites(before: Elevation, after: Elevation) -> None:
    then, now = measured(before), measured(after)
    there, back = difference(then, now), difference(now, then)
    assert {(one.item, one.conditions, one.surety, one.change) for one in there.lines} == {
        (one.item, one.conditions, one.surety, -one.change) for one in back.lines
    }
    assert there.bars_added == back.bars_omitted
    assert len(there.of(Kind.ADDED)) == len(back.of(Kind.OMITTED))


def amounts(work: Measure) -> dict[object, Decimal]:
    found: dict[object, Decimal] = {}
    for line in work.lines:
        alike = (line.item, line.elevation, line.conditions, line.surety)
        found[alike] = found.get(alike, Decimal(0)) + line.quantity.amount
    return found


def test_more_and_fewer_bricks_are_told_with_their_marks() -> None:
    bricks = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (5, 8, 11))
    then = measured(wall(bricks=bricks[:2]))
    now = measured(wall(bricks=bricks[1:]))
    more = measured(wall(bricks=bricks))
    # One gone and one come is no other quantity of the same work.
    assert all(line.item is not Item.REPLACE_BRICK for line in difference(then, now).lines)
    (line,) = [one for one in difference(then, more).lines if one.item is Item.REPLACE_BRICK]
    assert (line.kind, line.change) == (Kind.CHANGED, 1)
    assert (line.marks_gained, line.marks_lost) == (("front/brick/11/9",), ())


def test_a_bar_is_known_by_where_it_lies_and_not_by_its_number() -> None:
    right = upright("b", 3145, course=10, courses=15)
    left = replace(upright("a", 1120), run=StraightRun(1120, 1, 9))
    then, now = measured(wall(right)), measured(wall(left, right))
    assert now.bars[0].id == then.bars[0].id
    assert now.bars[0].left_mm != then.bars[0].left_mm
    found = difference(then, now)
    assert found.bars_omitted == ()
    assert {bar.id for bar in found.bars_added} == {
        bar.id for bar in now.bars if bar.left_mm < 2000
    }
    (set_bar,) = [line for line in found.lines if line.item is Item.SET_BAR]
    assert set(set_bar.marks_gained) == {bar.id for bar in found.bars_added}
    assert set_bar.marks_lost == ()


def test_a_thin_bed_shows_in_the_bar_that_lies_in_it() -> None:
    crack = upright("a", 1120)
    then = measured(wall(crack))
    course = then.bars[1].course
    now = measured(wall(crack, thin_beds=(ThinBed(course, 0, 3000, 6.0),)))
    found = difference(then, now)
    assert [bar.course for bar in found.bars_omitted] == [course]
    assert [(bar.course, bar.thin) for bar in found.bars_added] == [(course, True)]
    (skimmed,) = [line for line in found.of(Kind.ADDED) if line.item is Item.SKIM_ARRIS]
    assert skimmed.marks_gained == (found.bars_added[0].id,)


def test_another_choice_adds_the_panel() -> None:
    found = difference(
        measured(wall(upright("a", 1120)), scope=LOCAL),
        measured(wall(upright("a", 1120)), scope=PANEL),
    )
    assert {Item.RAKE_OUT, Item.REPOINT} <= {line.item for line in found.of(Kind.ADDED)}
    assert found.bars_added == found.bars_omitted == ()
