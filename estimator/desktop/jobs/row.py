"""How one job is drawn in the list: whose it is and where, its stage, its paper, when."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from estimator.desktop.jobs import wording
from estimator.desktop.jobs.model import JobRole, JobsModel
from estimator.desktop.strip import STAGES
from estimator.desktop.theme.look import LOOK

if TYPE_CHECKING:
    from estimator.store.job_list import JobLine

HIGH = 52
"""Height of a row. [px]"""
SIDE = 16
SHARES = (0.46, 0.18, 0.2, 0.16)
"""Parts of the width: who and where, stage, paper, when."""
LEFT = Qt.AlignmentFlag.AlignLeft
RIGHT = Qt.AlignmentFlag.AlignRight


@dataclass(frozen=True, slots=True)
class Pen:
    """A painter and the widths a line is divided into."""

    painter: QPainter
    columns: tuple[QRectF, ...]

    def write(
        self,
        column: int,
        text: str,
        *,
        lower: bool | None = None,
        strong: bool = False,
        side: Qt.AlignmentFlag = LEFT,
    ) -> None:
        """Write a text into a column, shortened where it is too long, on one of its two lines."""
        box = self.columns[column]
        half = box.height() / 2 - LOOK.px(6)
        if lower is not None:
            top = box.center().y() if lower else box.center().y() - half
            box = QRectF(box.left(), top, box.width(), half)
        font = LOOK.font(13 if lower else 14, strong=strong)
        self.painter.setFont(font)
        self.painter.setPen(LOOK.colour("muted" if lower else "ink"))
        shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, int(box.width()))
        self.painter.drawText(box, int(side | Qt.AlignmentFlag.AlignVCenter), shown)


class JobRow(QStyledItemDelegate):
    """Draws jobs by hand, so that ten thousand of them scroll as ten do."""

    def sizeHint(  # noqa: N802 - Qt's name
        self, _option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Return the room of one row."""
        return QSize(LOOK.px(480), LOOK.px(HIGH))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw one row; one that is not here yet is a faint line where it will stand."""
        box = QRectF(option.rect)
        state = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._ground(painter, box, state)
        pen = Pen(painter, _columns(box))
        job = index.data(JobRole)
        model = index.model()
        if job is not None and isinstance(model, JobsModel):
            self._draw(pen, job, model)
        else:
            painter.setPen(QPen(LOOK.colour("rule"), LOOK.px(6)))
            middle = box.center().y()
            left = pen.columns[0].left()
            painter.drawLine(QPointF(left, middle), QPointF(left + LOOK.px(160), middle))
        painter.restore()

    def _ground(self, painter: QPainter, box: QRectF, state: QStyle.StateFlag) -> None:
        """Tell the row one is on by its ground and a bar at its edge, not by colour alone."""
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, LOOK.colour("act_tint"))
            painter.fillRect(
                QRectF(box.left(), box.top(), LOOK.px(4), box.height()), LOOK.colour("act")
            )
        elif state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(box, LOOK.colour("paper"))
        painter.setPen(QPen(LOOK.colour("rule"), 1))
        level = box.bottom() - 0.5
        painter.drawLine(
            QPointF(box.left() + LOOK.px(SIDE), level), QPointF(box.right() - LOOK.px(SIDE), level)
        )

    def _draw(self, pen: Pen, job: JobLine, model: JobsModel) -> None:
        place = wording.place_of(job)
        pen.write(0, wording.name_of(job), lower=False if place else None, strong=True)
        if place:
            pen.write(0, place, lower=True)
        self._draw_stage(pen, job)
        if job.paper is not None:
            total = wording.total_of(job.paper)
            called = wording.paper_of(job.paper)
            pen.write(2, total or called, lower=False if total else None, side=RIGHT)
            if total:
                pen.write(2, called, lower=True, side=RIGHT)
        changed = wording.day(wording.local_day(job.changed_at), model.today)
        pen.write(3, changed, side=RIGHT)

    def _draw_stage(self, pen: Pen, job: JobLine) -> None:
        """Draw the five dots of the strip in small, filled as far as the job has come."""
        pen.write(1, wording.stage_word(job), lower=False)
        painter, box = pen.painter, pen.columns[1]
        reached, is_lost = wording.reached(job), job.stage.value == "lost"
        radius, step = LOOK.px(3.5), LOOK.px(16)
        level = box.center().y() + LOOK.px(12)
        for place in range(len(STAGES)):
            middle = QPointF(box.left() + radius + 1 + place * step, level)
            behind = place <= reached and not is_lost
            painter.setPen(QPen(LOOK.colour("act" if behind else "edge"), 1.2))
            painter.setBrush(LOOK.colour("act") if behind else Qt.BrushStyle.NoBrush)
            painter.drawEllipse(middle, radius, radius)
        if is_lost:
            end = box.left() + radius * 2 + (len(STAGES) - 1) * step
            painter.setPen(QPen(LOOK.colour("edge"), 1.2))
            painter.drawLine(QPointF(box.left(), level), QPointF(end, level))


def _columns(box: QRectF) -> tuple[QRectF, ...]:
    side, gap = LOOK.px(SIDE), LOOK.px(16)
    whole = box.width() - 2 * side
    found, left = [], box.left() + side
    for place, share in enumerate(SHARES):
        width = whole * share
        room = width if place == len(SHARES) - 1 else width - gap
        found.append(QRectF(left, box.top(), room, box.height()))
        left += width
    return tuple(found)
