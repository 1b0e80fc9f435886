"""What is offered on a paper: a tick to each choice, and its price as it will be printed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QLabel, QSizePolicy, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers.made import Draft
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import escaped
from estimator.desktop.widgets.words import words
from estimator.quoting import edits
from estimator.takeoff.scope import ALL, Scope


class OfferRow(QWidget):
    """The choices, each with a tick."""

    changed = Signal()
    """Nothing is ticked, or something is again."""

    def __init__(self, session: Session) -> None:
        """Follow a session."""
        super().__init__()
        self._session = session
        self._boxes: dict[str, tuple[QCheckBox, QLabel, Scope]] = {}
        self._titles: dict[str, tuple[str, str]] = {}
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.setSpacing(0)
        self.problem = words(tone="stop")
        self.problem.hide()
        self._layout.addWidget(self.problem)
        self._is_empty = False

    @property
    def offers_any(self) -> bool:
        """Whether anything is ticked."""
        return not self._is_empty

    def begin(self) -> None:
        """List the usual choices and the job's own, those of the job ticked."""
        self._is_empty = False
        for box, price, _scope in self._boxes.values():
            for part in (box, price):
                self._layout.removeWidget(part)
                part.deleteLater()
        self._boxes.clear()
        offered = {scope.key: scope for scope in self._session.work.scopes}
        for scope in {**ALL, **offered}.values():
            self._add(scope, ticked=scope.key in offered)
        self._layout.addWidget(self.problem)

    def show_draft(self, draft: Draft | None) -> None:
        """Write the price of each choice under it; the ones before stay pale until then."""
        if draft is not None:
            self._titles = {one.key: (one.title, one.price) for one in draft.offered}
        for key, (box, price, scope) in self._boxes.items():
            title, said = self._titles.get(key, (scope.title, ""))
            if box.isChecked() and draft is not None and not said:
                said = _("Nothing to do on this wall")
            box.setText(escaped(title))
            box.setToolTip(title)
            price.setText(said if box.isChecked() else "")
            price.setVisible(bool(price.text()))
            price.setEnabled(draft is not None)
            box.setAccessibleDescription(price.text())

    def complain(self, text: str) -> None:
        """Show what is missing, or nothing."""
        self.problem.setText(text)
        self.problem.setVisible(bool(text))

    def take_focus(self) -> None:
        """Put the keyboard on the first choice."""
        next(iter(self._boxes.values()))[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _add(self, scope: Scope, *, ticked: bool) -> None:
        box = QCheckBox(escaped(scope.title))
        box.setChecked(ticked)
        # A long name of their own is cut off rather than widening the column; it is told whole.
        box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        price = words(role="strong", wrap=False)
        price.setContentsMargins(LOOK.px(28), 0, 0, 4)
        price.hide()
        box.toggled.connect(self._ticked)
        self._layout.addWidget(box)
        self._layout.addWidget(price)
        self._boxes[scope.key] = (box, price, scope)

    def _ticked(self) -> None:
        scopes = tuple(scope for box, _price, scope in self._boxes.values() if box.isChecked())
        self._is_empty = not scopes
        if scopes:
            self._session.apply(edits.offer(self._session.work, scopes))
        self.changed.emit()
