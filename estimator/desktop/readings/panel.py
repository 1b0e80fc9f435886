"""Readings of a watched crack: written down by keys, struck out, and drawn against time."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.language import _
from estimator.desktop.readings import typed
from estimator.desktop.readings.plot import ReadingsPlot
from estimator.desktop.readings.series import Series, day_of, series_of
from estimator.desktop.session import Session
from estimator.desktop.state import Sight
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import figures, words
from estimator.documents import formats
from estimator.notices import UserMistake
from estimator.quoting import edits
from estimator.survey.limits import LETTERS
from estimator.survey.survey import Answer, Reading


class ReadingsPanel(QWidget):
    """A form of one line, the plot, what changed, and every reading, the newest first."""

    left = Signal()
    """Back to the wall."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session."""
        super().__init__(parent)
        self._session = session
        self.crack = QComboBox()
        self.crack.setAccessibleName(_("Which crack"))
        self.date, self.point, self.width_mm, self.reader = (QLineEdit() for _n in range(4))
        self.point.setMaxLength(LETTERS["short"])
        self.reader.setMaxLength(LETTERS["name"])
        self.echo = words(role="second", tone="done")
        self.message = words(role="second", tone="caution")
        self.write = button(_("Write it down"))
        self.empty = words(
            _(
                "No readings yet. Fix a screw on each side of the crack, read the gap between"
                " them to a tenth of a millimetre, and write it down here every month or so."
            ),
            tone="quiet",
        )
        self.back = quiet_button(_("Back"))
        self.back.setAccessibleName(_("Back to the wall"))
        self.back.setToolTip(_("Back to the wall (Esc)"))
        self.growing = words(
            _(
                "It has opened since its first reading, and was told to be the same for years. Let"
                " an engineer look before a price goes out."
            ),
            tone="caution",
        )
        self.plot = ReadingsPlot()
        self.change = words()
        self.limit = words(
            _("How much is too much is for the engineer to say; no limit is built in here."),
            role="second",
        )
        self.rows: list[ReadingRow] = []
        self._cracks: tuple[str, ...] = ()
        self._lay_out()
        self._connect()
        self.date.setText(_("today"))
        self.show_sight(session.sight)

    def show_sight(self, sight: Sight) -> None:
        """Show the readings of the open job."""
        self._show_cracks(sight)
        series = series_of(sight.work.survey.readings, self._crack())
        self.plot.show_series(series)
        self.change.setText("\n".join(change_words(one) for one in series))
        for part in (self.plot, self.change, self.limit):
            part.setVisible(bool(series))
        self.empty.setVisible(not series)
        # No limit is built in, but what was told and what was measured must not disagree unsaid.
        is_told_still = sight.work.survey.signs.growing is Answer.NO
        self.growing.setVisible(is_told_still and any(one.change_mm > 0 for one in series))
        readings = [reading for one in series for reading in one.readings]
        self._show_rows(sorted(readings, key=lambda one: one.date, reverse=True))
        self.write.setEnabled(bool(self._cracks))
        if not self._cracks:
            self.empty.setText(_("There is no crack in this job yet; say first where one runs."))

    def take_focus(self) -> None:
        """Put the keyboard where the next reading begins."""
        self.width_mm.setFocus()

    def _write_down(self) -> None:
        try:
            reading = self._typed()
            if reading in self._session.work.survey.readings:
                raise UserMistake(_("That reading is written down already"), field="width")
        except UserMistake as mistake:
            said = str(mistake)
            self.message.setText(said[:1].upper() + said[1:])
            self.message.show()
            {"date": self.date, "point": self.point}.get(mistake.field, self.width_mm).setFocus()
            return
        self.message.hide()
        self._session.apply(edits.note_reading(self._session.work, reading))
        self.width_mm.clear()
        self.width_mm.setFocus()

    def _typed(self) -> Reading:
        day = typed.day(self.date.text(), today=self._session.today())
        point = self.point.text().strip()
        if not point:
            raise UserMistake(
                _("The point has no name"), do=_("say where it is, such as top"), field="point"
            )
        width = typed.width_mm(self.width_mm.text())
        return Reading(self._crack(), point, day.isoformat(), width, self.reader.text().strip())

    def _strike_out(self, reading: Reading) -> None:
        self._session.apply(edits.drop_reading(self._session.work, reading))
        self.take_focus()

    def _echo_day(self) -> None:
        try:
            day = typed.day(self.date.text(), today=self._session.today())
        except UserMistake:
            self.echo.setText("")
        else:
            self.echo.setText(_("= {date}").format(date=formats.date(day.isoformat())))

    def _crack(self) -> str:
        place = self.crack.currentIndex()
        return self._cracks[place] if 0 <= place < len(self._cracks) else ""

    def _show_cracks(self, sight: Sight) -> None:
        found = [
            (crack.id, one.name) for one in sight.work.survey.elevations for crack in one.cracks
        ]
        if self._cracks == tuple(key for key, _name in found):
            return
        kept = self._crack()
        self._cracks = tuple(key for key, _name in found)
        self.crack.blockSignals(True)
        self.crack.clear()
        for key, name in found:
            self.crack.addItem(_("Crack {crack}, {wall}").format(crack=key, wall=name))
        self.crack.setCurrentIndex(self._cracks.index(kept) if kept in self._cracks else 0)
        self.crack.blockSignals(False)

    def _show_rows(self, readings: list[Reading]) -> None:
        while len(self.rows) < len(readings):
            row = ReadingRow()
            row.struck_out.connect(self._strike_out)
            self.rows.append(row)
            self._list.addWidget(row)
        for place, row in enumerate(self.rows):
            row.setVisible(place < len(readings))
            if place < len(readings):
                row.show_reading(readings[place])

    def _connect(self) -> None:
        for field in (self.date, self.point, self.width_mm, self.reader):
            field.returnPressed.connect(self._write_down)
        self.write.clicked.connect(self._write_down)
        self.back.clicked.connect(lambda _ticked=False: self.left.emit())
        self.date.textChanged.connect(self._echo_day)
        self.crack.currentIndexChanged.connect(lambda _at: self.show_sight(self._session.sight))
        self._session.sight_changed.connect(self.show_sight)

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(8)
        form.setVerticalSpacing(4)
        for column, (name, field) in enumerate(self._fields()):
            field.setAccessibleName(name)
            form.addWidget(words(name, role="second", wrap=False), 0, column)
            form.addWidget(field, 1, column)
        form.addWidget(self.echo, 2, 0, 1, 2)
        inside = QWidget()
        self._list = QVBoxLayout(inside)
        self._list.setContentsMargins(0, 0, 0, 0)
        self._list.setSpacing(0)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        holder = QWidget()
        held = QVBoxLayout(holder)
        held.setContentsMargins(0, 0, 8, 0)
        held.setSpacing(8)
        for part in (self.empty, self.plot, self.change, self.growing, self.limit, inside):
            held.addWidget(part)
        held.addStretch()
        scroll.setWidget(holder)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 16, 12, 16)
        layout.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(words(_("Crack readings"), role="heading"), 1)
        head.addWidget(self.back)
        layout.addLayout(head)
        layout.addWidget(self.crack)
        layout.addLayout(form)
        layout.addWidget(self.message)
        self.message.hide()
        layout.addWidget(self.write, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addSpacing(8)
        layout.addWidget(scroll, 1)

    def _fields(self) -> tuple[tuple[str, QLineEdit], ...]:
        return (
            (_("Day"), self.date),
            (_("Point"), self.point),
            (_("Width, mm"), self.width_mm),
            (_("Read by"), self.reader),
        )


class ReadingRow(QWidget):
    """One reading; Delete strikes it out, and undo brings it back."""

    struck_out = Signal(object)
    """The ``Reading`` to strike out."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty row."""
        super().__init__(parent)
        self._reading: Reading | None = None
        self._day, self._who = words(wrap=False), words(role="second", wrap=False)
        self._width: QLabel = figures()
        self.strike = quiet_button(_("Strike out"))
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(12)
        line.addWidget(self._day)
        line.addWidget(self._who, 1)
        line.addWidget(self._width)
        line.addWidget(self.strike)
        self.strike.clicked.connect(self._strike)
        self.setMinimumHeight(LOOK.px(32))

    def show_reading(self, reading: Reading) -> None:
        """Show a reading."""
        self._reading = reading
        day = formats.date(reading.date)
        width = _("{width} mm").format(width=f"{reading.width_mm:.1f}")
        self._day.setText(day)
        self._day.setMinimumWidth(LOOK.px(140))
        self._who.setText(" · ".join(part for part in (reading.point, reading.reader) if part))
        self._width.setText(width)
        self.strike.setAccessibleName(
            _("Strike out {width} at {point}, {day}").format(
                width=width, point=reading.point, day=day
            )
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Strike the reading out."""
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._strike()
        else:
            super().keyPressEvent(event)

    def _strike(self) -> None:
        if self._reading is not None:
            self.struck_out.emit(self._reading)


def change_words(series: Series) -> str:
    """Return what changed at a point since its first reading, in one sentence."""
    gaps = {
        "point": series.point,
        "first": f"{series.first.width_mm:.1f}",
        "last": f"{series.last.width_mm:.1f}",
        "since": formats.date(day_of(series.first).isoformat()),
        "change": f"{abs(series.change_mm):.1f}",
        "rate": f"{abs(series.per_month_mm or 0):.2f}",
    }
    if len(series.readings) == 1:
        return _("{point}: {first} mm on {since}, the first reading.").format(**gaps)
    if not series.change_mm:
        return _("{point}: {last} mm, unchanged since {since}.").format(**gaps)
    if series.per_month_mm is None:
        return _("{point}: {last} mm, {change} mm from the first reading of the same day.").format(
            **gaps
        )
    if series.change_mm > 0:
        sentence = _("{point}: {last} mm, {change} mm wider since {since} ({rate} mm per 30 days).")
    else:
        sentence = _(
            "{point}: {last} mm, {change} mm narrower since {since} ({rate} mm per 30 days)."
        )
    return sentence.format(**gaps)
