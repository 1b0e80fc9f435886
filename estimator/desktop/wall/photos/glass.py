"""What is painted over a photograph: numbered points, and a glass to see joints through."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.photos.marking import Marked
from estimator.desktop.wall.photos.sheet import Sheet

ACROSS_PX, NEARER = 120.0, 3.0
"""Width of the glass on the screen, and how much nearer it shows than the pane [px]."""
LEAST_NEAR = 2.0
AWAY_PX = 26.0
BADGE_PX, REACH_PX, GAP_PX = 20.0, 11.0, 3.0


def points(painter: QPainter, sheet: Sheet, marked: Sequence[Marked], held: int | None) -> None:
    """Paint the points with their numbers."""
    for number, one in enumerate(marked):
        is_held = number == held
        at = sheet.at(one.seen)
        _aim(painter, at, is_held=is_held)
        _badge(painter, at, str(number + 1), is_held=is_held, is_told=one.place is not None)


def cross(painter: QPainter, at: QPointF) -> None:
    """Paint where the keyboard is."""
    reach = 14.0 * LOOK.scale
    for pen in (QPen(LOOK.colour("panel"), 5), QPen(LOOK.colour("act"), 2)):
        painter.setPen(pen)
        painter.drawLine(at - QPointF(reach, 0), at + QPointF(reach, 0))
        painter.drawLine(at - QPointF(0, reach), at + QPointF(0, reach))


def glass(painter: QPainter, sheet: Sheet, at: QPointF, room: QRectF) -> None:
    """Paint a glass beside a spot, with the spot in its middle."""
    if sheet.levels is None:
        return
    across = ACROSS_PX * LOOK.scale
    box = _beside(at, across, room)
    near = max(sheet.scale * NEARER, LEAST_NEAR)
    spot = sheet.spot(at)
    middle = box.center()
    into = QRectF(
        middle.x() - spot[0] * near,
        middle.y() - spot[1] * near,
        sheet.levels.width * near,
        sheet.levels.height * near,
    )
    round_ = QPainterPath()
    round_.addEllipse(box)
    painter.save()
    painter.setClipPath(round_)
    painter.fillRect(box, LOOK.colour("paper"))
    sheet.levels.draw(painter, into, seen=box)
    _hairs(painter, middle, across / 2)
    painter.restore()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(LOOK.colour("panel"), 5 * LOOK.scale))
    painter.drawEllipse(box)
    painter.setPen(QPen(LOOK.colour("act"), 2 * LOOK.scale))
    painter.drawEllipse(box)


def _beside(at: QPointF, across: float, room: QRectF) -> QRectF:
    """Return where the glass has room: above and right of the spot, else on its other side."""
    away = AWAY_PX * LOOK.scale
    left = at.x() + away if at.x() + away + across < room.right() else at.x() - away - across
    top = at.y() - away - across if at.y() - away - across > room.top() else at.y() + away
    left = min(max(left, room.left() + 4), room.right() - across - 4)
    top = min(max(top, room.top() + 4), room.bottom() - across - 4)
    return QRectF(left, top, across, across)


def _hairs(painter: QPainter, middle: QPointF, reach: float) -> None:
    """Paint cross hairs that leave the middle free."""
    gap = 5.0 * LOOK.scale
    for pen in (QPen(LOOK.colour("panel"), 3), QPen(LOOK.colour("act"), 1.2)):
        painter.setPen(pen)
        for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            way = QPointF(x, y)
            painter.drawLine(middle + way * gap, middle + way * reach)


def banner(painter: QPainter, said: str, room: QRectF, pointer: QPointF | None) -> None:
    """Paint what to do next along the top; along the foot while the hand is at the top."""
    painter.setFont(LOOK.font(15, strong=True))
    edge = 10.0 * LOOK.scale
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
    most = QRectF(0, 0, room.width() - 6 * edge, room.height())
    inside = painter.boundingRect(most, flags, said)
    box = QRectF(0, 0, inside.width() + 2 * edge, inside.height() + edge)
    box.moveCenter(QPointF(room.center().x(), room.top() + edge + box.height() / 2))
    if pointer is not None and pointer.y() < box.bottom() + 2 * edge:
        box.moveBottom(room.bottom() - edge)
    painter.setPen(QPen(LOOK.colour("act"), 1.2 * LOOK.scale))
    painter.setBrush(LOOK.colour("panel"))
    painter.drawRoundedRect(box, 6 * LOOK.scale, 6 * LOOK.scale)
    painter.setPen(LOOK.colour("ink"))
    painter.drawText(box, flags, said)


def _aim(painter: QPainter, at: QPointF, *, is_held: bool) -> None:
    """Paint a small open cross: the joint under it stays in sight."""
    reach, gap = REACH_PX * LOOK.scale * (1.4 if is_held else 1.0), GAP_PX * LOOK.scale
    for pen in (
        QPen(LOOK.colour("panel"), 4.5 * LOOK.scale),
        QPen(LOOK.colour("act"), 2.0 * LOOK.scale),
    ):
        painter.setPen(pen)
        for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            way = QPointF(x, y)
            painter.drawLine(at + way * gap, at + way * reach)


def _badge(painter: QPainter, at: QPointF, number: str, *, is_held: bool, is_told: bool) -> None:
    """Paint a number in a ring: full for a point whose place is told, dashed for one that waits."""
    size = BADGE_PX * LOOK.scale
    box = QRectF(at.x() + size * 0.45, at.y() - size * 1.45, size, size)
    pen = QPen(LOOK.colour("act" if is_told else "caution"), 2 * LOOK.scale)
    if not is_told:
        pen.setDashPattern([2, 1.4])
    painter.setPen(pen)
    ground = LOOK.colour("act") if is_held and is_told else LOOK.colour("panel")
    painter.setBrush(QColor(ground))
    painter.drawEllipse(box)
    painter.setFont(LOOK.font(13, strong=True))
    ink = "on_act" if is_held and is_told else "ink"
    painter.setPen(LOOK.colour(ink))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, number)
