"""The page of backups: what happened, if anything did, and each backup that can be put back.

It is the failure screen too: when the file cannot be opened it says why, and restoring needs no
open file.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.filing import Filing
from estimator.desktop.jobs.wording import day
from estimator.desktop.language import _, counted
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.store.manifest import Backup
    from estimator.store.restore import Restored


class BackupsPage(QFrame):
    """Backups, the newest first, with a button that puts the chosen one back."""

    left = Signal()
    """Back to the desk."""
    restoring = Signal()
    """A backup is about to take the place of the file."""

    def __init__(self, filing: Filing, parent: QWidget | None = None) -> None:
        """Look after one folder's backups."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._filing = filing
        self._heading = words(_("Backups"), role="heading")
        self._trouble = CautionBox()
        self._trouble.hide()
        self._list = QListWidget()
        self._list.setAccessibleName(_("Backups, the newest first"))
        self._list.setProperty("role", "rows")
        self._list.currentRowChanged.connect(self._chosen)
        self._empty = words(_("There is no backup here yet. One is made by itself as you work."))
        self._says = words(role="second")
        self.put_back = button(_("Put this backup back"))
        self.put_back.setEnabled(False)
        self.put_back.clicked.connect(self._restore)
        self._back = quiet_button(_("Back to the desk"))
        self._back.clicked.connect(self.left)
        self._found: tuple[Backup, ...] = ()
        self._lay_out()

    def begin(self) -> None:
        """Show what backups there are now."""
        if self._filing.is_open:
            self._trouble.hide()
            retone(self.put_back, role="")
        self._back.setVisible(True)
        self._look()

    def tell_trouble(self, fault: UserMistake) -> None:
        """Say why the file could not be opened, and what may be put back instead."""
        from estimator.store.faults import DamagedFile  # noqa: PLC0415 - loads the database library

        # What to do is said here by the page: the file's own advice is a command to be typed.
        is_damaged = isinstance(fault, DamagedFile)
        sentence = str(UserMistake(fault.what, why=fault.why) if is_damaged else fault)
        self._trouble.say(
            sentence[:1].upper() + sentence[1:],
            heading=_("The file could not be opened"),
            stop=True,
        )
        # The one thing to do now, so it is the one filled button.
        retone(self.put_back, role="main")
        self._back.setVisible(False)
        self._look()

    def seek(self, typed: str) -> None:
        """Do nothing: backups are few, and in order."""

    def _lay_out(self) -> None:
        inner = QVBoxLayout()
        inner.setSpacing(LOOK.px(12))
        inner.addWidget(self._heading)
        inner.addWidget(self._trouble)
        inner.addWidget(
            words(
                _(
                    "Putting a backup back keeps what is there now beside it, under another name. "
                    "Nothing is thrown away."
                ),
                role="second",
            )
        )
        inner.addWidget(self._list, 1)
        inner.addWidget(self._empty)
        inner.addWidget(self._says)
        row = QHBoxLayout()
        row.addWidget(self.put_back)
        row.addWidget(self._back)
        row.addStretch()
        inner.addLayout(row)
        holder = QWidget()
        holder.setLayout(inner)
        holder.setMaximumWidth(LOOK.px(760))
        outer = QHBoxLayout(self)
        outer.setContentsMargins(20, 20, 20, 20)
        outer.addStretch(1)
        outer.addWidget(holder, 6)
        outer.addStretch(1)

    def _look(self) -> None:
        self._filing.beside(_restorable, self._show, on_mistake=self._say)

    def _show(self, found: tuple[Backup, ...]) -> None:
        self._found = tuple(reversed(found))
        self._list.clear()
        for backup in self._found:
            item = QListWidgetItem(_line(backup))
            item.setSizeHint(QSize(0, LOOK.px(36)))
            self._list.addItem(item)
        self._list.setVisible(bool(found))
        self._empty.setVisible(not found)
        if found:
            self._list.setCurrentRow(0)
            self._list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _chosen(self, row: int) -> None:
        self.put_back.setEnabled(0 <= row < len(self._found))

    def _restore(self) -> None:
        row = self._list.currentRow()
        if 0 <= row < len(self._found):
            backup = self._found[row]
            self.put_back.setEnabled(False)
            self._says.setText(_("Putting it back…"))
            self.restoring.emit()
            self._filing.instead(
                lambda path: _restored(path, backup), self._done, on_mistake=self._say
            )

    def _done(self, restored: Restored) -> None:
        names = ", ".join(path.name for path in restored.kept)
        self._says.setText(
            _("Done. What was there is kept as {names}.").format(names=names)
            if names
            else _("Done.")
        )
        self._trouble.hide()
        self._back.setVisible(True)

    def _say(self, fault: UserMistake) -> None:
        self._says.setText(str(fault))
        self._chosen(self._list.currentRow())


def _restorable(path: Path) -> tuple[Backup, ...]:
    from estimator.store import restore  # noqa: PLC0415 - loads the database library

    return restore.restorable(path)


def _restored(path: Path, backup: Backup) -> Restored:
    from estimator.store import clock, restore  # noqa: PLC0415 - loads the database library

    return restore.restore(path, backup.path, now=clock.now())


def _line(backup: Backup) -> str:
    local = backup.made_at.astimezone()
    jobs = backup.manifest.counts.get("jobs", 0)
    return _("{day}, {time} – {jobs}, {why}").format(
        day=day(local.date(), datetime.date.today()),
        time=f"{local:%H:%M}",
        jobs=counted("{n} job", "{n} jobs", jobs),
        why=backup.manifest.why or _("as it was"),
    )
