"""Marks cracked bricks by click or by stroke."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _, counted
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars import choices
from estimator.desktop.wall.tools import snaps
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Patch, Said
from estimator.desktop.wall.tools.snaps import BrickPlace
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bricks
from estimator.survey.survey import Treatment

TREATMENTS: dict[int, Treatment] = {
    Qt.Key.Key_1: Treatment.REPLACE,
    Qt.Key.Key_2: Treatment.TURN,
    Qt.Key.Key_3: Treatment.PATCH,
    Qt.Key.Key_4: Treatment.LEAVE,
}
"""Keys that choose what is to be done with the bricks marked next."""


class BrickTool(Tool):
    """Marks cracked bricks by click or by stroke."""

    name = "brick"
    keeps = ("brick",)

    def __init__(self, drafting: Drafting) -> None:
        """Begin with replacing."""
        super().__init__(drafting)
        self.treatment = Treatment.REPLACE
        """What is to be done with the bricks marked next."""
        self.half = False
        """Whether only the outer half of them is cut out."""
        self._over: BrickPlace | None = None
        self._beside: Point | None = None
        """A place in an opening that is pointed at instead of a brick."""
        self._stroke: dict[BrickPlace, None] = {}
        self._last: Point | None = None

    def take(self, treatment: Treatment, *, half: bool = False) -> None:
        """Choose what is done with the bricks marked next."""
        self.treatment, self.half = treatment, half and treatment is Treatment.REPLACE
        self.drafting.ghosts_changed.emit()

    def cancel(self) -> bool:
        """Give a stroke up."""
        was = self._last is not None
        self._stroke, self._last, self.trouble = {}, None, ""
        if was:
            self.drafting.try_out(None)
        return was

    def back(self) -> bool:
        """Take the mark off the brick that is selected."""
        kind, *place = self.drafting.selection.split("/")[1:] or [""]
        if kind != "brick":
            return False
        course, at = map(int, place)
        if self.finish_with(lambda: bricks.unmark(self.work, self.side, ((course, at),))):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Begin a stroke; one brick alone is marked, or its mark taken off."""
        found = snaps.brick_at(self.drafting.wall, place)
        if found is None:
            return False
        self._stroke, self._last = {found: None}, place
        self._over = found
        self.attempt(self._toggled)
        return True

    def draw(self, place: Point) -> None:
        """Mark what the stroke passes over."""
        if self._last is None:
            return
        wall, before = self.drafting.wall, len(self._stroke)
        step = wall.coursing.gauge_mm / 2
        for at in snaps.between(self._last, place, step):
            found = snaps.brick_at(wall, at)
            if found is not None:
                self._stroke[found] = None
                self._over = found
        self._last = place
        if len(self._stroke) > max(before, 1):
            self.attempt(self._marked)

    def release(self, place: Point) -> None:
        """Mark the bricks of the stroke in one step."""
        self.draw(place)
        stroke, self._last = self._stroke, None
        if stroke:
            self.finish_with(self._marked if len(stroke) > 1 else self._toggled)
        self._stroke = {}

    def hover(self, place: Point) -> None:
        """Show which brick is meant."""
        wall = self.drafting.wall
        self._over = snaps.brick_at(wall, place)
        is_hole = self._over is None and wall.gross.holds(place)
        self._beside = place if is_hole else None

    def leave(self) -> None:
        """Mean no brick."""
        self._over = self._beside = None

    def _toggled(self) -> Edit:
        course, place = next(iter(self._stroke))
        return bricks.toggle(self.work, self.side, course, place, self.treatment, half=self.half)

    def _marked(self) -> Edit:
        return bricks.mark(
            self.work, self.side, tuple(self._stroke), self.treatment, half=self.half
        )

    # -- by keys

    def start_place(self) -> Point:
        """Return the middle of the brick in the middle of what is seen [mm]."""
        return self.step(super().start_place(), (0.0, 0.0))

    def step(self, place: Point, way: Point) -> Point:
        """Return the middle of the next brick that way [mm]."""
        coursing = self.drafting.wall.coursing
        course = max(coursing.course_at(place[1]) + round(way[1]), 1)
        rhythm = coursing.rhythm(course)
        left, right = rhythm.face_span(rhythm.face_at(place[0]) + round(way[0]))
        return (left + right) / 2, coursing.course_middle(course)

    def key(self, key: int, *, shifted: bool) -> bool:
        """Choose a treatment by its number, or half a brick."""
        if key in TREATMENTS:
            self.take(TREATMENTS[key], half=self.half)
        elif key == Qt.Key.Key_H:
            self.take(Treatment.REPLACE, half=not self.half)
        else:
            return False
        return True

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the brick that is meant, and how many the stroke has."""
        if self._over is None and self._beside is not None:
            return (Said(self._beside, _("No brick here"), Ink.STOP),)
        if self._over is None:
            return ()
        box = snaps.box_of(self.drafting.wall, self._over)
        ink = Ink.STOP if self.trouble else Ink.ACT
        words = self.trouble or dict(choices.treatments())[self.treatment]
        if not self.trouble and len(self._stroke) > 1:
            words = counted("{n} brick", "{n} bricks", len(self._stroke))
        return Patch(box, ink), Said((box[2], box[3]), words, ink)

    def hint(self) -> str:
        """Return how bricks are marked."""
        return _("Click or stroke bricks · 1 replace · 2 turn · 3 patch · 4 leave · H half brick")
