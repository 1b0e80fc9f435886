"""The words the list is cut down by: all jobs, or those at one stage."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QSizePolicy, QWidget

from estimator.desktop.jobs.wording import counted_jobs, filters
from estimator.desktop.theme.look import LOOK

SIDE = 16
"""Where the words of the list begin. [px]"""
STEPS = {int(Qt.Key.Key_Right): 1, int(Qt.Key.Key_Left): -1}


class FilterWord(QAbstractButton):
    """One word with how many jobs it stands for; the one in force is strong and underlined."""

    stepped = Signal(int)
    """An arrow was pressed: one to the right or to the left."""

    def __init__(self, word: str) -> None:
        """Say a word; how many there are is not known yet."""
        super().__init__()
        self._word, self._count = word, ""
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        LOOK.changed.connect(self.updateGeometry)
        self.show_count(None)

    def show_count(self, count: int | None) -> None:
        """Show how many jobs stand there."""
        self._count = "" if count is None else f"{count:,}"
        said = "" if count is None else counted_jobs(count)
        name = ", ".join(part for part in (self._word, said) if part)
        self.setAccessibleName(name)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for the word as if it were strong, so that nothing moves when it is."""
        return QSize(self._across(strong=True) + LOOK.px(16), LOOK.px(36))

    def _across(self, *, strong: bool) -> int:
        word = QFontMetrics(LOOK.font(14, strong=strong)).horizontalAdvance(self._word)
        count = QFontMetrics(LOOK.font(13)).horizontalAdvance(self._count)
        return word + (LOOK.px(6) + count if self._count else 0)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the word, its number, and the line under the one in force."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box = QRectF(self.rect())
        if self.hasFocus():
            painter.setPen(QPen(LOOK.colour("act"), 2))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), LOOK.px(6), LOOK.px(6))
        elif self.underMouse():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(LOOK.colour("act_tint"))
            painter.drawRoundedRect(box, LOOK.px(6), LOOK.px(6))
        left = box.left() + LOOK.px(8)
        font = LOOK.font(14, strong=self.isChecked())
        self._write(painter, font, "ink" if self.isChecked() else "muted", left, self._word)
        painter.setFont(font)
        after = left + painter.fontMetrics().horizontalAdvance(self._word)
        self._write(painter, LOOK.font(13), "muted", after + LOOK.px(6), self._count)
        if self.isChecked():
            level = box.bottom() - LOOK.px(4)
            painter.setPen(QPen(LOOK.colour("act"), LOOK.px(3)))
            painter.drawLine(QPointF(left, level), QPointF(after, level))
        painter.end()

    def _write(self, painter: QPainter, font: QFont, token: str, left: float, text: str) -> None:
        painter.setFont(font)
        painter.setPen(LOOK.colour(token))
        box = QRectF(left, 0, self.width() - left, self.height() - LOOK.px(2))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Walk with the arrows; take the word with Enter or the space bar."""
        if event.key() in STEPS:
            self.stepped.emit(STEPS[event.key()])
        elif event.key() in {int(Qt.Key.Key_Return), int(Qt.Key.Key_Enter)}:
            self.click()
        else:
            super().keyPressEvent(event)


class FilterRow(QWidget):
    """The words beside one another; exactly one is in force."""

    chosen = Signal(str)
    """A stage as the strip calls it, or nothing for all."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with all jobs."""
        super().__init__(parent)
        self.words = {stage: FilterWord(word) for stage, word in filters().items()}
        row = QHBoxLayout(self)
        row.setContentsMargins(LOOK.px(SIDE) - LOOK.px(8), 0, 0, 0)
        row.setSpacing(LOOK.px(4))
        for place, (stage, word) in enumerate(self.words.items()):
            word.clicked.connect(lambda _ticked=False, stage=stage: self.choose(stage))
            word.stepped.connect(lambda step, place=place: self._step(place + step))
            row.addWidget(word)
        row.addStretch(1)
        self.stage = ""
        self.words[""].setChecked(True)

    def choose(self, stage: str) -> None:
        """Put a word in force."""
        changed, self.stage = stage != self.stage, stage
        for one, word in self.words.items():
            word.setChecked(one == stage)
        if changed:
            self.chosen.emit(stage)

    def show_counts(self, counts: dict[str, int]) -> None:
        """Show how many jobs each word stands for."""
        for stage, word in self.words.items():
            word.show_count(counts.get(stage))

    def _step(self, place: int) -> None:
        stages = list(self.words)
        if 0 <= place < len(stages):
            self.words[stages[place]].setFocus(Qt.FocusReason.OtherFocusReason)
            self.choose(stages[place])
