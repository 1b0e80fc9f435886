"""The particulars of a crack: how wide, what was noticed of it, and how each leg runs."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

from estimator.desktop.language import _, counted
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.field import (
    About,
    FactField,
    Field,
    ListField,
    PickField,
    SizeField,
)
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.typed import Way, in_metres
from estimator.documents.formats import metres
from estimator.masonry.crack import CrackPath
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bricks, cracks
from estimator.survey.ranges import likely, settled
from estimator.survey.survey import Crack, TracedRun, Treatment
from estimator.survey.wall import path_of


class CrackForm(Form):
    """One crack."""

    def __init__(self, drafting: Drafting) -> None:
        """Show what is known of it."""
        super().__init__(drafting)
        self._leg = 1
        self._shape = self._shape_now()
        self.add_page(_("Crack"), self._of_crack())
        self.add_page(_("Widths"), self._of_widths)
        if self._shape[1]:
            self.add_page(_("Legs"), self._of_legs)
        self._more = self.add_act(_("Add a width"), self._add_width)
        self.replaces = self.add_act("", partial(self.act, self._replace_broken))
        self.add_act(_("Remove"), partial(self.act, self._remove))
        self.turn_to(0)

    @property
    def crack(self) -> Crack:
        """The crack as it is."""
        return next(one for one in self.elevation.cracks if one.id == self.key)

    @property
    def path(self) -> CrackPath:
        """The crack laid on the joints."""
        return path_of(settled(self.crack), self.coursing)

    def is_there(self) -> bool:
        """Return whether it is there, with as many widths and legs as there are fields."""
        is_known = any(one.id == self.key for one in self.elevation.cracks)
        return super().is_there() and is_known

    def is_outgrown(self) -> bool:
        """Return whether it has other widths or legs than there are fields."""
        return self._shape_now() != self._shape

    def describe(self) -> None:
        """Say which it is, and how far it runs."""
        self.title.setText(_("Crack {letter}").format(letter=self.crack.id))
        path = self.path
        number = len(path.courses)
        gaps = {"length": metres(path.run_m * 1000), "n": number}
        told = _("{length} along it, {n} courses")
        if number == 1:
            told = _("{length} along it, 1 course")
        self.told.setText(told.format(**gaps))
        broken = len(self._broken())
        told = counted("Replace the brick it breaks", "Replace the {n} bricks it breaks", broken)
        self.replaces.setText(told)
        self.replaces.setVisible(broken > 0 and self.page == 0)

    def turn_to(self, number: int, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Show another page of fields; widths are added where they are seen."""
        super().turn_to(number)
        self._more.setVisible(number == 1)
        self.replaces.setVisible(number == 0 and bool(self._broken()))

    def _shape_now(self) -> tuple[int, int]:
        run = self.crack.run
        legs = len(run.points) - 1 if isinstance(run, TracedRun) else 0
        return len(self.crack.widths), legs

    # -- what there is to say of it

    def _of_crack(self) -> list[Field]:
        widest = About(_("Widest"), self._widest, partial(self._set, "width_mm"))
        return [
            SizeField(self, widest, Way.SMALL, wide=76),
            self._pick(_("Repair"), "stitch", choices.repairs()),
            self._pick(_("On both faces"), "both_faces", choices.answers()),
            self._pick(_("Wider at one end"), "tapers", choices.answers()),
        ]

    def _pick(self, label: str, name: str, offered: list[Any]) -> PickField:
        about = About(label, partial(self._get, name), partial(self._set, name))
        return PickField(self, about, offered)

    def _get(self, name: str) -> Any:
        return getattr(self.crack, name)

    def _set(self, name: str, value: Any) -> Edit:
        return cracks.change_crack(self.work, self.side, self.key, **{name: value})

    def _broken(self) -> tuple[tuple[int, int], ...]:
        return bricks.broken_by(self.elevation, self.key)

    def _replace_broken(self) -> Edit:
        return bricks.mark(self.work, self.side, self._broken(), Treatment.REPLACE)

    def _widest(self) -> float:
        return likely(self.crack.width_mm)

    def _remove(self) -> Edit:
        return cracks.remove_crack(self.work, self.side, self.key)

    # -- widths measured along it

    def _of_widths(self) -> list[Field]:
        if not self.crack.widths:
            none = _("None yet. Add one here, or measure it on the crack.")
            return [FactField(self, _("Widths along it"), partial(str, none))]
        fields: list[Field] = []
        for number, one in enumerate(self.crack.widths, 1):
            label = _("{height} up").format(height=in_metres(one.y_mm))
            get, make = partial(self._width, number), partial(self._set_width, number)
            about = About(label, get, make, _("not kept"))
            fields.append(SizeField(self, about, Way.SMALL, wide=76))
        return fields

    def _width(self, number: int) -> float | None:
        widths = self.crack.widths
        return widths[number - 1].width_mm if number <= len(widths) else None

    def _set_width(self, number: int, value: float | None) -> Edit:
        if value is None:
            return cracks.drop_width(self.work, self.side, self.key, number)
        one = self.crack.widths[number - 1]
        return cracks.set_width(self.work, self.side, self.key, one.x_mm, one.y_mm, value)

    def _add_width(self) -> None:
        """Add a width where the crack is furthest from those that were measured."""
        x, y = self._furthest()
        width = likely(self.crack.width_mm)
        make = partial(cracks.set_width, self.work, self.side, self.key, x, y, width)
        self.act(make)

    def _furthest(self) -> Point:
        points = self.path.points
        known = [(one.x_mm, one.y_mm) for one in self.crack.widths]
        if not known:
            return points[len(points) // 2]
        return max(points, key=lambda point: min(math.dist(point, one) for one in known))

    # -- legs

    def _of_legs(self) -> list[Field]:
        legs = [(number, _("Leg {n}").format(n=number)) for number in range(1, self._shape[1] + 1)]
        which = About(_("Leg, from its first point"), self._leg_now, self._no_edit)
        how = About(_("How it runs"), self._cuts, self._set_cuts)
        runs = [(False, _("Along the joints")), (True, _("Through the bricks"))]
        return [LegList(self, which, legs), PickField(self, how, runs)]

    def _leg_now(self) -> int:
        return self._leg

    def take_leg(self, number: int) -> None:
        """Show how another leg runs."""
        self._leg = number
        self.follow()

    def _no_edit(self, _value: Any) -> Edit:
        return cracks.change_crack(self.work, self.side, self.key)

    def _cuts(self) -> bool:
        run = self.crack.run
        return isinstance(run, TracedRun) and (run.through_bricks or self._leg in run.cuts)

    def _set_cuts(self, cuts: bool) -> Edit:  # noqa: FBT001 - a value of the choice
        return cracks.cut_leg(self.work, self.side, self.key, self._leg, cuts=cuts)


class LegList(ListField):
    """Which leg of a crack the field beside it is about: no edit."""

    def _take(self, place: int) -> None:
        form = self.form
        if isinstance(form, CrackForm):
            form.take_leg(self._values[place])
