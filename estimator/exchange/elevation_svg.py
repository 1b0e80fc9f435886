"""An elevation as SVG for an engineer's own program: true millimetres, in named groups.

One unit of the drawing is one millimetre of wall; what the sheet is reduced by is said in the file.
Every mark is an element with an ``id``, its mark as ``data-mark``, and a title of what it is.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

import svg

from estimator.drawing.courses import Box, Hole
from estimator.drawing.dimensions import Dimension, Side, dimensions_of
from estimator.drawing.shapes import (
    AreaShape,
    BarShape,
    BrickShape,
    CrackShape,
    LegShape,
    Picture,
    ThinBedShape,
)
from estimator.exchange.svg_lettering import LETTER, SMALL_MM, escaped, lettering, short, words_mm
from estimator.masonry.region import Point
from estimator.survey.survey import Lintel

FIRST_MM, PITCH_MM, STROKE_MM = 110.0, 105.0, 18.0
"""Rows of dimensions: the first, from row to row, and half a slanting stroke [mm]."""
MARGIN_MM, NOTE_MM = 150.0, 55.0
"""Round the drawing, and from line to line of the note under it [mm]."""
CRACK_MM, BAR_MM, LINE_MM = 5.0, 6.0, 2.0
"""How thick lines are drawn [mm]."""
NOTE = (
    "Dimensions in millimetres, taken for a repair. Not a structural report: a chartered "
    "structural engineer says why a wall cracked and whether it is safe."
)
Number = Decimal | float | int
_NO_NAME = re.compile(r"[^A-Za-z0-9_.-]+")


def write(
    picture: Picture,
    dimensions: Sequence[Dimension] | None = None,
    *,
    title: str = "",
    scale: int = 1,
) -> str:
    """Return an elevation as an SVG file.

    Args:
        picture: What is drawn.
        dimensions: What is dimensioned; where none are given, all there is.
        title: What the drawing is called; the elevation's own name where none is given.
        scale: What the sheet is reduced by: 20 for one to twenty.

    >>> from estimator.drawing.courses import masonry_of
    >>> from estimator.survey.survey import Elevation
    >>> front = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> written = write(Picture("f", "Front", masonry_of(front)), title="Bay < porch", scale=10)
    >>> '<title>Bay &lt; porch, 1 : 10</title>' in written
    True
    """
    told = dimensions_of(picture, words_mm=words_mm) if dimensions is None else tuple(dimensions)
    name = f"{title or picture.name}, 1 : {scale}"
    sheet = _Sheet(picture, told, f"{name}. {NOTE}")
    left, bottom, right, top = sheet.bounds
    wide, high = right - left, top - bottom
    drawing = svg.SVG(
        viewBox=svg.ViewBoxSpec(0, 0, short(wide), short(high)),
        width=svg.mm(short(wide / scale)),
        height=svg.mm(short(high / scale)),
        elements=[
            svg.Title(text=escaped(name)),
            svg.Desc(text=escaped(NOTE)),
            *sheet.groups(),
        ],
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing.as_str()}\n'


class _Sheet:
    """A picture turned so that millimetres go down the sheet, its marks named each once."""

    def __init__(self, picture: Picture, dimensions: Sequence[Dimension], note: str) -> None:
        self.picture, self.dimensions = picture, dimensions
        left, bottom, right, top = picture.masonry.bounds
        left, right = left - MARGIN_MM, right + MARGIN_MM + _room(dimensions, Side.RIGHT)
        letters = int((right - left - MARGIN_MM) / (LETTER * SMALL_MM))
        self._note = textwrap.wrap(note, max(letters, 10))
        low = MARGIN_MM + _room(dimensions, Side.BELOW) + len(self._note) * NOTE_MM
        self.bounds: Box = (left, bottom - low, right, top + MARGIN_MM)
        self._names: set[str] = set()

    def groups(self) -> list[svg.Element]:
        """Return everything in named groups, what lies on top last."""
        picture, masonry = self.picture, self.picture.masonry
        return [
            self._group("brickwork", self._brickwork()),
            self._group("openings", self._openings(masonry.holes)),
            self._group("levels", self._levels()),
            self._group("thin-beds", map(self._thin_bed, picture.thin_beds)),
            self._group("areas", map(self._area, picture.areas)),
            self._group("bricks", map(self._brick, picture.bricks)),
            self._group("bars", map(self._bar, picture.bars)),
            self._group("legs", map(self._leg, picture.legs)),
            self._group("cracks", map(self._crack, picture.cracks)),
            self._group("widths", self._widths()),
            self._group("dimensions", self._dimensioned()),
            self._group("note", self._noted()),
        ]

    def _group(self, name: str, elements: Iterable[svg.Element]) -> svg.G:
        self._names.add(name)
        return svg.G(id=name, elements=[svg.Title(text=name.replace("-", " ")), *elements])

    def _at(self, point: Point) -> Point:
        return short(point[0] - self.bounds[0]), short(self.bounds[3] - point[1])

    def _line(self, points: Iterable[Point]) -> list[svg.Point]:
        return [svg.Point(*self._at(point)) for point in points]

    def _named(self, mark: str) -> dict[str, Any]:
        """Return what names an element: an id there is once, and the mark as it is."""
        plain = _NO_NAME.sub("-", mark).strip("-.") or "mark"
        name, number = (plain if plain[0].isalpha() else f"m-{plain}"), 1
        unique = name
        while unique in self._names:
            number += 1
            unique = f"{name}-{number}"
        self._names.add(unique)
        return {"id": unique, "data": {"mark": escaped(mark)}}

    def _box(self, box: Box, what: str, **given: Any) -> svg.Rect:
        x, y = self._at((box[0], box[3]))
        return svg.Rect(
            x=x,
            y=y,
            width=short(box[2] - box[0]),
            height=short(box[3] - box[1]),
            elements=[svg.Title(text=escaped(what))],
            **given,
        )

    def _brickwork(self) -> list[svg.Element]:
        """Return the outline, and every brick as part of one path."""
        masonry = self.picture.masonry
        marks: list[svg.PathData] = []
        for box in (brick for tinted in masonry.tinted for brick in tinted):
            x, y = self._at((box[0], box[3]))
            end, foot = self._at((box[2], box[1]))
            marks += (svg.M(x, y), svg.H(end), svg.V(foot), svg.H(x), svg.Z())
        stroke: dict[str, Any] = {"fill": "none", "stroke": "#8A6A55"}
        return [
            svg.Path(
                d=marks,
                stroke_width=LINE_MM / 2,
                elements=[svg.Title(text="Bricks")],
                **stroke,
                **self._named(f"{self.picture.elevation}/bricks"),
            ),
            svg.Polygon(
                points=self._line(masonry.outline),
                stroke_width=LINE_MM,
                elements=[svg.Title(text="Outline of the wall surveyed")],
                **stroke,
                **self._named(f"{self.picture.elevation}/outline"),
            ),
        ]

    def _openings(self, holes: Sequence[Hole]) -> Iterable[svg.Element]:
        for number, hole in enumerate(holes, 1):
            mark = f"{self.picture.elevation}/opening/{number}"
            look: dict[str, Any] = {"fill": "#FFFFFF", "stroke": "#22262B"}
            look["stroke_width"] = LINE_MM
            left, bottom, right, top = hole.box
            size = f"{right - left:.0f} × {top - bottom:.0f}"
            yield self._box(hole.box, f"Opening: {hole.kind}, {size}", **look, **self._named(mark))
            if hole.sill_mm:
                sill = left, bottom - hole.sill_mm, right, bottom
                yield self._box(sill, "Sill", **look, **self._named(f"{mark}/sill"))
            if hole.lintel_box is not None:
                what = "what shows of it" if hole.lintel is Lintel.NOT_SEEN else hole.lintel.value
                yield self._box(
                    hole.lintel_box, f"Lintel: {what}", **look, **self._named(f"{mark}/lintel")
                )

    def _levels(self) -> Iterable[svg.Element]:
        """Yield ground, damp course and movement joints."""
        masonry, side = self.picture.masonry, self.picture.elevation
        left, bottom, right, top = masonry.wall
        if masonry.ground is not None:
            ends = (left, masonry.ground), (right, masonry.ground)
            yield self._stroke(ends, "Ground", f"{side}/ground", 2 * LINE_MM)
        if masonry.damp_course is not None:
            ends = (left, masonry.damp_course), (right, masonry.damp_course)
            seen = masonry.damp_course_seen
            what = "Damp course, as seen" if seen else "Damp course, not seen: its usual height"
            dash: list[Number] | None = None if seen else [40, 30]
            yield self._stroke(ends, what, f"{side}/damp-course", LINE_MM, dash=dash)
        for number, x in enumerate(masonry.movement_joints, 1):
            ends = (x, bottom), (x, top)
            mark = f"{side}/movement-joint/{number}"
            yield self._stroke(ends, "Movement joint", mark, LINE_MM, dash=[90, 25])

    def _stroke(
        self,
        ends: tuple[Point, Point],
        what: str,
        mark: str,
        thick_mm: float,
        *,
        colour: str = "#22262B",
        dash: list[Number] | None = None,
    ) -> svg.Line:
        (x, y), (x_end, y_end) = self._at(ends[0]), self._at(ends[1])
        return svg.Line(
            x1=x,
            y1=y,
            x2=x_end,
            y2=y_end,
            stroke=colour,
            stroke_width=thick_mm,
            stroke_dasharray=dash,
            elements=[svg.Title(text=escaped(what))],
            **self._named(mark),
        )

    def _thin_bed(self, one: ThinBedShape) -> svg.Element:
        ends = (one.left, one.y), (one.right, one.y)
        what = f"Thin bed under course {one.course}: {one.thickness_mm:g} mm"
        return self._stroke(ends, what, one.mark, one.thickness_mm, colour="#7A4E00")

    def _area(self, one: AreaShape) -> svg.Element:
        return svg.Polygon(
            points=self._line(one.corners),
            fill="none",
            stroke="#22262B",
            stroke_width=LINE_MM,
            stroke_dasharray=[60, 40],
            elements=[svg.Title(text="Area to repoint")],
            **self._named(one.mark),
        )

    def _brick(self, one: BrickShape) -> svg.Element:
        done = one.marked.value if one.marked is not None else "cracked"
        what = f"Brick {one.place} of course {one.course}: {done}"
        look: dict[str, Any] = {"fill": "none", "stroke": "#22262B"}
        return self._box(one.box, what, stroke_width=2 * LINE_MM, **look, **self._named(one.mark))

    def _bar(self, one: BarShape) -> svg.Element:
        what = f"Bar {one.length_mm:.0f} long in the bed under course {one.course}"
        if any(one.turns):
            what += ", turned round the quoin"
        if one.by_hand:
            what += ", kept by hand" if one.kept else ", set by hand"
        ends = (one.left, one.y), (one.right, one.y)
        return self._stroke(ends, what, one.mark, BAR_MM, colour="#0B6A7B")

    def _leg(self, one: LegShape) -> svg.Element:
        what = f"Leg {one.right - one.left:.0f} long, of a bar turned round the quoin"
        ends = (one.left, one.y), (one.right, one.y)
        return self._stroke(ends, what, one.mark, BAR_MM, colour="#0B6A7B")

    def _crack(self, one: CrackShape) -> svg.Element:
        """Return a crack: what is sure of it drawn through, what is likely dashed."""
        dashed: list[Number] = [25, 15]
        lines = [
            svg.Polyline(
                points=self._line(points),
                fill="none",
                stroke="#A3261B",
                stroke_width=CRACK_MM,
                stroke_dasharray=dash,
            )
            for points, dash in ((one.sure, None), (one.likely, dashed))
            if points
        ]
        what = f"Crack {one.letter}".strip()
        letter = []
        if one.letter and one.points:
            x, y = self._at(max(one.points, key=lambda point: point[1]))
            letter = [lettering(escaped(one.letter), (x, y - 20))]
        return svg.G(
            elements=[svg.Title(text=escaped(what)), *lines, *letter], **self._named(one.mark)
        )

    def _widths(self) -> Iterable[svg.Element]:
        for crack in self.picture.cracks:
            for number, one in enumerate(crack.widths, 1):
                x, y = self._at(one.point)
                widest = ", the widest" if one.is_widest else ""
                yield svg.G(
                    elements=[
                        svg.Title(text=f"{one.width_mm:g} mm wide{widest}"),
                        svg.Circle(cx=x, cy=y, r=12 if one.is_widest else 8, fill="#A3261B"),
                        lettering(f"{one.width_mm:g}", (x + 30, y + 20)),
                    ],
                    **self._named(f"{crack.mark}/width/{number}"),
                )

    def _noted(self) -> Iterable[svg.Element]:
        high = self.bounds[3] - self.bounds[1]
        for number, line in enumerate(reversed(self._note)):
            at = MARGIN_MM / 2, high - MARGIN_MM / 2 - number * NOTE_MM
            yield lettering(escaped(line), at, high_mm=SMALL_MM)

    def _dimensioned(self) -> Iterable[svg.Element]:
        for number, one in enumerate(self.dimensions, 1):
            yield svg.G(
                elements=[
                    svg.Title(text=escaped(f"{one.kind.value}: {one.words}")),
                    *self._dimension(one),
                ],
                **self._named(f"dimension-{number}"),
            )

    def _dimension(self, one: Dimension) -> Iterable[svg.Element]:
        """Yield the line, its slanting ends and its words; up the wall all is turned."""
        if one.side is Side.ON:
            x, y = self._at(one.end)
            yield lettering(escaped(one.words), (x + 15, y - 15))
            return
        (left, _y), (right, _y2) = self._at(one.start), self._at(one.end)
        level = self._at((0, self.picture.masonry.bounds[1]))[1] + _off(one)
        turn: list[svg.Transform] | None = None
        if one.side is Side.RIGHT:
            # Turned by a quarter to the left, what stood below stands at the right.
            (_x, low), (_x2, high) = self._at(one.start), self._at(one.end)
            left, right = short(-low), short(-high)
            level = self._at((self.picture.masonry.bounds[2], 0))[0] + _off(one)
            turn = [svg.Rotate(-90)]
        look: dict[str, Any] = {"stroke": "#565D65", "stroke_width": LINE_MM}
        lines = [svg.Line(x1=left, y1=level, x2=right, y2=level, **look)]
        lines += (
            svg.Line(
                x1=short(x - STROKE_MM),
                y1=level + STROKE_MM,
                x2=short(x + STROKE_MM),
                y2=level - STROKE_MM,
                **look,
            )
            for x in (left, right)
        )
        middle = short((left + right) / 2)
        words = lettering(escaped(one.words), (middle, level - 25), anchor="middle")
        yield svg.G(transform=turn, elements=[*lines, words])


def _room(dimensions: Sequence[Dimension], side: Side) -> float:
    rows = max((one.row for one in dimensions if one.side is side), default=-1) + 1
    return FIRST_MM + rows * PITCH_MM if rows else 0.0


def _off(one: Dimension) -> float:
    return FIRST_MM + one.row * PITCH_MM
