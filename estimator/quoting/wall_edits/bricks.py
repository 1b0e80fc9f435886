"""Cracked bricks: marked and unmarked by course and place, counted from the left end."""

from __future__ import annotations

from collections.abc import Iterable

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import change, course_number, elevation
from estimator.survey.ranges import settled
from estimator.survey.survey import CrackedBrick, Elevation, Treatment
from estimator.survey.wall import path_of, wall_of

Places = Iterable[tuple[int, int]]
"""Bricks by course and place, both from 1."""


def mark(
    work: Work, side: str, places: Places, treatment: Treatment, *, half: bool = False
) -> Edit:
    """Say what is to be done with some bricks; ``LEAVE`` means cracked, seen, and nothing done.

    A half is cut out only of bricks that are replaced.

    Raises:
        UserMistake: for a brick that is not in the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> mark(plain_wall(), "front", [(3, 4)], Treatment.TURN).after.survey.elevations[0].bricks
    (CrackedBrick(course=3, place=4, treatment=<Treatment.TURN: 'turn'>, half=False),)
    """
    old = elevation(work, side)
    half = half and treatment is Treatment.REPLACE
    wanted = {place: CrackedBrick(*place, treatment, half) for place in _fair(places)}
    if not wanted:
        raise UserMistake("no brick is chosen", do="point at one")
    kept = tuple(wanted.pop((one.course, one.place), one) for one in old.bricks)
    return change(work, side, Step.BRICK, bricks=(*kept, *wanted.values()))


def broken_by(side: Elevation, crack: str) -> tuple[tuple[int, int], ...]:
    """Return the bricks a crack breaks that nobody has marked, as (course, place).

    Raises:
        KeyError: for a crack that is not on this side.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> from estimator.quoting.wall_edits.cracks import trace
    >>> cut = trace(plain_wall(), "front", [(600, 155), (600, 305)], cuts=[1]).after.survey
    >>> broken_by(cut.elevations[0], cut.elevations[0].cracks[-1].id)
    ((3, 3),)
    """
    plain = settled(side)
    found = {one.id: one for one in plain.cracks}[crack]
    wall = wall_of(plain)
    marked = {(one.course, one.place) for one in plain.bricks}
    broken = path_of(found, wall.coursing).bricks
    places = ((course, wall.place_of(course, face)) for course, face in broken)
    return tuple(place for place in places if place not in marked and place[1] > 0)


def unmark(work: Work, side: str, places: Places) -> Edit:
    """Take the marks off some bricks; those that have none are let pass.

    Raises:
        UserMistake: when there is no such side.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = mark(plain_wall(), "front", [(3, 4)], Treatment.TURN).after
    >>> unmark(work, "front", [(3, 4)]).after.survey.elevations[0].bricks
    ()
    """
    gone = set(places)
    bricks = elevation(work, side).bricks
    kept = tuple(one for one in bricks if (one.course, one.place) not in gone)
    return change(work, side, Step.BRICK, bricks=kept if len(kept) < len(bricks) else bricks)


def toggle(
    work: Work, side: str, course: int, place: int, treatment: Treatment, *, half: bool = False
) -> Edit:
    """Mark a brick, or mark it otherwise; marked so already, its mark is taken off.

    Raises:
        UserMistake: for a brick that is not in the wall.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> work = toggle(plain_wall(), "front", 3, 4, Treatment.TURN).after
    >>> toggle(work, "front", 3, 4, Treatment.TURN).after.survey.elevations[0].bricks
    ()
    """
    half = half and treatment is Treatment.REPLACE
    same = CrackedBrick(course, place, treatment, half)
    if same in elevation(work, side).bricks:
        return unmark(work, side, ((course, place),))
    return mark(work, side, ((course, place),), treatment, half=half)


def set_hidden(work: Work, side: str, number: int) -> Edit:
    """Allow for so many further cracked bricks that are not seen yet [nr].

    Raises:
        UserMistake: for a number below nothing, or more than any wall has.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> set_hidden(plain_wall(), "front", 3).after.survey.elevations[0].hidden_bricks
    3.0
    """
    return change(work, side, Step.BRICK, f"{side}/hidden_bricks", hidden_bricks=float(number))


def _fair(places: Places) -> Iterable[tuple[int, int]]:
    for course, place in dict.fromkeys(places):
        course_number(course)
        if place < 1:
            raise UserMistake(
                f"there is no brick {place} in a course", do="count from 1 at the left end"
            )
        yield course, place
