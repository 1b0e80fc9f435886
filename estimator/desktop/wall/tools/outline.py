"""Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.lookout import WAYS
from estimator.desktop.wall.tools import frame
from estimator.desktop.wall.tools.first_wall import STILL_PX, FirstWall
from estimator.desktop.wall.tools.frame import Handle, Part
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot
from estimator.desktop.wall.tools.joint_placing import JointPlacing
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import outline
from estimator.quoting.wall_edits.changing import during
from estimator.survey.survey import Elevation

REACH_PX = 12.0
"""How near a press has to come to a handle [px]."""
TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
ENDS = (Part.LEFT, Part.RIGHT)


class WallTool(Tool):
    """Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

    name = "wall"
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, drafting: Drafting) -> None:
        """Lie ready in the rail."""
        super().__init__(drafting)
        self._first = FirstWall(self)
        self.near: Handle | None = None
        """The handle under the pointer, or chosen by keyboard."""
        self.held: Handle | None = None
        self._start: Point | None = None
        self._at: Point | None = None
        self._gesture = 0
        self._joint = JointPlacing(self)

    # -- what is there

    @property
    def wall(self) -> Elevation:
        """The wall as it was before it was taken hold of."""
        return next(one for one in self.work.survey.elevations if one.id == self.side)

    @property
    def is_blank(self) -> bool:
        """Whether there is no wall anybody told of or drew."""
        return self._first.is_wanted

    def _handles(self) -> tuple[Handle, ...]:
        if self.is_blank or self.drafting.elevation is None:
            return ()
        return frame.handles(self.drafting.plain, self.side)

    def _nearest(self, place: Point) -> Handle | None:
        reach = REACH_PX / self.drafting.per_mm
        found = min(self._handles(), key=lambda one: math.dist(one.at, place), default=None)
        return found if found is not None and math.dist(found.at, place) <= reach else None

    # -- taken up and put down

    def begin(self) -> None:
        """Be taken up: the sizes of the wall are shown below it."""
        self.near = self.held = None

    def cancel(self) -> bool:
        """Let go, and leave the wall as it was."""
        was = self.held is not None or self._start is not None or self._joint.is_on
        self._first.drop()
        self.held, self._start, self._joint.is_on, self.trouble = None, None, False, ""
        self.is_by_keys = False
        if self.drafting.is_trying:
            self.drafting.try_out(None)
        self.drafting.ghosts_changed.emit()
        return was

    def back(self) -> bool:
        """Take the movement joint that is chosen out."""
        near = self.near
        if near is None or near.part is not Part.JOINT:
            return False
        self.near = None
        self.finish_with(lambda: outline.remove_movement_joint(self.work, self.side, near.number))
        self.drafting.select("")
        return True

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Take hold of a handle, set a joint, or begin a wall; else let the wall be moved."""
        self._at = self._start = place
        if self.is_blank:
            self._first.press(place)
            return True
        if self._joint.is_on:
            self._joint.set_at(place)
            self._start = None
            return True
        self.near = self._nearest(place)
        if self.near is None:
            self._start = None
            self.drafting.select("")
            return False
        self._take_hold(self.near)
        return True

    def _take_hold(self, handle: Handle) -> None:
        self.held, self._gesture = handle, self.drafting.gesture()
        self._at = handle.at
        mark = f"{self.side}/joint/{handle.number}" if handle.part is Part.JOINT else ""
        self.drafting.select(mark)

    def draw(self, place: Point) -> None:
        """Pull what is held."""
        self._at = place
        if self._first.is_held:
            self._first.draw(place)
        elif self.held is not None:
            self._pull(self._wanted(place))
        self.drafting.ghosts_changed.emit()

    def _wanted(self, place: Point) -> Point:
        """Return where the held handle is to go, by whole bricks and courses unless with Shift."""
        held, start = self.held, self._start
        if held is None or start is None:
            return place
        to = held.at[0] + place[0] - start[0], held.at[1] + place[1] - start[1]
        if self.is_shifted:
            return float(round(to[0])), float(round(to[1]))
        return frame.snapped(self.wall, held, to)

    def _edit(self, to: Point) -> Edit:
        if self.held is None:
            raise RuntimeError("nothing is held")
        return during(self.held.edit(self.work, to), self._gesture)

    def _pull(self, to: Point) -> None:
        self._to = to
        self.attempt(lambda: self._edit(to))

    def release(self, place: Point) -> None:
        """Let go: what was pulled is done; an end that was only clicked does the next thing."""
        held, start = self.held, self._start
        still = start is None or math.dist(place, start) * self.drafting.per_mm <= STILL_PX
        if self._first.is_held:
            self._first.draw(place)
            self._first.release()
        elif held is not None and still:
            self._click(held)
        elif held is not None:
            to = self._wanted(place)
            self.finish_with(lambda: self._edit(to))
        self._let_go()

    def _let_go(self) -> None:
        self.held, self._start, self.trouble, self.is_by_keys = None, None, "", False
        self.near = next((one for one in self._handles() if self._is_near(one)), None)
        self.drafting.ghosts_changed.emit()

    def _is_near(self, handle: Handle) -> bool:
        near = self.near
        return near is not None and (near.part, near.number) == (handle.part, handle.number)

    def _click(self, handle: Handle) -> None:
        """Do what a click without a pull does: an end goes on to what it may be next."""
        self.drafting.try_out(None)
        if handle.part in ENDS:
            make = frame.cycle_end
            self.finish_with(lambda: make(self.work, self.side, self.wall, handle.part))
        elif handle.part is Part.DAMP:
            self.drafting.select(f"{self.side}/damp")

    def hover(self, place: Point) -> None:
        """Choose the handle under the pointer."""
        self._at = place
        if self.held is None:
            self.near = self._nearest(place)
        self.drafting.ghosts_changed.emit()

    def leave(self) -> None:
        """Choose none."""
        if self.held is None:
            self.near = self._at = None

    # -- by keys

    def key(self, key: int, *, shifted: bool) -> bool:
        """Choose a handle by arrows, take it by Enter, pull it by arrows, let go by Enter."""
        if self.is_blank:
            return self._begin_by_key(key)
        if key == Qt.Key.Key_J:
            self.cancel()
            self._joint.is_on = True
            self.drafting.ghosts_changed.emit()
            return True
        return not self._joint.is_on and self._handle_key(key, shifted=shifted)

    def _begin_by_key(self, key: int) -> bool:
        if key in TAKES:
            self._first.begin()
        return key in TAKES

    def _handle_key(self, key: int, *, shifted: bool) -> bool:
        if key in WAYS and self.held is not None:
            self._pull_by_keys(WAYS[key], fine=shifted)
            return True
        if key in WAYS and not shifted:
            self._choose(WAYS[key])
            return True
        if key in TAKES and self.near is not None:
            self._enter()
            return True
        return False

    def _choose(self, way: Point) -> None:
        """Choose the nearest handle that way, the first to begin with."""
        found = self._handles()
        near = self.near
        if near is None:
            self.near = found[0] if found else None
        else:
            self.near = min(
                (one for one in found if _ahead(near.at, one.at, way) > 1.0),
                key=lambda one: _ahead(near.at, one.at, way) + 2 * _aside(near.at, one.at, way),
                default=near,
            )
        self.drafting.ghosts_changed.emit()

    def _enter(self) -> None:
        """Take hold of the chosen handle, or let go of it where it is."""
        if self.held is None and self.near is not None:
            self._take_hold(self.near)
            self._to, self.is_by_keys = self.near.at, True
            self.drafting.ghosts_changed.emit()
            return
        held, to = self.held, self._to
        if held is None:
            return
        if to == held.at:
            self._click(held)
        else:
            self.finish_with(lambda: self._edit(to))
        self._let_go()

    def _pull_by_keys(self, way: Point, *, fine: bool) -> None:
        held = self.held
        if held is None:
            return
        across, up = (1.0, 1.0) if fine else frame.steps(self.wall, held)
        to = self._to[0] + way[0] * across, self._to[1] + way[1] * up
        self._at = to
        self._pull(to if fine else frame.snapped(self.wall, held, to))
        self.drafting.ghosts_changed.emit()

    def nudge(self, way: Point, *, fine: bool) -> bool:
        """Pull the chosen handle by one brick or course at once."""
        if self.near is None or self.held is not None:
            return False
        self._take_hold(self.near)
        self._to = self.near.at
        self._pull_by_keys(way, fine=fine)
        to = self._to
        self.finish_with(lambda: self._edit(to))
        self._let_go()
        return True

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return the handles, and what is said of the one that is held or near."""
        if self.drafting.elevation is None:
            return ()
        if self.is_blank:
            return self._first.ghosts()
        shown: list[Ghost] = []
        chosen = self.held or self.near
        for one in self._handles():
            is_chosen = chosen is not None and (one.part, one.number) == (
                chosen.part,
                chosen.number,
            )
            shown.append(Mark(one.at, Spot.HELD if is_chosen else Spot.HANDLE))
            if is_chosen and not self._joint.is_on:
                shown.append(self._said(one))
        if self._joint.is_on and self._at is not None:
            shown.extend(self._joint.ghosts(self._at))
        return shown

    def _said(self, handle: Handle) -> Said:
        """Return the words beside a handle: the size while it is pulled, else what it is."""
        if self.held is not None and self.trouble:
            return Said(self._at or handle.at, self.trouble, Ink.STOP)
        wall = self.drafting.plain
        size = frame.words(wall, handle)
        if self.held is None and handle.part in ENDS:
            end = frame.end_words(wall, handle.part)
            size = _("{name}: {end}\n{size}").format(name=handle.name, end=end, size=size)
        return Said(handle.at, size)

    def hint(self) -> str:
        """Return what to do next."""
        if self.is_blank:
            return _("Drag the wall as large as it is, or click to begin with 4.50 × 2.70 m")
        if self._joint.is_on:
            return _("Click where the movement joint is · Esc leaves it")
        if self.held is not None and self.is_by_keys:
            return _("Arrows pull by a brick or a course, with Shift by 1 mm · Enter lets go")
        if self.held is not None:
            return _("By whole bricks and courses; hold Shift for single millimetres")
        return _(
            "Pull a handle · click an end to say what it does · J movement joint · E exact sizes"
        )


def _ahead(start: Point, end: Point, way: Point) -> float:
    return (end[0] - start[0]) * way[0] + (end[1] - start[1]) * way[1]


def _aside(start: Point, end: Point, way: Point) -> float:
    return abs((end[0] - start[0]) * way[1]) + abs((end[1] - start[1]) * way[0])
