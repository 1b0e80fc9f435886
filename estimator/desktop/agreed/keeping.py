"""Papers of an agreed job that were kept under their numbers: shown, mailed, printed, saved."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from estimator.desktop.agreed.following import Following
from estimator.desktop.agreed.kept_paper import Kept
from estimator.desktop.language import _
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.letters import Enclosed
from estimator.desktop.papers.sending import Sending
from estimator.exchange import email_draft
from estimator.exchange.email_draft import Letter, Person

if TYPE_CHECKING:
    from estimator.store.database import Database


class Papers(QObject):
    """The kept paper in the middle, and the ways it goes on from there."""

    laid = Signal(bytes, str)
    """A PDF to be laid in the middle, and what is said above it."""
    said = Signal(str)
    mistaken = Signal(object)

    def __init__(self, following: Following, parent: QWidget) -> None:
        """Hold nothing yet."""
        super().__init__(parent)
        self._following = following
        self.sending = Sending(following.session.filing, parent)
        self.shown: Kept | None = None
        self.sending.said.connect(self.said)
        self.sending.mistaken.connect(self.mistaken)

    def lay(self, number: str) -> None:
        """Lay a kept paper in the middle, in the very bytes that were kept."""

        def read(database: Database) -> Kept:
            from estimator.desktop.agreed import asked  # noqa: PLC0415 - loads the database

            return asked.kept_paper(database, number)

        filing = self._following.session.filing
        ask(self, filing, read, self.show, on_mistake=self.mistaken.emit)

    def show(self, kept: Kept) -> None:
        """Lay a paper in the middle that is there already."""
        self.shown = kept
        self.laid.emit(kept.pdf, _("{number}, as it went out").format(number=kept.number))

    def email(self) -> None:
        """Put the paper into a message of the person's own mail program."""
        if self.shown is not None:
            customer = self._following.session.work.survey.customer
            self.sending.email(self._enclosed(self.shown), customer.email.strip())

    def print_paper(self) -> None:
        """Print the paper."""
        if self.shown is not None:
            self.sending.print_paper(self._enclosed(self.shown))

    def save(self) -> None:
        """Save a copy where the person chooses."""
        if self.shown is not None:
            self.sending.save(self._enclosed(self.shown))

    def _enclosed(self, kept: Kept) -> Enclosed:
        session = self._following.session
        trader, survey = session.practice.trader, session.work.survey
        firm, name = trader.name.strip(), survey.customer.name.strip()
        greeting = _("Dear {name},").format(name=name) if name else _("Hello,")
        closing = "\n".join(part for part in (firm, trader.telephone) if part.strip())
        opening = _("Here is our paper {number}: {title}.")
        if not kept.is_numbered:
            opening = _("{number}: {title}.")
        opening = opening.format(number=kept.number, title=survey.title)
        parts = (greeting, opening, closing)
        return Enclosed(
            email_draft.file_name(" ".join(part for part in (kept.number, name) if part)),
            kept.pdf,
            Letter(
                _("{number} from {firm}").format(number=kept.number, firm=firm),
                "\n\n".join(part for part in parts if part) + "\n",
            ),
            Person(firm, trader.email),
            name,
        )
