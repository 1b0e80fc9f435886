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
    from estimator.desktop.price_book.bought_from import Seller
    from estimator.store.database import Database
    from estimator.store.price_books import Rate


class Changes(QObject):
    """What is done to the price book, and what the open job makes of it."""

    done = Signal(str)
    """A change is in the file and the open job is priced with it; what it was, in words."""
    noted = Signal(str)
    """Something that moves no price is in the file; what it was, in words."""
    told = Signal(object, object, object)
    """An entry, every ``Rate`` it had, the newest first, and its ``Seller``."""
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

    def look_up(self, entry: Entry) -> None:
        """Have the file tell what an entry was, and who sells it."""

        def work(database: Database) -> tuple[tuple[Rate, ...], Seller]:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.told_of(database, entry)

        self._session.filing.ask(work, lambda found: self.told.emit(entry, *found))

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

    def buy_from(self, entry: Entry, name: str) -> None:
        """Keep who sells something: part of no price book, so no price follows."""

        def work(database: Database) -> str:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.buy_from(database, entry, name)

        self._session.filing.ask(work, self.noted.emit, on_mistake=self.refused.emit)

    def undo(self, batch: int) -> None:
        """Take the newest change back: of who sells something where no batch is named."""
        if not batch:
            self._undo_seller()
            return

        def work(database: Database) -> Done:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.undo(database, batch)

        self.ask(work, told=_("Taken back: {change}"))

    def _undo_seller(self) -> None:
        def work(database: Database) -> str:
            from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

            return asked.undo_seller(database)

        def then(told: str) -> None:
            self.noted.emit(_("Taken back: {change}").format(change=told))

        self._session.filing.ask(work, then, on_mistake=self.refused.emit)

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
