"""The page of a paper that went out: what it is called, and how to send it."""

from __future__ import annotations

from string import ascii_uppercase
from typing import TYPE_CHECKING

from PySide6.QtCore import QDate, QLocale, Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import LANGUAGE, _
from estimator.desktop.papers import checks
from estimator.desktop.papers.column_page import Contents, scrolled, set_in
from estimator.desktop.papers.heading import heading
from estimator.desktop.papers.opening_rows import OpeningRows
from estimator.desktop.papers.paper_list import PaperList
from estimator.desktop.papers.rows import Row
from estimator.desktop.session import Session
from estimator.desktop.widgets.buttons import button, main_button, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.quoting.quotation import Paper

if TYPE_CHECKING:
    from estimator.desktop.papers.issuing import Gone

SHORT = 12
"""Letters of a check sum that are shown; a screen reader and a pointer are told all."""


class IssuedPage(QWidget):
    """The number, moment and check sum of a paper, and the ways it goes on from here."""

    left = Signal()
    """Back to the wall."""
    accept_wanted = Signal()
    """The customer said yes."""
    anew_wanted = Signal()
    """A new paper is to take its place."""
    email_wanted = Signal()
    save_wanted = Signal()
    print_wanted = Signal()
    copy_wanted = Signal()
    file_wanted = Signal(int)
    """Which choice is to be saved for the customer's own books, from 0."""

    def __init__(self, session: Session) -> None:
        """Show nothing yet."""
        super().__init__()
        self.title = words(role="question")
        self.state = words(tone="done")
        self.said = words(tone="done")
        self.issued = Row(_("Issued"))
        self.sum = Row(_("Check sum"))
        self.to = Row(_("For"))
        self.supersedes = Row(_("Replaces"))
        self.superseded = Row(_("Replaced by"))
        self.accept = button(_("The customer says yes"))
        self.email = main_button(_("E-mail…"))
        self.save = button(_("Save a copy…"))
        self.print_ = button(_("Print…"))
        self.copy = button(_("Copy a short message"))
        self.anew = quiet_button(_("Write a new one in its place"))
        self.no_offer = words(
            _(
                "An estimate is no offer, so nobody can say yes to it. Measure the wall, then"
                " issue a quotation."
            ),
            role="second",
        )
        self.files = OpeningRows()
        self.files.asked.connect(lambda name: self.file_wanted.emit(int(name)))
        self.papers = PaperList(session)
        for made, signal in (
            (self.email, self.email_wanted),
            (self.save, self.save_wanted),
            (self.print_, self.print_wanted),
            (self.copy, self.copy_wanted),
            (self.anew, self.anew_wanted),
            (self.accept, self.accept_wanted),
        ):
            made.clicked.connect(lambda _ticked=False, signal=signal: signal.emit())
        self._lay_out()

    def show_paper(self, gone: Gone) -> None:
        """Show a paper."""
        at = gone.issued_at.astimezone()
        gaps = {"kind": checks.kind_named(gone.kind), "number": gone.number}
        self.title.setText(_("{kind} {number}").format(**gaps))
        accepted = _("Accepted on {date}. Kept exactly as it went out.").format(date=gone.accepted)
        sendable = _("Kept exactly as it went out. It can be sent now.")
        self.state.setText(accepted if gone.accepted else sendable)
        day = QLocale(LANGUAGE.tag).toString(QDate(at.year, at.month, at.day), "d MMMM yyyy")
        self.issued.say(_("{date}, {time}").format(date=day, time=f"{at:%H:%M}"))
        self.sum.say(gone.pdf_sha256[:SHORT] + "…")
        self.sum.value.setToolTip(gone.pdf_sha256)
        self.sum.value.setAccessibleName(gone.pdf_sha256)
        self.to.say(gone.customer.name, gone.customer.email)
        for row, number in (
            (self.supersedes, gone.supersedes),
            (self.superseded, gone.superseded_by),
        ):
            row.say(number)
            row.setVisible(bool(number))
        # What was accepted stays: what changes is a variation.
        is_open = not gone.superseded_by and not gone.accepted
        self.anew.setVisible(is_open)
        # Nobody can say yes to an estimate, nor to a paper another has taken the place of.
        self.accept.setVisible(gone.kind is Paper.QUOTATION and is_open)
        self.no_offer.setVisible(gone.kind is Paper.ESTIMATE and not gone.superseded_by)
        self.files.show_rows(files_of(gone))
        self.say("")
        self.papers.refresh()

    def say(self, text: str, *, is_problem: bool = False) -> None:
        """Say what came of sending it."""
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def take_focus(self) -> None:
        """Put the keyboard on what comes next."""
        self.email.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _lay_out(self) -> None:
        inner = Contents()
        inside = QVBoxLayout(inner)
        inside.setContentsMargins(12, 0, 12, 12)
        inside.setSpacing(4)
        rows: tuple[QWidget, ...] = (
            self.title,
            self.state,
            self.issued,
            self.sum,
            self.to,
            self.supersedes,
            self.superseded,
            self.no_offer,
            self.papers,
            self.files,
        )
        for part in rows:
            inside.addWidget(part)
            if part not in (self.papers, self.files):
                set_in(part)
        inside.addWidget(self.anew, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(1)
        inside.insertSpacing(2, 8)
        foot = QVBoxLayout()
        foot.setContentsMargins(12, 0, 12, 0)
        foot.setSpacing(8)
        self.said.setContentsMargins(8, 0, 8, 0)
        for way in (self.said, self.accept, self.save, self.print_, self.copy, self.email):
            foot.addWidget(way)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 16)
        layout.setSpacing(12)
        layout.addLayout(heading(_("Issued"), self.left.emit))
        layout.addWidget(scrolled(inner), 1)
        layout.addLayout(foot)


def files_of(gone: Gone) -> tuple[tuple[str, str], ...]:
    """Return a row to each choice that can be saved for the customer's own books."""
    if gone.kind is not Paper.QUOTATION:
        return ()
    if len(gone.offered) == 1:
        return (("0", _("Save for their books (UBL)…")),)
    return tuple(
        (str(place), _("Save choice {letter} for their books (UBL)…").format(letter=letter))
        for place, letter in enumerate(ascii_uppercase[: len(gone.offered)])
    )
