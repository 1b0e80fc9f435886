"""Words on the wall: placed clear of cracks and bars, and painted as small raised labels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall import wording
from estimator.desktop.wall.hits import box_of
from estimator.desktop.wall.view import View
from estimator.documents.formats import plain
from estimator.drawing.shapes import Picture, Shape
from estimator.masonry.region import Point

TEXT_PX, SMALL_PX = 14, 13
INSIDE = 8
EDGE = 10.0
BESIDE = 26.0
"""How far a dimension stands off the work [px]."""
STEP = 18.0
OVER = 11.0
"""How far a small label stands off the mark it belongs to [px]."""
BLOCKED, CROWDED = 60.0, 4.0
"""What it costs a label to lie on a crack or another label, and on an opening's glass."""


FAINT = 0.8
"""How much of a photograph the ground of bare words covers, so that they can be read on it."""


@dataclass(frozen=True, slots=True)
class Note:
    """A raised label."""

    box: QRectF
    first: str
    second: str = ""
    edge: str = "rule"
    """Token of its border."""
    is_small: bool = False


@dataclass(frozen=True, slots=True)
class Upright:
    """An upright dimension line."""

    x: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Notes:
    """All words on a picture in one view."""

    labels: tuple[Note, ...]
    upright: Upright | None


def laid_out(picture: Picture, view: View, width: float, height: float) -> Notes:
    """Place the words of a picture, what matters most first."""
    screen = QRectF(0, 0, width, height)
    taken = [(box, BLOCKED) for box in (*_marks(picture, view), *_borders(picture, view))]
    labels: list[Note] = []
    upright = _upright(picture, view, screen)
    if upright is not None:
        words = wording.height_words(picture)
        size = _size(words, "")
        middle = min(max((upright.low + upright.high) / 2, EDGE), height - EDGE)
        box = QRectF(upright.x - size[0] / 2, middle - size[1] / 2, *size)
        labels.append(Note(box, words))
        line = QRectF(upright.x - 6, upright.high, 12, upright.low - upright.high)
        taken += [(box, BLOCKED), (line, BLOCKED)]
    for note in (
        *_letters(picture, view, screen),
        *_widths(picture, view, screen, [note.box for note in labels]),
        *_thin_beds(picture, view, screen),
        *_damp_course(picture, view, screen, [box for box, _cost in taken]),
    ):
        labels.append(note)
        taken.append((note.box, BLOCKED))
    taken += [(_rect(view.box(hole.box)), CROWDED) for hole in picture.masonry.holes]
    if picture.masonry.damp_course is not None:
        low = view.at(0, picture.masonry.damp_course)[1]
        taken.append((QRectF(0, low - 4, width, height), CROWDED))
    summed = wording.callout(picture)
    if summed is not None:
        around = _around(picture, view)
        box = _freest(_size(*summed), screen, around, taken)
        labels.append(Note(box, *summed, edge="bar"))
    return Notes(tuple(labels), upright)


def beside(shape: Shape, view: View, screen: QRectF, words: tuple[str, str]) -> Note:
    """Return the label of a mark, over it or under it, kept on the screen."""
    rect = _rect(view.box(box_of(shape)))
    wide, high = _size(*words)
    x = min(max(rect.center().x() - wide / 2, EDGE), screen.width() - EDGE - wide)
    y = rect.top() - high - 14
    if y < EDGE:
        y = min(rect.bottom() + 14, screen.height() - EDGE - high)
    return Note(QRectF(x, y, wide, high), *words, edge="act")


def _rect(box: tuple[float, float, float, float]) -> QRectF:
    left, top, right, bottom = box
    return QRectF(left, top, right - left, bottom - top)


def _size(first: str, second: str, *, small: bool = False) -> tuple[float, float]:
    """Return the size of a label; a small one is close about its word."""
    if small:
        metrics = QFontMetricsF(LOOK.font(SMALL_PX))
        return metrics.horizontalAdvance(first) + LOOK.px(INSIDE), metrics.height()
    one = QFontMetricsF(LOOK.font(TEXT_PX, strong=not second))
    two = QFontMetricsF(LOOK.font(SMALL_PX))
    wide = max(one.horizontalAdvance(first), two.horizontalAdvance(second) if second else 0)
    high = one.height() + (two.height() if second else 0)
    return wide + 2 * LOOK.px(INSIDE), high + LOOK.px(INSIDE)


def _marks(picture: Picture, view: View) -> Iterator[QRectF]:
    for crack in picture.cracks:
        for start, end in pairwise((*crack.points, *crack.beyond)):
            yield _rect(_span(view.at(*start), view.at(*end))).adjusted(-8, -8, 8, 8)
    for bar in picture.bars:
        box = view.box((bar.left, bar.y, bar.right, bar.y))
        yield _rect(box).adjusted(-8, -9, 8, 9)
    for leg in picture.legs:
        yield _rect(view.box(box_of(leg))).adjusted(-8, -14, 8, 9)
    for one in picture.bricks:
        yield _rect(view.box(one.box))


def _borders(picture: Picture, view: View) -> Iterator[QRectF]:
    for area in picture.areas:
        for start, end in pairwise((*area.corners, area.corners[0])):
            yield _rect(_span(view.at(*start), view.at(*end))).adjusted(-4, -4, 4, 4)


def _span(one: Point, two: Point) -> tuple[float, float, float, float]:
    return min(one[0], two[0]), min(one[1], two[1]), max(one[0], two[0]), max(one[1], two[1])


def _around(picture: Picture, view: View) -> QRectF:
    """Return the box round all bars."""
    bars = [_rect(view.box(box_of(bar))).adjusted(0, -1, 0, 1) for bar in picture.bars]
    box = bars[0]
    for one in bars[1:]:
        box = box.united(one)
    return box


def _freest(
    size: tuple[float, float], screen: QRectF, around: QRectF, taken: list[tuple[QRectF, float]]
) -> QRectF:
    """Return the place for a label where it covers least, the nearer to the work the better."""
    wide, high = size
    right = screen.width() - EDGE - wide
    columns = (
        EDGE,
        around.left() - wide - BESIDE,
        around.left(),
        around.center().x() - wide / 2,
        around.right() + BESIDE,
        right,
    )
    best, least = QRectF(EDGE, EDGE, wide, high), float("inf")
    rows = range(int((screen.height() - 2 * EDGE - high) // STEP) + 1)
    centre = around.center()
    places = [
        (abs(x + wide / 2 - centre.x()) + abs(y + high / 2 - centre.y()), x, y)
        for y in (EDGE + row * STEP for row in rows)
        for x in columns
        if EDGE <= x <= right
    ]
    # The nearest first: once even an empty place would be too far away, the best is found.
    for away, x, y in sorted(places):
        cost = away / 100
        if cost >= least:
            break
        grown = QRectF(x, y, wide, high).adjusted(-6, -6, 6, 6)
        cost += sum(weight for one, weight in taken if one.intersects(grown))
        if cost < least:
            best, least = QRectF(x, y, wide, high), cost
    return best


def _upright(picture: Picture, view: View, screen: QRectF) -> Upright | None:
    """Place the height of the crack at its side, clear of the crack and, if it can be, of bars."""
    if picture.height is None:
        return None
    foot, head, _is_sure = picture.height
    low, high = view.at(0, foot)[1], view.at(0, head)[1]
    level = [
        rect
        for rect in (*_marks(picture, view), *_borders(picture, view))
        if rect.bottom() >= high - 8 and rect.top() <= low + 8
    ]
    half = _size(wording.height_words(picture), "")[0] / 2
    right = max(rect.right() for rect in level) + BESIDE
    left = min(rect.left() for rect in level) - BESIDE
    widest = screen.width() - half - EDGE
    if right <= widest:
        return Upright(max(right, half + EDGE), low, high)
    if left >= half + EDGE:
        return Upright(left, low, high)
    cracks = [_rect(view.box(box_of(crack))) for crack in picture.cracks]
    is_clear = all(rect.right() + half < widest for rect in cracks)
    return Upright(widest if is_clear else half + EDGE, low, high)


def _damp_course(
    picture: Picture, view: View, screen: QRectF, taken: list[QRectF]
) -> Iterator[Note]:
    """Name the damp course under its line or over it, where nothing else lies."""
    level = picture.masonry.damp_course
    if level is None:
        return
    y = view.at(0, level)[1]
    # Where no survey says where it is, the word says so.
    is_seen = picture.masonry.damp_course_seen
    words = _("damp course") if is_seen else _("damp course, usual place")
    wide, high = _size(words, "", small=True)
    for x in (4.0, screen.width() - wide - 4):
        for top in (y + 3, y - high - 3):
            box = QRectF(x, top, wide, high)
            if screen.contains(box) and not any(one.intersects(box) for one in taken):
                yield Note(box, words, edge="")
                return


def _letters(picture: Picture, view: View, screen: QRectF) -> Iterator[Note]:
    """Letter cracks at their upper ends, where there are several."""
    for crack in picture.cracks:
        if crack.letter and crack.points:
            x, y = view.at(*max(crack.points, key=lambda point: point[1]))
            wide, high = _size(crack.letter, "", small=True)
            wide = max(wide, high)
            box = QRectF(x - wide / 2, max(y - high - OVER, 2), wide, high)
            if screen.intersects(box):
                yield Note(box, crack.letter, edge="crack")


def _widths(picture: Picture, view: View, screen: QRectF, taken: list[QRectF]) -> Iterator[Note]:
    """Say widths beside the places they were measured at, the widest first, as far as they fit."""
    found = [one for crack in picture.cracks for one in crack.widths]
    for one in sorted(found, key=lambda width: -width.width_mm):
        words = _("{width} mm").format(width=plain(one.width_mm))
        wide, high = _size(words, "", small=True)
        x, y = view.at(*one.point)
        for left in (x + OVER, x - OVER - wide):
            box = QRectF(left, y - high / 2, wide, high)
            if screen.contains(box) and not any(box.intersects(other) for other in taken):
                taken.append(box)
                edge = "crack" if one.is_widest else "rule"
                yield Note(box, words, edge=edge, is_small=True)
                break


def _thin_beds(picture: Picture, view: View, screen: QRectF) -> Iterator[Note]:
    """Say how thin a thin bed is, at its right end."""
    for bed in picture.thin_beds:
        words = _("{width} mm").format(width=plain(bed.thickness_mm))
        wide, high = _size(words, "", small=True)
        x, y = view.at(bed.right, bed.y)
        box = QRectF(x + 4, y - high / 2, wide, high)
        if screen.contains(box):
            yield Note(box, words, is_small=True)


class KeptNotes:
    """Words painted once and kept: shadows and round corners cost more than the rest of a frame."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._pixmap = QPixmap()

    def paint(self, painter: QPainter, notes: Notes, size: QSize, ratio: float) -> None:
        """Paint dimensions and labels over a board of a size."""
        key = (notes, size, ratio, LOOK.scheme, LOOK.scale)
        if key != self._key:
            self._key = key
            self._pixmap = QPixmap(size * ratio)
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(Qt.GlobalColor.transparent)
            inner = QPainter(self._pixmap)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint(inner, notes)
            inner.end()
        painter.drawPixmap(0, 0, self._pixmap)


def paint(painter: QPainter, notes: Notes) -> None:
    """Paint dimensions and labels."""
    if notes.upright is not None:
        _paint_upright(painter, notes.upright)
    for note in notes.labels:
        paint_note(painter, note)


def _paint_upright(painter: QPainter, one: Upright) -> None:
    lines = [
        QLineF(one.x, one.low, one.x, one.high),
        QLineF(one.x - 6, one.low, one.x + 6, one.low),
        QLineF(one.x - 6, one.high, one.x + 6, one.high),
    ]
    casing = QColor(LOOK.colour("panel"))
    casing.setAlphaF(0.75)
    for colour, width in ((casing, 4.0), (LOOK.colour("ink"), 1.4)):
        painter.setPen(QPen(colour, width * LOOK.scale))
        painter.drawLines(lines)


def paint_note(painter: QPainter, note: Note) -> None:
    """Paint a raised label, or bare words on a faint ground."""
    radius = LOOK.px(6)
    painter.setPen(Qt.PenStyle.NoPen)
    ground = QColor(LOOK.colour("panel"))
    if note.edge:
        shadow = QColor(LOOK.colour("ink" if LOOK.colour("ink").lightness() < 128 else "paper"))
        shadow.setAlphaF(0.16)
        painter.setBrush(shadow)
        painter.drawRoundedRect(note.box.translated(0, 1.5), radius, radius)
        painter.setPen(QPen(LOOK.colour(note.edge), 1.4 if note.edge != "rule" else 1))
    else:
        ground.setAlphaF(FAINT)
    painter.setBrush(ground)
    painter.drawRoundedRect(note.box, radius, radius)
    inside = note.box.adjusted(LOOK.px(INSIDE), LOOK.px(INSIDE) / 2, -1, -LOOK.px(INSIDE) / 2)
    is_strong = bool(note.edge) and not note.second
    is_small = note.is_small or note.edge in ("", "crack")
    font = LOOK.font(SMALL_PX if is_small else TEXT_PX, strong=is_strong)
    painter.setFont(font)
    painter.setPen(LOOK.colour("ink"))
    metrics = QFontMetricsF(font)
    if not note.second:
        painter.drawText(note.box, Qt.AlignmentFlag.AlignCenter, note.first)
        return
    painter.drawText(QPointF(inside.left(), inside.top() + metrics.ascent()), note.first)
    painter.setFont(LOOK.font(SMALL_PX))
    painter.setPen(LOOK.colour("muted"))
    below = inside.top() + metrics.height() + QFontMetricsF(painter.font()).ascent()
    painter.drawText(QPointF(inside.left(), below), note.second)
