"""A calm line while the wall no longer follows the answers, and the way back to them."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake
from estimator.survey.survey import Basis, Survey


class DrawnByHand(QFrame):
    """Says who drew the wall, where it was not the answers."""

    drawn_anew = Signal()
    """The wall is made from the answers again."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Wait hidden until a wall is drawn or measured."""
        super().__init__(parent)
        self._session = session
        self.line = words(role="second")
        self.from_answers = quiet_button(_("Draw it from the answers again"))
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 8)
        column.setSpacing(0)
        column.addWidget(self.line)
        column.addWidget(self.from_answers, alignment=Qt.AlignmentFlag.AlignLeft)
        self.from_answers.clicked.connect(self._draw_anew)
        self.hide()

    def _draw_anew(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Make the wall of the answers again; undo brings the drawn one back."""
        # Loaded only now: a call can be taken down before walls can be drawn.
        from estimator.quoting.wall_edits import sides  # noqa: PLC0415

        try:
            edit = sides.from_answers(self._session.work)
        except UserMistake as mistake:
            self._session.mistaken.emit(mistake)
        else:
            self._session.apply(edit)
            self.drawn_anew.emit()

    def show_survey(self, survey: Survey) -> None:
        """Show how the wall of a survey came about; nothing while the answers make it."""
        is_measured = survey.basis is Basis.MEASURED
        line = _("The wall is drawn by hand. Sizes are changed on the wall.")
        if is_measured:
            line = _("The wall was measured on site. Sizes are changed on the wall.")
        if self.line.text() != line:
            self.line.setText(line)
        # A wall somebody measured is not given up for what a caller said.
        self.from_answers.setVisible(not is_measured)
        self.setVisible(is_measured or survey.drawn)
