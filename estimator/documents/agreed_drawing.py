"""A drawing in which what changed stands out, and all else is there but faint."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.documents import marks, styles
from estimator.documents.drawing import ElevationDrawing, Words
from estimator.documents.figure import Figure
from estimator.documents.formats import plain
from estimator.documents.strokes import Path, pen
from estimator.documents.wording import say
from estimator.drawing.shapes import Picture

VEIL = 0.62
"""How much of what did not change is hidden by the white laid over it."""


class StressedDrawing(ElevationDrawing):
    """A drawing of one elevation; a white veil lies on all but what is to be seen first."""

    def __init__(self, figure: Figure, width: float, strong: Picture | None) -> None:
        super().__init__(figure, width)
        self._strong = strong

    def _lines(self) -> None:
        """Draw all there is, then the veil, then what changed on top of it."""
        super()._lines()
        if self._strong is None:
            return
        canvas, view, strong = self.canv, self._view, self._strong
        canvas.saveState()
        canvas.setFillColor(styles.PAPER)
        canvas.setFillAlpha(VEIL)
        canvas.rect(0, 0, self._wall_width, self._wall_height, stroke=0, fill=1)
        canvas.restoreState()
        for brick in strong.bricks:
            box = view.box(brick.box)
            canvas.setFillColor(styles.BRICK)
            canvas.drawPath(Path().boxes([box]), stroke=0, fill=1)
            if brick.marked is not None:
                marks.treated_brick(canvas, box, brick.marked)
        pen(canvas, styles.INK, 1.1)
        canvas.setDash(4, 2.5)
        for area in strong.areas:
            canvas.drawPath(Path().line(view.line(area.corners), closed=True), stroke=1, fill=0)
        canvas.setDash()
        self._strong_lines(strong)

    def _measured(self) -> Iterator[Words]:
        """Yield how thin the beds are that were found thin."""
        yield from super()._measured()
        for thin in self._strong.thin_beds if self._strong is not None else ():
            words = say("figure.thin_bed", thickness=plain(thin.thickness_mm))
            yield Words(words, self._view.at((thin.right, thin.y)), styles.REGULAR)

    def _strong_lines(self, strong: Picture) -> None:
        bars, cracks = Path(), Path()
        for bar in strong.bars:
            marks.bar(bars, self._view, bar)
        for crack in strong.cracks:
            cracks.line(self._view.line(crack.points))
        marks.cased(self.canv, bars, marks.BAR_WIDTH, styles.BAR)
        marks.cased(self.canv, cracks, marks.CRACK_WIDTH, styles.CRACK)
        for thin in strong.thin_beds:
            marks.thin_bed(self.canv, self._view, thin)
