"""The particulars of the wall itself: its size, what it is laid with, its ends and its ground."""

from __future__ import annotations

from functools import partial
from typing import Any, Literal

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.field import (
    About,
    Field,
    ListField,
    PickField,
    SizeField,
    TypedField,
)
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.small_forms import whole
from estimator.desktop.wall.particulars.tool_form import ToolForm
from estimator.desktop.wall.particulars.typed import (
    Way,
    figure,
    in_bricks,
    in_courses,
    in_metres,
)
from estimator.desktop.wall.tools import beginning
from estimator.masonry.bond import takes_ratio
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bricks, outline
from estimator.survey.ranges import likely
from estimator.survey.survey import Brickwork, WallEnd
from estimator.survey.wall import coursing_of

End = Literal["left", "right"]
M2 = 1_000_000.0
USUAL_RISE = 0.42
"""Rise of a gable for its width: a roof of about 40 degrees; common practice, no source."""


class StartForm(ToolForm):
    """A job nobody has told or drawn anything of: a wall can be begun at once."""

    def __init__(self, drafting: Drafting) -> None:
        """Offer to begin."""
        super().__init__(drafting, _("Only a guess so far"))
        self.told.setText(_("Drag one on the board as large as it is, or begin with a usual one."))
        self.add_act(_("Begin with 4.50 × 2.70 m"), partial(self.act, self._begin))

    def is_there(self) -> bool:
        """Return whether there is still nothing."""
        return super().is_there() and beginning.is_blank(self.work)

    def _begin(self) -> Edit:
        return beginning.begin_wall(self.work, self.side)


def form_of_wall(drafting: Drafting) -> Form:
    """Return the form of the wall, or of beginning one."""
    return StartForm(drafting) if beginning.is_blank(drafting.work) else WallForm(drafting)


class WallForm(Form):
    """One side of the building."""

    def __init__(self, drafting: Drafting) -> None:
        """Show its sizes."""
        super().__init__(drafting)
        self._ratio: Field | None = None
        self._returns: dict[End, Field] = {}
        self.add_page(_("Size"), self._of_size())
        self.add_page(_("Brickwork"), self._of_brickwork)
        self.add_page(_("Ends and ground"), self._of_ends)

    def describe(self) -> None:
        """Say which side it is, and show only the fields it has."""
        self.title.setText(self.elevation.name)
        area = figure(self.drafting.wall.gross.area_mm2 / M2, least=1, most=1)
        self.told.setText(_("{n} m²").format(n=area))
        has_gable = self._gable is not None
        for field in self._of_gable:
            field.setVisible(has_gable)
        if self._ratio is not None:
            self._ratio.setVisible(takes_ratio(self.elevation.brickwork.bond))
        for end, returns in self._returns.items():
            returns.setVisible(self._end(end) is WallEnd.QUOIN)

    # -- size

    def _of_size(self) -> list[Field]:
        wide = About(_("Wide"), self._width, self._set_width)
        high = About(_("High"), self._height, self._set_height)
        top = About(_("Top"), self._has_gable, self._set_top)
        ridge = About(_("Ridge, up"), self._ridge, self._set_ridge)
        at = About(_("Ridge, from left"), self._ridge_at, self._set_ridge_at)
        level = partial(self._get, "damp_course_mm")
        damp = About(_("Damp course, up"), level, self._set_damp, _("not seen"))
        self._of_gable = (
            SizeField(self, ridge, Way.UP, written=in_metres, counted=self._courses, wide=104),
            SizeField(self, at, Way.ALONG, written=in_metres, wide=104),
        )
        return [
            SizeField(self, wide, Way.ALONG, written=in_metres, counted=self._bricks, wide=116),
            SizeField(self, high, Way.UP, written=in_metres, counted=self._courses, wide=116),
            PickField(self, top, [(False, _("Level")), (True, _("Gable"))]),
            *self._of_gable,
            SizeField(self, damp, Way.UP, wide=104),
        ]

    def _bricks(self, length: float) -> str:
        return in_bricks(length, self.coursing)

    def _courses(self, height: float) -> str:
        return in_courses(height, self.coursing)

    @property
    def _box(self) -> tuple[float, float, float, float]:
        return outline.bounds_of(self.elevation.outline)

    @property
    def _gable(self) -> tuple[float, float, float] | None:
        return outline.gable_of(self.elevation.outline)

    def _width(self) -> float:
        left, _bottom, right, _top = self._box
        return right - left

    def _height(self) -> float:
        _left, bottom, _right, top = self._box
        return (self._gable[0] if self._gable else top) - bottom

    def _set_width(self, width: float) -> Edit:
        return outline.set_size(self.work, self.side, width_mm=width)

    def _set_height(self, height: float) -> Edit:
        return outline.set_size(self.work, self.side, height_mm=height)

    def _has_gable(self) -> bool:
        return self._gable is not None

    def _set_top(self, gable: bool) -> Edit:  # noqa: FBT001 - a value of the choice
        if not gable:
            return outline.drop_gable(self.work, self.side)
        eaves, gauge = self._height(), self.coursing.gauge_mm
        courses = max(round(self._width() * USUAL_RISE / gauge), 1)
        ridge = eaves + courses * gauge
        return outline.set_gable(self.work, self.side, eaves_mm=eaves, ridge_mm=ridge)

    def _ridge(self) -> float | None:
        return None if self._gable is None else self._gable[1] - self._box[1]

    def _ridge_at(self) -> float | None:
        return None if self._gable is None else self._gable[2] - self._box[0]

    def _set_ridge(self, height: float) -> Edit:
        eaves, at = self._height(), self._ridge_at()
        return outline.set_gable(
            self.work, self.side, eaves_mm=eaves, ridge_mm=height, ridge_at_mm=at
        )

    def _set_ridge_at(self, along: float) -> Edit:
        eaves, ridge = self._height(), self._ridge() or 0.0
        return outline.set_gable(
            self.work, self.side, eaves_mm=eaves, ridge_mm=ridge, ridge_at_mm=along
        )

    def _set_damp(self, level: float | None) -> Edit:
        return outline.set_damp_course(self.work, self.side, level)

    def _get(self, name: str) -> Any:
        return getattr(self.elevation, name)

    # -- what it is laid with

    def _of_brickwork(self) -> list[Field]:
        ratio = About(_("To one header"), partial(self._laid, "ratio"), self._set_ratio)
        self._ratio = SizeField(self, ratio, Way.NUMBER, written=whole)
        return [
            self._list(_("Brick"), "brick", choices.bricks(), wide=216),
            self._list(_("Bond"), "bond", choices.bond_names(), wide=168),
            self._ratio,
            self._list(_("Mortar"), "mortar", choices.mortars(), wide=150),
            self._list(_("Build"), "build", choices.builds(), wide=196),
            self._joint(_("Usual bed"), "bed_usual_mm"),
            self._joint(_("Least bed"), "bed_least_mm"),
        ]

    def _list(self, label: str, name: str, offered: list[Any], *, wide: int) -> ListField:
        about = About(label, partial(self._laid, name), partial(self._lay, name))
        return ListField(self, about, offered, wide=wide)

    def _joint(self, label: str, name: str) -> SizeField:
        get, make = partial(self._thick, name), partial(self._lay, name)
        return SizeField(self, About(label, get, make, _("unknown")), Way.SMALL)

    def _laid(self, name: str) -> Any:
        return getattr(self.elevation.brickwork, name)

    def _thick(self, name: str) -> float | None:
        """Return a bed as measured; the usual one is the format's own where it was not."""
        found: float | None = self._laid(name)
        if found is None and name == "bed_usual_mm":
            return coursing_of(Brickwork(self.elevation.brickwork.brick)).bed_mm
        return found

    def _lay(self, name: str, value: Any) -> Edit:
        fields: dict[str, Any] = {name: value}
        if name == "bond":
            fields["ratio"] = 0
        return outline.set_brickwork(self.work, self.side, **fields)

    def _set_ratio(self, value: float) -> Edit:
        return outline.set_brickwork(self.work, self.side, ratio=round(value))

    # -- its ends and its ground

    def _of_ends(self) -> list[Field]:
        self._returns = {
            "left": self._return(_("Round the left quoin"), "left"),
            "right": self._return(_("Round the right quoin"), "right"),
        }
        ground = About(_("In front of it"), partial(self._get, "ground"), self._set_ground)
        datum = About(_("Above the ground"), partial(self._get, "datum_height_mm"), self._set_datum)
        hidden = About(_("Hidden bricks"), self._hidden, self._set_hidden)
        also = About(_("What else is on it"), partial(self._get, "ornament"), self._set_also)
        return [
            self._end_list(_("Left end"), "left"),
            self._returns["left"],
            self._end_list(_("Right end"), "right"),
            self._returns["right"],
            ListField(self, ground, choices.grounds(), wide=150),
            SizeField(self, datum, Way.UP, wide=104),
            SizeField(self, hidden, Way.NUMBER, written=whole),
            TypedField(self, also, wide=200),
        ]

    def _end_list(self, label: str, end: End) -> ListField:
        about = About(label, partial(self._end, end), partial(self._set_end, end))
        return ListField(self, about, choices.ends(), wide=140)

    def _return(self, label: str, end: End) -> ListField:
        sides = [("", _("None drawn"))]
        sides += [(one.id, one.name) for one in self.work.survey.elevations if one.id != self.side]
        get = partial(self._get, f"{end}_return")
        return ListField(self, About(label, get, partial(self._set_return, end)), sides, wide=140)

    def _end(self, end: str) -> WallEnd:
        return self.elevation.left_end if end == "left" else self.elevation.right_end

    def _set_end(self, end: End, how: WallEnd) -> Edit:
        kept = self._get(f"{end}_return") if how is WallEnd.QUOIN else ""
        return outline.set_end(self.work, self.side, end, how, kept)

    def _set_return(self, end: End, side: str) -> Edit:
        return outline.set_end(self.work, self.side, end, WallEnd.QUOIN, side)

    def _set_ground(self, ground: Any) -> Edit:
        return outline.set_ground(self.work, self.side, ground=ground)

    def _set_datum(self, height: float) -> Edit:
        return outline.set_ground(self.work, self.side, datum_height_mm=height)

    def _hidden(self) -> float:
        return likely(self.elevation.hidden_bricks)

    def _set_hidden(self, number: float) -> Edit:
        return bricks.set_hidden(self.work, self.side, round(number))

    def _set_also(self, text: str) -> Edit:
        return outline.set_ornament(self.work, self.side, text)
