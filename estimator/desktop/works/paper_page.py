"""A paper of the works or the account beside the desk: e-mailed, printed, saved."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.agreed.keeping import Papers
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.heading import heading
from estimator.desktop.widgets.buttons import button, main_button
from estimator.desktop.widgets.ways import Ways
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake


class PaperPage(QWidget):
    """What the paper is, and where it goes from here; the paper itself lies in the middle."""

    left = Signal()

    def __init__(self, papers: Papers) -> None:
        """Show nothing yet."""
        super().__init__()
        self._papers = papers
        self.title = words(role="question")
        self.said = words(tone="done")
        self.email = button(_("E-mail…"))
        self.print_ = button(_("Print…"))
        self.save = button(_("Save a copy…"))
        self.main = main_button(_("Back to the job"))
        self._number = ""
        self.main.clicked.connect(lambda _ticked=False: self.left.emit())
        self.email.clicked.connect(lambda _ticked=False: papers.email())
        self.print_.clicked.connect(lambda _ticked=False: papers.print_paper())
        self.save.clicked.connect(lambda _ticked=False: papers.save())
        papers.said.connect(self._say)
        papers.mistaken.connect(self._refused)
        self._lay_out()

    def show_number(self, number: str, title: str) -> None:
        """Show a paper that was kept under a number."""
        self._number = number
        self.title.setText(_("{number}: {title}").format(number=number, title=title))
        self._say("")

    def begin(self) -> None:
        """Lay the paper in the middle."""
        self._papers.lay(self._number)

    def take_focus(self) -> None:
        """Put the keyboard on the first way on."""
        self.email.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _say(self, text: str, *, is_problem: bool = False) -> None:
        retone(self.said, tone="stop" if is_problem else "done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def _refused(self, mistake: object) -> None:
        if isinstance(mistake, UserMistake):
            self._say(in_full(mistake), is_problem=True)

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 16)
        layout.setSpacing(12)
        layout.addLayout(heading(_("A paper of the job"), self.left.emit))
        inside = QVBoxLayout()
        inside.setContentsMargins(20, 0, 20, 0)
        inside.setSpacing(6)
        inside.addWidget(self.title)
        layout.addLayout(inside)
        layout.addStretch(1)
        foot = QVBoxLayout()
        foot.setContentsMargins(12, 0, 12, 0)
        foot.setSpacing(8)
        self.said.setIndent(8)
        foot.addWidget(self.said)
        foot.addWidget(Ways(self.email, self.print_, self.save))
        foot.addWidget(self.main)
        layout.addLayout(foot)
