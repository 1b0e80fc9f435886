"""The papers of the works: what the gang takes along, what is bought, what goes into a calendar."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.desktop.language import _, in_full
from estimator.desktop.papers.heading import heading
from estimator.desktop.papers.opening_rows import OpeningRows
from estimator.desktop.papers.wrapped_line import WrappedLine
from estimator.desktop.widgets.words import retone, words
from estimator.desktop.works.section import DAYWORK
from estimator.desktop.works.state import HoursSheet, Works
from estimator.notices import UserMistake

SITE_SHEET, PROGRAMME, BUYING, CALENDAR = "site_sheet", "programme", "buying", "calendar"
COMPLETION, AS_BUILT = "completion", "as_built"


class PapersPage(QWidget):
    """A line to each paper."""

    left = Signal()
    wanted = Signal(str)
    """Which one."""

    def __init__(self) -> None:
        """List them."""
        super().__init__()
        self.said = words(tone="done")
        self.rows = {
            name: WrappedLine(text)
            for name, text in (
                (SITE_SHEET, _("Site sheet: bars, cutting list, mixes, order of work, cautions")),
                (PROGRAMME, _("Programme: for the customer: when we come, and what waits")),
                (BUYING, _("Buying list: whole packs, by supplier")),
                (CALENDAR, _("Calendar file: sent again, it moves what is there")),
                (AS_BUILT, _("As built: what was done where, with batch numbers")),
                (COMPLETION, _("Completion paper, as it went out")),
            )
        }
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 16)
        layout.setSpacing(12)
        layout.addLayout(heading(_("Papers of the works"), self.left.emit))
        inside = QVBoxLayout()
        inside.setContentsMargins(12, 0, 12, 0)
        inside.setSpacing(4)
        for name, row in self.rows.items():
            row.clicked.connect(lambda _ticked=False, name=name: self.wanted.emit(name))
            inside.addWidget(row)
        self.sheets = OpeningRows()
        self.sheets.asked.connect(self.wanted)
        inside.addWidget(self.sheets)
        self.said.setIndent(8)
        inside.addWidget(self.said)
        layout.addLayout(inside)
        layout.addStretch(1)
        self.say("")

    def show_works(self, works: Works | None) -> None:
        """Offer what there can be: no programme without days, nothing as built before it is."""
        has_days = works is not None and bool(works.tasks)
        self.rows[PROGRAMME].setVisible(has_days)
        self.rows[CALENDAR].setVisible(has_days)
        self.rows[AS_BUILT].setVisible(works is not None and any(one.done for one in works.marks))
        self.rows[COMPLETION].setVisible(works is not None and COMPLETION in works.papers)
        daywork = works.daywork if works else ()
        self.sheets.show_rows(tuple((DAYWORK + one.key, _sheet(one)) for one in daywork))

    def begin(self) -> None:
        """Say nothing of what was done before."""
        self.say("")

    def say(self, text: str) -> None:
        """Say what was done."""
        retone(self.said, tone="done")
        self.said.setText(text)
        self.said.setVisible(bool(text))

    def refused(self, mistake: UserMistake) -> None:
        """Say what could not be done."""
        self.say(in_full(mistake))
        retone(self.said, tone="stop")

    def take_focus(self) -> None:
        """Put the keyboard on the first."""
        self.rows[SITE_SHEET].setFocus(Qt.FocusReason.ShortcutFocusReason)


def _sheet(one: HoursSheet) -> str:
    what = in_full(one.what)
    if one.number:
        return _("Daywork sheet {number}: {what}").format(number=one.number, what=what)
    return _("Daywork sheet, to be signed: {what}").format(what=what)
