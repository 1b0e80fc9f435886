"""The particulars of an opening, and of the kind the tool in hand draws."""

from __future__ import annotations

from functools import partial
from typing import Any

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.field import About, Field, ListField, PickField, SizeField
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.tool_form import ToolForm, ToolPick
from estimator.desktop.wall.particulars.typed import Way, in_bricks, in_courses
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import openings
from estimator.survey.survey import Lintel, Opening


class OpeningForm(Form):
    """One window, door or vent."""

    def __init__(self, drafting: Drafting) -> None:
        """Show its sizes."""
        super().__init__(drafting)
        self.add_page(
            _("Size"),
            (
                self._size(_("From the left"), "left_mm", Way.ALONG),
                self._size(_("Up"), "bottom_mm", Way.UP),
                self._size(_("Wide"), "width_mm", Way.ALONG),
                self._size(_("High"), "height_mm", Way.UP),
            ),
        )
        self.add_page(_("Kind, sill and lintel"), self._of_rest)
        self.add_act(_("Remove"), partial(self.act, self._remove))

    @property
    def opening(self) -> Opening:
        """The opening as it is."""
        return next(one for one in self.elevation.openings if one.id == self.key)

    def is_there(self) -> bool:
        """Return whether it is still on the wall."""
        return super().is_there() and any(one.id == self.key for one in self.elevation.openings)

    def describe(self) -> None:
        """Say what it is, and what it counts in bricks."""
        opening = self.opening
        self.title.setText(dict(choices.kinds()).get(opening.kind, _("Opening")))
        across = in_bricks(opening.width_mm, self.coursing)
        up = in_courses(opening.height_mm, self.coursing)
        self.told.setText(_("{bricks} × {courses}").format(bricks=across, courses=up))

    def _of_rest(self) -> list[Field]:
        # Not beside the sizes: there it would be taken for what the tool draws next.
        kind = PickField(self, self._about(_("What it is"), "kind"), choices.kinds())
        lintel = ListField(self, self._about(_("Lintel"), "lintel"), choices.lintels())
        return [
            kind,
            self._size(_("Sill shows"), "sill_mm", Way.SMALL),
            lintel,
            self._size(_("Lintel shows"), "lintel_mm", Way.SMALL),
            self._size(_("Beyond each side"), "lintel_bearing_mm", Way.SMALL),
        ]

    def _about(self, label: str, name: str) -> About:
        return About(label, partial(self._get, name), partial(self._set, name))

    def _size(self, label: str, name: str, way: Way) -> SizeField:
        return SizeField(self, self._about(label, name), way)

    def _get(self, name: str) -> Any:
        return getattr(self.opening, name)

    def _set(self, name: str, value: Any) -> Edit:
        fields = {name: value}
        if name == "lintel_mm" and not value:
            # What is not seen reaches nowhere.
            fields["lintel_bearing_mm"] = 0.0
        if name == "lintel" and value is Lintel.NOT_SEEN:
            fields |= {"lintel_mm": 0.0, "lintel_bearing_mm": 0.0}
        return openings.change_opening(self.work, self.side, self.key, **fields)

    def _remove(self) -> Edit:
        return openings.remove_opening(self.work, self.side, self.key)


class OpeningToolForm(ToolForm):
    """What the opening tool draws next."""

    def __init__(self, drafting: Drafting) -> None:
        """Offer the kinds."""
        super().__init__(drafting, _("Draw an opening"))
        self.told.setText(_("Drag it as large as it is, or click for a usual size."))
        self.add_page(_("Kind"), (ToolPick(self, _("What it is"), "kind", choices.kinds()),))
