"""Sets, moves, lengthens and leaves out bars by hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools import handles, snaps, spoken
from estimator.desktop.wall.tools.found import REACH_PX
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Said, Trial
from estimator.desktop.wall.tools.grips import Grips
from estimator.desktop.wall.tools.tool import Tool
from estimator.documents.formats import plain
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bars
from estimator.survey.survey import HandBar, HandWork
from estimator.takeoff.lines import Bar

LEAST_MM = 50.0
"""A stroke shorter than this is a press [mm]."""
SHOWN_MM = 225.0
"""How much of the bed under the pointer is lit [mm]."""
CUT_BACK = ("opening", "movement_joint", "end", "quoin")
"""Reasons that say why a bar ends short of where it was drawn."""


class BarTool(Tool):
    """Sets, moves, lengthens and leaves out bars by hand."""

    name = "bar"
    keeps = ("bar",)
    is_stroked = True

    def __init__(self, drafting: Drafting) -> None:
        """Begin with nothing held."""
        super().__init__(drafting)
        self._grips = Grips(self)
        self._start: Point | None = None
        self._at: Point | None = None

    def cancel(self) -> bool:
        """Give a stroke or a drag up."""
        was, self._start, self.trouble = self._start is not None, None, ""
        if was:
            self.drafting.try_out(None)
        return self._grips.cancel() or was

    def back(self) -> bool:
        """Leave the selected bar out; one set by hand is simply gone."""
        bar = handles.bar_of(self.drafting, self.drafting.selection)
        if bar is None:
            return False
        if self.finish_with(lambda: bars.leave_out(self.work, self.side, bar)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Take hold of an end or of a whole bar, or begin a new one in the bed that is there."""
        if self._grips.take_hold(place):
            return True
        mark = self._bar_at(place)
        self.drafting.select(mark)
        if mark:
            return self._grips.take_hold(place) or self._grips.take_hold_of_all(place)
        self._start = self._at = self._on_bed(place)
        return True

    def draw(self, place: Point) -> None:
        """Lengthen the new bar, or move what is held."""
        if self._grips.is_held:
            self._grips.draw(place)
        elif self._start is not None:
            self._at = snaps.along(self._start[0], place[0]), self._start[1]
            if self._is_long:
                self.attempt(self._set)
            else:
                self.drafting.try_out(None)

    def release(self, place: Point) -> None:
        """Set the new bar, or let go of what is held."""
        if self._grips.is_held:
            self._grips.release(place)
            return
        self.draw(place)
        if self._start is not None and self._is_long:
            before = self.work
            edit = self.finish_with(self._set)
            if edit is not None:
                self.drafting.select(
                    handles.after(self.drafting, f"{self.side}/bar/", before, edit)
                )
        elif self._start is not None:
            self.drafting.try_out(None)
        self._start = None

    def hover(self, place: Point) -> None:
        """Show which bed is meant."""
        self._at = self._on_bed(place)

    def leave(self) -> None:
        """Mean no bed."""
        self._at = None

    def _on_bed(self, place: Point) -> Point:
        coursing = self.drafting.wall.coursing
        course = max(snaps.bed_at(coursing, place[1]), 1)
        return float(round(place[0])), coursing.bed_middle(course)

    def _course(self, place: Point) -> int:
        return max(snaps.bed_at(self.drafting.wall.coursing, place[1]), 1)

    def _bar_at(self, place: Point) -> str:
        """Return the mark of the bar at a place, the nearest; empty for none."""
        shown, reach = self.drafting.shown, REACH_PX / self.drafting.per_mm
        near = (
            (snaps.onto(place, ((bar.left, bar.y), (bar.right, bar.y)))[0], bar.mark)
            for bar in (shown.bars if shown is not None else ())
        )
        far, mark = min(near, default=(reach + 1, ""))
        return mark if far <= reach else ""

    @property
    def _is_long(self) -> bool:
        if self._start is None or self._at is None:
            return False
        return abs(self._at[0] - self._start[0]) >= LEAST_MM

    def _set(self) -> Edit:
        start, at = self._start or (0.0, 0.0), self._at or (0.0, 0.0)
        return bars.add_bar(self.work, self.side, self._course(start), start[0], at[0])

    # -- by keys

    def step(self, place: Point, way: Point) -> Point:
        """Return the next joint that way, on the wall [mm]."""
        return snaps.on_wall(self.drafting.wall, super().step(place, way))

    def key(self, key: int, *, shifted: bool) -> bool:
        """Keep the selected bar where it is, or give it back to the rule."""
        if key == Qt.Key.Key_K:
            return self.keep()
        if key == Qt.Key.Key_U:
            return self.give_back()
        return False

    def keep(self) -> bool:
        """Lock the selected bar where it lies, whatever becomes of its crack."""
        bar = handles.bar_of(self.drafting, self.drafting.selection)
        if bar is None:
            return False
        self._follow(lambda: bars.keep(self.work, self.side, bar))
        return True

    def give_back(self) -> bool:
        """Give the selected bar, or the place left out under the pointer, back to the rule."""
        bar = handles.bar_of(self.drafting, self.drafting.selection)
        out = self._left_out_at(self._at)
        name = bar.hand if bar is not None and bar.hand else (out.id if out is not None else "")
        if not name:
            return False
        if self.finish_with(lambda: bars.back_to_rule(self.work, self.side, name)):
            self.drafting.select("")
        return True

    def nudge(self, way: Point, *, fine: bool) -> bool:
        """Move the selected bar a bed or a perpend on, or a millimetre."""
        return self._grips.nudge(way, fine=fine)

    def _follow(self, make: Callable[[], Edit]) -> None:
        before, mark = self.work, self.drafting.selection
        edit = self.finish_with(make)
        if edit is not None:
            self.drafting.select(handles.after(self.drafting, mark, before, edit))

    # -- what is left out, and what is cut back

    @property
    def _left_out(self) -> Sequence[HandBar]:
        return [one for one in self.drafting.plain.bars if one.work is HandWork.LEFT_OUT]

    def _left_out_at(self, place: Point | None) -> HandBar | None:
        if place is None:
            return None
        course = self._course(place)
        return next(
            (
                one
                for one in self._left_out
                if one.course == course and one.from_mm <= place[0] <= one.to_mm
            ),
            None,
        )

    def _measured(self) -> Bar | None:
        """Return the new bar as it was measured."""
        walls = self.work.survey.elevations
        known = {one.id for wall in walls if wall.id == self.side for one in wall.bars}
        measure = self.drafting.measure()
        found = () if measure is None else measure.bars
        mine = (bar for bar in found if bar.elevation == self.side and bar.hand)
        return next((bar for bar in mine if bar.hand not in known), None)

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return handles, what was left out, and the bar or the bed that is meant."""
        middle = self.drafting.wall.coursing.bed_middle
        shown: list[Ghost] = []
        for one in self._left_out:
            y = middle(one.course)
            shown.append(Trial(((one.from_mm, y), (one.to_mm, y)), Ink.BAR, width_px=1.6))
        shown += self._grips.ghosts()
        if self._at is None or self._grips.is_held:
            return shown
        if self._start is not None:
            return (*shown, *self._new())
        if self._bar_at(self._at):
            return shown
        out = self._left_out_at(self._at)
        words = _("Bed under course {course}").format(course=self._course(self._at))
        if out is not None:
            words = _("Left out by hand · U puts it back")
        x, y = self._at
        line = Trial(((x - SHOWN_MM / 2, y), (x + SHOWN_MM / 2, y)), Ink.BAR, width_px=3)
        return (*shown, line, Said(self._at, words, Ink.BAR))

    def _new(self) -> Sequence[Ghost]:
        """Return the new bar, what is cut off it, and its length."""
        start, at = self._start, self._at
        if start is None or at is None:
            return ()
        if self.trouble:
            return Trial((start, at), Ink.STOP, width_px=4), Said(at, self.trouble, Ink.STOP)
        shown: list[Ghost] = []
        bar = self._measured() if self._is_long else None
        words = spoken.in_bed(abs(at[0] - start[0]), self._course(at))
        if bar is None:
            shown.append(Trial((start, at), Ink.BAR, is_dashed=False, width_px=4))
        else:
            left, right = sorted((start[0], at[0]))
            for one, two in ((left, bar.left_mm), (bar.right_mm, right)):
                if two - one >= 1:
                    shown.append(Trial(((one, at[1]), (two, at[1])), Ink.STOP, width_px=4))
            if shown:
                why = [one.text for one in bar.reasons if one.code in CUT_BACK]
                words = " ".join([_("{length} mm.").format(length=plain(round(bar.face_mm))), *why])
        return (*shown, Said(at, words, Ink.STOP if shown and bar is not None else Ink.BAR))

    def hint(self) -> str:
        """Return how a bar is set, or what can be done with the one that is selected."""
        bar = handles.bar_of(self.drafting, self.drafting.selection)
        if bar is None:
            return _("Drag along a bed to set a bar · click a bar to move, keep or leave it out")
        if bar.hand:
            return _("Drag it or its ends · U gives it back to the rule · Delete removes it")
        return _("Drag it or its ends · K keeps it there · Delete leaves it out")
