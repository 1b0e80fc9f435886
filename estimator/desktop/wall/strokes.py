"""Cracks, bars, bricks and areas stroked over the brickwork, told apart by shape."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QLinearGradient, QPainter, QPainterPath, QPen, QPolygonF

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.view import View
from estimator.drawing.shapes import (
    AreaShape,
    BarShape,
    BedShape,
    BrickShape,
    BrickState,
    CrackShape,
    CrackWidth,
    JointShape,
    LegShape,
    Picture,
    Shape,
    ThinBedShape,
)
from estimator.masonry.region import Point

CRACK_PX, CRACK_CASING_PX = 3.0, 5.5
BAR_PX, BAR_CASING_PX, TICK_PX = 4.0, 7.0, 7.0
LEG_PX, LEG_CASING_PX = 2.6, 5.6
"""How wide the leg of a bar is, and its casing [px]."""
WIDTH_PX, WIDEST_PX, HAND_PX = 3.6, 7.0, 5.0
"""How large marks are: of a width, of the widest, and of a hand on a bar [px]."""
HALO_PX = 10.0
"""How much wider a halo is than the casing of what it lights [px]."""
FADED, FADED_WIDTH = 0.34, 0.6
LIT_WIDTH = 1.35
USUAL_PER_MM, THINNEST, BOLDEST = 0.2, 0.7, 1.3
"""Scale at which strokes have their width, and how far they follow it up and down [px/mm]."""


class Strokes:
    """Strokes the marks of one picture in one view."""

    def __init__(self, painter: QPainter, view: View) -> None:
        self.painter, self.view = painter, view
        self.weight = LOOK.scale * min(max(view.per_mm / USUAL_PER_MM, THINNEST), BOLDEST)

    def all(self, picture: Picture, lit: frozenset[str]) -> None:
        """Stroke every mark; where some are lit they come last, and the rest fades."""
        for bed in picture.thin_beds:
            self.thin_bed(bed)
        shapes: tuple[Shape, ...] = (
            *picture.areas,
            *picture.bars,
            *picture.legs,
            *picture.bricks,
            *picture.cracks,
        )
        if not lit or picture.elevation in lit:
            for shape in shapes:
                self.one(shape)
            if picture.elevation in lit:
                self._halo_round(picture)
            return
        joints = tuple(one for one in picture.joints if one.mark in lit)
        usual = self.weight
        self.weight = usual * FADED_WIDTH
        self.painter.setOpacity(FADED)
        for shape in shapes:
            if shape.mark not in lit:
                self.one(shape)
        self.painter.setOpacity(1.0)
        self.weight = usual * LIT_WIDTH
        beds = tuple(one for one in picture.beds if one.mark in lit)
        shone = (*beds, *(one for one in shapes if one.mark in lit), *joints)
        self.halos(shone)
        for lit_one in shone:
            self.one(lit_one)
        self.weight = usual

    def one(self, shape: Shape | BedShape) -> None:
        """Stroke one mark."""
        if isinstance(shape, CrackShape):
            self._crack(shape)
        elif isinstance(shape, BarShape):
            self._bar(shape)
        elif isinstance(shape, LegShape):
            self._leg(shape)
        elif isinstance(shape, BrickShape):
            left, top, right, bottom = self.view.box(shape.box)
            rect = QRectF(left, top, right - left, bottom - top).adjusted(0.5, 1, -0.5, -1)
            brick(self.painter, rect, shape.state, self.weight, is_crossed=shape.is_crossed)
        elif isinstance(shape, AreaShape):
            self._area(shape)
        elif isinstance(shape, BedShape):
            self._bed(shape)
        else:
            self._joint(shape)

    def halos(self, shapes: Sequence[Shape | BedShape]) -> None:
        """Light up marks, those alike in one stroke, so that halos never darken each other."""
        colour = QColor(LOOK.colour("act"))
        colour.setAlphaF(0.5)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        paths: dict[float, QPainterPath] = {}
        for shape in shapes:
            paths.setdefault(_casing(shape), QPainterPath()).addPath(self._path(shape))
        for casing, path in paths.items():
            pen = QPen(colour, casing * self.weight + HALO_PX * LOOK.scale)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            self.painter.setPen(pen)
            self.painter.drawPath(path)

    def _halo_round(self, picture: Picture) -> None:
        corners = [QPointF(*self.view.at(*corner)) for corner in picture.masonry.outline]
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.setPen(QPen(LOOK.colour("act"), 6 * LOOK.scale))
        self.painter.drawPolygon(QPolygonF(corners))

    def _path(self, shape: Shape | BedShape) -> QPainterPath:
        if isinstance(shape, CrackShape):
            return self._line(shape.points)
        if isinstance(shape, BarShape | LegShape):
            return self._line(((shape.left, shape.y), (shape.right, shape.y)))
        if isinstance(shape, AreaShape):
            return self._line((*shape.corners, shape.corners[0]))
        if isinstance(shape, BedShape):
            path = QPainterPath()
            for box in shape.boxes:
                y = (box[1] + box[3]) / 2
                path.addPath(self._line(((box[0], y), (box[2], y))))
            return path
        left, bottom, right, top = shape.box
        return self._line(
            ((left, bottom), (right, bottom), (right, top), (left, top), (left, bottom))
        )

    def _line(self, points: Sequence[Point]) -> QPainterPath:
        path = QPainterPath()
        for number, point in enumerate(points):
            at = QPointF(*self.view.at(*point))
            if number:
                path.lineTo(at)
            else:
                path.moveTo(at)
        return path

    def _crack(self, crack: CrackShape) -> None:
        painter = self.painter
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if len(crack.beyond) > 1:
            self._fading(crack.beyond)
        colour, casing = LOOK.colour("crack"), LOOK.colour("panel")
        if len(crack.likely) > 1:
            path = self._line(crack.likely)
            painter.setPen(_pen(casing, CRACK_CASING_PX * self.weight))
            painter.drawPath(path)
            pen = _pen(colour, (CRACK_PX - 0.5) * self.weight)
            pen.setDashPattern([2.2, 1.3])
            painter.setPen(pen)
            painter.drawPath(path)
        if len(crack.sure) > 1:
            path = self._line(crack.sure)
            painter.setPen(_pen(casing, CRACK_CASING_PX * self.weight))
            painter.drawPath(path)
            painter.setPen(_pen(colour, CRACK_PX * self.weight))
            painter.drawPath(path)
        for width in crack.widths:
            self._width(width)

    def _width(self, width: CrackWidth) -> None:
        """Mark where a crack was measured: a ring, and a filled diamond at its widest."""
        painter, at = self.painter, QPointF(*self.view.at(*width.point))
        reach = (WIDEST_PX if width.is_widest else WIDTH_PX) * self.weight
        painter.setPen(_pen(LOOK.colour("panel"), 2 * self.weight))
        painter.setBrush(LOOK.colour("crack" if width.is_widest else "panel"))
        if width.is_widest:
            ends = ((0, -reach), (reach, 0), (0, reach), (-reach, 0))
            painter.drawPolygon(QPolygonF([at + QPointF(*end) for end in ends]))
        else:
            painter.drawEllipse(at, reach + self.weight, reach + self.weight)
            painter.setPen(_pen(LOOK.colour("crack"), 2 * self.weight))
            painter.drawEllipse(at, reach, reach)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _fading(self, points: Sequence[Point]) -> None:
        """Stroke how far a crack may go: dots that fade away."""
        start, end = (QPointF(*self.view.at(*points[n])) for n in (0, -1))
        path = self._line(points)
        for token, width, strength in (
            ("panel", CRACK_CASING_PX, 0.7),
            ("crack", CRACK_PX - 1, 0.9),
        ):
            fade = QLinearGradient(start, end)
            for place, share in ((0.0, strength), (1.0, 0.12 * strength)):
                colour = QColor(LOOK.colour(token))
                colour.setAlphaF(share)
                fade.setColorAt(place, colour)
            pen = QPen(QBrush(fade), width * self.weight)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            if token == "crack":
                pen.setDashPattern([1.2, 2.0])
            self.painter.setPen(pen)
            self.painter.drawPath(path)

    def _bar(self, bar: BarShape) -> None:
        painter, weight = self.painter, self.weight
        ends = [QPointF(*self.view.at(x, bar.y)) for x in (bar.left, bar.right)]
        ticks = [
            _tick(end, turns=turns, inward=inward, weight=weight)
            for end, turns, inward in zip(ends, bar.turns, (1, -1), strict=True)
        ]
        painter.setPen(_pen(LOOK.colour("panel"), BAR_CASING_PX * weight))
        painter.drawLine(QLineF(*ends))
        painter.setPen(_pen(LOOK.colour("panel"), 5 * weight))
        painter.drawLines(ticks)
        colour = LOOK.colour("bar")
        painter.setPen(_pen(colour, BAR_PX * weight))
        painter.drawLine(QLineF(*ends))
        if bar.is_guessed:
            # A light core makes an outline of it: lighter, and still a bar in grey.
            painter.setPen(_pen(LOOK.colour("panel"), 1.8 * weight))
            painter.drawLine(QLineF(*ends))
        painter.setPen(_pen(colour, 2 * weight))
        painter.drawLines(ticks)
        if bar.kept:
            self._pin((ends[0] + ends[1]) / 2)
        elif bar.by_hand:
            self._grasped(ends)

    def _leg(self, leg: LegShape) -> None:
        """Stroke a leg: finer than a bar, a hook up where it comes round the quoin."""
        painter, weight = self.painter, self.weight
        left, right = (QPointF(*self.view.at(x, leg.y)) for x in (leg.left, leg.right))
        quoin, end, inward = (right, left, -1) if leg.at_right else (left, right, 1)
        tick, turn = TICK_PX * weight, quoin + QPointF(2.5 * inward, 0)
        path = QPainterPath(turn - QPointF(0, 2.2 * tick))
        path.lineTo(turn)
        path.lineTo(end)
        path.moveTo(end - QPointF(0, tick))
        path.lineTo(end + QPointF(0, tick))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for token, width in (("panel", LEG_CASING_PX), ("bar", LEG_PX)):
            painter.setPen(_pen(LOOK.colour(token), width * weight))
            painter.drawPath(path)

    def _grasped(self, ends: Sequence[QPointF]) -> None:
        """Mark a bar set by hand: a disc on each end, where the rule's has a bare tick."""
        painter, reach = self.painter, HAND_PX * self.weight
        painter.setPen(_pen(LOOK.colour("panel"), 1.6 * self.weight))
        painter.setBrush(LOOK.colour("bar"))
        for end in ends:
            painter.drawEllipse(end, reach, reach)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _pin(self, at: QPointF) -> None:
        """Mark a bar kept where it lay: a small padlock in its middle."""
        painter, reach = self.painter, HAND_PX * self.weight
        body = QRectF(at.x() - reach, at.y() - reach * 0.5, 2 * reach, 1.7 * reach)
        bow = QRectF(at.x() - reach * 0.6, at.y() - reach * 1.5, 1.2 * reach, 2 * reach)
        for token, more in (("panel", 3.0), ("bar", 0.0)):
            painter.setPen(_pen(LOOK.colour(token), (1.6 + more) * self.weight))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawArc(bow, 0, 180 * 16)
            painter.setBrush(LOOK.colour("bar"))
            painter.drawRect(body)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def thin_bed(self, bed: ThinBedShape) -> None:
        """Mark a thin bed: a fine double line, pinched by a pair of arrow heads."""
        painter, weight = self.painter, self.weight
        ends = [QPointF(*self.view.at(x, bed.y)) for x in (bed.left, bed.right)]
        painter.setPen(_pen(LOOK.colour("panel"), 5 * weight))
        painter.drawLine(QLineF(*ends))
        apart = QPointF(0, 2 * weight)
        painter.setPen(_pen(LOOK.colour("ink"), 1.2 * weight))
        painter.drawLines([QLineF(ends[0] + one, ends[1] + one) for one in (apart, -apart)])
        middle, wide, high = (ends[0] + ends[1]) / 2, 4.5 * weight, 7 * weight
        painter.setPen(_pen(LOOK.colour("panel"), 1.2 * weight))
        painter.setBrush(LOOK.colour("ink"))
        for way in (-1, 1):
            tip = middle + QPointF(0, way * 2.5 * weight)
            corners = [tip + QPointF(x * wide, way * high) for x in (-1, 1)]
            painter.drawPolygon(QPolygonF([tip, *corners]))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _bed(self, bed: BedShape) -> None:
        """Light the stretches of a bed that are pointed."""
        for box in bed.boxes:
            left, top, right, bottom = self.view.box(box)
            rect = QRectF(left, top, right - left, bottom - top).adjusted(-1, -1, 1, 1)
            self.painter.fillRect(rect, LOOK.colour("crack"))

    def _area(self, area: AreaShape) -> None:
        corners = QPolygonF([QPointF(*self.view.at(*corner)) for corner in area.corners])
        tint = QColor(LOOK.colour("panel"))
        tint.setAlphaF(0.34)
        self.painter.setPen(_pen(LOOK.colour("panel"), 4 * self.weight))
        self.painter.setBrush(tint)
        self.painter.drawPolygon(corners)
        pen = _pen(LOOK.colour("ink"), 1.8 * self.weight)
        pen.setDashPattern([6, 3])
        self.painter.setPen(pen)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawPolygon(corners)

    def _joint(self, joint: JointShape) -> None:
        left, top, right, bottom = self.view.box(joint.box)
        rect = QRectF(left, top, right - left, bottom - top).adjusted(-1, -1, 1, 1)
        self.painter.fillRect(rect, LOOK.colour("crack"))


def key(painter: QPainter, kind: str, line: QLineF) -> None:
    """Paint the key of a mark as it is on the wall, along a line."""
    level, left, right = line.p1().y(), line.p1().x(), line.p2().x()
    strokes = Strokes(painter, View(0.0, 0.0, 1.0))
    strokes.weight = LOOK.scale * 0.8
    if kind == "leg":
        strokes.one(LegShape("", left, right, -level))
    elif kind == "thin":
        strokes.thin_bed(ThinBedShape("", 1, left, right, -level, 0.0))
    elif kind == "widest":
        ends = (left, -level), (right, -level)
        width = CrackWidth(((left + right) / 2, -level), 0.0, is_widest=True)
        strokes.one(CrackShape("", "", ends, (), (), (width,)))
    else:
        turns = (False, False)
        is_kept = kind == "kept"
        strokes.one(
            BarShape("", left, right, -level, turns, 1, 0.0, (), False, by_hand=True, kept=is_kept)
        )


def _casing(shape: Shape | BedShape) -> float:
    """Return how wide the casing of a mark is at its usual weight [px]."""
    if isinstance(shape, BarShape):
        return BAR_CASING_PX
    if isinstance(shape, LegShape):
        return LEG_CASING_PX
    return CRACK_CASING_PX if isinstance(shape, CrackShape) else 0.0


def _pen(colour: QColor, width: float) -> QPen:
    pen = QPen(colour, width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


def _tick(end: QPointF, *, turns: bool, inward: int, weight: float) -> QLineF:
    """Return the upright at a bar's end; one that turns round a quoin hangs down, inside."""
    tick = TICK_PX * weight
    if turns:
        x = end.x() + inward * 2.5
        return QLineF(x, end.y() - 2 * weight, x, end.y() + 2.2 * tick)
    return QLineF(end.x(), end.y() - tick, end.x(), end.y() + tick)


def brick(
    painter: QPainter, rect: QRectF, state: BrickState, weight: float, *, is_crossed: bool = False
) -> None:
    """Mark a brick by a shape that reads in grey: crack, cross, turned arrow or half hatch."""
    light = QColor(LOOK.colour("panel"))
    light.setAlphaF(0.55 if state is not BrickState.CRACKED else 0.25)
    painter.fillRect(rect, light)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(_pen(LOOK.colour("ink"), 1.8 * weight))
    painter.drawRect(rect)
    painter.setPen(QPen(LOOK.colour("ink"), 1.5 * weight))
    if state is BrickState.REPLACE:
        painter.drawLine(rect.topLeft(), rect.bottomRight())
        painter.drawLine(rect.bottomLeft(), rect.topRight())
    elif state is BrickState.TURN:
        _turned_arrow(painter, rect)
    elif state is BrickState.PATCH:
        _half_hatch(painter, rect)
    elif not is_crossed:
        _cracked(painter, rect, weight)


def _turned_arrow(painter: QPainter, rect: QRectF) -> None:
    """Paint an arrow that goes right, up and back to the left."""
    high = rect.height()
    low, up = rect.bottom() - high * 0.28, rect.top() + high * 0.28
    start, bend = rect.left() + rect.width() * 0.22, rect.right() - rect.width() * 0.22
    head = high * 0.2
    painter.drawPolyline(
        [QPointF(start, low), QPointF(bend, low), QPointF(bend, up), QPointF(start, up)]
    )
    painter.drawPolyline(
        [QPointF(start + head, up - head), QPointF(start, up), QPointF(start + head, up + head)]
    )


def _half_hatch(painter: QPainter, rect: QRectF) -> None:
    """Paint slanting lines over the right half of a brick."""
    painter.save()
    half = QRectF(rect.center().x(), rect.top(), rect.width() / 2, rect.height())
    painter.setClipRect(half, Qt.ClipOperation.IntersectClip)
    step = max(rect.width() / 9, 3.5)
    x = half.left() - rect.height()
    while x < half.right():
        painter.drawLine(QLineF(x, rect.bottom(), x + rect.height(), rect.top()))
        x += step
    painter.restore()
    painter.drawLine(QLineF(half.left(), rect.top(), half.left(), rect.bottom()))


def _cracked(painter: QPainter, rect: QRectF, weight: float) -> None:
    """Paint a jagged line from the top of a brick to its foot."""
    painter.setPen(_pen(LOOK.colour("crack"), 2.2 * weight))
    shares = ((0.46, 0.0), (0.54, 0.34), (0.45, 0.62), (0.53, 1.0))
    points = [
        QPointF(rect.left() + rect.width() * x, rect.top() + rect.height() * y) for x, y in shares
    ]
    for one, two in pairwise(points):
        painter.drawLine(one, two)
