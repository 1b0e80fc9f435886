"""Bricks, mortar, openings and ground, painted once and kept while nothing of them changes."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QLinearGradient, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Box, Hole, Masonry
from estimator.drawing.shapes import Part, Picture
from estimator.survey.survey import Lintel

FLAT_BELOW_PX = 6.0
"""Courses lower than this are a flat tint: their beds would drop out in bands [px]."""
FRAME_MM, SILL_OVER_MM, BAR_MM = 55.0, 60.0, 45.0
TWO_LIGHTS_FROM_MM = 900.0
SOLDIER_MM, SOLDIER_JOINT_MM = 75.0, 10.0
"""A brick on end with its joint, and the joint [mm]."""
TINTS = (
    ("brick_edge", 0.0),
    ("brick_edge", 0.26),
    ("brick_edge", 0.48),
    ("mortar", 0.2),
    ("brick_edge", 0.72),
)
"""How far each tint goes from the colour of brick toward another."""
FADED, GONE = 0.45, 1.0
"""How much of the ground covers a wall that goes on, where it was described and at its end."""
LIGHTER = 0.52
"""How far what is guessed goes toward the mortar."""


def mixed(one: QColor, two: QColor, share: float) -> QColor:
    """Return a colour part of the way from one to another."""
    return QColor.fromRgbF(
        *(
            a + (b - a) * share
            for a, b in zip(one.getRgbF()[:3], two.getRgbF()[:3], strict=True)  # type: ignore[index]
        )
    )


class KeptBrickwork:
    """The brickwork as a picture of the screen's size, painted anew only when it has changed."""

    def __init__(self) -> None:
        self._key: tuple[object, ...] = ()
        self._pixmap = QPixmap()
        self.painted = 0
        """How often it was painted."""

    def pixmap(self, picture: Picture, view: View, size: QSize, ratio: float) -> QPixmap:
        """Return the brickwork behind a picture."""
        washed = picture.guessed & {Part.BRICKS, Part.OPENING}
        key = (picture.masonry, view, washed, size, ratio, LOOK.scheme, LOOK.scale)
        if key != self._key:
            self._key = key
            self._pixmap = QPixmap(size * ratio)
            self._pixmap.setDevicePixelRatio(ratio)
            self._pixmap.fill(LOOK.colour("paper"))
            painter = QPainter(self._pixmap)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint(painter, picture.masonry, view, washed)
            painter.end()
            self.painted += 1
        return self._pixmap


def paint(painter: QPainter, masonry: Masonry, view: View, guessed: frozenset[Part]) -> None:
    """Paint the brickwork from the ground up."""
    _ground(painter, masonry, view)
    if masonry.gauge_mm * view.per_mm >= FLAT_BELOW_PX:
        _below(painter, masonry, view)
        _beyond(painter, masonry, view)
    _bricks(painter, masonry, view, lighter=Part.BRICKS in guessed)
    for hole in masonry.holes:
        _opening(painter, hole, view, is_guessed=Part.OPENING in guessed)
    _edges(painter, masonry, view)


@lru_cache(maxsize=8)
def _rects(masonry: Masonry) -> tuple[tuple[list[QRectF], ...], list[QRectF], list[QRectF]]:
    """Return bricks by tint, those below and those beyond, as the painter takes them."""
    tinted = tuple([_rect(box) for box in boxes] for boxes in masonry.tinted)
    below, beyond = ([_rect(box) for box in boxes] for boxes in (masonry.below, masonry.beyond))
    return tinted, below, beyond


def _rect(box: Box) -> QRectF:
    left, bottom, right, top = box
    return QRectF(left, bottom, right - left, top - bottom)


def brick_colours(*, lighter: bool) -> tuple[QColor, ...]:
    """Return the colours of the tints in the scheme in use."""
    brick, mortar = LOOK.colour("brick"), LOOK.colour("mortar")
    colours = [mixed(brick, LOOK.colour(toward), share) for toward, share in TINTS]
    return tuple(mixed(one, mortar, LIGHTER) if lighter else one for one in colours)


def _bricks(painter: QPainter, masonry: Masonry, view: View, *, lighter: bool) -> None:
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    colours = brick_colours(lighter=lighter)
    mortar = LOOK.colour("mortar")
    is_flat = masonry.gauge_mm * view.per_mm < FLAT_BELOW_PX
    _to_wall(painter, view)
    outline = QPolygonF([QPointF(*corner) for corner in masonry.outline])
    painter.setBrush(mixed(colours[1], mortar, 0.25) if is_flat else mortar)
    painter.drawPolygon(outline)
    if not is_flat:
        tinted = _rects(masonry)[0]
        if not masonry.is_square:
            # A brick under a raking verge is given with an upright end; the verge cuts it here.
            verge = QPainterPath()
            verge.addPolygon(outline)
            painter.setClipPath(verge)
        for colour, rects in zip(colours, tinted, strict=True):
            painter.setBrush(colour)
            painter.drawRects(rects)
    painter.restore()


def _below(painter: QPainter, masonry: Masonry, view: View) -> None:
    """Paint the bricks between the wall and the ground, which nobody described."""
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(mixed(brick_colours(lighter=True)[1], LOOK.colour("earth"), 0.3))
    _to_wall(painter, view)
    painter.drawRects(_rects(masonry)[1])
    painter.restore()


def _beyond(painter: QPainter, masonry: Masonry, view: View) -> None:
    """Paint where the wall goes on further than anyone said, fading away."""
    if not masonry.beyond:
        return
    left, bottom, right, top = masonry.wall
    more_left, _low, more_right, more_up = masonry.fades
    painter.fillRect(
        _on_screen((left - more_left, bottom, right + more_right, top + more_up), view),
        LOOK.colour("mortar"),
    )
    foot = bottom if masonry.ground is None else masonry.ground
    whole = (left - more_left, foot, right + more_right, top + more_up)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(brick_colours(lighter=False)[0])
    painter.save()
    _to_wall(painter, view)
    painter.drawRects(_rects(masonry)[2])
    painter.restore()
    for side, near, far in (
        ((whole[0], whole[1], left, whole[3]), (left, top), (whole[0], top)),
        ((right, whole[1], whole[2], whole[3]), (right, top), (whole[2], top)),
        ((left, top, right, whole[3]), (left, top), (left, whole[3])),
    ):
        if near == far:
            continue
        fade = QLinearGradient(QPointF(*view.at(*near)), QPointF(*view.at(*far)))
        for place, share in ((0.0, FADED), (0.5, 0.85), (1.0, GONE)):
            paper = QColor(LOOK.colour("paper"))
            paper.setAlphaF(share)
            fade.setColorAt(place, paper)
        painter.fillRect(_on_screen(side, view).adjusted(-1, -1, 1, 0), fade)


def _on_screen(box: Box, view: View) -> QRectF:
    left, top, right, bottom = view.box(box)
    return QRectF(left, top, right - left, bottom - top)


def _to_wall(painter: QPainter, view: View) -> None:
    """Let the painter count in millimetres, upward."""
    painter.translate(-view.left_mm * view.per_mm, view.top_mm * view.per_mm)
    painter.scale(view.per_mm, -view.per_mm)


def _ground(painter: QPainter, masonry: Masonry, view: View) -> None:
    """Paint the earth, and the foot of the wall down to it."""
    if masonry.ground is None:
        return
    low = masonry.bounds[1]
    left, foot, right, _top = masonry.wall
    left, right = left - masonry.fades[0], right + masonry.fades[2]
    plinth = QRectF(QPointF(*view.at(left, foot)), QPointF(*view.at(right, masonry.ground)))
    painter.fillRect(plinth, mixed(LOOK.colour("mortar"), LOOK.colour("earth"), 0.3))
    _x, level = view.at(left, masonry.ground)
    _x, bottom = view.at(left, low)
    wide = painter.viewport().width()
    painter.fillRect(QRectF(0, level, wide, max(bottom - level, 0) + 2), LOOK.colour("earth"))


def _opening(painter: QPainter, hole: Hole, view: View, *, is_guessed: bool) -> None:
    kind = hole.kind.lower()
    left, top, right, bottom = view.box(hole.box)
    outer = QRectF(left, top, right - left, bottom - top)
    line = QPen(LOOK.colour("edge"), 1.2)
    if is_guessed:
        line.setStyle(Qt.PenStyle.DashLine)
    painter.save()
    painter.setPen(line)
    frame = max(FRAME_MM * view.per_mm, 2.0)
    painter.setBrush(LOOK.colour("panel"))
    painter.drawRect(outer)
    if "vent" in kind:
        _slats(painter, outer)
    elif "door" in kind:
        _door(painter, outer, frame)
    else:
        wide = hole.box[2] - hole.box[0]
        _lights(painter, outer, frame, lights=2 if wide >= TWO_LIGHTS_FROM_MM else 1)
    if hole.sill_mm:
        over, deep = SILL_OVER_MM * view.per_mm, hole.sill_mm * view.per_mm
        painter.setBrush(LOOK.colour("stone"))
        painter.drawRect(QRectF(left - over, bottom, right - left + 2 * over, deep))
    _lintel(painter, hole, view)
    painter.restore()
    if is_guessed:
        veil = LOOK.colour("mortar")
        painter.setOpacity(0.4)
        painter.fillRect(outer.adjusted(1, 1, -1, -1), veil)
        painter.setOpacity(1.0)


def _lintel(painter: QPainter, hole: Hole, view: View) -> None:
    """Paint what shows of the lintel, by what it is made of."""
    if hole.lintel_box is None:
        return
    left, top, right, bottom = view.box(hole.lintel_box)
    band = QRectF(left, top, right - left, bottom - top)
    is_brick = hole.lintel is Lintel.BRICK
    painter.setBrush(LOOK.colour("brick_edge" if is_brick else "stone"))
    if hole.lintel is Lintel.TIMBER:
        painter.setBrush(mixed(LOOK.colour("stone"), LOOK.colour("edge"), 0.35))
    painter.drawRect(band)
    if is_brick:
        # Soldiers: bricks on end, as wide as they are high in the wall.
        count = max(round((hole.lintel_box[2] - hole.lintel_box[0]) / SOLDIER_MM), 1)
        painter.setPen(QPen(LOOK.colour("mortar"), max(SOLDIER_JOINT_MM * view.per_mm, 1.0)))
        for number in range(1, count):
            x = band.left() + band.width() * number / count
            painter.drawLine(QLineF(x, band.top(), x, band.bottom()))
    elif hole.lintel is Lintel.TIMBER:
        for share in (0.35, 0.7):
            y = band.top() + band.height() * share
            painter.drawLine(QLineF(band.left() + 3, y, band.right() - 3, y))


def _lights(painter: QPainter, outer: QRectF, frame: float, *, lights: int) -> None:
    """Paint panes of glass in a frame."""
    painter.setBrush(LOOK.colour("glass"))
    inner = outer.adjusted(frame, frame, -frame, -frame)
    if inner.width() < lights * 2 or inner.height() < 2:
        return
    between = frame * (lights - 1)
    wide = (inner.width() - between) / lights
    for number in range(lights):
        pane = QRectF(inner.left() + number * (wide + frame), inner.top(), wide, inner.height())
        painter.drawRect(pane)


def _door(painter: QPainter, outer: QRectF, frame: float) -> None:
    """Paint a leaf with two panels and a knob."""
    leaf = outer.adjusted(frame, frame, -frame, 0)
    painter.setBrush(LOOK.colour("stone"))
    painter.drawRect(leaf)
    more = frame * 1.6
    painter.setBrush(mixed(LOOK.colour("stone"), LOOK.colour("panel"), 0.35))
    middle = leaf.top() + leaf.height() * 0.52
    for top, bottom in ((leaf.top() + more, middle - more / 2), (middle + more / 2, leaf.bottom())):
        low = bottom - (more if bottom == leaf.bottom() else 0)
        if low > top and leaf.width() > 2 * more:
            painter.drawRect(QRectF(leaf.left() + more, top, leaf.width() - 2 * more, low - top))
    painter.setBrush(LOOK.colour("edge"))
    painter.drawEllipse(QPointF(leaf.right() - more / 2, middle), frame * 0.3, frame * 0.3)


def _slats(painter: QPainter, outer: QRectF) -> None:
    count = 4
    for number in range(1, count):
        y = outer.top() + outer.height() * number / count
        painter.drawLine(QLineF(outer.left(), y, outer.right(), y))


def _edges(painter: QPainter, masonry: Masonry, view: View) -> None:
    """Paint where the wall really ends, its movement joints, damp course and ground."""
    left, foot, right, top = masonry.wall
    base = foot if masonry.ground is None else masonry.ground
    painter.setPen(QPen(LOOK.colour("ink"), 2))
    if masonry.is_square:
        for ends, x in zip(masonry.ends, (left, right), strict=True):
            if ends:
                painter.drawLine(QPointF(*view.at(x, base)), QPointF(*view.at(x, top)))
    else:
        painter.setPen(QPen(LOOK.colour("edge"), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        corners = [QPointF(*view.at(*corner)) for corner in masonry.outline]
        painter.drawPolyline([*corners, corners[0]])
    _dashed(painter, [(x, base, x, top) for x in masonry.movement_joints], view, (7.0, 2.0))
    if masonry.damp_course is not None:
        level = masonry.damp_course
        reach = left - masonry.fades[0], right + masonry.fades[2]
        _dashed(painter, [(reach[0], level, reach[1], level)], view, (4.0, 2.5))
    if masonry.ground is not None:
        painter.setPen(QPen(LOOK.colour("edge"), 2))
        y = view.at(left, masonry.ground)[1]
        painter.drawLine(QPointF(0, y), QPointF(painter.viewport().width(), y))


def _dashed(painter: QPainter, lines: list[Box], view: View, dashes: tuple[float, float]) -> None:
    """Paint dashed lines in ink over a faint casing."""
    for x, y, to_x, to_y in lines:
        line = QLineF(QPointF(*view.at(x, y)), QPointF(*view.at(to_x, to_y)))
        casing = QColor(LOOK.colour("mortar"))
        painter.setPen(QPen(casing, 3.5))
        painter.drawLine(line)
        pen = QPen(LOOK.colour("ink"), 1.6)
        pen.setDashPattern(dashes)
        painter.setPen(pen)
        painter.drawLine(line)
