"""Traces a crack by clicks; between them it follows the joints, or cuts bricks."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall import hits
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools import snaps, spoken
from estimator.desktop.wall.tools.found import REACH_PX, name_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot, Trial
from estimator.desktop.wall.tools.grips import Grips
from estimator.desktop.wall.tools.tool import Tool
from estimator.desktop.wall.tools.trace import Trace
from estimator.desktop.wall.tools.widths import Widths
from estimator.drawing.shapes import CrackShape
from estimator.masonry.region import Point
from estimator.quoting.wall_edits import cracks
from estimator.survey.survey import Crack


class CrackTool(Tool):
    """Traces a crack by clicks; between them it follows the joints, or cuts bricks."""

    name = "crack"
    keeps = ("crack",)

    def __init__(self, drafting: Drafting) -> None:
        """Begin with nothing traced."""
        super().__init__(drafting)
        self.is_cutting = False
        """Whether the next legs cut bricks; Shift held turns it over."""
        self._trace = Trace()
        self._at: Point | None = None
        self._pressed: Point | None = None
        self._end: tuple[str, bool] | None = None
        """The end of a crack that is held: it is moved, or drawn on if it is only clicked."""
        self._grips = Grips(self)
        self._widths = Widths(self)

    @property
    def is_tracing(self) -> bool:
        """Whether a crack is half drawn."""
        return bool(self._trace.points)

    @property
    def _cuts_now(self) -> bool:
        return self.is_cutting != self.is_shifted

    # -- taken up and put down

    def begin(self) -> None:
        """Begin along the joints."""
        self.is_cutting = False

    def cancel(self) -> bool:
        """Give up a width half typed, a drag, or the crack half traced."""
        if self._widths.cancel() or self._grips.cancel():
            return True
        was = self.is_tracing
        self._trace, self.trouble, self._pressed = Trace(), "", None
        if was:
            self.drafting.try_out(None)
        return was

    def back(self) -> bool:
        """Take a digit or the last point back, or the selected crack off the wall."""
        if self._widths.back():
            return True
        if self._trace.draws_on and not self._trace.is_whole:
            return self.cancel()
        if self.is_tracing:
            self._trace = self._trace.without_last()
            self._trace_on()
            return True
        crack = name_of(self.drafting.selection, "crack")
        if not crack:
            return False
        if self.finish_with(lambda: cracks.remove_crack(self.work, self.side, crack)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Set a point, finish on the last one, or take hold of a crack that is there."""
        self._widths.cancel()
        self._pressed = None
        if not self.is_tracing and self._take_up_crack(place):
            return True
        at = self._snapped(place)
        if self.is_tracing and math.dist(at, self._trace.points[-1]) <= self._reach:
            self.finish()
            return True
        self._set_point(at)
        self._pressed = place
        return True

    def draw(self, place: Point) -> None:
        """Drag what is held, or draw the first leg in one go."""
        if self._grips.is_held:
            self._grips.draw(place)
        else:
            self.hover(place)

    def release(self, place: Point) -> None:
        """Let go; a leg drawn in one go ends here."""
        if self._grips.is_held:
            was_moved = self._grips.release(place)
            if self._end is not None and not was_moved:
                self._draw_on(*self._end)
            return
        far = 3 * self._reach
        if self._pressed is not None and math.dist(place, self._pressed) > far:
            self._set_point(self._snapped(place))
        self._pressed = None

    def hover(self, place: Point) -> None:
        """Let the crack follow the joints to the pointer."""
        self._at = place
        self._widths.hover(place)
        if self.is_tracing:
            self._trace_on()

    def leave(self) -> None:
        """Keep what is traced, without a leg to the pointer."""
        self._at = None
        self._widths.leave()
        if self.is_tracing:
            self._trace_on()

    def press_aside(self, place: Point) -> bool:
        """Ask how wide the crack is at a place of it."""
        self._widths.hover(place)
        return not self.is_tracing and self._widths.ask()

    def press_right(self, place: Point) -> bool:
        """End the crack with the last point."""
        if not self.is_tracing:
            return False
        self.finish()
        return True

    def double(self, place: Point) -> bool:
        """End the crack with the point that was just set."""
        if self.is_tracing:
            self.finish()
        return True

    def finish(self) -> None:
        """Make the traced points a crack, and ask how wide it is."""
        trace, known = self._trace, self._known()
        if not trace.is_whole:
            self.cancel()
            return
        if self.finish_with(lambda: trace.edit(self.work, self.side)) is None:
            return
        self._trace = Trace()
        made = trace.draws_on or self._made(known)
        if made:
            self.drafting.select(f"{self.side}/crack/{made}")
            if not trace.draws_on:
                self._widths.ask_of(made, trace.points[-1])

    def _known(self) -> set[str]:
        walls = self.work.survey.elevations
        return {one.id for wall in walls if wall.id == self.side for one in wall.cracks}

    def _made(self, before: set[str]) -> str:
        return next((one.id for one in self.drafting.plain.cracks if one.id not in before), "")

    @property
    def _reach(self) -> float:
        return snaps.SNAP_PX / self.drafting.per_mm

    def _snapped(self, place: Point) -> Point:
        """Return where a point comes to lie: in a bed, and plumb with a perpend that is near."""
        return snaps.to_joint(self.drafting.wall, place, self._reach)

    def _take_up_crack(self, place: Point) -> bool:
        """Take hold of an end or a handle, or select the crack; an end only clicked is drawn on."""
        self._end = None
        shape = self._crack_at(place)
        if shape is not None:
            name = name_of(shape.mark, "crack")
            ends = shape.points[0], shape.points[-1]
            near = min((math.dist(place, end), number) for number, end in enumerate(ends))
            if near[0] <= self._reach:
                self.drafting.select(shape.mark)
                self._end = (name, near[1] == 0)
                if not self._grips.take_hold(place):
                    self._draw_on(*self._end)
                return True
        if self._grips.take_hold(place):
            return True
        if shape is None or shape.mark == self.drafting.selection:
            return False
        self.drafting.select(shape.mark)
        return True

    def _draw_on(self, name: str, at_start: bool) -> None:  # noqa: FBT001 - a pair
        points = cracks.points_of(self.work, self.side, name)
        end = points[0] if at_start else points[-1]
        self._trace = Trace((end,), draws_on=name, at_start=at_start)
        self._pressed = end
        self.drafting.select(f"{self.side}/crack/{name}")

    def _crack_at(self, place: Point) -> CrackShape | None:
        if self.drafting.shown is None:
            return None
        reach = REACH_PX / self.drafting.per_mm
        return hits.nearest_crack(self.drafting.shown, place, reach)

    def _set_point(self, at: Point) -> None:
        if not self.is_tracing:
            self.drafting.select("")
        self._trace = self._trace.on_to(at, cuts=self._cuts_now)
        self._trace_on()

    # -- trying out

    def _trace_on(self) -> None:
        """Try out what is traced so far, with a leg to the pointer."""
        trace = self._so_far()
        if trace.is_whole:
            self.attempt(lambda: trace.edit(self.work, self.side))
        else:
            self.trouble = ""
            self.drafting.try_out(None)

    def _so_far(self) -> Trace:
        """Return what is traced, with a leg to the pointer."""
        if self._at is None or not self.is_tracing:
            return self._trace
        return self._trace.on_to(self._snapped(self._at), cuts=self._cuts_now)

    # -- by keys

    def key(self, key: int, *, shifted: bool) -> bool:
        """Turn cutting on or off, type a width, or finish it."""
        if key == Qt.Key.Key_X:
            self.is_cutting = not self.is_cutting
            if self.is_tracing:
                self._trace_on()
            return True
        return not self.is_tracing and self._widths.key(key)

    def start_place(self) -> Point:
        """Return the joint nearest to the middle of what is seen [mm]."""
        return snaps.to_joint(self.drafting.wall, super().start_place(), math.inf)

    def step(self, place: Point, way: Point) -> Point:
        """Return the next joint that way: a bed on, or along the bed to the next perpend."""
        coursing = self.drafting.wall.coursing
        course = max(snaps.bed_at(coursing, place[1]) + round(way[1]), 1)
        y = coursing.bed_middle(course)
        wall = self.drafting.wall
        if way[1]:
            return place[0], min(
                y, coursing.bed_middle(snaps.bed_at(coursing, wall.gross.bounds[3]))
            )
        found = []
        for one in (course, course - 1):
            rhythm = coursing.rhythm(one)
            face = rhythm.next_perpend(place[0], rightward=way[0] > 0)
            found.append(rhythm.perpend_after(face))
        return snaps.on_wall(wall, (min(found, key=lambda x: abs(x - place[0])), y))

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the points set, the leg to the pointer, and what the crack comes to."""
        if not self.is_tracing:
            return (*self._grips.ghosts(), *self._widths.ghosts())
        shown: list[Ghost] = [Mark(point, Spot.HANDLE, Ink.CRACK) for point in self._trace.points]
        at = self._trace.points[-1] if self._at is None else self._snapped(self._at)
        shown.append(Mark(at, Spot.HELD, Ink.CRACK))
        if self.trouble:
            points = self._so_far().points
            return (*shown, Trial(points, Ink.STOP), Said(at, self.trouble, Ink.STOP))
        words = self._words()
        return (*shown, Said(at, words, Ink.CRACK)) if words else shown

    def _words(self) -> str:
        trace = self._so_far()
        if not trace.is_whole:
            return ""
        words = spoken.crack(Crack("", trace.run, 0.0), self.drafting.wall.coursing)
        if self._cuts_now:
            return _("{size} · cuts bricks").format(size=words)
        return words

    def hint(self) -> str:
        """Return how a crack is traced, or how its width is written down."""
        if self.is_tracing:
            return _(
                "Click from joint to joint · Shift cuts bricks · double click or Enter ends it"
            )
        asked = self._widths.hint()
        return asked or _("Click along the crack · on an end to draw it on · type a width over it")
