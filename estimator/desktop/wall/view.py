"""Where the wall lies on the screen: fitted, zoomed and moved, with courses on whole pixels."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from estimator.drawing.courses import Box
from estimator.masonry.region import Point

CLOSEST = 1.2
"""Nearest view: so many pixels to a millimetre [px/mm]."""
STEP = 1.2
OVER = 1.04
"""How much nearer than asked a view may be for its courses to be crisp."""
CRISP_FROM_PX = 6.0
"""From this height of a course on, courses are put on whole pixels [px]."""


@dataclass(frozen=True, slots=True)
class View:
    """A window on the wall."""

    left_mm: float
    """What lies at the left edge of the screen [mm]."""
    top_mm: float
    """What lies at its top edge [mm]."""
    per_mm: float
    """Pixels to a millimetre [px/mm]."""

    def at(self, x: float, y: float) -> Point:
        """Return where a place on the wall is on the screen [px].

        >>> View(0, 1000, 0.5).at(100, 900)
        (50.0, 50.0)
        """
        return (x - self.left_mm) * self.per_mm, (self.top_mm - y) * self.per_mm

    def box(self, box: Box) -> Box:
        """Return a box on the screen: left, top, right and bottom [px]."""
        left, bottom, right, top = box
        return (*self.at(left, top), *self.at(right, bottom))

    def place(self, x: float, y: float) -> Point:
        """Return what place on the wall is under a pixel [mm]."""
        return self.left_mm + x / self.per_mm, self.top_mm - y / self.per_mm


@dataclass(frozen=True, slots=True)
class Room:
    """What a view has to hold: the wall, and the size of the screen for it."""

    whole: Box
    width: float
    height: float
    gauge_mm: float
    """Height of a course [mm]."""

    @property
    def smallest(self) -> float:
        """The scale at which the whole wall is seen [px/mm]."""
        across, up = self.whole[2] - self.whole[0], self.whole[3] - self.whole[1]
        return min(self.width / across, self.height / up)


def fitted(room: Room, work: Box | None, *, near_per_mm: float = 0.0) -> View:
    """Return the view that shows all the work, and fills the screen as far as that allows.

    Args:
        room: What there is to see, and on what.
        work: The box that has to be in sight, None for the whole wall.
        near_per_mm: The wall may be cropped for its work to be seen as near as this [px/mm].
    """
    left, bottom, right, top = room.whole
    smallest = room.smallest
    fullest = max(room.width / (right - left), room.height / (top - bottom))
    scale, seen = smallest, room.whole
    if work is not None:
        near = min(room.width / (work[2] - work[0]), room.height / (work[3] - work[1]))
        scale, seen = min(max(near, smallest), max(fullest, near_per_mm)), work
    scale = _crisp(scale, room, over=1.0 if work is None else OVER)
    middle_x, middle_y = (seen[0] + seen[2]) / 2, (seen[1] + seen[3]) / 2
    centred = View(middle_x - room.width / scale / 2, middle_y + room.height / scale / 2, scale)
    return kept(centred, room)


def zoomed(view: View, room: Room, factor: float, about: Point) -> View:
    """Return a nearer or wider view with one pixel's place held still."""
    smallest = room.smallest
    scale = min(max(view.per_mm * factor, smallest), max(CLOSEST, smallest))
    snapped = _crisp(scale, room, up=factor > 1)
    x, y = view.place(*about)
    return kept(View(x - about[0] / snapped, y + about[1] / snapped, snapped), room)


def panned(view: View, room: Room, by: Point) -> View:
    """Return the view moved by so many pixels [px]."""
    moved = replace(
        view,
        left_mm=view.left_mm - by[0] / view.per_mm,
        top_mm=view.top_mm + by[1] / view.per_mm,
    )
    return kept(moved, room)


def kept(view: View, room: Room) -> View:
    """Return a view moved so that no empty edge shows; a small wall stands on its foot."""
    left, bottom, right, top = room.whole
    across, up = room.width / view.per_mm, room.height / view.per_mm
    if across >= right - left:
        x = (left + right - across) / 2
    else:
        x = min(max(view.left_mm, left), right - across)
    y = bottom + up if up >= top - bottom else min(max(view.top_mm, bottom + up), top)
    # Course 1 lies on a whole pixel, and with it every other.
    down = round(y * view.per_mm) / view.per_mm
    return View(round(x * view.per_mm) / view.per_mm, down, view.per_mm)


def _crisp(scale: float, room: Room, *, over: float = 1.0, up: bool = False) -> float:
    """Return the scale at which a course is a whole number of pixels high, as near as may be."""
    course = scale * room.gauge_mm
    if course < CRISP_FROM_PX:
        return scale
    whole = math.ceil(course - 1e-6) if up else math.floor(course * over + 1e-6)
    return max(whole / room.gauge_mm, min(room.smallest, scale)) if whole else scale
