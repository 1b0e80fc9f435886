"""The middle column: the wall drawn live, with what is guessed drawn lighter."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import wording
from estimator.desktop.wall.board import Board
from estimator.desktop.wall.legend import Legend
from estimator.desktop.widgets.buttons import escaped, quiet_button
from estimator.desktop.widgets.words import words
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.desktop.state import Sight

MM_PER_INCH = 25.4
HEAD_ROOM = 140
"""Room the heading takes from what is said beside it. [px]"""


class WallColumn(QFrame):
    """The wall."""

    pointed = Signal(object)
    """The marks under the pointer, a frozenset; empty when it leaves."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._option = self._elevation = 0
        self.board, self.legend = Board(), Legend()
        self.scale = words(role="second", wrap=False)
        self._came_from: int | None = None
        self.sides = quiet_button("")
        self.sides.setMenu(QMenu(self.sides))
        self.hint, self.note = words(role="second"), words(role="second")
        self.hint.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        self._lay_out()
        self.board.worth = lambda mark: wording.worth(self._session.sight, self._option, mark)
        self.board.pointed.connect(self.pointed)
        self.board.view_changed.connect(self._say_scale)
        self.board.entered.connect(self._hint)
        self._hint(False)
        # Prices are painted first: the wall follows in the next turn, so that neither waits long.
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._catch_up)
        session.sight_changed.connect(self._wait_a_turn)
        self.setFocusProxy(self.board)
        self._show(session.sight)

    @property
    def option(self) -> int:
        """Which of the options is drawn, the first being 0."""
        return self._option

    def show_option(self, index: int) -> None:
        """Draw the bars and areas of another option."""
        if index != self._option and index >= 0:
            self._option = index
            self._show(self._session.sight)

    def show_elevation(self, index: int) -> None:
        """Draw another side of the building."""
        self._came_from = None
        if index != self._elevation and index >= 0:
            self._elevation = index
            self._show(self._session.sight)

    def light(self, marks: frozenset[str]) -> None:
        """Light up marks and let the rest fade; none lights all alike.

        Marks that are all on another side bring that side up for as long as they are lit.
        """
        if marks:
            side = self._side_of(marks)
            if side is not None and side != self._elevation:
                came_from = self._elevation if self._came_from is None else self._came_from
                self.show_elevation(side)
                self._came_from = came_from
        elif self._came_from is not None:
            self.show_elevation(self._came_from)
        self.board.light(marks)

    def take_focus(self) -> None:
        """Put the keyboard on the wall."""
        self.board.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(16)
        head.addWidget(words(_("The wall"), role="heading", wrap=False))
        head.addWidget(self.sides)
        head.addStretch()
        head.addWidget(self.scale)
        foot = QHBoxLayout()
        foot.setSpacing(16)
        foot.addWidget(self.note, 1)
        foot.addWidget(self.hint, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 12)
        layout.setSpacing(8)
        layout.addLayout(head)
        layout.addWidget(self.board, 1)
        layout.addWidget(self.legend)
        layout.addLayout(foot)

    def _wait_a_turn(self, _sight: Sight) -> None:
        self._soon.start(0)

    def _catch_up(self) -> None:
        self._show(self._session.sight)

    def _show(self, sight: Sight) -> None:
        self._list_sides(sight)
        picture = picture_of(sight.work.survey, self._elevation, sight.measure(self._option))
        self.board.show_picture(picture)
        self.legend.show_picture(picture)
        self.hint.setVisible(picture is not None and bool(sight.options))
        self.note.setText(_note(sight, picture))
        self.note.setVisible(bool(self.note.text()))
        self._say_scale()

    def _list_sides(self, sight: Sight) -> None:
        """Offer the sides of the building where there are several."""
        names = [one.name for one in sight.work.survey.elevations]
        if self._elevation >= len(names):
            self._elevation = 0
        menu = self.sides.menu()
        if [escaped(name) for name in names] != [act.text() for act in menu.actions()]:
            menu.clear()
            for number, name in enumerate(names):
                act = menu.addAction(escaped(name))
                act.triggered.connect(partial(self.show_elevation, number))
        self.sides.setVisible(len(names) > 1)
        if names:
            shown = names[self._elevation]
            self.sides.setText(escaped(shown))
            said = _("Which side of the building: {name}")
            self.sides.setAccessibleName(said.format(name=shown))

    def _side_of(self, marks: frozenset[str]) -> int | None:
        """Return the side most of the marks are on; the one shown where any is on it."""
        ids = [one.id for one in self._session.sight.work.survey.elevations]
        counts = [
            sum(mark == side or mark.startswith(f"{side}/") for mark in marks) for side in ids
        ]
        if not any(counts):
            return None
        if counts[self._elevation]:
            return self._elevation
        return counts.index(max(counts))

    def _hint(self, has_keyboard: bool) -> None:  # noqa: FBT001 - a signal gives it so
        self.hint.setText(
            _("Tab goes from mark to mark · + and - zoom · 0 shows all the work")
            if has_keyboard
            else _("Point at a price to light its marks here")
        )

    def _say_scale(self) -> None:
        """Say where the drawing is from, and its true scale on this screen."""
        picture, seen = self.board.picture, self.board.view
        if picture is None or seen is None:
            self.scale.setText("")
            return
        screen = self.screen() or QGuiApplication.primaryScreen()
        px_per_mm = screen.logicalDotsPerInch() / MM_PER_INCH
        gaps = {"number": f"{round(px_per_mm / seen.per_mm):,}"}
        said = _("as measured · 1 : {number}")
        if picture.is_told:
            said = _("drawn from the answers · 1 : {number}")
        text = said.format(**gaps)
        if self.scale.fontMetrics().horizontalAdvance(text) > self.width() - LOOK.px(HEAD_ROOM):
            text = _("1 : {number}").format(**gaps)
        self.scale.setText(text)


def _note(sight: Sight, picture: Picture | None) -> str:
    """Return what has to be said under the drawing."""
    if picture is None:
        return ""
    parts = []
    if not sight.assessment.route.allows_price:
        parts.append(_("Drawn without bars: nothing is to be cut before an engineer has looked."))
    if picture.is_told:
        parts.append(_("Not to be built from: sizes are the caller's."))
    return " ".join(parts)
