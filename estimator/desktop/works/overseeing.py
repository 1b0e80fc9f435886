"""Follows the works of the open job: worked out in the file's thread, shown in the window's."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from estimator.desktop.agreed.following import Following
from estimator.desktop.papers.asking import ask

if TYPE_CHECKING:
    from estimator.desktop.works.state import Works
    from estimator.store.database import Database


class Overseeing(QObject):
    """Holds what the works have come to; None while nothing is agreed or it is worked out."""

    changed = Signal()

    def __init__(self, following: Following, parent: QObject | None = None) -> None:
        """Follow what the job has come to."""
        super().__init__(parent or following)
        self.following = following
        self.works: Works | None = None
        self._asked = 0
        following.changed.connect(self.look)
        self.look()

    def look(self) -> None:
        """Work out anew what the works have come to."""
        self._asked += 1
        number, so_far = self._asked, self.following.so_far
        session = self.following.session
        if so_far.contract is None or not session.filing.is_open:
            self._take(number, None)
            return
        uid, today = session.job.uid, session.today()

        def read(database: Database) -> Works:
            from estimator.desktop.works import looked_at  # noqa: PLC0415 - loads the database

            return looked_at.works_of(database, uid, so_far, today)

        ask(self, session.filing, read, lambda found: self._take(number, found))

    def _take(self, number: int, works: Works | None) -> None:
        if number == self._asked and works != self.works:
            self.works = works
            self.changed.emit()
