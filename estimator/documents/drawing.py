"""An elevation stroked on paper: bricks in one path, cracks and bars cased to stand out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Any

from reportlab.lib.colors import Color
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from estimator.documents import styles
from estimator.documents.figure import BarLine, Box, FigureInput, Hole
from estimator.documents.text import one_line
from estimator.masonry.region import Point
from estimator.survey.survey import Treatment

TEXT = styles.SMALL
RIGHT_ROOM = 20.0
"""Room at the right for the upright dimension."""
LOW_ROOM = 17.0
"""Room at the foot for the level dimension."""
LEGEND_LEADING = 15.0
KEY_WIDTH, KEY_HEIGHT = 18.0, 8.0
CRACK_WIDTH, BAR_WIDTH, CASING = 1.4, 1.7, 1.5
TICK = 2.6
SILL_OVERHANG_MM = 60.0
FRAME_MM = 55.0


class Path:
    """A path written straight as page marks; the library's own takes ten times as long.

    ``Canvas.drawPath`` asks a path only for its code.
    """

    def __init__(self) -> None:
        self._marks: list[str] = []

    def boxes(self, boxes: Iterable[Box]) -> Path:
        """Add rectangles."""
        self._marks += [
            f"{left:.2f} {bottom:.2f} {right - left:.2f} {top - bottom:.2f} re"
            for left, bottom, right, top in boxes
        ]
        return self

    def line(self, points: Sequence[Point], *, closed: bool = False) -> Path:
        """Add a line through points."""
        for number, (x, y) in enumerate(points):
            self._marks.append(f"{x:.2f} {y:.2f} {'l' if number else 'm'}")
        if closed:
            self._marks.append("h")
        return self

    def getCode(self) -> str:  # noqa: N802 - the library's name
        """Return the page marks."""
        return " ".join(self._marks)


class ElevationDrawing(Flowable):
    """A drawing of one elevation at its scale, with dimensions and a legend."""

    def __init__(self, shapes: FigureInput, width: float) -> None:
        super().__init__()
        self.shapes = shapes
        self.width = width
        left, bottom, right, top = shapes.bounds
        self._per_mm = mm / shapes.scale
        self._low = bottom if shapes.ground is None else min(shapes.ground, bottom)
        self._wall_width = (right - left) * self._per_mm
        self._wall_height = (top - self._low) * self._per_mm
        self._legend_lines = list(self._legend_places())
        rows = max((row for row, _x, _kind, _word in self._legend_lines), default=-1) + 1
        self._legend_height = rows * LEGEND_LEADING
        self.height = self._wall_height + LOW_ROOM + self._legend_height

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room taken."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw from the wall outward: what matters most comes last and lies on top."""
        canvas, shapes = self.canv, self.shapes
        canvas.saveState()
        canvas.translate(0, self._legend_height + LOW_ROOM)
        canvas.saveState()
        clip = canvas.beginPath()
        clip.rect(0, 0, self._wall_width, self._wall_height)
        canvas.clipPath(clip, stroke=0, fill=0)
        self._ground()
        self._wall()
        for hole in shapes.openings:
            self._opening(hole)
        for brick in shapes.treated:
            _treated_brick(canvas, self._box(brick.box), brick.treatment)
        self._marks()
        canvas.restoreState()
        self._edges()
        self._labels()
        self._upright()
        self._across()
        canvas.restoreState()
        self._legend()

    def _at(self, point: Point) -> Point:
        x, y = point
        return (x - self.shapes.bounds[0]) * self._per_mm, (y - self._low) * self._per_mm

    def _box(self, box: Box) -> Box:
        return (*self._at((box[0], box[1])), *self._at((box[2], box[3])))

    def _line(self, points: Iterable[Point]) -> list[Point]:
        return [self._at(point) for point in points]

    def _ground(self) -> None:
        """Draw what lies between the lowest course and the ground."""
        if self.shapes.ground is None:
            return
        foot = self._at((0, self.shapes.bounds[1]))[1]
        self.canv.setFillColor(styles.GROUND)
        self.canv.rect(0, 0, self._wall_width, foot, stroke=0, fill=1)

    def _wall(self) -> None:
        """Draw joints as one ground and all bricks on it as one path."""
        canvas = self.canv
        canvas.setFillColor(styles.MORTAR if self.shapes.bricks else styles.BRICK)
        outline = self._line(self.shapes.outline)
        canvas.drawPath(Path().line(outline, closed=True), stroke=0, fill=1)
        canvas.setFillColor(styles.BRICK)
        bricks = (self._box(one) for one in self.shapes.bricks)
        canvas.saveState()
        # A brick under a raking verge is given with an upright end, so the verge cuts it here.
        canvas.clipPath(Path().line(outline, closed=True), stroke=0, fill=0)
        canvas.drawPath(Path().boxes(bricks), stroke=0, fill=1)
        canvas.restoreState()
        if len(outline) != 4:
            _stroke(canvas, styles.FRAME, styles.HAIRLINE)
            canvas.drawPath(Path().line(outline, closed=True), stroke=1, fill=0)

    def _opening(self, hole: Hole) -> None:
        """Draw a window with frame and sill, a door with a leaf, anything else as a plain hole."""
        canvas = self.canv
        left, bottom, right, top = self._box(hole.box)
        _stroke(canvas, styles.FRAME, styles.HAIRLINE)
        canvas.setFillColor(styles.PAPER)
        canvas.rect(left, bottom, right - left, top - bottom, stroke=1, fill=1)
        frame = FRAME_MM * self._per_mm
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
            over, deep = SILL_OVERHANG_MM * self._per_mm, hole.sill_mm * self._per_mm
            canvas.setFillColor(styles.SILL)
            canvas.rect(left - over, bottom - deep, right - left + 2 * over, deep, stroke=1, fill=1)

    def _marks(self) -> None:
        """Draw areas, movement joints, bars and cracks, each cased in white."""
        canvas, shapes = self.canv, self.shapes
        _stroke(canvas, styles.INK, 0.8)
        canvas.setDash(4, 2.5)
        for area in shapes.areas:
            canvas.drawPath(Path().line(self._line(area), closed=True), stroke=1, fill=0)
        canvas.setDash(7, 2)
        for x in shapes.movement_joints:
            upright = self._line(((x, shapes.bounds[1]), (x, shapes.bounds[3])))
            canvas.drawPath(Path().line(upright), stroke=1, fill=0)
        canvas.setDash()
        bars = Path()
        for bar in shapes.bars:
            _bar(bars, self._line(((bar.left, bar.y), (bar.right, bar.y))), bar)
        cracks = Path()
        for crack in shapes.crack_lines:
            cracks.line(self._line(crack.points))
        for path, width, colour in (
            (bars, BAR_WIDTH, styles.BAR),
            (cracks, CRACK_WIDTH, styles.CRACK),
        ):
            canvas.setLineJoin(1)
            canvas.setLineCap(0)
            _stroke(canvas, styles.PAPER, width + CASING)
            canvas.drawPath(path, stroke=1, fill=0)
            _stroke(canvas, colour, width)
            canvas.drawPath(path, stroke=1, fill=0)

    def _edges(self) -> None:
        """Draw where the wall really ends, and the line of the ground."""
        canvas = self.canv
        foot, head = (self._at((0, self.shapes.bounds[n]))[1] for n in (1, 3))
        _stroke(canvas, styles.INK, styles.STRONG_RULE)
        for ends, x in zip(self.shapes.ends, (0.0, self._wall_width), strict=True):
            if ends and len(self.shapes.outline) == 4:
                canvas.line(x, foot, x, head)
        if self.shapes.ground is not None:
            canvas.line(0, 0, self._wall_width, 0)

    def _labels(self) -> None:
        """Letter the cracks at their upper ends where there are several."""
        canvas = self.canv
        taken: list[Box] = []
        for crack in self.shapes.crack_lines:
            if not crack.label or not crack.points:
                continue
            word = one_line(crack.label)[:3]
            x, y = self._at(max(crack.points, key=lambda point: point[1]))
            wide = stringWidth(word, styles.SEMIBOLD, TEXT) + 4
            x = min(max(x - wide / 2, 0), self._wall_width - wide)
            y = min(max(y + 1.5, 0), self._wall_height - TEXT - 1)
            while any(_overlap((x, y, x + wide, y + TEXT), box) for box in taken):
                y -= TEXT + 1
            taken.append((x, y, x + wide, y + TEXT))
            canvas.setFillColor(styles.PAPER)
            canvas.roundRect(x, y, wide, TEXT + 0.5, 2, stroke=0, fill=1)
            canvas.setFillColor(styles.CRACK)
            canvas.setFont(styles.SEMIBOLD, TEXT)
            canvas.drawCentredString(x + wide / 2, y + 2, word)

    def _upright(self) -> None:
        """Dimension the height of the crack, or of the wall."""
        canvas, one = self.canv, self.shapes.upright
        x = self._wall_width + 8
        low, high = self._at((0, one.start))[1], self._at((0, one.end))[1]
        _stroke(canvas, styles.MUTED, styles.HAIRLINE)
        canvas.line(x, low, x, high)
        for y in (low, high):
            canvas.line(x - 3, y, x + 3, y)
        canvas.saveState()
        canvas.translate(x + 11, (low + high) / 2)
        canvas.rotate(90)
        _centred(canvas, one.words, 0, 0)
        canvas.restoreState()

    def _across(self) -> None:
        """Dimension the width of wall drawn."""
        canvas, y = self.canv, -8
        _stroke(canvas, styles.MUTED, styles.HAIRLINE)
        words = self.shapes.across.words
        half = stringWidth(words, styles.REGULAR, TEXT) / 2 + 5
        middle = self._wall_width / 2
        for start, end in ((0.0, middle - half), (middle + half, self._wall_width)):
            if end > start:
                canvas.line(start, y, end, y)
        for x in (0, self._wall_width):
            canvas.line(x, y - 3, x, y + 3)
        _centred(canvas, words, middle, y - 3.2)

    def _legend_places(self) -> Iterator[tuple[int, float, Treatment, str]]:
        """Yield row, place, treatment and word of each key of the legend."""
        row, x = 0, 0.0
        for kind, word in self.shapes.legend:
            wide = KEY_WIDTH + 5 + stringWidth(word, styles.REGULAR, TEXT) + 12
            if x and x + wide > self.width:
                row, x = row + 1, 0.0
            yield row, x, kind, word
            x += wide

    def _legend(self) -> None:
        canvas = self.canv
        for row, x, kind, word in self._legend_lines:
            y = self._legend_height - (row + 1) * LEGEND_LEADING + 2
            canvas.setFillColor(styles.BRICK)
            canvas.rect(x, y, KEY_WIDTH, KEY_HEIGHT, stroke=0, fill=1)
            _treated_brick(canvas, (x, y, x + KEY_WIDTH, y + KEY_HEIGHT), kind)
            canvas.setFillColor(styles.MUTED)
            canvas.setFont(styles.REGULAR, TEXT)
            canvas.drawString(x + KEY_WIDTH + 5, y + 0.8, word)


def _stroke(canvas: Any, colour: Color, width: float) -> None:
    canvas.setStrokeColor(colour)
    canvas.setLineWidth(width)


def _centred(canvas: Any, words: str, x: float, y: float) -> None:
    canvas.setFillColor(styles.MUTED)
    canvas.setFont(styles.REGULAR, TEXT)
    canvas.drawCentredString(x, y, words)


def _overlap(one: Box, two: Box) -> bool:
    return one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]


def _bar(path: Path, ends: Sequence[Point], bar: BarLine) -> None:
    """Add a bar with a tick at each end; one that turns round the quoin has a hook there."""
    path.line(ends)
    sides = ((bar.turns_left, 1.0), (bar.turns_right, -1.0))
    for (x, y), (turns, inward) in zip(ends, sides, strict=True):
        # A hook stands a little inside the wall, or the clipped edge would hide it.
        place = x + inward * CASING if turns else x
        path.line([(place, y - (2 * TICK if turns else TICK)), (place, y + (0 if turns else TICK))])


def _treated_brick(canvas: Any, box: Box, treatment: Treatment) -> None:
    """Mark a brick by a shape that reads in grey: cross, turned arrow, half hatch or edge."""
    left, bottom, right, top = box
    _stroke(canvas, styles.INK, 0.8)
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
