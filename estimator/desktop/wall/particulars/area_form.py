"""The particulars of an area to repoint."""

from __future__ import annotations

from functools import partial

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.field import About, Field, SizeField
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.tool_form import ToolForm, ToolPick
from estimator.desktop.wall.particulars.typed import Way, figure
from estimator.masonry.region import Point, Region
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import areas
from estimator.survey.survey import Area

MM2 = 1_000_000.0
MOST_CORNERS = 8
"""Corners given as numbers; an outline of more is pulled on the wall; house rule."""


class AreaForm(Form):
    """An area somebody drew, or the one the rule sets out."""

    def __init__(self, drafting: Drafting) -> None:
        """Show its sizes: of a rectangle its sides, of any other shape its corners."""
        super().__init__(drafting)
        self.title.setText(_("Area to repoint"))
        self._corners = 0 if self.area is None else len(self.area.outline)
        if self.area is None:
            return
        self.add_page(_("Size"), self._sides() if self.is_box else self._points())
        self.add_act(_("Remove"), partial(self.act, self._remove))

    @property
    def area(self) -> Area | None:
        """The area as it was drawn, None where it is the rule's own."""
        return next((one for one in self.elevation.areas if one.id == self.key), None)

    @property
    def corners(self) -> tuple[Point, ...]:
        """The corners of what is repointed."""
        if self.area is not None:
            return self.area.outline
        picture = self.drafting.shown
        shapes = () if picture is None else picture.areas
        return next((one.corners for one in shapes if one.mark == self.mark), ())

    @property
    def is_box(self) -> bool:
        """Return whether it is a level rectangle."""
        corners = self.corners
        across, up = {x for x, _y in corners}, {y for _x, y in corners}
        return len(corners) == 4 and len(across) == 2 and len(up) == 2

    def is_there(self) -> bool:
        """Return whether it is there, with as many corners as there are fields."""
        if not super().is_there() or not self.corners:
            return False
        return self.area is None or len(self.corners) == self._corners

    def describe(self) -> None:
        """Say how large it is."""
        size = figure(Region.of(self.corners).area_mm2 / MM2, least=2, most=2)
        told = _("{n} m²").format(n=size)
        if self.area is None:
            told = _("{size}, set out by the rule. Draw an area to have it otherwise.")
            told = told.format(size=_("{n} m²").format(n=size))
        self.told.setText(told)

    def _sides(self) -> list[Field]:
        return [
            SizeField(self, About(label, partial(self._side, n), partial(self._set_side, n)), way)
            for n, (label, way) in enumerate(
                (
                    (_("From the left"), Way.ALONG),
                    (_("Up"), Way.UP),
                    (_("Wide"), Way.ALONG),
                    (_("High"), Way.UP),
                )
            )
        ]

    def _box(self) -> list[float]:
        across, up = [x for x, _y in self.corners], [y for _x, y in self.corners]
        return [min(across), min(up), max(across) - min(across), max(up) - min(up)]

    def _side(self, number: int) -> float:
        return self._box()[number]

    def _set_side(self, number: int, value: float) -> Edit:
        box = self._box()
        box[number] = value
        left, bottom, wide, high = box
        right, top = left + wide, bottom + high
        corners = ((left, bottom), (right, bottom), (right, top), (left, top))
        return areas.change_area(self.work, self.side, self.key, corners)

    def _points(self) -> list[Field]:
        fields: list[Field] = []
        for number in range(min(self._corners, MOST_CORNERS)):
            for axis, way in enumerate((Way.ALONG, Way.UP)):
                label = _("Corner {n}, along") if way is Way.ALONG else _("Corner {n}, up")
                about = About(
                    label.format(n=number + 1),
                    partial(self._point, number, axis),
                    partial(self._set_point, number, axis),
                )
                fields.append(SizeField(self, about, way, wide=104))
        return fields

    def _point(self, number: int, axis: int) -> float:
        return self.corners[number][axis]

    def _set_point(self, number: int, axis: int, value: float) -> Edit:
        corners = list(self.corners)
        x, y = corners[number]
        corners[number] = (x, value) if axis else (value, y)
        return areas.change_area(self.work, self.side, self.key, tuple(corners))

    def _remove(self) -> Edit:
        return areas.remove_area(self.work, self.side, self.key)


class AreaToolForm(ToolForm):
    """How the area tool draws the next area."""

    def __init__(self, drafting: Drafting) -> None:
        """Offer the ways."""
        super().__init__(drafting, _("Draw an area to repoint"))
        self.add_page(_("Area"), (ToolPick(self, _("How far it goes"), "way", choices.reaches()),))
