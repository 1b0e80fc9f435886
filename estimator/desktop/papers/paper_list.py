"""Papers that went out for the open job: any of them is shown as the very bytes that were kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers import checks
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words

if TYPE_CHECKING:
    from estimator.desktop.papers.issuing import Listed
    from estimator.store.database import Database


class PaperList(QWidget):
    """A line to each paper, the last first; hidden while there is none."""

    wanted = Signal(str)
    """The number of a paper to be shown."""
    filled = Signal()
    """The list was read anew."""

    def __init__(self, session: Session) -> None:
        """Ask the file for nothing yet."""
        super().__init__()
        self._session = session
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 12, 0, 0)
        self._layout.setSpacing(0)
        title = words(_("Papers of this job"), role="second")
        title.setContentsMargins(8, 0, 0, 0)
        self._layout.addWidget(title)
        self._lines: list[QWidget] = []
        self.hide()

    def refresh(self) -> None:
        """Read the papers of the open job."""
        uid = self._session.job.uid

        def read(database: Database) -> tuple[Listed, ...]:
            from estimator.desktop.papers import issuing  # noqa: PLC0415 - loads the database

            return issuing.listed(database, uid)

        ask(self, self._session.filing, read, lambda found: self._fill(uid, found))

    def clear(self) -> None:
        """Show no papers."""
        for line in self._lines:
            self._layout.removeWidget(line)
            line.hide()
            line.deleteLater()
        self._lines.clear()
        self.hide()

    def _fill(self, uid: str, found: tuple[Listed, ...]) -> None:
        if uid != self._session.job.uid:
            return
        self.clear()
        for one in found:
            line = WrappedLine(_line(one))
            line.clicked.connect(lambda _ticked=False, number=one.number: self.wanted.emit(number))
            self._layout.addWidget(line)
            self._lines.append(line)
        self.setVisible(bool(found))
        self.filled.emit()


def _line(one: Listed) -> str:
    gaps = {"kind": checks.kind_named(one.kind), "number": one.number, "date": one.date}
    if one.superseded_by:
        return _("{kind} {number}, {date}, replaced by {later}").format(
            **gaps, later=one.superseded_by
        )
    return _("{kind} {number}, {date}").format(**gaps)
