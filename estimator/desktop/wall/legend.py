"""The key to the drawing: only what is on it."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import strokes, wording
from estimator.desktop.wall.brickwork import brick_colours
from estimator.desktop.wall.strokes import BAR_PX, CRACK_PX, brick
from estimator.drawing.shapes import BrickState, Picture

KEY_PX, ROW_PX, GAP_PX = 36, 26, 20
CRACK, BAR, LIKELY, AREA = "crack", "bar", "likely", "area"
BY_HAND, KEPT, THIN, WIDEST, LEG = "by_hand", "kept", "thin", "widest", "leg"


class Legend(QWidget):
    """Keys in a row, wrapped where there is no room."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Make an empty key."""
        super().__init__(parent)
        self._keys: tuple[tuple[str, str], ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setSizePolicy(policy)
        self.setAccessibleName(_("Key to the drawing"))
        LOOK.changed.connect(self._take_room)

    def show_picture(self, picture: Picture | None) -> None:
        """Show the keys of what is on a picture."""
        keys = () if picture is None else tuple(keys_of(picture))
        if keys == self._keys:
            return
        self._keys = keys
        self.setAccessibleDescription(", ".join(word for _kind, word in self._keys))
        self._take_room()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return the room all keys take side by side."""
        wide = sum(self._wide(word) for _kind, word in self._keys)
        return QSize(round(wide), LOOK.px(ROW_PX))

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return room for one key."""
        return QSize(LOOK.px(120), LOOK.px(ROW_PX))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Wrap anew."""
        super().resizeEvent(event)
        self._take_room()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint words and keys."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        high, key = LOOK.px(ROW_PX), LOOK.px(KEY_PX)
        for row, x, kind, word in self._places():
            top = row * high
            wide = self._metrics().horizontalAdvance(word)
            painter.setFont(LOOK.font(13, strong=True))
            painter.setPen(LOOK.colour(kind if kind in (CRACK, BAR) else "muted"))
            where = QRectF(x, top, wide + 2, high)
            painter.drawText(where, Qt.AlignmentFlag.AlignVCenter, word)
            _paint_key(painter, kind, QRectF(x + wide + LOOK.px(8), top, key, high))
        painter.end()

    def _metrics(self) -> QFontMetricsF:
        return QFontMetricsF(LOOK.font(13, strong=True))

    def _wide(self, word: str) -> float:
        return self._metrics().horizontalAdvance(word) + LOOK.px(8 + KEY_PX + GAP_PX)

    def _places(self) -> Iterator[tuple[int, float, str, str]]:
        row, x = 0, 0.0
        for kind, word in self._keys:
            wide = self._wide(word)
            if x and x + wide - LOOK.px(GAP_PX) > self.width():
                row, x = row + 1, 0.0
            yield row, x, kind, word
            x += wide

    def _take_room(self) -> None:
        rows = max((row for row, _x, _kind, _word in self._places()), default=0) + 1
        self.setFixedHeight(rows * LOOK.px(ROW_PX))
        self.updateGeometry()
        self.update()


def keys_of(picture: Picture) -> Iterator[tuple[str, str]]:
    """Yield the kind and the word of each key of a picture."""
    if picture.cracks:
        yield CRACK, _("Crack")
    if any(crack.likely or crack.beyond for crack in picture.cracks):
        yield LIKELY, _("Likely, not sure")
    if picture.bars:
        yield BAR, _("Bar in a cut bed")
    if picture.legs:
        yield LEG, _("Leg round the quoin")
    if any(bar.by_hand and not bar.kept for bar in picture.bars):
        yield BY_HAND, _("Set by hand")
    if any(bar.kept for bar in picture.bars):
        yield KEPT, _("Kept where it was")
    if picture.thin_beds:
        yield THIN, _("Thin bed")
    if any(len(crack.widths) > 1 for crack in picture.cracks):
        yield WIDEST, _("Widest place")
    if picture.areas:
        yield AREA, _("Repoint")
    for state in BrickState:
        if any(one.state is state for one in picture.bricks):
            yield state.value, wording.state_word(state)


def _paint_key(painter: QPainter, kind: str, box: QRectF) -> None:
    middle = box.center().y()
    line = QLineF(box.left(), middle, box.right(), middle)
    if kind in (CRACK, LIKELY):
        pen = QPen(LOOK.colour("crack"), CRACK_PX * LOOK.scale)
        if kind == LIKELY:
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            pen.setDashPattern([2.2, 1.3])
        painter.setPen(pen)
        painter.drawLine(line)
    elif kind == BAR:
        painter.setPen(QPen(LOOK.colour("bar"), BAR_PX * LOOK.scale))
        painter.drawLine(line)
        painter.setPen(QPen(LOOK.colour("bar"), 2 * LOOK.scale))
        for x in (box.left(), box.right()):
            painter.drawLine(QPointF(x, middle - 6), QPointF(x, middle + 6))
    elif kind in (BY_HAND, KEPT, THIN, WIDEST, LEG):
        strokes.key(painter, kind, line)
    elif kind == AREA:
        pen = QPen(LOOK.colour("ink"), 1.6)
        pen.setDashPattern([4, 2.5])
        painter.setPen(pen)
        painter.drawRect(box.adjusted(1, 5, -1, -5))
    else:
        rect = box.adjusted(0, 7, 0, -7)
        painter.fillRect(rect, brick_colours(lighter=False)[0])
        brick(painter, rect, BrickState(kind), 0.8 * LOOK.scale)
