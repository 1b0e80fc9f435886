"""The strip below the board: the sizes of what is selected, to read and to type."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.forms import form_for


class Particulars(QFrame):
    """Shows the form of what is selected, and keeps it while only its numbers change."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Begin with nothing selected."""
        super().__init__(parent)
        self._drafting = drafting
        self._form: Form | None = None
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        drafting.selected.connect(self._show)
        drafting.tool_changed.connect(self._show)
        drafting.side_changed.connect(self._show)
        drafting.picture_changed.connect(self._follow)
        self.hide()

    @property
    def form(self) -> Form | None:
        """The form shown, None while nothing is selected."""
        return self._form

    def _show(self, _what: object = None) -> None:
        """Show the form of what is selected, or of the tool in hand."""
        if self._form is not None:
            self._layout.removeWidget(self._form)
            self._form.hide()
            self._form.deleteLater()
        self._form = form_for(self._drafting)
        if self._form is not None:
            self._layout.addWidget(self._form)
            self._form.follow()
        self.setVisible(self._form is not None)

    def _follow(self, _picture: object) -> None:
        """Show what the drawing says now; what was removed lets its form go."""
        if self._form is not None and not self._form.follow():
            self._drafting.select("")
            self._show()
