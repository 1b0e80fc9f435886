"""The particulars of what has few: a thin bed, a movement joint, the damp course."""

from __future__ import annotations

from functools import partial
from typing import Any

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.field import About, SizeField
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.typed import Way, figure, in_metres
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import outline, thin_beds
from estimator.survey.survey import ThinBed


def whole(value: float) -> str:
    """Return a whole number in words of the screen.

    >>> whole(12.0)
    '12'
    """
    return figure(value, most=0)


class ThinBedForm(Form):
    """A stretch of bed thinner than the rest."""

    def __init__(self, drafting: Drafting) -> None:
        """Show where it is."""
        super().__init__(drafting)
        self.title.setText(_("Thin bed"))
        about = self._about
        bed = SizeField(
            self, about(_("Under course"), "course"), Way.NUMBER, written=whole, wide=64
        )
        self.add_page(
            _("Size"),
            (
                bed,
                SizeField(self, about(_("From"), "from_mm"), Way.ALONG),
                SizeField(self, about(_("To"), "to_mm"), Way.ALONG),
                SizeField(self, about(_("Thick"), "thickness_mm"), Way.SMALL),
            ),
        )
        self.add_act(_("Remove"), partial(self.act, self._remove))

    @property
    def bed(self) -> ThinBed:
        """The stretch as it is."""
        return self.elevation.thin_beds[int(self.key) - 1]

    def is_there(self) -> bool:
        """Return whether it is still on the wall."""
        return super().is_there() and int(self.key) <= len(self.elevation.thin_beds)

    def describe(self) -> None:
        """Say how long it is."""
        length = in_metres(self.bed.to_mm - self.bed.from_mm)
        self.told.setText(_("{length} of bed").format(length=length))

    def _about(self, label: str, name: str) -> About:
        return About(label, partial(self._get, name), partial(self._set, name))

    def _get(self, name: str) -> Any:
        return getattr(self.bed, name)

    def _set(self, name: str, value: float) -> Edit:
        fields = {name: round(value) if name == "course" else value}
        return thin_beds.change_thin(self.work, self.side, int(self.key), **fields)

    def _remove(self) -> Edit:
        return thin_beds.remove_thin(self.work, self.side, int(self.key))


class JointForm(Form):
    """A movement joint."""

    def __init__(self, drafting: Drafting) -> None:
        """Show where it is."""
        super().__init__(drafting)
        self.title.setText(_("Movement joint"))
        self.told.setText(_("No bar is carried across it."))
        about = About(_("From the left"), self._get, self._set)
        self.add_page(_("Place"), (SizeField(self, about, Way.ALONG),))
        self.add_act(_("Remove"), partial(self.act, self._remove))

    def is_there(self) -> bool:
        """Return whether it is still on the wall."""
        return super().is_there() and int(self.key) <= len(self.elevation.movement_joints_mm)

    def _get(self) -> float:
        return self.elevation.movement_joints_mm[int(self.key) - 1]

    def _set(self, x: float) -> Edit:
        return outline.move_movement_joint(self.work, self.side, int(self.key), x)

    def _remove(self) -> Edit:
        return outline.remove_movement_joint(self.work, self.side, int(self.key))


class DampForm(Form):
    """The damp course."""

    def __init__(self, drafting: Drafting) -> None:
        """Show its level."""
        super().__init__(drafting)
        self.title.setText(_("Damp course"))
        about = About(_("Up"), self._get, self._set, _("not seen"))
        self.add_page(_("Place"), (SizeField(self, about, Way.UP),))
        self._gone = self.add_act(_("Not seen"), partial(self.act, partial(self._set, None)))

    def describe(self) -> None:
        """Say whether it was seen."""
        is_seen = self.elevation.damp_course_mm is not None
        told = _("No bar is cut into the bed it lies in.")
        if not is_seen:
            told = _("Not seen: drawn where it usually is.")
        self.told.setText(told)
        self._gone.setVisible(is_seen)

    def _get(self) -> float | None:
        return self.elevation.damp_course_mm

    def _set(self, level: float | None) -> Edit:
        return outline.set_damp_course(self.work, self.side, level)
