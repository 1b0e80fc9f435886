"""A task of the programme with its days, and a way to put it off to another."""

from __future__ import annotations

import datetime

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _, in_full
from estimator.desktop.money.beside import Beside
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.desktop.works import wording
from estimator.desktop.works.coming import ComingDay
from estimator.works.programme import DatedTask, TaskKind


class TaskRow(QWidget):
    """Days, and what is done in them; a visit can be put off, a wait follows from it."""

    changed = Signal()

    def __init__(self, key: str) -> None:
        """Show a task by its key."""
        super().__init__()
        self.key = key
        self.days = words(role="strong", wrap=False)
        self.what = words(role="second")
        self.put_off = quiet_button(_("Put off"))
        self.until = ComingDay(_("To which day"), hint=_("Monday, or 7 Dec"))
        self.until.hide()
        self.put_off.clicked.connect(self._open)
        self.until.typed.connect(lambda _typed: self.changed.emit())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 2)
        layout.setSpacing(0)
        self._head = Beside(self.days, self.put_off)
        for part in (self._head, self.what, self.until):
            layout.addWidget(part)

    def show_task(self, task: DatedTask) -> None:
        """Show its days."""
        self.days.setText(wording.days_of(task))
        title = in_full(task.title)
        is_wait = task.kind is TaskKind.WAIT
        self.what.setText(_("{what}: nobody there").format(what=title) if is_wait else title)
        self.put_off.setVisible(task.is_worked)
        self.put_off.setAccessibleName(_("Put off: {what}").format(what=title))
        self._head.look_again()

    def show_until(self, text: str | None) -> None:
        """Show to which day it is put off, as that was typed; None for not at all."""
        self.until.show_text(text or "")
        self.until.setVisible(text is not None)

    @property
    def told(self) -> str | None:
        """To which day it is put off, as it is typed; None for not at all."""
        return None if self.until.isHidden() else self.until.text

    def read(self, today: datetime.date) -> datetime.date | None:
        """Return the day it is put off to, None for none."""
        return None if self.until.isHidden() else self.until.read(today)

    @property
    def is_wrong(self) -> bool:
        """Whether something is typed that is no day."""
        return bool(self.until.problem.text()) and not self.until.isHidden()

    def _open(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        if self.until.isHidden():
            self.until.show()
            self.until.take_focus()
            return
        self.until.show_text("")
        self.until.complain("")
        self.until.hide()
        self.changed.emit()
