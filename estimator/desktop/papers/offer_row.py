"""What is offered on a paper: a tick to each choice, and its price as it will be printed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers.made import Draft
from estimator.desktop.session import Session
from estimator.desktop.widgets.words import words
from estimator.quoting import edits
from estimator.takeoff.scope import ALL, Scope


class Choice(QWidget):
    """One choice: a tick, its title that wraps, and its price under that."""

    def __init__(self, scope: Scope, *, ticked: bool) -> None:
        """Show a choice by its usual title until the paper gives it one."""
        super().__init__()
        self.scope = scope
        self.box = QCheckBox()
        self.box.setChecked(ticked)
        self.title = words()
        self.price = words(role="strong")
        beside = QVBoxLayout()
        beside.setContentsMargins(0, 5, 0, 5)
        beside.setSpacing(0)
        beside.addWidget(self.title)
        beside.addWidget(self.price)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        row.addWidget(self.box, 0, Qt.AlignmentFlag.AlignTop)
        row.addLayout(beside, 1)
        self.say(scope.title, "")

    def say(self, title: str, price: str, *, is_current: bool = True) -> None:
        """Show the title and the price; pale while a newer one is being worked out."""
        self.title.setText(title)
        self.price.setText(price)
        self.price.setVisible(bool(price))
        self.price.setEnabled(is_current)
        self.box.setAccessibleName(title)
        self.box.setAccessibleDescription(price)

    def mousePressEvent(self, _event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take a press on the words for one on the tick."""
        self.box.click()


class OfferRow(QWidget):
    """The choices, each with a tick."""

    changed = Signal()
    """Nothing is ticked, or something is again."""

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self.choices: list[Choice] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self.problem = words(tone="stop")
        self.problem.hide()
        self._layout.addWidget(self.problem)

    @property
    def offers_any(self) -> bool:
        """Whether anything is ticked."""
        return any(one.box.isChecked() for one in self.choices) or not self.choices

    def begin(self) -> None:
        """List the usual choices and the job's own, those of the job ticked."""
        for one in self.choices:
            self._layout.removeWidget(one)
            one.hide()
            one.deleteLater()
        offered = {scope.key: scope for scope in self._session.work.scopes}
        self.choices = [
            Choice(scope, ticked=scope.key in offered) for scope in {**ALL, **offered}.values()
        ]
        for place, one in enumerate(self.choices):
            one.box.toggled.connect(self._ticked)
            self._layout.insertWidget(place, one)

    def show_draft(self, draft: Draft | None) -> None:
        """Write the price of each choice under it; those before stay, pale, until then."""
        if draft is None:
            for one in self.choices:
                price = one.price.text() if one.box.isChecked() else ""
                one.say(one.title.text(), price, is_current=False)
            return
        told = {one.key: one for one in draft.offered}
        for one in self.choices:
            found = told.get(one.scope.key)
            if found is not None:
                one.say(found.title, found.price)
            elif one.box.isChecked():
                one.say(one.scope.title, _("Nothing to do on this wall"))
            else:
                one.say(one.title.text(), "")

    def complain(self, text: str) -> None:
        """Show what is missing, or nothing."""
        self.problem.setText(text)
        self.problem.setVisible(bool(text))

    def take_focus(self) -> None:
        """Put the keyboard on the first choice."""
        self.choices[0].box.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _ticked(self) -> None:
        scopes = tuple(one.scope for one in self.choices if one.box.isChecked())
        if scopes:
            self._session.apply(edits.offer(self._session.work, scopes))
        self.changed.emit()
