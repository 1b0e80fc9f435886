"""The photographs of the side on the board: added, marked at known points, shown and named."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QCheckBox, QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted, in_context
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.field import toggle
from estimator.desktop.wall.particulars.flow import Flow
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.photos import saying
from estimator.desktop.wall.photos.dropping import Choosing
from estimator.desktop.wall.photos.marking import Way
from estimator.desktop.wall.photos.rows import PointRows
from estimator.desktop.wall.photos.shelf import Shelf
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import retone, words

USUAL_TYPE = 1.1
"""Up to this size of type the ways of telling stand in the top line."""


class PhotoForm(Form):
    """What there is to do with photographs: the list of them, or the points of one."""

    def __init__(self, drafting: Drafting) -> None:
        """Show the album of the drawing."""
        super().__init__(drafting)
        self.album = drafting.album
        self.marking = self.album.marking
        self.choosing = Choosing(self.album, self)
        self.shelf, self.points = Shelf(self.album), PointRows(self.album)
        self.busy = words(role="second", wrap=False)
        self.stop = quiet_button(_("Stop"))
        self.stop.clicked.connect(self.album.taking.stop)
        self.add = button(_("Add a photo…"))
        self.add.clicked.connect(self._ask)
        self.done = button(_("Done"))
        self.done.clicked.connect(self._finish)
        self.pixels = QCheckBox(_("Pixels"))
        self.pixels.setAccessibleName(_("Show and type places on the photograph in pixels"))
        self.pixels.clicked.connect(self.points.show_pixels)
        self.empty = words(
            _(
                "Drop a photograph of this wall here, or copy one and press Ctrl+V. Mark four"
                " joints you can count, and it lies to scale under the drawing. It stays in this"
                " job's file, without the place it was taken at."
            ),
            role="second",
        )
        self.how = words(
            _(
                "Quickest is a large stretch of plain brickwork: click its four corners in turn,"
                " each where a bed meets an upright joint, and type their counts. Count courses up"
                " from the foot of the wall, bricks along from its left end. A fifth point checks"
                " the others."
            ),
            role="second",
        )
        self.how.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.how.setMinimumHeight(self.points.minimumHeight())
        self.verdict, self.limits = words(role="strong"), words(role="second")
        self._ways = QButtonGroup(self)
        self.ways = {
            Way.COUNT: toggle(in_context("places by", "Counting"), _("Tell points by counting")),
            Way.DRAWING: toggle(
                in_context("places by", "Drawing"), _("Show points on the drawing")
            ),
            Way.TAPE: toggle(in_context("places by", "Tape"), _("Tell points by tape")),
        }
        self._arrange()
        self.points.misread.connect(self.say)
        self.marking.changed.connect(self._follow_album)
        self.album.changed.connect(self._follow_album)
        self.marking.typed.connect(self.type_into)

    def _arrange(self) -> None:
        self._telling = QFrame()
        row = Flow(self._telling, gap=6)
        for way, one in self.ways.items():
            one.clicked.connect(partial(self._tell_by, way))
            self._ways.addButton(one)
            row.addWidget(one)
        self.pixels.setMinimumHeight(self.ways[Way.COUNT].sizeHint().height())
        row.addWidget(self.pixels)
        self._head.addStretch(1)
        for widget in (self.busy, self.stop, self.add, self.done):
            self._head.addWidget(widget)
        below = QVBoxLayout()
        below.setSpacing(LOOK.px(2))
        below.addWidget(self.verdict)
        below.addWidget(self.limits)
        parts: tuple[QWidget, ...] = (self.empty, self.shelf, self._telling, self.how, self.points)
        for part in parts:
            self._column.insertWidget(self._column.count() - 1, part)
        self._column.insertLayout(self._column.count() - 1, below)
        if LOOK.scale <= USUAL_TYPE:
            # One line of height for the photograph; larger type has no room for it.
            self._column.removeWidget(self._telling)
            wide = sum(one.sizeHint().width() for one in (*self.ways.values(), self.pixels))
            self._telling.setMinimumWidth(wide + LOOK.px(6) * len(self.ways))
            self._head.insertWidget(self._head.indexOf(self.busy), self._telling)

    def is_there(self) -> bool:
        """Return whether the side is still on the board."""
        return self.drafting.side_id == self.side

    def describe(self) -> None:
        """Show the photographs and points as they are now."""
        marking, photo = self.marking, self.album.in_hand
        is_marking = bool(marking.photo)
        self._say_head(is_marking=is_marking)
        has_any = bool(self.album.photos)
        self.empty.setVisible(not has_any)
        self.shelf.setVisible(has_any and not is_marking)
        for part in (self._telling, self.done):
            part.setVisible(is_marking)
        self.how.setVisible(is_marking and not marking.points)
        self.points.setVisible(is_marking and bool(marking.points))
        self.add.setVisible(not is_marking)
        if is_marking:
            self.ways[marking.way].setChecked(True)
            self.points.follow()
        else:
            self.shelf.follow()
        told = None if photo is None else saying.verdict(self.album, photo)
        for label, text in (
            (self.verdict, "" if told is None else told.heading),
            # Left out among the points: their rows keep the height of the form as it is.
            (self.limits, "" if told is None or is_marking else told.text),
        ):
            label.setText(text)
            label.setVisible(bool(text))
        if told is not None:
            retone(self.verdict, tone=told.tone)
        self.say(marking.trouble if is_marking else self.album.trouble)

    def _say_head(self, *, is_marking: bool) -> None:
        taking = self.album.taking
        self.title.setText(_("Points") if is_marking else _("Photographs"))
        said = counted("Reading the photograph…", "Reading {n} photographs…", taking.still)
        if taking.name and taking.still == 1:
            said = _("Reading {name}…").format(name=taking.name)
        self.busy.setText(said)
        for widget in (self.busy, self.stop):
            widget.setVisible(taking.is_busy)

    def type_into(self, text: str) -> None:
        """Begin to type the count of the point taken up."""
        if self.marking.photo and self.is_there():
            self.points.type_into(text)

    def _follow_album(self) -> None:
        if self.is_there():
            self.describe()

    def _ask(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.choosing.ask()

    def _finish(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Put the photograph down; the keyboard goes back to the wall."""
        self.marking.end()
        self.drafting.left_particulars.emit()

    def _tell_by(self, way: Way, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.marking.tell_by(way)

    def take_focus(self) -> None:
        """Put the keyboard on the first field that waits, or the first button."""
        waits = next((one.first_empty for one in self.points.rows if one.first_empty), None)
        target = waits if self.marking.photo and waits is not None else self.add
        if target is self.add and not self.add.isVisible():
            target = self.done
        target.setFocus(Qt.FocusReason.ShortcutFocusReason)
