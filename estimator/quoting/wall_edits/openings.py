"""Windows, doors and vents, with what shows of their lintels and sills."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Step, Work
from estimator.quoting.wall_edits.changing import (
    change,
    elevation,
    fresh_id,
    known,
    swapped,
    whole_mm,
)
from estimator.quoting.wall_edits.spoken import opening_words
from estimator.survey.survey import Opening


def add_opening(
    work: Work,
    side: str,
    *,
    left_mm: float,
    bottom_mm: float,
    width_mm: float,
    height_mm: float,
    **rest: Any,
) -> Edit:
    """Draw an opening; a window unless its ``kind`` says otherwise [mm].

    Raises:
        UserMistake: when it would reach beyond the wall, or over another opening.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> at = {"left_mm": 900, "bottom_mm": 900, "width_mm": 1200, "height_mm": 1200}
    >>> add_opening(plain_wall(), "front", **at).after.survey.elevations[0].openings[0].id
    'window'
    """
    old = elevation(work, side)
    new = _whole(Opening("", left_mm, bottom_mm, width_mm, height_mm, **rest))
    named = replace(new, id=fresh_id(new.kind.strip() or "opening", {o.id for o in old.openings}))
    return change(work, side, Step.OPENING, openings=(*old.openings, _fair(named)))


def change_opening(work: Work, side: str, opening: str, **fields: Any) -> Edit:
    """Give an opening other sizes, kind, sill or lintel: fields of ``Opening``.

    Raises:
        UserMistake: when it would reach beyond the wall, or over another opening.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> at = {"left_mm": 900, "bottom_mm": 900, "width_mm": 1200, "height_mm": 1200}
    >>> work = add_opening(plain_wall(), "front", **at).after
    >>> change_opening(work, "front", "window", sill_mm=75).about
    'front/opening/window/sill_mm'
    """
    old = elevation(work, side)
    one: Opening = known(old.openings, opening, "opening")
    if fields.get("lintel_mm") == 0:
        # What does not show bears on nothing that shows.
        fields.setdefault("lintel_bearing_mm", 0.0)
    new = _whole(replace(one, **{"id": one.id, **fields}))
    if new.id != one.id:
        raise TypeError("an opening keeps its id")
    about = "/".join((side, "opening", opening, *sorted(fields)))
    openings = swapped(old.openings, one, _fair(new))
    return change(work, side, Step.OPENING, about, openings=openings)


def move_opening(work: Work, side: str, opening: str, left_mm: float, bottom_mm: float) -> Edit:
    """Move an opening, its size kept [mm].

    Raises:
        UserMistake: when it would reach beyond the wall, or over another opening.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> at = {"left_mm": 900, "bottom_mm": 900, "width_mm": 1200, "height_mm": 1200}
    >>> work = add_opening(plain_wall(), "front", **at).after
    >>> edit = move_opening(work, "front", "window", 1000, 900)
    >>> edit.after.survey.elevations[0].openings[0].left_mm
    1000.0
    """
    edit = change_opening(work, side, opening, left_mm=left_mm, bottom_mm=bottom_mm)
    return replace(edit, about=f"{side}/opening/{opening}/place")


def remove_opening(work: Work, side: str, opening: str) -> Edit:
    """Take an opening out of a wall.

    Raises:
        UserMistake: when it is no longer there.

    >>> from estimator.quoting.wall_edits.changing import plain_wall
    >>> at = {"left_mm": 900, "bottom_mm": 900, "width_mm": 1200, "height_mm": 1200}
    >>> work = add_opening(plain_wall(), "front", **at).after
    >>> remove_opening(work, "front", "window").after.survey.elevations[0].openings
    ()
    """
    old = elevation(work, side)
    one = known(old.openings, opening, "opening")
    return change(work, side, Step.OPENING, openings=swapped(old.openings, one))


_SIZES = (
    ("left_mm", "the place of the opening"),
    ("bottom_mm", "the height of its sill"),
    ("width_mm", "the width of the opening"),
    ("height_mm", "the height of the opening"),
    ("sill_mm", "the sill"),
    ("lintel_mm", "the lintel"),
    ("lintel_bearing_mm", "the bearing of the lintel"),
)


def _whole(opening: Opening) -> Opening:
    sizes: dict[str, Any] = {
        name: whole_mm(getattr(opening, name), words) for name, words in _SIZES
    }
    return replace(opening, **sizes)


def _fair(opening: Opening) -> Opening:
    """Refuse sizes that no opening has, before they are held against the wall."""
    for size, words in ((opening.width_mm, "wide"), (opening.height_mm, "high")):
        if size <= 0:
            raise UserMistake(
                f"{opening_words(opening)} would be {size:,.0f} mm {words}", do="draw it larger"
            )
    return opening
