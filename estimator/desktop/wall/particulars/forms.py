"""Which form belongs to what is selected, or to the tool in hand."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.area_form import AreaForm, AreaToolForm
from estimator.desktop.wall.particulars.bar_form import BarForm
from estimator.desktop.wall.particulars.brick_form import BrickForm, BrickToolForm
from estimator.desktop.wall.particulars.crack_form import CrackForm
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.opening_form import OpeningForm, OpeningToolForm
from estimator.desktop.wall.particulars.photo_form import PhotoForm
from estimator.desktop.wall.particulars.small_forms import DampForm, JointForm, ThinBedForm
from estimator.desktop.wall.particulars.wall_form import WallForm, form_of_wall

FORMS: Mapping[str, Callable[[Drafting], Form]] = {
    "opening": OpeningForm,
    "crack": CrackForm,
    "brick": BrickForm,
    "bar": BarForm,
    "area": AreaForm,
    "thin": ThinBedForm,
    "joint": JointForm,
    "outline": WallForm,
    "damp": DampForm,
    "photo": PhotoForm,
}
"""The forms by the kind of mark they are for."""
TOOLS: Mapping[str, Callable[[Drafting], Form]] = {
    "wall": form_of_wall,
    "opening": OpeningToolForm,
    "brick": BrickToolForm,
    "area": AreaToolForm,
    "photo": PhotoForm,
}
"""The forms of tools, while nothing is selected."""


def form_for(drafting: Drafting) -> Form | None:
    """Return the form of what is selected or in hand; None where neither has one."""
    if drafting.elevation is None:
        return None
    make = FORMS.get(kind_of(drafting.selection)) or TOOLS.get(drafting.tool.name)
    if make is None or not is_on_wall(drafting, drafting.selection):
        return None
    return make(drafting)


def is_on_wall(drafting: Drafting, mark: str) -> bool:
    """Return whether what a mark names is on the side that is shown.

    A mark may outlive its thing for a moment: an undo takes the one and then the other.
    """
    if not mark:
        return True
    side, _slash, rest = mark.partition("/")
    kind, _slash, key = rest.partition("/")
    wall = drafting.plain
    if side != wall.id:
        return False
    lists = {
        "opening": [one.id for one in wall.openings],
        "crack": [one.id for one in wall.cracks],
        "thin": [str(n) for n in range(1, len(wall.thin_beds) + 1)],
        "joint": [str(n) for n in range(1, len(wall.movement_joints_mm) + 1)],
    }
    if kind == "bar":
        measure = drafting.measure()
        return measure is not None and any(one.id == mark for one in measure.bars)
    return key in lists[kind] if kind in lists else True


def kind_of(mark: str) -> str:
    """Return what a mark is: ``opening`` of ``front/opening/w1``; empty for none."""
    parts = mark.split("/")
    return parts[1] if len(parts) > 1 else ""
