"""The marks of a drawing on paper, each told from the others by its shape, in grey too."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from estimator.documents import styles
from estimator.documents.figure import Key, Sign
from estimator.documents.strokes import Path, View, pen
from estimator.drawing.courses import Box, Hole
from estimator.drawing.shapes import BarShape, LegShape, ThinBedShape
from estimator.masonry.region import Point
from estimator.survey.survey import Lintel, Treatment

CRACK_WIDTH, BAR_WIDTH, CASING = 1.4, 1.7, 1.5
TICK = 2.6
LIKELY_DASH = (3.2, 1.8)
"""How a crack is dashed where it is likely and not sure."""
DOT = 1.5
"""Half the size of the dot at a place where a width was measured."""
SILL_OVERHANG_MM = 60.0
FRAME_MM = 55.0
SOLDIER_MM = 75.0
"""From one soldier brick over an opening to the next [mm]."""


def opening(canvas: Any, view: View, hole: Hole) -> None:
    """Draw a window with frame and sill, a door with a leaf, anything else as a plain hole."""
    left, bottom, right, top = view.box(hole.box)
    pen(canvas, styles.FRAME, styles.HAIRLINE)
    canvas.setFillColor(styles.PAPER)
    canvas.rect(left, bottom, right - left, top - bottom, stroke=1, fill=1)
    frame = FRAME_MM * view.per_mm
    if "vent" not in hole.kind.lower():
        canvas.setFillColor(styles.GLASS)
        foot = 0.0 if "door" in hole.kind.lower() else frame
        canvas.rect(
            left + frame,
            bottom + foot,
            max(right - left - 2 * frame, 0.1),
            max(top - bottom - foot - frame, 0.1),
            stroke=1,
            fill=1,
        )
    if hole.sill_mm:
        over, deep = SILL_OVERHANG_MM * view.per_mm, hole.sill_mm * view.per_mm
        canvas.setFillColor(styles.SILL)
        canvas.rect(left - over, bottom - deep, right - left + 2 * over, deep, stroke=1, fill=1)
    _lintel(canvas, view, hole)


def _lintel(canvas: Any, view: View, hole: Hole) -> None:
    """Draw what shows of a lintel: a band, bricks on end where it is of brick."""
    if hole.lintel_box is None:
        return
    left, bottom, right, top = view.box(hole.lintel_box)
    pen(canvas, styles.FRAME, styles.HAIRLINE)
    is_brick = hole.lintel is Lintel.BRICK
    canvas.setFillColor(styles.BRICK if is_brick else styles.SILL)
    canvas.rect(left, bottom, right - left, top - bottom, stroke=1, fill=1)
    if is_brick:
        count = max(round((right - left) / (SOLDIER_MM * view.per_mm)), 1)
        joints = Path()
        for number in range(1, count):
            x = left + (right - left) * number / count
            joints.line([(x, bottom), (x, top)])
        canvas.drawPath(joints, stroke=1, fill=0)


def damp_course(canvas: Any, left: Point, right: Point, *, is_seen: bool) -> None:
    """Draw a damp course: a line where it was seen, dashed where it is only usual."""
    pen(canvas, styles.INK, 0.9)
    canvas.setDash(() if is_seen else (2, 2))
    canvas.line(*left, *right)
    canvas.setDash()


def bar(path: Path, view: View, shape: BarShape) -> None:
    """Add a bar with a tick at each end; one that turns round the quoin has a hook there."""
    ends = view.line(((shape.left, shape.y), (shape.right, shape.y)))
    path.line(ends)
    for (x, y), turns, inward in zip(ends, shape.turns, (1.0, -1.0), strict=True):
        # A hook stands a little inside the wall, or the clipped edge would hide it.
        place = x + inward * CASING if turns else x
        path.line([(place, y - (2 * TICK if turns else TICK)), (place, y + (0 if turns else TICK))])


def leg(path: Path, view: View, shape: LegShape, bounds: Box) -> None:
    """Add a leg turned on to this wall: a hook at the quoin it comes round, a tick at its end."""
    left, right = view.line(((shape.left, shape.y), (shape.right, shape.y)))
    path.line([left, right])
    middle = (bounds[0] + bounds[2]) / 2
    from_left = (shape.left + shape.right) / 2 < middle
    (x, y), (x_end, _y) = (left, right) if from_left else (right, left)
    inward = CASING if from_left else -CASING
    path.line([(x + inward, y - 2 * TICK), (x + inward, y)])
    path.line([(x_end, y - TICK), (x_end, y + TICK)])


def hand(canvas: Any, view: View, shape: BarShape) -> None:
    """Mark the middle of a bar that a hand set by a full lozenge, of one kept by an open square."""
    x, y = view.at(((shape.left + shape.right) / 2, shape.y))
    hand_sign(canvas, (x, y), kept=shape.kept)


def hand_sign(canvas: Any, at: Point, *, kept: bool) -> None:
    """Draw the sign of a bar set or kept by hand."""
    x, y = at
    size = TICK + 0.9
    corners = [(x - size, y), (x, y + size), (x + size, y), (x, y - size)]
    if kept:
        size = TICK
        corners = [
            *((x - size, y - size), (x + size, y - size)),
            *((x + size, y + size), (x - size, y + size)),
        ]
    pen(canvas, styles.BAR, 1.1)
    canvas.setFillColor(styles.PAPER if kept else styles.BAR)
    canvas.drawPath(Path().line(corners, closed=True), stroke=1, fill=1)


def cased(canvas: Any, path: Path, width: float, colour: Any, dash: tuple[float, ...] = ()) -> None:
    """Stroke a path on a casing of paper, so that it stands out from bricks."""
    canvas.setLineJoin(1)
    canvas.setLineCap(0)
    pen(canvas, styles.PAPER, width + CASING)
    canvas.drawPath(path, stroke=1, fill=0)
    pen(canvas, colour, width)
    canvas.setDash(dash)
    canvas.drawPath(path, stroke=1, fill=0)
    canvas.setDash()


def measured_width(canvas: Any, at: Point, *, is_widest: bool) -> None:
    """Draw a dot where a width was measured, in a ring where the crack is widest."""
    canvas.setFillColor(styles.CRACK)
    pen(canvas, styles.PAPER, 0.8)
    canvas.circle(*at, DOT + 0.5, stroke=1, fill=1)
    if is_widest:
        pen(canvas, styles.INK, 1.0)
        canvas.circle(*at, 2.6 * DOT, stroke=1, fill=0)


def thin_bed(canvas: Any, view: View, shape: ThinBedShape) -> None:
    """Draw a thin bed as a line between two arrow heads that press on it at either end."""
    left, right = view.line(((shape.left, shape.y), (shape.right, shape.y)))
    thin_sign(canvas, left, right)


def thin_sign(canvas: Any, left: Point, right: Point) -> None:
    """Draw the sign of a thin bed."""
    path = Path().line([left, right])
    for x, y in (left, right):
        for up in (1, -1):
            path.line([(x - 1.6, y + up * 4.2), (x, y + up * 0.9), (x + 1.6, y + up * 4.2)])
    pen(canvas, styles.PAPER, 2.2)
    canvas.drawPath(path, stroke=1, fill=0)
    pen(canvas, styles.INK, 0.8)
    canvas.drawPath(path, stroke=1, fill=0)


def treated_brick(canvas: Any, box: Box, treatment: Treatment) -> None:
    """Mark a brick by a shape that reads in grey: cross, turned arrow, half hatch or edge."""
    left, bottom, right, top = box
    pen(canvas, styles.INK, 0.8)
    canvas.drawPath(Path().boxes([box]), stroke=1, fill=0)
    if treatment is Treatment.REPLACE:
        cross = Path().line([(left, bottom), (right, top)]).line([(left, top), (right, bottom)])
        canvas.drawPath(cross, stroke=1, fill=0)
    elif treatment is Treatment.TURN:
        canvas.drawPath(_turned_arrow(box), stroke=1, fill=0)
    elif treatment is Treatment.PATCH:
        canvas.drawPath(_half_hatch(box), stroke=1, fill=0)


def _turned_arrow(box: Box) -> Path:
    """Return an arrow that goes right, up and back to the left."""
    left, bottom, right, top = box
    wide, high = right - left, top - bottom
    low, up = bottom + high * 0.28, top - high * 0.28
    start, bend, head = left + wide * 0.2, right - wide * 0.2, high * 0.2
    return (
        Path()
        .line([(start, low), (bend, low), (bend, up), (start, up)])
        .line([(start + head, up + head), (start, up), (start + head, up - head)])
    )


def _half_hatch(box: Box) -> Path:
    """Return slanting lines over the right half of a brick."""
    left, bottom, right, top = box
    middle, high = (left + right) / 2, top - bottom
    path = Path()
    steps = 4
    places = [middle + (right - middle) * n / steps for n in range(steps + 1)]
    for x, beyond in pairwise(places):
        path.line([(x, bottom), (min(x + high, beyond), min(top, bottom + (beyond - x)))])
    return path.line([(middle, bottom), (middle, top)])


def key(canvas: Any, box: Box, kind: Key) -> None:
    """Draw what a key explains, in its box."""
    left, bottom, right, top = box
    if isinstance(kind, Treatment):
        canvas.setFillColor(styles.BRICK)
        canvas.rect(left, bottom, right - left, top - bottom, stroke=0, fill=1)
        treated_brick(canvas, box, kind)
        return
    middle = (bottom + top) / 2
    ends = [(left, middle), (right, middle)]
    if kind in (Sign.BAR, Sign.BY_HAND, Sign.KEPT):
        _bar_key(canvas, ends, kind)
    elif kind is Sign.LIKELY:
        cased(canvas, Path().line(_steps(box)), CRACK_WIDTH, styles.CRACK, LIKELY_DASH)
    elif kind is Sign.THIN_BED:
        thin_sign(canvas, (left + 2, middle), (right - 2, middle))
    elif kind is Sign.WIDEST:
        measured_width(canvas, ((left + right) / 2, middle), is_widest=True)
    elif kind is Sign.AREA:
        pen(canvas, styles.INK, 0.8)
        canvas.setDash(4, 2.5)
        canvas.rect(left, bottom, right - left, top - bottom, stroke=1, fill=0)
        canvas.setDash()
    else:
        damp_course(canvas, *ends, is_seen=kind is Sign.DAMP_COURSE)


def _bar_key(canvas: Any, ends: Sequence[Point], kind: Sign) -> None:
    (left, y), (right, _y) = ends
    path = Path().line(ends)
    for x in (left, right):
        path.line([(x, y - TICK), (x, y + TICK)])
    cased(canvas, path, BAR_WIDTH, styles.BAR)
    if kind is not Sign.BAR:
        hand_sign(canvas, ((left + right) / 2, y), kept=kind is Sign.KEPT)


def _steps(box: Box) -> list[Point]:
    left, bottom, right, top = box
    middle, across = (bottom + top) / 2, (left + right) / 2
    foot = [(left, bottom), (left + 4, bottom), (left + 4, middle)]
    return [*foot, (across, middle), (across, top), (right, top)]
