"""An elevation stroked on paper: bricks in one path, cracks and bars cased to stand out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from estimator.documents import dimension_lines, marks, styles
from estimator.documents.dimension_lines import TEXT
from estimator.documents.figure import Figure, Key, low_of
from estimator.documents.formats import plain
from estimator.documents.labels import Label, placed
from estimator.documents.strokes import Path, View, pen
from estimator.documents.text import one_line
from estimator.documents.wording import say
from estimator.drawing.courses import Box
from estimator.drawing.dimensions import Side
from estimator.masonry.region import Point

LEGEND_LEADING = 15.0
KEY_WIDTH, KEY_HEIGHT = 18.0, 8.0
LABEL_ROOM = 9.0
"""What a label takes beside its words."""
CLEAR, DOT_CLEAR = 0.5, 3.0
"""Room that words leave free round lines, and round places where a width was measured."""


@dataclass(frozen=True, slots=True)
class Words:
    """Words to be put on the wall."""

    text: str
    at: Point
    font: str
    is_crack: bool = False
    """Whether they are the letter of a crack, in its colour."""


class ElevationDrawing(Flowable):
    """A drawing of one elevation at its scale, with dimensions and a key."""

    def __init__(self, figure: Figure, width: float) -> None:
        super().__init__()
        self.figure = figure
        self.width = width
        left, _bottom, right, top = figure.bounds
        low = low_of(figure.picture, figure.bounds)
        self._view = View(left, low, mm / figure.scale)
        self._wall_width, self._wall_height = self._view.at((right, top))
        self._legend_lines = list(self._legend_places())
        rows = max((row for row, _x, _kind, _word in self._legend_lines), default=-1) + 1
        self._legend_height = rows * LEGEND_LEADING
        self._low_room = dimension_lines.room(figure.dimensions, Side.BELOW)
        self.height = self._wall_height + self._low_room + self._legend_height

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the room taken."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw from the wall outward: what matters most comes last and lies on top."""
        canvas, figure, view = self.canv, self.figure, self._view
        canvas.saveState()
        canvas.translate(0, self._legend_height + self._low_room)
        canvas.saveState()
        clip = canvas.beginPath()
        clip.rect(0, 0, self._wall_width, self._wall_height)
        canvas.clipPath(clip, stroke=0, fill=0)
        self._ground()
        self._wall()
        self._damp_course()
        for hole in figure.picture.masonry.holes:
            marks.opening(canvas, view, hole)
        for brick in figure.picture.bricks:
            if brick.marked is not None:
                marks.treated_brick(canvas, view.box(brick.box), brick.marked)
        self._areas_and_joints()
        self._lines()
        canvas.restoreState()
        self._edges()
        self._labels()
        dimension_lines.draw(canvas, view, figure.dimensions, self._wall_width)
        canvas.restoreState()
        self._legend()

    def _ground(self) -> None:
        """Draw what lies between the lowest course and the ground."""
        if self.figure.ground is None:
            return
        foot = self._view.at((0, self.figure.bounds[1]))[1]
        self.canv.setFillColor(styles.GROUND)
        self.canv.rect(0, 0, self._wall_width, foot, stroke=0, fill=1)

    def _wall(self) -> None:
        """Draw joints as one ground and all bricks on it as one path."""
        canvas, figure = self.canv, self.figure
        canvas.setFillColor(styles.MORTAR if figure.bricks else styles.BRICK)
        outline = self._view.line(figure.picture.masonry.outline)
        canvas.drawPath(Path().line(outline, closed=True), stroke=0, fill=1)
        canvas.setFillColor(styles.BRICK)
        bricks = (self._view.box(one) for one in figure.bricks)
        canvas.saveState()
        # A brick under a raking verge is given with an upright end, so the verge cuts it here.
        canvas.clipPath(Path().line(outline, closed=True), stroke=0, fill=0)
        canvas.drawPath(Path().boxes(bricks), stroke=0, fill=1)
        canvas.restoreState()
        if len(outline) != 4:
            pen(canvas, styles.FRAME, styles.HAIRLINE)
            canvas.drawPath(Path().line(outline, closed=True), stroke=1, fill=0)

    def _damp_course(self) -> None:
        masonry = self.figure.picture.masonry
        if masonry.damp_course is None:
            return
        y = self._view.at((0, masonry.damp_course))[1]
        # What is only usual is said of the wall as surveyed, and not to a customer.
        if masonry.damp_course_seen or self.figure.is_survey:
            marks.damp_course(
                self.canv, (0, y), (self._wall_width, y), is_seen=masonry.damp_course_seen
            )

    def _areas_and_joints(self) -> None:
        """Draw areas and movement joints dashed."""
        canvas, view, bounds = self.canv, self._view, self.figure.bounds
        pen(canvas, styles.INK, 0.8)
        canvas.setDash(4, 2.5)
        for area in self.figure.picture.areas:
            canvas.drawPath(Path().line(view.line(area.corners), closed=True), stroke=1, fill=0)
        canvas.setDash(7, 2)
        for x in self.figure.picture.masonry.movement_joints:
            canvas.drawPath(
                Path().line(view.line(((x, bounds[1]), (x, bounds[3])))), stroke=1, fill=0
            )
        canvas.setDash()

    def _lines(self) -> None:
        """Draw bars and cracks, each cased in white, and what was measured along them."""
        canvas, view, picture = self.canv, self._view, self.figure.picture
        bars = Path()
        for bar in picture.bars:
            marks.bar(bars, view, bar)
        for leg in picture.legs:
            marks.leg(bars, view, leg, picture.masonry.wall)
        cracks, likely = Path(), Path()
        for crack in picture.cracks:
            cracks.line(view.line(crack.sure if self.figure.is_survey else crack.points))
            likely.line(view.line(crack.likely if self.figure.is_survey else ()))
        marks.cased(canvas, bars, marks.BAR_WIDTH, styles.BAR)
        if self.figure.is_survey:
            for thin in picture.thin_beds:
                marks.thin_bed(canvas, view, thin)
        marks.cased(canvas, likely, marks.CRACK_WIDTH, styles.CRACK, marks.LIKELY_DASH)
        marks.cased(canvas, cracks, marks.CRACK_WIDTH, styles.CRACK)
        for bar in picture.bars:
            if bar.by_hand:
                marks.hand(canvas, view, bar)
        for crack in picture.cracks if self.figure.is_survey else ():
            for one in crack.widths:
                marks.measured_width(canvas, view.at(one.point), is_widest=one.is_widest)

    def _edges(self) -> None:
        """Draw where the wall really ends, and the line of the ground."""
        canvas = self.canv
        foot, head = (self._view.at((0, self.figure.bounds[n]))[1] for n in (1, 3))
        pen(canvas, styles.INK, styles.STRONG_RULE)
        for ends, x in zip(self.figure.ends, (0.0, self._wall_width), strict=True):
            if ends and self.figure.picture.masonry.is_square:
                canvas.line(x, foot, x, head)
        if self.figure.ground is not None:
            canvas.line(0, 0, self._wall_width, 0)

    def _labels(self) -> None:
        """Put words on the wall: letters of cracks, and on a survey what was measured."""
        canvas = self.canv
        words = [*self._letters(), *self._measured()]
        bounds = (0.0, 0.0, self._wall_width, self._wall_height)
        labels = [
            Label(one.at, (stringWidth(one.text, one.font, TEXT) + 4, TEXT + 0.5), one.is_crack)
            for one in words
        ]
        for one, box in zip(words, placed(labels, bounds, list(self._kept_free())), strict=True):
            left, bottom, right, top = box
            canvas.setFillColor(styles.PAPER)
            canvas.roundRect(left, bottom, right - left, top - bottom, 2, stroke=0, fill=1)
            canvas.setFillColor(styles.CRACK if one.is_crack else styles.INK)
            canvas.setFont(one.font, TEXT)
            canvas.drawCentredString((left + right) / 2, bottom + 2, one.text)

    def _kept_free(self) -> Iterator[Box]:
        """Yield what no words may hide: cracks, bars, thin beds and places of widths."""
        picture, line = self.figure.picture, self._view.line
        for crack in picture.cracks:
            for one, two in pairwise(line(crack.points)):
                yield _round((one, two), CLEAR)
            for width in crack.widths if self.figure.is_survey else ():
                yield _round((self._view.at(width.point),), DOT_CLEAR)
        for bar in picture.bars:
            yield _round(line(((bar.left, bar.y), (bar.right, bar.y))), CLEAR)
        for thin in picture.thin_beds if self.figure.is_survey else ():
            yield _round(line(((thin.left, thin.y), (thin.right, thin.y))), CLEAR)

    def _letters(self) -> Iterator[Words]:
        """Yield the letter of each crack at its upper end, where there are several."""
        for crack in self.figure.picture.cracks:
            if crack.letter and crack.points:
                top = max(crack.points, key=lambda point: point[1])
                word = one_line(crack.letter)[:3]
                yield Words(word, self._view.at(top), styles.SEMIBOLD, is_crack=True)

    def _measured(self) -> Iterator[Words]:
        """Yield widths at their places, how thin thin beds are, and how long bars are."""
        if not self.figure.is_survey:
            return
        picture, at = self.figure.picture, self._view.at
        for crack in picture.cracks:
            for one in crack.widths:
                font = styles.SEMIBOLD if one.is_widest else styles.REGULAR
                yield Words(plain(one.width_mm), at(one.point), font)
        for thin in picture.thin_beds:
            words = say("figure.thin_bed", thickness=plain(thin.thickness_mm))
            yield Words(words, at((thin.right, thin.y)), styles.REGULAR)
        for one_bar in self.figure.dimensions:
            if one_bar.side is Side.ON:
                wide = stringWidth(one_bar.words, styles.REGULAR, TEXT)
                start, end = at(one_bar.start), at(one_bar.end)
                at_end = end[0] + wide + LABEL_ROOM <= self._wall_width
                yield Words(one_bar.words, end if at_end else start, styles.REGULAR)

    def _legend_places(self) -> Iterator[tuple[int, float, Key, str]]:
        """Yield row, place, kind and word of each key."""
        row, x = 0, 0.0
        for kind, word in self.figure.legend:
            wide = KEY_WIDTH + 5 + stringWidth(word, styles.REGULAR, TEXT) + 12
            if x and x + wide > self.width:
                row, x = row + 1, 0.0
            yield row, x, kind, word
            x += wide

    def _legend(self) -> None:
        canvas = self.canv
        for row, x, kind, word in self._legend_lines:
            y = self._legend_height - (row + 1) * LEGEND_LEADING + 2
            marks.key(canvas, (x, y, x + KEY_WIDTH, y + KEY_HEIGHT), kind)
            canvas.setFillColor(styles.MUTED)
            canvas.setFont(styles.REGULAR, TEXT)
            canvas.drawString(x + KEY_WIDTH + 5, y + 0.8, word)


def _round(points: Sequence[Point], more: float) -> Box:
    across, up = [x for x, _y in points], [y for _x, y in points]
    return min(across) - more, min(up) - more, max(across) + more, max(up) + more
