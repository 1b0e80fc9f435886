"""From a line beside a paper to the place on the wall where it is put right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from estimator.desktop.papers import survey_checks

if TYPE_CHECKING:
    from estimator.desktop.wall.column import WallColumn

TOOLS = {survey_checks.PHOTOS: "photo"}
"""Tools that put right what has no mark yet."""


def show_on_wall(wall: WallColumn, field: str) -> None:
    """Put the keyboard where something of the wall is put right.

    Args:
        wall: The middle column.
        field: A mark, the id of a side, or a word of the checks.
    """
    drafting = wall.drafting
    survey = drafting.session.work.survey
    if field == survey_checks.BASIS:
        wall.basis.buttons[survey.basis].setFocus(Qt.FocusReason.ShortcutFocusReason)
        return
    side, _slash, rest = field.partition("/")
    sides = [one.id for one in survey.elevations]
    if side in sides:
        wall.show_elevation(sides.index(side))
        drafting.select(field if rest else "")
    elif field in TOOLS:
        wall.rail.take(TOOLS[field])
    # In large type there is no room for the sizes beside the wall.
    if not (rest and wall.particulars.take_focus()):
        wall.take_focus()
