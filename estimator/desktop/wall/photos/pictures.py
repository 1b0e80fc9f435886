"""The pictures of the photographs, read from the file in its own thread and kept while wanted."""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from estimator.desktop.wall.photos.levels import Levels

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.store.database import Database

MOST_KEPT = 8
"""Pictures kept ready, about 16 MB each; house rule."""


class Pictures(QObject):
    """Hands out pictures, and fetches those it does not have."""

    came = Signal(str)
    """The hash of a picture that is there now."""
    lost = Signal(str)
    """The hash of a picture the file does not have."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Ask the file of a session."""
        super().__init__(parent)
        self._session = session
        self._kept: OrderedDict[str, Levels] = OrderedDict()
        self._asked: set[str] = set()
        self._lost: set[str] = set()

    def find(self, name: str) -> Levels | None:
        """Return a picture by its hash; None while it is on its way, which ``came`` will end."""
        found = self._kept.get(name)
        if found is not None:
            self._kept.move_to_end(name)
        elif name not in self._asked and name not in self._lost:
            self._ask(name)
        return found

    def is_lost(self, name: str) -> bool:
        """Whether the file was asked for a picture and does not have it."""
        return name in self._lost

    def keep(self, name: str, levels: Levels) -> None:
        """Keep a picture ready; the one wanted longest ago goes."""
        self._asked.discard(name)
        self._lost.discard(name)
        self._kept[name] = levels
        self._kept.move_to_end(name)
        while len(self._kept) > MOST_KEPT:
            self._kept.popitem(last=False)
        self.came.emit(name)

    def forget(self) -> None:
        """Let all go: another job is on the desk."""
        self._kept.clear()
        self._asked.clear()
        self._lost.clear()

    def _ask(self, name: str) -> None:
        self._asked.add(name)
        job = self._session.job.uid

        def read(database: Database) -> Levels | None:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            return levels_of(kept.photo(database, job, name))

        def came(levels: Levels | None) -> None:
            if name not in self._asked:
                return
            if levels is None:
                self._asked.discard(name)
                self._lost.add(name)
                self.lost.emit(name)
            else:
                self.keep(name, levels)

        self._session.filing.ask(read, came)


def levels_of(jpeg: bytes | None) -> Levels | None:
    """Return a picture unpacked, None where there is none; safe in any thread."""
    if jpeg is None:
        return None
    image = QImage.fromData(jpeg)
    if image.isNull():
        return None
    return Levels.of(image.convertToFormat(QImage.Format.Format_RGB32))
