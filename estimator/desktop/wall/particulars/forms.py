"""Which form belongs to what is selected, or to the tool in hand."""

from __future__ import annotations

from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.form import Form


def form_for(drafting: Drafting) -> Form | None:
    """Return the form of what is selected; None where nothing is that has one."""
    kind = kind_of(drafting.selection)
    make = FORMS.get(kind)
    return None if make is None else make(drafting)


def kind_of(mark: str) -> str:
    """Return what a mark is: ``opening`` of ``front/opening/w1``; empty for none."""
    parts = mark.split("/")
    return parts[1] if len(parts) > 1 else ""


FORMS: dict[str, type[Form]] = {}
"""The forms by the kind of mark they are for."""
