"""The particulars of a brick, and of what the brick tool marks next."""

from __future__ import annotations

from functools import partial
from typing import Any

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.field import About, PickField
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.tool_form import ToolForm, ToolPick
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bricks
from estimator.survey.survey import CrackedBrick, Treatment


class BrickForm(Form):
    """One brick, marked or crossed by a crack."""

    def __init__(self, drafting: Drafting) -> None:
        """Show what is done with it."""
        super().__init__(drafting)
        what = About(_("What is done with it"), partial(self._get, "treatment"), self._treat)
        deep = About(_("How deep"), partial(self._get, "half"), self._halve)
        self.add_page(
            _("Brick"),
            (PickField(self, what, choices.treatments()), PickField(self, deep, choices.depths())),
        )
        self._unmark = self.add_act(_("Take the mark off"), partial(self.act, self._take_off))

    @property
    def place(self) -> tuple[int, int]:
        """Course and place of the brick."""
        course, place = self.key.split("/")
        return int(course), int(place)

    @property
    def brick(self) -> CrackedBrick | None:
        """The mark on the brick, None where it has none."""
        found = (one for one in self.elevation.bricks if (one.course, one.place) == self.place)
        return next(found, None)

    def is_there(self) -> bool:
        """Return whether it is marked, or still broken by a crack."""
        if not super().is_there():
            return False
        picture = self.drafting.shown
        return self.brick is not None or (
            picture is not None and any(one.mark == self.mark for one in picture.bricks)
        )

    def describe(self) -> None:
        """Say where it is."""
        course, place = self.place
        self.title.setText(_("Brick"))
        where = _("Course {course}, {place} from the left")
        self.told.setText(where.format(course=course, place=place))
        self._unmark.setVisible(self.brick is not None)
        # Only a brick that is replaced can be cut out by half.
        is_replaced = self.brick is None or self.brick.treatment is Treatment.REPLACE
        self.fields[1].setVisible(is_replaced)

    def _get(self, name: str) -> Any:
        return None if self.brick is None else getattr(self.brick, name)

    def _treat(self, treatment: Treatment) -> Edit:
        half = treatment is Treatment.REPLACE and self.brick is not None and self.brick.half
        return bricks.mark(self.work, self.side, (self.place,), treatment, half=half)

    def _halve(self, half: bool) -> Edit:  # noqa: FBT001 - a value of the choice
        treatment = Treatment.REPLACE if self.brick is None else self.brick.treatment
        return bricks.mark(self.work, self.side, (self.place,), treatment, half=half)

    def _take_off(self) -> Edit:
        return bricks.unmark(self.work, self.side, (self.place,))


class BrickToolForm(ToolForm):
    """What the brick tool marks next."""

    def __init__(self, drafting: Drafting) -> None:
        """Offer what may be done with a brick."""
        super().__init__(drafting, _("Mark bricks"))
        self.told.setText(_("Click a brick, or stroke over several."))
        treatments = ToolPick(self, _("What is done with it"), "treatment", choices.treatments())
        self.add_page(
            _("Brick"), (treatments, ToolPick(self, _("How deep"), "half", choices.depths()))
        )
