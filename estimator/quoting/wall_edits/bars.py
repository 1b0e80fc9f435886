"""Bars by hand: set where the rule has none, moved, locked, and left out.

A bar that is dragged somewhere else leaves its old place empty: what the rule had there is left out
with it, and comes back when the bar goes back to the rule.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from typing import Any

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    course_number,
    elevation,
    known,
    swapped,
    whole_mm,
)
from estimator.survey.survey import Elevation, HandBar, HandWork
from estimator.survey.wall import wall_of
from estimator.takeoff.by_hand import LEAST_MM
from estimator.takeoff.lines import Bar

ADDED, MOVED, KEPT, GONE = "added", "moved", "kept", "left-out"
"""What the ids of bars by hand begin with, by what was done first."""
MOST_BEYOND_MM = 6000.0
"""How far a bar may be set beyond the wall drawn, where the wall goes on: further than any rule of
ours would lay one; house rule [mm]."""
WAS = "-was"
"""What the id of the empty place a bar was moved from ends in."""


def add_bar(work: Work, side: str, course: int, from_mm: float, to_mm: float) -> Edit:
    """Set a bar in the bed under a course; it may be drawn either way [mm].

    Raises:
        UserMistake: where there is no brickwork for it.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> add_bar(plain_wall(), "front", 5, 800, 1800).after.survey.elevations[0].bars[0].to_mm
    1800.0
    """
    old = elevation(work, side)
    left, right = sorted((whole_mm(from_mm, "one end"), whole_mm(to_mm, "the other end")))
    new = HandBar(_fresh(old, ADDED), course, left, right)
    return _done(work, old, "", _fair(old, new))


def take_over(
    work: Work,
    side: str,
    bar: Bar,
    *,
    course: int | None = None,
    from_mm: float | None = None,
    to_mm: float | None = None,
) -> Edit:
    """Take a bar that was measured into hand, moved or lengthened; unmoved it stays as it was.

    Raises:
        UserMistake: where there is no brickwork for it.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> work = add_bar(plain_wall(), "front", 5, 800, 1800).after
    >>> (bar,) = measure(work.survey, LOCAL, shipped()).bars
    >>> take_over(work, "front", bar, to_mm=1900).after.survey.elevations[0].bars[0].to_mm
    1900.0
    """
    given = {"course": course, "from_mm": from_mm, "to_mm": to_mm}
    fields: dict[str, Any] = {name: value for name, value in given.items() if value is not None}
    if bar.hand:
        return change_bar(work, side, bar.hand, **{"work": HandWork.SET, **fields})
    old = elevation(work, side)
    there = _as_laid(bar, _fresh(old, MOVED), HandWork.SET)
    new = _whole(replace(there, **fields))
    return _done(work, old, f"{side}/bar/{new.id}", _fair(old, new), *_left(old, there, new))


def change_bar(work: Work, side: str, bar: str, /, **fields: Any) -> Edit:
    """Move or lengthen a bar by hand, or turn its ends: fields of ``HandBar`` but its id.

    Raises:
        UserMistake: where there is no brickwork for it.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_bar(plain_wall(), "front", 5, 800, 1800).after
    >>> name = work.survey.elevations[0].bars[0].id
    >>> change_bar(work, "front", name, course=6).after.survey.elevations[0].bars[0].course
    6
    """
    old = elevation(work, side)
    there: HandBar = known(old.bars, bar, "bar")
    if "id" in fields:
        raise TypeError("a bar keeps its id")
    new = _whole(replace(there, **fields))
    about = "/".join((side, "bar", bar, *sorted(set(fields) - {"work"})))
    # What was the rule's once may be the rule's again where it is taken away from.
    was = _left(old, there, new) if bar.startswith((MOVED, KEPT)) else ()
    bars = swapped(old.bars, there, _fair(old, new), *was)
    return change(work, side, Step.BAR, about, bars=bars)


def keep(work: Work, side: str, bar: Bar) -> Edit:
    """Lock a bar of the rule's where it lies, whatever becomes of its crack.

    Raises:
        UserMistake: when it is a bar by hand already.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> work = add_bar(plain_wall(), "front", 5, 800, 1800).after
    >>> (bar,) = measure(work.survey, LOCAL, shipped()).bars
    >>> keep(work, "front", bar)
    Traceback (most recent call last):
    ...
    estimator.notices.UserMistake: this bar is set by hand already; move it, or give it back.
    """
    if bar.hand:
        raise UserMistake("this bar is set by hand already", do="move it, or give it back")
    old = elevation(work, side)
    return _done(work, old, "", _fair(old, _as_laid(bar, _fresh(old, KEPT), HandWork.KEPT)))


def leave_out(work: Work, side: str, bar: Bar) -> Edit:
    """Leave a bar out; the rule's does not come back there, and one added by hand is simply gone.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> work = add_bar(plain_wall(), "front", 5, 800, 1800).after
    >>> (bar,) = measure(work.survey, LOCAL, shipped()).bars
    >>> leave_out(work, "front", bar).after.survey.elevations[0].bars
    ()
    """
    old = elevation(work, side)
    if not bar.hand:
        return _done(work, old, "", _as_laid(bar, _fresh(old, GONE), HandWork.LEFT_OUT))
    one: HandBar = known(old.bars, bar.hand, "bar")
    if one.id.startswith(ADDED) or _was_of(old, one.id):
        return change(work, side, Step.BAR, bars=swapped(old.bars, one))
    gone = replace(one, work=HandWork.LEFT_OUT, turn_left_mm=0.0, turn_right_mm=0.0)
    return change(work, side, Step.BAR, bars=swapped(old.bars, one, gone))


def back_to_rule(work: Work, side: str, bar: str) -> Edit:
    """Give a bed back to the rule: what was set, kept or left out there by hand is forgotten.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = add_bar(plain_wall(), "front", 5, 800, 1800).after
    >>> edit = back_to_rule(work, "front", work.survey.elevations[0].bars[0].id)
    >>> edit.after.survey.elevations[0].bars
    ()
    """
    old = elevation(work, side)
    one = known(old.bars, bar, "bar")
    gone = {one.id, one.id + WAS}
    return change(work, side, Step.BAR, bars=tuple(b for b in old.bars if b.id not in gone))


def _as_laid(bar: Bar, name: str, how: HandWork) -> HandBar:
    """Return a bar as it was measured, as one by hand."""
    is_out = how is HandWork.LEFT_OUT
    return _whole(
        HandBar(
            name,
            bar.course,
            bar.left_mm,
            bar.right_mm,
            how,
            0.0 if is_out else bar.turn_left_mm,
            0.0 if is_out else bar.turn_right_mm,
        )
    )


def _left(old: Elevation, there: HandBar, new: HandBar) -> tuple[HandBar, ...]:
    """Return the place a bar was moved from, to be left empty, where it lies there no more."""
    is_there = (
        there.course == new.course and there.from_mm < new.to_mm and new.from_mm < there.to_mm
    )
    if is_there or there.work is HandWork.LEFT_OUT or _was_of(old, there.id):
        return ()
    return (
        replace(
            there,
            id=there.id + WAS,
            work=HandWork.LEFT_OUT,
            turn_left_mm=0.0,
            turn_right_mm=0.0,
        ),
    )


def _was_of(old: Elevation, name: str) -> bool:
    return any(one.id == name + WAS for one in old.bars)


def _fresh(old: Elevation, prefix: str) -> str:
    # Never the number of an empty place that is still there.
    taken = {one.id.removesuffix(WAS) for one in old.bars}
    return next(name for number in count(1) if (name := f"{prefix}-{number}") not in taken)


def _done(work: Work, old: Elevation, about: str, *bars: HandBar) -> Edit:
    return change(work, old.id, Step.BAR, about, bars=(*old.bars, *bars))


def _whole(bar: HandBar) -> HandBar:
    return replace(
        bar,
        from_mm=whole_mm(bar.from_mm, "the left end of the bar"),
        to_mm=whole_mm(bar.to_mm, "the right end of the bar"),
        turn_left_mm=whole_mm(bar.turn_left_mm, "the leg on the left"),
        turn_right_mm=whole_mm(bar.turn_right_mm, "the leg on the right"),
    )


def _fair(old: Elevation, bar: HandBar) -> HandBar:
    """Refuse a bar with no length, or where there is no brickwork along it."""
    course_number(bar.course)
    if bar.to_mm <= bar.from_mm:
        raise UserMistake("the bar would have no length", do="draw it longer")
    if bar.work is not HandWork.LEFT_OUT and bar.to_mm - bar.from_mm < LEAST_MM:
        raise UserMistake("the bar would have next to no length", do="draw it longer")
    wall = wall_of(old)
    left, _bottom, right, _top = wall.gross.bounds
    if bar.from_mm < left - MOST_BEYOND_MM or bar.to_mm > right + MOST_BEYOND_MM:
        raise UserMistake(
            f"the bar would reach more than {MOST_BEYOND_MM:,.0f} mm beyond the wall drawn",
            do="draw it shorter, or the wall wider",
        )
    spans = wall.net.spans_at(wall.coursing.bed_middle(bar.course))
    is_held = any(left < bar.to_mm and bar.from_mm < right for left, right in spans)
    if bar.work is not HandWork.LEFT_OUT and spans and not is_held:
        raise UserMistake("there is no brickwork for a bar there", do="draw it in another bed")
    return bar
