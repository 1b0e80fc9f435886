"""Marks where a bed is thin by a stroke along it."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools import snaps
from estimator.desktop.wall.tools.found import mark_at, number_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Said, Trial
from estimator.desktop.wall.tools.tool import Tool
from estimator.desktop.wall.tools.typed import Typed
from estimator.documents.formats import metres, plain
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import thin_beds

USUAL_MM = 6.0
"""Thickness a thin bed is taken to have until another is typed; house rule [mm]."""
LEAST_MM = 30.0
"""A stroke shorter than this is a press [mm]."""


class ThinBedTool(Tool):
    """Marks where a bed is thin by a stroke along it."""

    name = "thin_bed"
    keeps = ("thin",)
    is_stroked = True

    def __init__(self, drafting: Drafting) -> None:
        """Begin with the usual thickness."""
        super().__init__(drafting)
        self.thickness_mm = USUAL_MM
        """Thickness of the beds marked next [mm]."""
        self._typed = Typed()
        self._start: Point | None = None
        self._at: Point | None = None

    def set_thickness(self, thickness_mm: float) -> None:
        """Say how thick the bed is: of the one that is selected, and of those marked next [mm]."""
        self.thickness_mm = thickness_mm
        number = number_of(self.drafting.selection, "thin")
        if number:
            self.finish_with(
                lambda: thin_beds.change_thin(
                    self.work, self.side, number, thickness_mm=thickness_mm
                )
            )
        self.drafting.ghosts_changed.emit()

    def cancel(self) -> bool:
        """Give a stroke up, or what was typed."""
        was = self._start is not None
        self._start, self.trouble = None, ""
        if was:
            self.drafting.try_out(None)
        return self._typed.clear() or was

    def back(self) -> bool:
        """Take a digit back, or the mark off the bed that is selected."""
        if self._typed.back():
            self._take_typed()
            return True
        number = number_of(self.drafting.selection, "thin")
        if not number:
            return False
        if self.finish_with(lambda: thin_beds.remove_thin(self.work, self.side, number)):
            self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Begin a stroke along the nearest bed."""
        self._typed.clear()
        course = snaps.bed_at(self.drafting.wall.coursing, place[1])
        if course < 1:
            return False
        at = float(round(place[0])), self.drafting.wall.coursing.bed_middle(course)
        self._start = self._at = at
        return True

    def draw(self, place: Point) -> None:
        """Lengthen the stroke."""
        if self._start is None:
            return
        self._at = snaps.along(self._start[0], place[0]), self._start[1]
        if self._is_long:
            self.attempt(self._marked)
        else:
            self.drafting.try_out(None)

    def release(self, place: Point) -> None:
        """Mark the stroke; a press alone selects what is there."""
        self.draw(place)
        if self._start is not None and self._is_long:
            edit = self.finish_with(self._marked)
            if edit is not None:
                # The new stretch stands last, with its thickness to be typed.
                self.drafting.select(f"{self.side}/thin/{len(self.drafting.plain.thin_beds)}")
        elif self._start is not None:
            mark = mark_at(self.drafting, place)
            self.drafting.select(mark if number_of(mark, "thin") else "")
        self._start = None

    def hover(self, place: Point) -> None:
        """Show which bed is meant."""
        coursing = self.drafting.wall.coursing
        self._at = place[0], coursing.bed_middle(snaps.bed_at(coursing, place[1]))

    def leave(self) -> None:
        """Mean no bed."""
        self._at = None

    @property
    def _is_long(self) -> bool:
        if self._start is None or self._at is None:
            return False
        return abs(self._at[0] - self._start[0]) >= LEAST_MM

    def _marked(self) -> Edit:
        assert self._start is not None and self._at is not None
        course = self._course(self._start)
        ends = self._start[0], self._at[0]
        return thin_beds.mark_thin(self.work, self.side, course, *ends, self.thickness_mm)

    def _course(self, place: Point) -> int:
        return snaps.bed_at(self.drafting.wall.coursing, place[1])

    # -- by keys

    def step(self, place: Point, way: Point) -> Point:
        """Return the next joint that way, on the wall [mm]."""
        return snaps.on_wall(self.drafting.wall, super().step(place, way))

    def key(self, key: int, *, shifted: bool) -> bool:
        """Type a thickness."""
        if not self._typed.take(key):
            return False
        self._take_typed()
        return True

    def _take_typed(self) -> None:
        value = self._typed.value
        if value:
            self.set_thickness(value)

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the stretch of bed so far, with its length and thickness."""
        if self._at is None:
            return ()
        start = self._start or (self._at[0] - LEAST_MM, self._at[1])
        ink = Ink.STOP if self.trouble else Ink.ACT
        gaps = {"course": self._course(self._at), "thickness": plain(self.thickness_mm)}
        words = _("Bed under course {course}, {thickness} mm").format(**gaps)
        if self._is_long:
            length = metres(abs(self._at[0] - start[0]))
            said = _("Bed under course {course}, {length}, {thickness} mm")
            words = said.format(length=length, **gaps)
        line = Trial((start, self._at), ink, is_dashed=False, width_px=4)
        return line, Said(self._at, self.trouble or words, ink)

    def hint(self) -> str:
        """Return how thin beds are marked."""
        return _("Stroke along a thin bed · type its thickness in mm · Delete takes it off")
