"""The middle column: the wall drawn live, with what is guessed drawn lighter."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import wording
from estimator.desktop.wall.basis import BasisPick
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.drawing_board import DrawingBoard
from estimator.desktop.wall.legend import Legend
from estimator.desktop.wall.particulars.panel import Particulars
from estimator.desktop.wall.photos.stage import Stage
from estimator.desktop.wall.rail import Rail
from estimator.desktop.wall.side_tabs import SideTabs
from estimator.desktop.wall.tools.tool import Tool
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import words
from estimator.drawing.shapes import Picture

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.desktop.state import Sight

MM_PER_INCH = 25.4
EXACT = "E"
"""Letter that goes from the wall to the sizes of what is selected."""
HEAD_ROOM = 64
"""Room the margins and gaps of the top line take. [px]"""
TIGHT = 560
"""Height of the column below which less is said under the sizes. [px]"""
LOW = 460
"""Height of the column below which less is said in any case: the wall needs the room. [px]"""
FORM_SHARE = 0.36
"""The most the sizes below take of the height of the column; house rule."""


class WallColumn(QFrame):
    """The wall."""

    pointed = Signal(object)
    """The marks under the pointer, a frozenset; empty when it leaves."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self.drafting = Drafting(session, self)
        self.board, self.legend = DrawingBoard(self.drafting), Legend()
        self.rail = Rail(self.drafting)
        self.particulars = Particulars(self.drafting)
        self.title = words(_("The wall"), role="heading", wrap=False)
        self.scale = words(role="second", wrap=False)
        self._came_from: int | None = None
        self._has_keyboard = False
        self.trouble = CautionBox()
        self.trouble.hide()
        self.basis = BasisPick(self.drafting)
        self.sides = SideTabs(self.drafting)
        self.hint, self.note = words(role="second"), words(role="second")
        self.hint.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        self.sides.chosen.connect(self.show_elevation)
        self._lay_out()
        self.board.worth = lambda mark: wording.worth(session.sight, self.drafting.option, mark)
        self.board.pointed.connect(self.pointed)
        self.board.view_changed.connect(self._say_scale)
        self.board.entered.connect(self._hint)
        self.board.hovered.connect(self._say_hint)
        self.board.letter = self._letter
        self.board.keeps_still = self._is_pulling
        self.drafting.picture_changed.connect(self._show_picture)
        self.drafting.side_changed.connect(self._name_side)
        self.drafting.tool_changed.connect(self._say_hint)
        self.drafting.tool_changed.connect(self._show_enough)
        self.drafting.tool_changed.connect(self._make_room)
        self.drafting.selected.connect(self._make_room)
        self.drafting.ghosts_changed.connect(self._say_hint)
        self.drafting.said.connect(self._say_trouble)
        self.drafting.left_particulars.connect(self.take_focus)
        self._say_hint()
        # Prices are painted first: the wall follows in the next turn, so that neither waits long.
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._catch_up)
        session.sight_changed.connect(self._wait_a_turn)
        self._show(session.sight)

    @property
    def option(self) -> int:
        """Which of the options is drawn, the first being 0."""
        return self.drafting.option

    def show_option(self, index: int) -> None:
        """Draw the bars and areas of another option."""
        self.drafting.show_option(index)

    def show_elevation(self, index: int) -> None:
        """Draw another side of the building."""
        self._came_from = None
        self.drafting.show_side(index)

    def light(self, marks: frozenset[str]) -> None:
        """Light up marks and let the rest fade; none lights all alike.

        Marks that are all on another side bring that side up for as long as they are lit.
        """
        if marks:
            side = self._side_of(marks)
            if side is not None and side != self.drafting.side:
                came_from = self.drafting.side if self._came_from is None else self._came_from
                self.show_elevation(side)
                self._came_from = came_from
        elif self._came_from is not None:
            self.show_elevation(self._came_from)
        self.board.light(marks)

    def take_focus(self) -> None:
        """Put the keyboard on the wall."""
        self.board.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the wall most of the room."""
        super().resizeEvent(event)
        self.particulars.leave_room(round(self.height() * FORM_SHARE))
        self._say_scale()
        self._make_room()

    def _make_room(self, _what: object = None) -> None:
        """Where there is little height, say less below, and sooner while sizes are shown."""
        enough = LOW if self.particulars.isHidden() else TIGHT
        is_tight = self.height() < LOOK.px(enough)
        has_picture = self.board.picture is not None
        self.legend.setVisible(has_picture and not is_tight)
        self.hint.setVisible(has_picture and not is_tight)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(16)
        head.addWidget(self.title)
        head.addStretch()
        head.addWidget(self.basis)
        head.addWidget(self.scale)
        foot = QHBoxLayout()
        foot.setSpacing(16)
        foot.addWidget(self.note, 1)
        foot.addWidget(self.hint, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 12)
        layout.setSpacing(8)
        layout.addLayout(head)
        layout.addWidget(self.sides)
        middle = QHBoxLayout()
        middle.setSpacing(8)
        middle.addWidget(self.board, 1)
        self.stage = Stage(self.board, middle, self)
        drawing = QVBoxLayout()
        drawing.setSpacing(8)
        drawing.addLayout(middle, 1)
        drawing.addWidget(self.particulars)
        drawing.addWidget(self.legend)
        # The rail stands beside all of it: the words of the tools stay when sizes need room.
        beside = QHBoxLayout()
        beside.setSpacing(8)
        beside.addWidget(self.rail)
        beside.addLayout(drawing, 1)
        layout.addWidget(self.trouble)
        layout.addLayout(beside, 1)
        layout.addLayout(foot)

    def _wait_a_turn(self, _sight: Sight) -> None:
        self._soon.start(0)

    def _catch_up(self) -> None:
        self._show(self._session.sight)

    def _show(self, sight: Sight) -> None:
        self.drafting.show_sight(sight)
        self._list_sides(sight)

    def _show_picture(self, picture: Picture | None) -> None:
        sight = self._session.sight
        self.legend.show_picture(picture)
        self.rail.setVisible(picture is not None)
        self._make_room()
        self.note.setText(_note(sight, picture))
        self.note.setVisible(bool(self.note.text()))
        self._say_scale()

    def _list_sides(self, sight: Sight) -> None:
        """Show the sides of the building, and who took their sizes."""
        has_wall = bool(sight.work.survey.elevations)
        self.sides.setVisible(has_wall)
        self.basis.setVisible(has_wall)
        self.sides.follow()
        self.basis.show_basis(sight.work.survey.basis)

    def _name_side(self, _side: int) -> None:
        self._list_sides(self._session.sight)

    def _is_pulling(self) -> bool:
        """Whether a hand pulls at the wall, which must not move under it."""
        return self.drafting.is_trying and not self.drafting.tool.is_by_keys

    def _show_enough(self, tool: Tool) -> None:
        """Show the whole wall, with room round it, to the tool that pulls it larger."""
        self.board.show_around(around=tool.name == "wall")

    def _letter(self, letter: str) -> bool:
        """Take up the tool of a letter; E puts the keyboard on the sizes below."""
        if letter == EXACT and self.particulars.take_focus():
            return True
        return self.rail.take_by_letter(letter)

    def _side_of(self, marks: frozenset[str]) -> int | None:
        """Return the side most of the marks are on; the one shown where any is on it."""
        ids = [one.id for one in self._session.sight.work.survey.elevations]
        counts = [
            sum(mark == side or mark.startswith(f"{side}/") for mark in marks) for side in ids
        ]
        if not any(counts):
            return None
        if counts[self.drafting.side]:
            return self.drafting.side
        return counts.index(max(counts))

    def _hint(self, has_keyboard: bool) -> None:  # noqa: FBT001 - a signal gives it so
        self._has_keyboard = has_keyboard
        self._say_hint()

    def _say_hint(self, _tool: object = None) -> None:
        """Say what to do next: with the tool in hand, or else with the keyboard."""
        hint = self.drafting.tool.hint()
        is_looking = self.drafting.tool.points_at_marks and not self.drafting.selection
        if self._has_keyboard and is_looking:
            hint = _("Tab goes from mark to mark · + and - zoom · 0 shows all · D dimensions")
        self.hint.setText(hint)

    def _say_trouble(self, sentence: str) -> None:
        self.trouble.say(sentence)
        self.trouble.setVisible(bool(sentence))

    def _say_scale(self) -> None:
        """Say where the drawing is from, and its true scale on this screen."""
        picture, seen = self.board.picture, self.board.view
        if picture is None or seen is None:
            self.scale.setText("")
            return
        screen = self.screen() or QGuiApplication.primaryScreen()
        px_per_mm = screen.logicalDotsPerInch() / MM_PER_INCH
        gaps = {"number": f"{round(px_per_mm / seen.per_mm):,}"}
        said = _("1 : {number}")
        if picture.is_told and not self._session.sight.work.survey.drawn:
            said = _("drawn from the answers · 1 : {number}")
        self._fit_head(said.format(**gaps), _("1 : {number}").format(**gaps))

    def _fit_head(self, scale: str, short: str) -> None:
        """Say in the top line what there is room for: who took the sizes comes first."""
        room = self.width() - LOOK.px(HEAD_ROOM) - self.basis.sizeHint().width()
        wide = self.scale.fontMetrics().horizontalAdvance
        title = self.title.sizeHint().width()
        short = short if wide(short) <= room else ""
        self.scale.setText(scale if wide(scale) + title <= room else short)
        self.title.setVisible(wide(short) + title <= room)


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
