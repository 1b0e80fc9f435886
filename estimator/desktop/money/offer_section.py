"""The line under the ladder that opens to what is offered and by which rules."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.money.ladder_rows import LadderRow
from estimator.desktop.money.offer_editor import OfferEditor
from estimator.desktop.money.row import RowWidget
from estimator.desktop.session import Session
from estimator.desktop.state import Sight


class OfferSection(QWidget):
    """A row that opens in place; the editor is made when it is first wanted."""

    opened = Signal()
    """It was opened, and there is more for Tab to stop at."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Begin closed."""
        super().__init__(parent)
        self._session = session
        self._editor: OfferEditor | None = None
        self._is_open = False
        self.row = RowWidget()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(8)
        self._layout.addWidget(self.row)
        self.row.clicked.connect(self.toggle)
        self.row.stepped.connect(self._step)
        self.row.make_tab_stop(stop=True)

    @property
    def editor(self) -> OfferEditor:
        """The editor, made now if it never was."""
        if self._editor is None:
            self._editor = OfferEditor(self._session)
            self._layout.addWidget(self._editor)
            self._editor.setVisible(self._is_open)
        return self._editor

    @property
    def last_stop(self) -> QWidget:
        """The last thing in here that Tab stops at."""
        return self.row if self._editor is None else self._editor.last_stop

    def show_sight(self, sight: Sight) -> None:
        """Say how many rules are this job's own, and show them where it is open."""
        changed = len(sight.work.rule_changes)
        note = ""
        if changed:
            note = counted("{n} rule of this job’s own", "{n} rules of this job’s own", changed)
        title = _("What is offered, and by which rules")
        self.row.show_row(LadderRow("offer", title, note=note, is_open=self._is_open))
        if self._editor is not None and self._is_open:
            self._editor.show_sight(sight)

    def open(self) -> None:
        """Open it and put the keyboard on the first choice."""
        self._set_open(to=True)
        self.editor.take_focus()

    def toggle(self) -> None:
        """Open it, or close it."""
        self._set_open(to=not self._is_open)

    def _step(self, how: str) -> None:
        if how in ("left", "right"):
            self._set_open(to=how == "right")

    def _set_open(self, *, to: bool) -> None:
        self._is_open = to
        self.editor.setVisible(to)
        self.show_sight(self._session.sight)
        if to:
            self.opened.emit()
