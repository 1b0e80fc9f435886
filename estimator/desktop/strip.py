"""The strip above the columns: whose job it is, where it stands, find, and when it was saved."""

from __future__ import annotations

import datetime

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from estimator.desktop.language import _, in_context
from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import IconButton
from estimator.desktop.widgets.words import words

LEAST_NAME = 100
"""Room a name is cut short to before the strip is laid out. [px]"""
DOT, DOT_ONLY = 5, 20
"""Radius of a dot, and the width of a stage that is told by its dot alone. [px]"""
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
    """A line of five dots; the stage the job is at is filled, and its word is strong.

    Each leads to its page: by a click, or by the arrow keys and Enter.
    """

    wanted = Signal(str)
    """The stage whose page is wanted."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin at the enquiry."""
        super().__init__(parent)
        self._at = self._near = STAGES[0]
        self._under = ""
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        LOOK.changed.connect(self.updateGeometry)
        self.show_stage(self._at)

    def show_stage(self, stage: str) -> None:
        """Show where a job stands."""
        if stage != self._at:
            self._near = stage
        self._at = stage
        self.setAccessibleName(_("This job stands at: {stage}").format(stage=stage_words()[stage]))
        self.update()

    def stage_at(self, x: float) -> str:
        """Return the stage at a place along the line [px]."""
        left = 0.0
        for stage, width in self.widths().items():
            left += width
            if x < left:
                return stage
        return STAGES[-1]

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Show which stage a click would lead to."""
        self._point_at(self.stage_at(event.position().x()))

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Point at none."""
        super().leaveEvent(event)
        self._point_at("")

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Lead to a stage."""
        if self.rect().contains(event.position().toPoint()):
            self.wanted.emit(self.stage_at(event.position().x()))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go along the line, and to the page of a stage."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()), 0)
        if step:
            place = min(max(STAGES.index(self._near) + step, 0), len(STAGES) - 1)
            self._near = STAGES[place]
            self.setAccessibleDescription(stage_words()[self._near])
            self.update()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.wanted.emit(self._near)
        else:
            super().keyPressEvent(event)

    def _point_at(self, stage: str) -> None:
        if stage != self._under:
            self._under = stage
            pointing = Qt.CursorShape.PointingHandCursor
            self.setCursor(pointing if stage else Qt.CursorShape.ArrowCursor)
            self.setToolTip(stage_words().get(stage, ""))
            self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for all five words."""
        return QSize(LOOK.px(540), LOOK.px(32))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the least room: the word of the stage it is at, and a dot for every other."""
        others = (len(STAGES) - 1) * LOOK.px(DOT_ONLY)
        return QSize(others + max(map(self.needed, stage_words())), LOOK.px(32))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw dots, the line between them, and the words there is room for."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        reached, left = STAGES.index(self._at), 0.0
        for place, (stage, width) in enumerate(self.widths().items()):
            word = stage_words()[stage] if width >= self.needed(stage) else ""
            box = QRectF(left, 0, width, self.height())
            self._draw_stage(painter, box, word, state=(place > reached) - (place < reached))
            self._draw_hint(painter, box, stage)
            left += width
        if self.hasFocus():
            self._draw_ring(painter)
        painter.end()

    def _draw_hint(self, painter: QPainter, box: QRectF, stage: str) -> None:
        """Underline the stage pointed at, or the one the keyboard is on."""
        is_near = self.hasFocus() and stage == self._near
        if not is_near and stage != self._under:
            return
        wide = min(float(self.needed(stage)), box.width())
        painter.setPen(QPen(LOOK.colour("act"), 3 if is_near else 1.5))
        level = box.bottom() - LOOK.px(5)
        left = box.left() + 2 * LOOK.px(DOT) + 2 + LOOK.px(6)
        right = max(box.left() + wide - LOOK.px(8), left)
        painter.drawLine(QPointF(left, level), QPointF(right, level))

    def _draw_ring(self, painter: QPainter) -> None:
        """Show by a ring that the keyboard is here."""
        painter.setPen(QPen(LOOK.colour("act"), 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        ring = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        painter.drawRoundedRect(ring, LOOK.px(4), LOOK.px(4))

    def widths(self) -> dict[str, float]:
        """Return how wide each stage is drawn: with its word, or as a dot where room is short."""
        needed = {stage: float(self.needed(stage)) for stage in STAGES}
        spare = self.width() - sum(needed.values())
        if spare < 0:
            needed |= {stage: float(LOOK.px(DOT_ONLY)) for stage in STAGES if stage != self._at}
            return needed
        # The last has no line after it, so what is spare goes between them.
        between = spare / (len(STAGES) - 1)
        last = STAGES[-1]
        return {stage: one + between * (stage != last) for stage, one in needed.items()}

    def needed(self, stage: str) -> int:
        """Return how wide a stage is with its word [px]."""
        metrics = QFontMetrics(LOOK.font(14, strong=stage == self._at))
        beside = 2 * LOOK.px(DOT) + 2 + LOOK.px(6) + LOOK.px(8)
        return beside + metrics.horizontalAdvance(stage_words()[stage])

    def _draw_stage(self, painter: QPainter, box: QRectF, word: str, *, state: int) -> None:
        """Draw one stage; ``state`` is -1 for one behind, 0 for this one, 1 for one ahead."""
        radius = LOOK.px(DOT)
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
        self.back = IconButton("back", _("Back to the desk"))
        self.back.setToolTip(_("Back to the desk (Esc)"))
        self.back.hide()
        self._name = words(role="name", wrap=False)
        self._where = words(role="second", wrap=False)
        self.stages = StageLine()
        self.seek = QLineEdit()
        self.seek.setProperty("role", "find")
        self.seek.setPlaceholderText(_("Find a job or a rate"))
        self.seek.setAccessibleName(_("Find a job or a rate"))
        self._glass = self.seek.addAction(
            icon("find", "muted"), QLineEdit.ActionPosition.LeadingPosition
        )
        self.seek.textEdited.connect(self.sought)
        self.seek.returnPressed.connect(self.taken)
        self._saved = words(role="second", wrap=False)
        self._saved.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._told = ("", "")
        LOOK.changed.connect(self._redraw)
        who = QVBoxLayout()
        who.setSpacing(0)
        for label in (self._name, self._where):
            # A long name is cut short here, where it would push all else out of the strip.
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
            label.installEventFilter(self)
            who.addWidget(label)
        row = self._row = QHBoxLayout(self)
        row.setContentsMargins(20, 6, 20, 6)
        row.setSpacing(20)
        row.addWidget(self.back)
        row.addLayout(who, 2)
        row.addWidget(self.stages, 3)
        row.addWidget(self.seek)
        row.addWidget(self._saved)
        self._redraw()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Cut the name short anew in another width."""
        if event.type() is QEvent.Type.Resize:
            self._fit_name()
        return super().eventFilter(watched, event)

    def _fit_name(self) -> None:
        for label, text in zip((self._name, self._where), self._told, strict=True):
            shown = label.fontMetrics().elidedText(
                text, Qt.TextElideMode.ElideRight, max(label.width(), LOOK.px(LEAST_NAME))
            )
            if shown != label.text():
                label.setText(shown)

    def _redraw(self) -> None:
        self._glass.setIcon(icon("find", "muted"))
        # What grows with the type is kept narrow: the name and the stages need the room more.
        grown = (1 + LOOK.scale) / 2
        self.seek.setMinimumWidth(round(180 * grown))
        self.seek.setMaximumWidth(round(240 * grown))
        self._saved.setMinimumWidth(LOOK.px(84))
        self._row.setSpacing(round(20 / LOOK.scale))
        self._fit_name()

    def show_job(self, name: str, where: str, stage: str) -> None:
        """Show whose job is on the desk."""
        self._told = (name or _("New call"), where)
        for label, text in zip((self._name, self._where), self._told, strict=True):
            label.setAccessibleName(text)
        self._where.setVisible(bool(where))
        self._fit_name()
        self.stages.show_stage(stage)

    def say(self, news: str) -> None:
        """Show good news where it says when all was kept, until there is newer."""
        self._saved.setText(news)

    def show_saved(self, at: datetime.datetime | None, *, read_only: bool = False) -> None:
        """Show when everything typed was last kept."""
        if read_only:
            self._saved.setText(_("Only looking"))
        elif at is not None:
            local = at.astimezone()
            self._saved.setText(_("Saved {time}").format(time=f"{local:%H:%M}"))
