"""The strip above the columns: whose job it is, where it stands, find, and when it was saved."""

from __future__ import annotations

import datetime

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from estimator.desktop.language import _, in_context
from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import words

STAGES = ("enquiry", "survey", "quotation", "works", "account")


def stage_words() -> dict[str, str]:
    """Return the stages of a job in the trade's words, in order."""
    return {
        "enquiry": in_context("stage", "Enquiry"),
        "survey": in_context("stage", "Survey"),
        "quotation": in_context("stage", "Quotation"),
        "works": in_context("stage", "Works"),
        "account": in_context("stage", "Account"),
    }


class StageLine(QWidget):
    """A line of five dots; the stage the job is at is filled, and its word is strong."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin at the enquiry."""
        super().__init__(parent)
        self._at = STAGES[0]
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self.updateGeometry)
        self.show_stage(self._at)

    def show_stage(self, stage: str) -> None:
        """Show where a job stands."""
        self._at = stage
        self.setAccessibleName(_("This job stands at: {stage}").format(stage=stage_words()[stage]))
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for all five words."""
        return QSize(LOOK.px(540), LOOK.px(32))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least room for all five words."""
        return QSize(LOOK.px(440), LOOK.px(32))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw dots, the line between them, and the words."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        step = self.width() / len(STAGES)
        reached = STAGES.index(self._at)
        for place, (_stage, word) in enumerate(stage_words().items()):
            self._draw_stage(
                painter,
                QRectF(place * step, 0, step, self.height()),
                word,
                state=(place > reached) - (place < reached),
            )
        painter.end()

    def _draw_stage(self, painter: QPainter, box: QRectF, word: str, *, state: int) -> None:
        """Draw one stage; ``state`` is -1 for one behind, 0 for this one, 1 for one ahead."""
        radius = LOOK.px(5)
        middle = QPointF(box.left() + radius + 2, box.center().y())
        painter.setPen(QPen(LOOK.colour("act" if state <= 0 else "edge"), 1.5))
        painter.setBrush(LOOK.colour("act" if state <= 0 else "panel"))
        painter.drawEllipse(middle, radius, radius)
        painter.setFont(LOOK.font(14, strong=state == 0))
        painter.setPen(LOOK.colour("ink" if state <= 0 else "muted"))
        left = middle.x() + radius + LOOK.px(6)
        room = box.adjusted(left - box.left(), 0, 0, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, word)
        end = left + painter.fontMetrics().horizontalAdvance(word) + LOOK.px(8)
        if end < box.right() - LOOK.px(6):
            painter.setPen(QPen(LOOK.colour("rule"), 1.5))
            level = middle.y()
            painter.drawLine(QPointF(end, level), QPointF(box.right() - LOOK.px(4), level))


class Strip(QFrame):
    """Name and place at the left, stages in the middle, find and saved at the right."""

    sought = Signal(str)
    """What somebody looks for, as it is typed."""
    taken = Signal()
    """Enter was pressed in the field."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Lay the strip out."""
        super().__init__(parent)
        self.setProperty("role", "strip")
        self._name = words(role="name", wrap=False)
        self._where = words(role="second", wrap=False)
        self.stages = StageLine()
        self.seek = QLineEdit()
        self.seek.setProperty("role", "find")
        self.seek.setPlaceholderText(_("Find a job or a rate"))
        self.seek.setAccessibleName(_("Find a job or a rate"))
        self.seek.setMinimumWidth(LOOK.px(180))
        self.seek.setMaximumWidth(LOOK.px(240))
        self._glass = self.seek.addAction(
            icon("find", "muted"), QLineEdit.ActionPosition.LeadingPosition
        )
        self.seek.textEdited.connect(self.sought)
        self.seek.returnPressed.connect(self.taken)
        self._saved = words(role="second", wrap=False)
        self._saved.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._saved.setMinimumWidth(LOOK.px(84))
        LOOK.changed.connect(self._redraw)
        who = QVBoxLayout()
        who.setSpacing(0)
        who.addWidget(self._name)
        who.addWidget(self._where)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 6, 20, 6)
        row.setSpacing(20)
        row.addLayout(who, 2)
        row.addWidget(self.stages, 3)
        row.addWidget(self.seek)
        row.addWidget(self._saved)

    def _redraw(self) -> None:
        self._glass.setIcon(icon("find", "muted"))

    def show_job(self, name: str, where: str, stage: str) -> None:
        """Show whose job is on the desk."""
        self._name.setText(name or _("New call"))
        self._where.setText(where)
        self._where.setVisible(bool(where))
        self.stages.show_stage(stage)

    def show_saved(self, at: datetime.datetime | None, *, read_only: bool = False) -> None:
        """Show when everything typed was last kept."""
        if read_only:
            self._saved.setText(_("Only looking"))
        elif at is not None:
            local = at.astimezone()
            self._saved.setText(_("Saved {time}").format(time=f"{local:%H:%M}"))
