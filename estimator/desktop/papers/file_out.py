"""Saves what a job gives to other programs where the person chooses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QStandardPaths, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers.asking import ask
from estimator.whole_file import write_whole

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.store.database import Database


@dataclass(frozen=True, slots=True)
class Out:
    """A file that can be saved."""

    name: str
    """Offered as its name, with the ending."""
    title: str
    """Of the window that asks where to."""
    kind: str
    """What such files are, as the window lists them: ``Calendars (*.ics)``."""
    make: Callable[[Database, str], bytes]
    """Called in the file's thread with the file and the job's uid."""


class WithSession(Protocol):
    """Whoever knows the session."""

    @property
    def session(self) -> Session:
        """The session of the desk."""
        ...


class FileOut(QObject):
    """Asks where a file is to go, and writes it whole or not at all."""

    said = Signal(str)
    """Where it was saved."""
    mistaken = Signal(object)
    """A ``UserMistake``: why it was not."""

    def __init__(self, following: WithSession, parent: QWidget) -> None:
        """Save nothing yet."""
        super().__init__(parent)
        self._following, self._parent = following, parent
        self.choose_path: Callable[[Out, Callable[[str], None]], None] = self._choose
        """Asks where the file is to go."""

    def save(self, out: Out) -> None:
        """Save a file where the person chooses."""
        self.choose_path(out, lambda path: self._make(out, Path(path)))

    def _make(self, out: Out, path: Path) -> None:
        session = self._following.session
        uid = session.job.uid

        def write(database: Database) -> Path:
            write_whole(path, out.make(database, uid))
            return path

        ask(self, session.filing, write, self._written, on_mistake=self.mistaken.emit)

    def _written(self, path: Path) -> None:
        self.said.emit(_("Saved as {name} in {folder}.").format(name=path.name, folder=path.parent))

    def _choose(self, out: Out, then: Callable[[str], None]) -> None:
        ask_where(self._parent, out.name, out.title, out.kind, then)


def ask_where(over: QWidget, name: str, title: str, kind: str, then: Callable[[str], None]) -> None:
    """Ask where a file is to be saved, without holding the window up.

    Args:
        over: Lies in the window that asks.
        name: Offered as its name, with the ending.
        title: Of what asks.
        kind: What such files are: ``Calendars (*.ics)``.
        then: Told the path, once one is chosen.
    """
    places = QStandardPaths.StandardLocation.DocumentsLocation
    folder = QStandardPaths.writableLocation(places)
    dialog = QFileDialog(over.window(), title, folder)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setNameFilter(kind)
    dialog.setDefaultSuffix(name.rpartition(".")[2])
    dialog.selectFile(name)
    dialog.fileSelected.connect(then)
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
