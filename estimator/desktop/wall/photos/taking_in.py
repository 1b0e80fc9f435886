"""Photographs coming in: read, made small and put into the job's file beside the window's work."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, QObject, Signal
from PySide6.QtGui import QImage

from estimator.desktop.language import _
from estimator.desktop.wall.photos.levels import Levels
from estimator.desktop.wall.photos.pictures import levels_of
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.exchange.photographs import TakenIn
    from estimator.store.database import Database

MOST_AT_ONCE = 24
"""So many photographs are taken in at one drop; house rule."""
Given = Path | QImage


@dataclass(frozen=True, slots=True)
class Read:
    """One photograph as it will be kept, and unpacked."""

    taken: TakenIn
    levels: Levels
    name: str
    """What it is called where nobody has given it a caption; empty for a picture with no name."""


class TakingIn(QObject):
    """Takes photographs in, one after the other, until it is stopped."""

    changed = Signal()
    """Another photograph is being read, or none any more."""
    came = Signal(object)
    """A ``Read``: it is in the job's file now."""
    refused = Signal(object)
    """A ``UserMistake``: why one could not be taken in."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Put what comes into the file of a session."""
        super().__init__(parent)
        self._session = session
        self._waiting: deque[Given] = deque()
        self._now: Given | None = None
        self._turn = 0

    @property
    def is_busy(self) -> bool:
        """Whether a photograph is being read."""
        return self._now is not None

    @property
    def still(self) -> int:
        """How many are to come, with the one being read."""
        return len(self._waiting) + self.is_busy

    @property
    def name(self) -> str:
        """What the photograph being read is called."""
        return self._now.name if isinstance(self._now, Path) else ""

    def take(self, given: Iterable[Given]) -> None:
        """Take photographs in: files, or a picture that was copied."""
        several = list(given)
        filing = self._session.filing
        if filing.is_open and not filing.can_write:
            self._refuse(_only_looking())
        elif len(several) > MOST_AT_ONCE:
            self._refuse(_too_many())
        else:
            self._waiting.extend(several)
            if not self.is_busy:
                self._next()

    def stop(self) -> None:
        """Take no more in; what is being read is thrown away."""
        self._turn += 1
        self._waiting.clear()
        self._now = None
        self.changed.emit()

    def _refuse(self, mistake: UserMistake) -> None:
        self.refused.emit(mistake)

    def _next(self) -> None:
        self._now = self._waiting.popleft() if self._waiting else None
        self.changed.emit()
        if self._now is None:
            return
        given, turn = self._now, self._turn

        def read(_path: Path) -> Read:
            return read_in(given)

        def failed(mistake: UserMistake) -> None:
            if turn == self._turn:
                self._refuse(mistake)
                self._next()

        self._session.filing.beside(read, self._in_turn(turn, self._keep), on_mistake=failed)

    def _in_turn(self, turn: int, then: Callable[[Read], None]) -> Callable[[Read], None]:
        def came(read: Read) -> None:
            if turn == self._turn:
                then(read)

        return came

    def _keep(self, read: Read) -> None:
        """Put a photograph into the file; the job goes there first if it never was."""
        job, turn = self._session.job, self._turn
        self._session.save()

        def keep(database: Database) -> Read:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            kept.keep_photo(database, job, read.taken)
            return read

        def failed(mistake: UserMistake) -> None:
            if turn == self._turn:
                self._refuse(mistake)
                self._next()

        self._session.filing.ask(keep, self._in_turn(turn, self._kept), on_mistake=failed)

    def _kept(self, read: Read) -> None:
        self.came.emit(read)
        self._next()


def read_in(given: Given) -> Read:
    """Return a photograph as it is kept; safe in any thread.

    Raises:
        UserMistake: for what is no photograph, too large, or of a kind that cannot be read.
    """
    # Loads the picture library: only when a photograph comes, and never in the window's thread.
    from estimator.exchange.photographs import take_in  # noqa: PLC0415

    taken = take_in(given if isinstance(given, Path) else _png(given))
    levels = levels_of(taken.picture)
    if levels is None:
        raise UserMistake("the picture could not be unpacked", do="save it as JPEG and try again")
    return Read(taken, levels, given.stem if isinstance(given, Path) else "")


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    # Not packed tightly: it is unpacked again at once.
    image.save(buffer, "PNG", 90)  # type: ignore[call-overload]
    return bytes(buffer.data().data())


def _only_looking() -> UserMistake:
    return UserMistake(
        _("the file may only be looked at"), do=_("close it elsewhere, then add the photograph")
    )


def _too_many() -> UserMistake:
    return UserMistake(
        _("so many photographs are more than one drop takes"),
        do=_("drop {n} at the most").format(n=MOST_AT_ONCE),
    )
