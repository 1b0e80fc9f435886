"""The ladder of the chosen option: what each part of the work comes to, opened in place."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.money import ladder_rows, saying
from estimator.desktop.money.ladder_head import LadderHead
from estimator.desktop.money.row import DEEPEST, RowWidget
from estimator.desktop.money.sharing import carried, shares
from estimator.desktop.state import Sight
from estimator.desktop.widgets.words import words
from estimator.documents import formats
from estimator.money import Money, total
from estimator.quoting.quotation import Option

NONE: frozenset[str] = frozenset()


class Ladder(QWidget):
    """Rows are kept and filled anew; more are made only where more are shown than ever before."""

    pointed = Signal(object)
    """The marks of the row pointed at, a frozenset; empty when none is."""
    marks_wanted = Signal()
    """The keyboard wants to go from a row to its marks on the wall."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin without rows."""
        super().__init__(parent)
        self.rows: list[RowWidget] = []
        self._shown = 0
        self._option: Option | None = None
        self._sight: Sight | None = None
        self.held = ""
        """Key of the row whose marks are kept lit; empty for none."""
        self._firm, self._note = False, ""
        self._opened: set[str] = set()
        self._lit = self._told = NONE
        self.head = LadderHead()
        self.brick = words(role="second")
        self._lay_out()
        # The pointer leaves one row before it comes to the next: told once, when it has settled.
        self._telling = QTimer(self)
        self._telling.setSingleShot(True)
        self._telling.setInterval(0)
        self._telling.timeout.connect(self._tell)

    def show_option(self, option: Option, sight: Sight) -> None:
        """Show the ladder of an option."""
        self._option, self._sight, self._firm = option, sight, saying.is_firm(sight)
        self._note = saying.above(saying.band_of(sight, option))
        for label, text in ((self.brick, saying.further_brick(option.offer, firm=self._firm)),):
            if label.text() != text:
                label.setText(text)
        self._fill()
        self._say_head()

    def light(self, marks: frozenset[str]) -> None:
        """Light the rows that have any of these marks, and say what of them belongs to it."""
        if marks != self._lit:
            self._lit = marks
            self._light_rows()
            self._say_head()

    def _light_rows(self) -> None:
        parts = self._parts()
        for row in self.rows[: self._shown]:
            self._light_row(row, parts)

    def _parts(self) -> tuple[tuple[Money, ...], tuple[Money, ...]]:
        """Return what is pointed at carries of each line, exact and in the money shown."""
        if not self._lit or self._option is None or self._sight is None:
            return (), ()
        exact = shares(self._sight, self._option).of(self._lit)
        return exact, exact if self._firm else saying.in_whole_pounds(exact)

    def _say_head(self) -> None:
        """Say whose prices these are, or what is pointed at carries of them."""
        if self._option is None:
            return
        said = self._carried(self._option)
        if said:
            self.head.say(said, pointed=True)
        else:
            title = self._option.offer.scope.title
            self.head.say(title, "" if self._firm else _("likely"))

    def _carried(self, option: Option) -> str:
        if not self._lit or self._sight is None:
            return ""
        found = carried(self._sight, option, self._lit)
        if not found.amount:
            return ""
        taxed = bool(option.offer.taxes)
        return saying.carried(self._lit, found.amount, found.lines, firm=self._firm, taxed=taxed)

    @property
    def last_row(self) -> RowWidget | None:
        """The last row ever made, after which Tab leaves the ladder."""
        return self.rows[-1] if self.rows else None

    def open(self, key: str) -> None:
        """Open a row, or close it where it is open."""
        self._opened ^= {key}
        self._fill()

    def _fill(self) -> None:
        if self._option is None:
            return
        focused = next((row.row.key for row in self.rows[: self._shown] if row.hasFocus()), "")
        shown = (
            *ladder_rows.rows_of(
                self._option.offer,
                self._opened,
                firm=self._firm,
                note=self._note,
                whole=frozenset(line.elevation for line in self._option.measure.lines),
            ),
            *ladder_rows.seen_rows(saying.all_seen(self._option), self._opened),
        )
        while len(self.rows) < len(shown):
            self._add()
        if self.held not in {row.key for row in shown}:
            self.held = ""
        parts = self._parts()
        for widget, row in zip(self.rows, shown, strict=False):
            widget.show_row(row)
            widget.hold(held=bool(row.key) and row.key == self.held)
            self._light_row(widget, parts)
        self._show_only(len(shown))
        self._put_focus(focused)
        self._telling.start()

    def _put_focus(self, key: str) -> None:
        """Keep the keyboard on its row when rows above it come or go."""
        place = next(
            (n for n, one in enumerate(self.rows[: self._shown]) if one.row.key == key), -1
        )
        if key and place >= 0 and not self.rows[place].hasFocus():
            self.rows[place].setFocus()
        elif key and place < 0 and self._shown:
            self.rows[0].setFocus()
        if not any(
            one.focusPolicy() == Qt.FocusPolicy.StrongFocus for one in self.rows[: self._shown]
        ):
            self._rove(0)

    def _light_row(self, widget: RowWidget, parts: tuple[Sequence[Money], Sequence[Money]]) -> None:
        share, lit = "", widget.row.level < DEEPEST and bool(self._lit & widget.row.marks)
        exact, shown = parts
        if lit and self._option is not None and exact:
            offer = self._option.offer
            places = ladder_rows.places_of(offer, widget.row.key)
            part = total(exact[n] for n in places)
            lit = bool(part)
            if lit and part < total(offer.lines[n].amount for n in places):
                money = total(shown[n] for n in places)
                said = formats.money(money) if self._firm else saying.whole(money)
                share = _("{share} of {whole}").format(share=said, whole=widget.row.amount)
        widget.light(lit=lit, share=share)

    def _show_only(self, count: int) -> None:
        for place in range(min(count, self._shown), max(count, self._shown)):
            self.rows[place].setVisible(place < count)
        self._shown = count

    def _add(self) -> None:
        row, place = RowWidget(), len(self.rows)
        row.setVisible(False)
        row.clicked.connect(lambda: self._toggle(place))
        row.stepped.connect(lambda how: self._step(place, how))
        row.pointed.connect(lambda _here: self._telling.start())
        self._layout.addWidget(row)
        if self.rows:
            self.setTabOrder(self.rows[-1], row)
        self.rows.append(row)

    def _toggle(self, place: int) -> None:
        """Take a row up: its marks stay lit and it opens; or let it go again."""
        self._rove(place)
        row = self.rows[place].row
        if row.marks and self.held != row.key and row.level < DEEPEST:
            self.hold(row.key)
            if row.is_open is False:
                self.open(row.key)
            return
        self.let_go()
        if row.is_open is not None:
            self.open(row.key)

    def hold(self, key: str) -> None:
        """Keep the marks of a row lit, wherever the keyboard goes."""
        self.held = key
        for row in self.rows[: self._shown]:
            row.hold(held=row.row.key == key)
        self._telling.start()

    def let_go(self) -> bool:
        """Keep no row's marks lit any more; false where none were."""
        was_held = bool(self.held)
        self.held = ""
        for row in self.rows:
            row.hold(held=False)
        self._telling.start()
        return was_held

    @property
    def row_at(self) -> RowWidget | None:
        """The row with the keyboard."""
        return next((row for row in self.rows[: self._shown] if row.hasFocus()), None)

    def go_to(self, marks: frozenset[str], *, back_to: str = "") -> bool:
        """Put the keyboard on the first line that marks carry, or back on a row it came from."""
        found = self._first(marks, back_to) or self._first(marks)
        if found is None:
            return False
        if found.row.level == 0 and found.row.is_open is False:
            self.open(found.row.key)
        within = f"{found.row.key}/"
        lines = (row for row in self.rows[: self._shown] if row.row.key.startswith(within))
        first = next((row for row in lines if row.row.level == 1 and row.row.marks & marks), None)
        row = first if first is not None and found.row.key != back_to else found
        self._rove(self.rows.index(row))
        row.setFocus(Qt.FocusReason.ShortcutFocusReason)
        return True

    def _first(self, marks: frozenset[str], key: str = "") -> RowWidget | None:
        shown = (row for row in self.rows[: self._shown] if row.row.marks & marks)
        return next((row for row in shown if not key or row.row.key == key), None)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Take the keys no row has a use for: M goes to the marks, Escape lets go."""
        is_plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if event.key() == Qt.Key.Key_M and is_plain:
            self._want_marks()
        elif event.key() != Qt.Key.Key_Escape or not self.let_go():
            super().keyPressEvent(event)

    def _want_marks(self) -> None:
        row = self.row_at
        if row is not None and row.row.marks:
            self.hold(row.row.key)
            self.marks_wanted.emit()

    def _step(self, place: int, how: str) -> None:
        row = self.rows[place].row
        if (how == "right" and row.is_open is False) or (how == "left" and row.is_open):
            self.open(row.key)
            return
        if how == "right" and row.is_open is None:
            self._want_marks()
            return
        to = {
            "up": place - 1,
            "down": place + 1,
            "home": 0,
            "end": self._shown - 1,
            "left": self._above(place),
            "right": place + 1 if row.is_open else place,
        }[how]
        if 0 <= to < self._shown:
            self._rove(to)
            self.rows[to].setFocus()

    def _above(self, place: int) -> int:
        """Return the row that a row stands within."""
        level = self.rows[place].row.level
        return next((n for n in range(place, -1, -1) if self.rows[n].row.level < level), place)

    def _rove(self, place: int) -> None:
        """Leave Tab one stop in the ladder: the row the keyboard was last on."""
        for n, row in enumerate(self.rows):
            row.make_tab_stop(stop=n == place)

    def _tell(self) -> None:
        shown = self.rows[: self._shown] if self.isVisible() else []
        under = next((row for row in shown if row.underMouse()), None)
        held = next((row for row in shown if row.is_held), None)
        row = under or held or next((row for row in shown if row.hasFocus()), None)
        marks = NONE if row is None else row.row.marks
        if marks != self._told:
            self._told = marks
            self.pointed.emit(marks)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Point at nothing while there is no ladder."""
        super().hideEvent(event)
        self._tell()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(16, 0, 8, 0)
        head.addWidget(self.head, 1)
        self._layout = QVBoxLayout()
        self._layout.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addLayout(self._layout)
        foot = QHBoxLayout()
        foot.setContentsMargins(16, 4, 8, 0)
        foot.addWidget(self.brick)
        layout.addLayout(foot)
