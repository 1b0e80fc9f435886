"""Work that stands on the wall and in no agreed paper: it must be told before anybody does it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from estimator.contract.agreed_work import not_agreed
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing, Valued
from estimator.desktop.agreed import wording
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.asking import ask

if TYPE_CHECKING:
    from estimator.store.database import Database


class NotAgreed(QObject):
    """Says what is not agreed, in the sentences of somebody who sends a gang there."""

    changed = Signal()
    """It says something else."""

    def __init__(self, valuing: Valuing) -> None:
        """Follow the wall as it is marked, and the one the gang is given."""
        super().__init__(valuing)
        self._valuing, self._following = valuing, valuing.following
        self._given: tuple[Valued, ...] = ()
        self.text = ""
        """A sentence a line; empty where all is agreed."""
        self._following.changed.connect(self._look)
        valuing.changed.connect(self._say)
        self._look()

    def _look(self) -> None:
        """Ask what the agreed wall itself shows that is not agreed, away from the window."""
        so_far, self._given = self._following.so_far, ()
        self._say()
        if not so_far.agreed or not self._following.has_contract:
            return

        def read(_database: Database) -> tuple[Valued, ...]:
            return not_agreed(so_far)

        ask(self, self._following.session.filing, read, lambda found: self._take(so_far, found))

    def _take(self, so_far: SoFar, found: tuple[Valued, ...]) -> None:
        if so_far is self._following.so_far:
            self._given = found
            self._say()

    def _say(self) -> None:
        if self._valuing.is_settling:
            return
        text = "\n".join(self._sentences()) if self._following.has_contract else ""
        if text != self.text:
            self.text = text
            self.changed.emit()

    def _sentences(self) -> list[str]:
        waiting = [
            one.number for one in self._following.so_far.variations if one.standing is Standing.SENT
        ]
        said = []
        if self._valuing.is_anything:
            said.append(
                _("Marked, but not agreed: {what}. Agree it before the gang works by it.").format(
                    what=self._title or _what(self._lines)
                )
            )
        elif self._given and not waiting:
            said.append(
                _("The gang's wall shows what is in no agreed variation: {what}.").format(
                    what=_what(self._given)
                )
            )
        if waiting:
            said.append(
                _("Sent, but not agreed: {numbers}. Do none of it before they agree.").format(
                    numbers=", ".join(waiting)
                )
            )
        return said

    @property
    def _title(self) -> str:
        """What is marked, within a sentence."""
        found = self._valuing.valuation
        return "" if found is None else found.title

    @property
    def _lines(self) -> tuple[Valued, ...]:
        found = self._valuing.valuation
        return () if found is None else found.lines


def _what(lines: tuple[Valued, ...]) -> str:
    """Return lines as one says them in a sentence, each with by how much it changes."""
    said = []
    for one in lines:
        much = wording.change_of(one)
        said.append(f"{in_full(one.description)} ({much})" if much else in_full(one.description))
    return "; ".join(said)
