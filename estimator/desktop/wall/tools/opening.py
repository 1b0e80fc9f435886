"""Draws openings: drag a box for a window, a door or a vent."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.particulars.choices import DOOR, VENT, WINDOW
from estimator.desktop.wall.particulars.typed import figure, in_bricks, in_courses
from estimator.desktop.wall.tools.found import mark_at, name_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Patch, Said, Trial
from estimator.desktop.wall.tools.tool import Tool
from estimator.drawing.courses import Box
from estimator.masonry.coursing import Coursing
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import openings
from estimator.quoting.wall_edits.outline import bounds_of
from estimator.survey.survey import Opening

USUAL_MM: dict[str, tuple[float, float]] = {
    WINDOW: (1200.0, 1050.0),
    DOOR: (900.0, 2100.0),
    VENT: (215.0, 65.0),
}
"""Usual width and height of each kind; house rule [mm]."""
KEYS: dict[int, str] = {Qt.Key.Key_1: WINDOW, Qt.Key.Key_2: DOOR, Qt.Key.Key_3: VENT}
STILL_PX = 4.0
"""Drawn less than this, a press is a click [px]."""


class OpeningTool(Tool):
    """Draws openings: drag a box for a window, a door or a vent."""

    name = "opening"
    is_stroked = True

    def __init__(self, drafting: Drafting) -> None:
        """Begin with windows."""
        super().__init__(drafting)
        self.kind = WINDOW
        """What is drawn next."""
        self._start: Point | None = None
        self._at: Point | None = None

    # -- taken up and put down

    def cancel(self) -> bool:
        """Give up the box."""
        was, self._start, self.trouble = self._start is not None, None, ""
        if self.drafting.is_trying:
            self.drafting.try_out(None)
        return was

    def back(self) -> bool:
        """Take the selected opening out."""
        name = name_of(self.drafting.selection, "opening")
        if not name:
            return False
        if self.finish_with(lambda: openings.remove_opening(self.work, self.side, name)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Begin a box, or select the opening that is there."""
        mark = mark_at(self.drafting, place)
        if name_of(mark, "opening"):
            self._start = None
            self.drafting.select(mark)
            return True
        self._start = self._at = place
        return True

    def draw(self, place: Point) -> None:
        """Pull the box."""
        self._at = place
        if self._start is None:
            return
        if self._is_drawn(place):
            box = self._box(self._start, place)
            self.attempt(lambda: self._edit(box))
        self.drafting.ghosts_changed.emit()

    def release(self, place: Point) -> None:
        """Make the opening: as large as it was drawn, or of a usual size."""
        start, self._start = self._start, None
        if start is None:
            return
        box = self._box(start, place) if self._is_drawn_from(start, place) else self._usual(start)
        taken = {one.id for one in self._openings()}
        if self.finish_with(lambda: self._edit(box)):
            fresh = next(one.id for one in self._openings() if one.id not in taken)
            self.drafting.select(f"{self.side}/opening/{fresh}")
        self.drafting.ghosts_changed.emit()

    def _openings(self) -> tuple[Opening, ...]:
        """Return the openings there are, without the one that is tried out."""
        sides = self.work.survey.elevations
        return next(one.openings for one in sides if one.id == self.side)

    def hover(self, place: Point) -> None:
        """Note where it would begin."""
        self._at = place

    def leave(self) -> None:
        """Be off the wall."""
        if self._start is None:
            self._at = None

    def _is_drawn(self, place: Point) -> bool:
        return self._start is not None and self._is_drawn_from(self._start, place)

    def _is_drawn_from(self, start: Point, place: Point) -> bool:
        return math.dist(start, place) * self.drafting.per_mm > STILL_PX

    # -- where it would be

    def _edit(self, box: Box) -> Edit:
        left, bottom, right, top = box
        return openings.add_opening(
            self.work,
            self.side,
            left_mm=left,
            bottom_mm=bottom,
            width_mm=right - left,
            height_mm=top - bottom,
            kind=self.kind,
        )

    def _box(self, start: Point, end: Point) -> Box:
        """Return the box between two places, by half bricks and courses unless with Shift [mm]."""
        left, right = sorted((start[0], end[0]))
        bottom, top = sorted((start[1], end[1]))
        coursing = self.drafting.wall.coursing
        if self.is_shifted:
            left, right, bottom, top = map(float, map(round, (left, right, bottom, top)))
        else:
            left, right = (
                _reveal(coursing, left, bottom, left=True),
                _reveal(coursing, right, bottom, left=False),
            )
            gauge = coursing.gauge_mm
            bottom = round(bottom / gauge) * gauge
            top = max(round(top / gauge) * gauge, bottom + gauge)
            if right <= left:
                right = _reveal(coursing, left + coursing.brick.length_mm, bottom, left=False)
        return left, self._foot(bottom), right, top

    def _foot(self, bottom: float) -> float:
        """Return where it stands: a door on the foot of the wall."""
        return bounds_of(self.drafting.plain.outline)[1] if self.kind == DOOR else bottom

    def _usual(self, place: Point) -> Box:
        """Return the box of a usual size about a place, within the wall where there is room."""
        width, height = USUAL_MM[self.kind]
        coursing = self.drafting.wall.coursing
        left, bottom, right, top = bounds_of(self.drafting.plain.outline)
        gauge = coursing.gauge_mm
        x = _reveal(coursing, place[0] - width / 2, place[1], left=True)
        x = min(max(x, left), max(right - width, left))
        y = round((place[1] - height / 2) / gauge) * gauge
        if self.kind == VENT:
            # A vent takes the place of one brick: on its bed, and no joint more.
            course = max(coursing.course_at(place[1]), 1)
            y = coursing.course_bottom(course)
            x = coursing.rhythm(course).face_span(coursing.rhythm(course).face_at(place[0]))[0]
        y = self._foot(min(max(y, bottom), max(top - height, bottom)))
        return x, y, x + width, y + height

    # -- by keys

    def start_place(self) -> Point:
        """Return the middle of what is seen, on the nearest course [mm]."""
        x, y = self.drafting.middle()
        coursing = self.drafting.wall.coursing
        return x, coursing.bed_middle(round(y / coursing.gauge_mm) + 1)

    def key(self, key: int, *, shifted: bool) -> bool:
        """Take a kind in hand by its number."""
        if key not in KEYS:
            return False
        self.kind = KEYS[key]
        if self._start is not None and self._at is not None:
            self.draw(self._at)
        self.drafting.ghosts_changed.emit()
        return True

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the box that is drawn, with its size."""
        start, at = self._start, self._at
        if at is None or self.drafting.elevation is None:
            return ()
        if start is None:
            return self._offered(at)
        if not self._is_drawn_from(start, at):
            return ()
        box = self._box(start, at)
        if self.trouble:
            return Patch(box, Ink.STOP), Said(at, self.trouble, Ink.STOP)
        return Patch(box), Said((box[2], box[3]), self._size(box))

    def _offered(self, at: Point) -> Sequence[Ghost]:
        """Return what a click would put on the wall; nothing over an opening or off the wall."""
        drafting = self.drafting
        if name_of(mark_at(drafting, at), "opening") or not drafting.wall.gross.holds(at):
            return ()
        box = self._usual(at)
        corners = (box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])
        word = dict(choices.kinds())[self.kind]
        return Trial(corners, is_closed=True, width_px=1.6), Said(at, word)

    def _size(self, box: Box) -> str:
        coursing = self.drafting.wall.coursing
        width, height = box[2] - box[0], box[3] - box[1]
        return _("{width} × {height} mm\n{bricks} × {courses}").format(
            width=figure(width),
            height=figure(height),
            bricks=in_bricks(width, coursing),
            courses=in_courses(height, coursing),
        )

    def hint(self) -> str:
        """Return what to do next."""
        sentences = {
            WINDOW: _("Drag a window, or click for one of 1,200 × 1,050 mm · keys 1, 2, 3 choose"),
            DOOR: _("Drag a door, or click for one of 900 × 2,100 mm · keys 1, 2, 3 choose"),
            VENT: _("Drag a vent, or click for one of 215 × 65 mm · keys 1, 2, 3 choose"),
        }
        return sentences[self.kind]


def _reveal(coursing: Coursing, x: float, y: float, *, left: bool) -> float:
    """Return the end of a brick or half brick nearest to a place, as a reveal of an opening [mm].

    A left reveal is where a brick ends, a right one where the next begins: an opening is so many
    bricks and one joint more (common practice, no source).
    """
    course = max(coursing.course_at(y), 1)
    found: list[float] = []
    for one in (course, course + 1):
        rhythm = coursing.rhythm(one)
        here = rhythm.face_at(x)
        spans = [rhythm.face_span(number) for number in (here - 1, here, here + 1)]
        found += [span[1] if left else span[0] for span in spans]
    return min(found, key=lambda end: abs(end - x))
