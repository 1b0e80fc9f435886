"""Changes of prices, one after another: each is asked of the file, and the open job follows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.notices import UserMistake
from estimator.store.book_parts import Entry

if TYPE_CHECKING:
    from estimator.desktop.price_book.asked import Done
    from estimator.store.database import Database


class Changes(QObject):
    """What is done to the price book, and what the open job makes of it."""

    done = Signal(str)
    """A change is in the file and the open job is priced with it; what it was, in words."""
    refused = Signal(object)
    """A ``UserMistake``: nothing was changed."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Change the price book of a session."""
        super().__init__(parent)
        self._session = session

    @property
    def can_write(self) -> bool:
        """Whether the file may be changed."""
        return self._session.filing.can_write

    def change(self, entries: Sequence[Entry], why: str) -> None:
        """Keep changed entries as one new price book."""

        def work(database: Database) -> Done:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.change(database, entries, why)

        self.ask(work)

    def make_own(self, entries: Sequence[Entry]) -> None:
        """Mark entries as one's own figures."""

        def work(database: Database) -> Done:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.confirm(database, entries)

        self.ask(work)

    def undo(self, batch: int) -> None:
        """Take the newest change back."""

        def work(database: Database) -> Done:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.undo(database, batch)

        self.ask(work, told=_("Taken back: {change}"))

    def ask(
        self,
        work: Callable[[Database], Done],
        *,
        told: str = "{change}",
        on_mistake: Callable[[UserMistake], None] | None = None,
    ) -> None:
        """Have something done in the file's thread; the open job follows when it is."""

        def then(done: Done) -> None:
            self._session.use(done.practice)
            self.done.emit(told.format(change=done.told))

        self._session.filing.ask(work, then, on_mistake=on_mistake or self.refused.emit)
