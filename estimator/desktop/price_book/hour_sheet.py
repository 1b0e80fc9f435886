"""The sheet on which an hour is worked: write into a line, and all below it follows."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from estimator.desktop.language import _
from estimator.desktop.price_book import hour
from estimator.desktop.price_book.ground import across, scrolled, stacked
from estimator.desktop.price_book.hour import Asked, Built, Line, Place
from estimator.desktop.price_book.wording import money, typed_as, understood
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import escaped, main_button, quiet_button
from estimator.desktop.widgets.words import figures, hairline, retone, words
from estimator.store.book_parts import Entry

WIDEST = 860
FIELD = 88
"""Width of a field. [px]"""


class HourSheet(QFrame):
    """The build-up of one grade, its figures editable."""

    left = Signal()
    """It is done with."""
    trying = Signal(object)
    """The entries as they are being written."""
    taken = Signal(object, str)
    """Entries to keep, and what the change is, in words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty sheet."""
        super().__init__(parent)
        self.setProperty("role", "middle")
        self._entries: dict[str, Entry] = {}
        self._figures: dict[Place, Decimal] = {}
        self._currency, self._grade = "GBP", hour.GRADES[0]
        self._before: Built | None = None
        self.fields: dict[Place, QLineEdit] = {}
        self._asked: dict[Place, tuple[Asked, str]] = {}
        self._results: list[tuple[Line, QLabel]] = []
        self.grades = {code: QPushButton() for code in hour.GRADES}
        self._choice = QButtonGroup(self)
        for code, one in self.grades.items():
            one.setProperty("role", "choice")
            one.setCheckable(True)
            one.setAutoDefault(True)
            one.setMinimumWidth(LOOK.px(108))
            one.clicked.connect(lambda _on=False, code=code: self._choose(code))
            self._choice.addButton(one)
        self.said = words()
        self.keep = main_button(_("Use these figures"))
        self.back = quiet_button(_("Put them back"))
        self.leave = quiet_button(_("Back to the rates"))
        self._sheet = QWidget()
        self._area = scrolled(self._sheet)
        heading = words(_("What an hour costs"), role="heading", wrap=False)
        top = across(heading, None, *self.grades.values())
        foot = across(self.keep, self.back, None, self.leave)
        stacked(self, top, self._area, self.said, foot)
        self.keep.clicked.connect(self._take)
        self.back.clicked.connect(self.put_back)
        self.leave.clicked.connect(self.left)

    def begin(self, entries: Sequence[Entry], currency: str, *, can_edit: bool) -> None:
        """Show the labour of a price book."""
        self._entries = {one.code: one for one in entries}
        self._currency = currency
        self.keep.setVisible(can_edit)
        self.back.setVisible(can_edit)
        is_there = all(code in self._entries for code in (*hour.GRADES, *hour.OTHERS))
        self._area.setVisible(is_there)
        if not is_there:
            self.said.setText(_("This price book has no pay in it."))
            return
        for code, one in self.grades.items():
            one.setText(escaped(self._entries[code].title))
            one.setChecked(code == self._grade)
        self._lay_lines()
        for field in self.fields.values():
            field.setReadOnly(not can_edit)
        self.put_back()

    def put_back(self) -> None:
        """Show the figures as they are kept."""
        self._figures = hour.figures_in(self._entries)
        for place, field in self.fields.items():
            asked = self._asked[place][0]
            field.setText(typed_as(self._figures[place], is_money=asked.is_money))
        self._before = hour.built(self._figures, self._grade, self._titles())
        self._work_out()

    @property
    def grade(self) -> Entry | None:
        """The grade the sheet is of."""
        return self._entries.get(self._grade)

    def _titles(self) -> dict[str, str]:
        return {code: self._entries[code].title for code in hour.GRADES}

    def _choose(self, grade: str) -> None:
        self._grade = grade
        self._lay_lines()
        self.put_back()

    def _lay_lines(self) -> None:
        """Lay the lines out anew, for the grade that is chosen."""
        self.fields, self._asked, self._results = {}, {}, []
        sheet = QWidget()
        # On a wide screen a result must not stand far from what it comes from.
        sheet.setMaximumWidth(LOOK.px(WIDEST))
        grid = QGridLayout(sheet)
        grid.setContentsMargins(20, 0, 20, 0)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(1)
        grid.setColumnStretch(0, 2)
        grid.setColumnStretch(5, 1)
        row = 0
        for line in hour.lines(self._grade):
            if line.is_sum:
                grid.addWidget(hairline(), row, 0, 1, 6)
                row += 1
            self._lay_line(grid, row, line)
            row += 1
        grid.setRowStretch(row, 1)
        self._sheet = sheet
        self._area.setWidget(sheet)

    def _lay_line(self, grid: QGridLayout, row: int, line: Line) -> None:
        role = "strong" if line.is_sum else "text"
        grid.setRowMinimumHeight(row, LOOK.px(28))
        grid.addWidget(words(line.title, role=role, wrap=False), row, 0)
        for place, asked in enumerate(line.asks):
            field = self._field(asked, line.title)
            grid.addWidget(field, row, 1 + 2 * place)
            grid.addWidget(words(asked.after, role="second", wrap=False), row, 2 + 2 * place)
        result = figures(role=role)
        self._results.append((line, result))
        grid.addWidget(result, row, 5)

    def _field(self, asked: Asked, line: str) -> QLineEdit:
        field = QLineEdit()
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setFixedWidth(LOOK.px(FIELD))
        # Seventeen lines have to be seen at once.
        field.setStyleSheet(f"QLineEdit {{ min-height: {LOOK.px(26)}px; }}")
        called = _("{line}, {after}").format(line=line, after=asked.after)
        field.setAccessibleName(called)
        field.textEdited.connect(lambda _text: self._look())
        field.returnPressed.connect(self._take)
        self.fields[asked.place] = field
        self._asked[asked.place] = (asked, line)
        return field

    def _look(self) -> None:
        """Read every field; what cannot be read is said, and nothing is worked out."""
        for place, field in self.fields.items():
            found = understood(field.text(), self._asked[place][1])
            if found.value is None:
                self._stop(found.why_not)
                return
            self._figures[place] = found.value
        self._work_out()

    def _work_out(self) -> None:
        now = hour.built(self._figures, self._grade, self._titles())
        if now is None:
            self._stop(_("No hours are left that earn. Lower what is lost, or pay more weeks."))
            return
        for line, label in self._results:
            label.setText(line.result(now, self._currency))
        changed = hour.with_figures(self._entries, self._figures)
        self.keep.setEnabled(bool(changed))
        self.back.setEnabled(bool(changed))
        retone(self.said, tone="done")
        self.said.setText(self._words(now) if changed else "")
        self.trying.emit(changed)

    def _stop(self, why: str) -> None:
        retone(self.said, tone="stop")
        self.said.setText(why)
        self.keep.setEnabled(False)
        self.back.setEnabled(True)
        self.trying.emit(())

    def _words(self, now: Built) -> str:
        was = self._before.result.rate if self._before is not None else now.result.rate
        told = _("{grade}: {was} an hour becomes {now}.")
        return told.format(
            grade=now.grade.title,
            was=money(was, self._currency),
            now=money(now.result.rate, self._currency),
        )

    def _take(self) -> None:
        if not self.keep.isEnabled() or self.keep.isHidden():
            return
        self._look()
        changed = hour.with_figures(self._entries, self._figures)
        if changed and self.keep.isEnabled():
            told = _("What an hour costs. {change}")
            self.taken.emit(changed, told.format(change=self.said.text()))
