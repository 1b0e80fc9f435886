"""Who took the sizes: told on the telephone, or measured on site."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QButtonGroup, QFrame, QHBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars.choices import bases
from estimator.desktop.wall.particulars.field import toggle
from estimator.desktop.widgets.buttons import one_stop
from estimator.desktop.widgets.words import words
from estimator.notices import UserMistake
from estimator.quoting.wall_edits import sides
from estimator.survey.survey import Basis

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting


class BasisPick(QFrame):
    """Two small buttons, one of them pressed."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Follow the drawing."""
        super().__init__(parent)
        self._drafting = drafting
        self._group = QButtonGroup(self)
        self.buttons = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(LOOK.px(4))
        row.addWidget(words(_("Sizes:"), role="second", wrap=False))
        meant = {
            Basis.TOLD: _("The sizes are the caller's: an estimate, and no fixed price."),
            Basis.MEASURED: _("Somebody measured the wall: it can be quoted at a fixed price."),
        }
        for basis, word in bases():
            button = toggle(word, _("Sizes: {basis}").format(basis=word))
            button.setToolTip(meant[basis])
            button.setAccessibleDescription(meant[basis])
            button.clicked.connect(partial(self._take, basis))
            self._group.addButton(button)
            self.buttons[basis] = button
            row.addWidget(button)

    def show_basis(self, basis: Basis) -> None:
        """Show which it is."""
        self.buttons[basis].setChecked(True)
        one_stop(self.buttons.values())

    def _take(self, basis: Basis, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        session = self._drafting.session
        try:
            edit = sides.set_basis(session.work, basis, today=session.today().isoformat())
        except UserMistake as mistake:
            self._drafting.refuse(mistake)
        else:
            self._drafting.do(edit)
        self.show_basis(self._drafting.session.sight.work.survey.basis)
