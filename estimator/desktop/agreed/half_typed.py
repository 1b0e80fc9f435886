"""What is half typed in a form, kept with its job, so that a restart or a kill loses none of it."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal

from estimator.desktop.agreed.fields import Picked, Ticked
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.written import Written
from estimator.desktop.session import SAVE_AFTER_MS, Session

if TYPE_CHECKING:
    from estimator.store.database import Database

Field = Written | Picked[Any] | Ticked
State = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a form that is no usual field: what stands there, and how it is shown again."""

    read: Callable[[], Any]
    """Returns it as JSON holds it."""
    show: Callable[[Any], object]
    begins: Any = None
    """What stands there before anything is typed; what ``read`` returns then, where None."""


class HalfTyped(QObject):
    """Keeps what was typed over what a form began with, for the job on the desk."""

    shown = Signal()
    """What was half typed came out of the file late, and stands in the form now."""

    def __init__(
        self, session: Session, name: str, fields: Mapping[str, Field | Part], parent: QObject
    ) -> None:
        """Follow a form.

        Args:
            session: Whose job it is about.
            name: Of the form; no two forms have the same.
            fields: All that is typed, ticked or picked there, each by its own name.
            parent: Who it belongs to.
        """
        super().__init__(parent)
        self._session, self._name = session, name
        self._parts = {key: _part(field) for key, field in fields.items()}
        self._uid = session.job.uid
        self._began: State | None = None
        self._typed: State = {}
        self._is_kept = self._is_new = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(SAVE_AFTER_MS)
        self._rest.timeout.connect(self.keep)
        for field in fields.values():
            if isinstance(field, Written):
                field.typed.connect(self.note)
            elif not isinstance(field, Part):
                field.changed.connect(self.note)
        session.job_changed.connect(self._job_changed)
        session.closing.connect(self.keep)
        session.filing.opened.connect(self._load)
        if session.filing.is_open:
            self._load()

    @property
    def is_anything(self) -> bool:
        """Whether something is half typed."""
        return bool(self._typed)

    def begin(self) -> None:
        """Take the form as it stands for what it begins with, and show what was half typed."""
        self._began = self._beginning()
        self._show()

    def note(self, _typed: object = None) -> None:
        """Keep what stands there now, once that rests."""
        if self._began is None:
            return
        began = self._began
        self._typed = {key: one for key, one in self._read().items() if one != began.get(key)}
        self._is_new = True
        self._rest.start()

    def done(self) -> None:
        """Forget it: it is in the file as what it was typed for."""
        self._began, self._typed, self._is_new = self._beginning(), {}, True
        self.keep()

    def keep(self) -> None:
        """Keep it now, if there is anything new to keep."""
        self._rest.stop()
        filing = self._session.filing
        is_only_looked_at = filing.is_open and not filing.can_write
        if not self._is_new or is_only_looked_at or not (self._typed or self._is_kept):
            return
        self._is_new, self._is_kept = False, bool(self._typed)
        name, uid = self._name, self._uid
        document = json.dumps(self._typed, ensure_ascii=False) if self._typed else ""

        def kept_by(database: Database) -> None:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            asked.keep_form(database, uid, name, document)

        filing.ask(kept_by)

    def _read(self) -> State:
        return {key: part.read() for key, part in self._parts.items()}

    def _beginning(self) -> State:
        told = {key: one.begins for key, one in self._parts.items() if one.begins is not None}
        return {**self._read(), **told}

    def _show(self) -> None:
        for key, told in self._typed.items():
            if key in self._parts:
                self._parts[key].show(told)

    def _load(self, _database: object = None) -> None:
        uid, name = self._uid, self._name

        def read(database: Database) -> str:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.form(database, uid, name)

        def came(document: str) -> None:
            # What was typed meanwhile is newer.
            if uid == self._uid and not self._typed and document:
                self._typed, self._is_kept = json.loads(document), True
                if self._began is not None:
                    self._show()
                    self.shown.emit()

        ask(self, self._session.filing, read, came)

    def _job_changed(self, _job: object) -> None:
        uid = self._session.job.uid
        if uid == self._uid:
            return
        self.keep()
        self._uid, self._began, self._typed = uid, None, {}
        self._is_kept = self._is_new = False
        if self._session.filing.is_open:
            self._load()


def _part(field: Field | Part) -> Part:
    if isinstance(field, Part):
        return field
    if isinstance(field, Written):
        return Part(lambda: field.text, lambda told: field.show_text(str(told)))
    if isinstance(field, Ticked):
        return Part(lambda: field.is_on, lambda told: field.tick(on=told is True))
    return Part(lambda: _plain(field.value), lambda told: _pick(field, told))


def _pick(field: Picked[Any], told: object) -> None:
    for value in field.values:
        if _plain(value) == told:
            field.pick(value)


def _plain(value: object) -> str:
    """Return what was picked as text."""
    if isinstance(value, Enum):
        return str(value.value)
    return "" if value is None else str(value)
