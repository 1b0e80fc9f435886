"""What a job is called before anybody names it: the crack, and where on the house it is."""

from __future__ import annotations

from dataclasses import replace

from estimator.desktop.language import _
from estimator.quoting.edits import Edit
from estimator.survey.survey import Survey


def fresh_title() -> str:
    """Return what a job is called while nobody has said where the crack is.

    >>> fresh_title()
    'Cracked wall'
    """
    return _("Cracked wall")


def titled(edit: Edit) -> Edit:
    """Return an edit whose job is called by the place answered, unless somebody named it."""
    survey = edit.after.survey
    if survey.title != fresh_title() and survey.title not in _by_place().values():
        return edit
    title = _title(survey)
    if title == survey.title:
        return edit
    return replace(edit, after=replace(edit.after, survey=replace(survey, title=title)))


def _title(survey: Survey) -> str:
    place = next((one for one in survey.asked if one.question == "place"), None)
    choice = place.choices[0] if place is not None and place.choices else ""
    return _by_place().get(choice) or fresh_title()


def _by_place() -> dict[str, str]:
    return {
        "under_window": _("Crack under a window"),
        "corner": _("Crack at a corner"),
        "over_opening": _("Crack over a door or window"),
        "junction": _("Crack where two walls meet"),
        "plain": _("Crack in plain wall"),
    }
