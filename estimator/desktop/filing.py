"""The one thread that opens, reads and writes the file.

The window never waits for the disk: it asks, and is answered in its own thread. What is asked runs
in the order it was asked, so a read after a save sees what was saved.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtCore import QObject, Signal

from estimator.desktop.courier import Courier
from estimator.notices import UserMistake
from estimator.office.place import FILE_NAME

if TYPE_CHECKING:
    from concurrent.futures import ThreadPoolExecutor

    from estimator.store.database import Database

T = TypeVar("T")
Mishap = Callable[[UserMistake], None]


class Filing(QObject):
    """Asks the file, and carries the answers back."""

    opened = Signal(object)
    """The ``Database``, once it is open; its ``why_read_only`` says when nothing can be kept."""
    refused = Signal(object)
    """A ``UserMistake``: the file could not be opened."""
    mistaken = Signal(object)
    """A ``UserMistake`` that nobody asked to hear of."""
    broke = Signal(object)
    """An exception nobody foresaw."""

    def __init__(self, folder: Path, parent: QObject | None = None) -> None:
        """Look after the file in a folder; nothing is opened yet."""
        super().__init__(parent)
        self.folder = folder
        self._courier = Courier(self)
        self._made: ThreadPoolExecutor | None = None
        self._database: Database | None = None
        self._waiting: list[Callable[[], None]] = []

    @property
    def _thread(self) -> ThreadPoolExecutor:
        if self._made is None:
            # Loaded only now: the first question stands open before anybody asks the file.
            from concurrent.futures import ThreadPoolExecutor  # noqa: PLC0415

            self._made = ThreadPoolExecutor(1, "file")
        return self._made

    @property
    def path(self) -> Path:
        """Where the file is, or will be."""
        return self.folder / FILE_NAME

    @property
    def is_open(self) -> bool:
        """Whether the file is open."""
        return self._database is not None

    @property
    def can_write(self) -> bool:
        """Whether the file is open and may be changed."""
        return self._database is not None and not self._database.is_read_only

    def open(self) -> None:
        """Open the file; what was asked before is then done first."""
        self._thread.submit(self._open)

    def ask(
        self,
        work: Callable[[Database], T],
        then: Callable[[T], None] | None = None,
        *,
        on_mistake: Mishap | None = None,
    ) -> None:
        """Have something done with the file, and be answered in the window's thread."""
        if self._database is None:
            self._waiting.append(lambda: self.ask(work, then, on_mistake=on_mistake))
            return
        self._thread.submit(self._do, self._database, work, then, on_mistake)

    def beside(
        self,
        work: Callable[[Path], T],
        then: Callable[[T], None],
        *,
        on_mistake: Mishap | None = None,
    ) -> None:
        """Have something done in the file's thread that needs no open file."""
        self._thread.submit(self._do, self.path, work, then, on_mistake)

    def instead(
        self,
        work: Callable[[Path], T],
        then: Callable[[T], None],
        *,
        on_mistake: Mishap | None = None,
    ) -> None:
        """Close the file, have something done with it as a whole, and open it again."""
        database, self._database = self._database, None
        if database is not None:
            self._thread.submit(database.close)
        self._thread.submit(self._do, self.path, work, then, on_mistake)
        self._thread.submit(self._open)

    def close(self) -> None:
        """Finish what was asked, and close the file."""
        database, self._database = self._database, None
        if database is not None:
            self._thread.submit(database.close)
        self._thread.shutdown(wait=True)

    def _open(self) -> None:
        try:
            # Loading the database library takes longer than opening the file: both happen here.
            from estimator.desktop import kept  # noqa: PLC0415

            database = kept.opened(self.folder)
        except UserMistake as fault:
            self._carry(self.refused.emit, fault)
        except Exception as error:  # noqa: BLE001 - whatever it was must reach the person
            self._carry(self.broke.emit, error)
        else:
            self._carry(self._opened, database)

    def _opened(self, database: Database) -> None:
        self._database = database
        waiting, self._waiting = self._waiting, []
        for ask in waiting:
            ask()
        self.opened.emit(database)

    def _do(
        self,
        given: Any,
        work: Callable[[Any], Any],
        then: Callable[[Any], None] | None,
        on_mistake: Mishap | None,
    ) -> None:
        try:
            found = work(given)
        except UserMistake as fault:
            self._carry(on_mistake or self.mistaken.emit, fault)
        except Exception as error:  # noqa: BLE001 - whatever it was must reach the person
            self._carry(self.broke.emit, error)
        else:
            if then is not None:
                self._carry(then, found)

    def _carry(self, call: Callable[[Any], None], value: Any) -> None:
        self._courier.carry(lambda: call(value))
