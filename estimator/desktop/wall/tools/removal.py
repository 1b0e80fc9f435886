"""Taking things off the wall: which can be, and the edit that does it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from estimator.desktop.wall.tools import handles
from estimator.desktop.wall.tools.found import name_of, number_of
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.quoting.wall_edits import areas, bars, bricks, cracks, openings, outline, thin_beds

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting

KINDS = ("crack", "bar", "brick", "area", "opening", "joint", "thin", "damp")


def can_remove(drafting: Drafting, mark: str) -> bool:
    """Whether what a mark stands for can be taken off the wall."""
    kind = (*mark.split("/"), "", "")[1]
    if kind == "damp":
        return drafting.plain.damp_course_mm is not None
    if kind == "area":
        return any(one.id == name_of(mark, kind) for one in drafting.plain.areas)
    return kind in KINDS


def removed(drafting: Drafting, work: Work, mark: str) -> Edit:
    """Return the edit that takes a thing off the wall; of the rule's bars, that leaves one out.

    Raises:
        UserMistake: when it is no longer there.
    """
    side, kind, name = (*mark.split("/", 2), "", "")[:3]
    if kind == "bar":
        bar = handles.bar_of(drafting, mark)
        if bar is None:
            raise UserMistake("the bar is no longer there", do="choose another")
        return bars.leave_out(work, side, bar)
    if kind == "brick":
        course, place = map(int, name.split("/"))
        return bricks.unmark(work, side, ((course, place),))
    if kind in _NAMED:
        return _NAMED[kind](work, side, name)
    if kind in _NUMBERED:
        return _NUMBERED[kind](work, side, number_of(mark, kind))
    return outline.set_damp_course(work, side, None)


_NAMED: dict[str, Callable[[Work, str, str], Edit]] = {
    "crack": cracks.remove_crack,
    "area": areas.remove_area,
    "opening": openings.remove_opening,
}
_NUMBERED: dict[str, Callable[[Work, str, int], Edit]] = {
    "joint": outline.remove_movement_joint,
    "thin": thin_beds.remove_thin,
}
