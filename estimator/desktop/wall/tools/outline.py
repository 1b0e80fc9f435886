"""Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.lookout import WAYS
from estimator.desktop.wall.particulars.typed import in_bricks, in_courses, in_metres
from estimator.desktop.wall.tools import beginning, frame
from estimator.desktop.wall.tools.frame import Handle, Part
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Patch, Said, Spot, Trial
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import outline
from estimator.quoting.wall_edits.changing import during
from estimator.survey.survey import Elevation

REACH_PX = 12.0
"""How near a press has to come to a handle [px]."""
STILL_PX = 3.0
"""Moved less than this, a press is a click [px]."""
TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
ENDS = (Part.LEFT, Part.RIGHT)
SIZED = (Part.TOP_LEFT, Part.TOP_RIGHT)


class WallTool(Tool):
    """Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

    name = "wall"
    cursor = Qt.CursorShape.ArrowCursor

    def __init__(self, drafting: Drafting) -> None:
        """Lie ready in the rail."""
        super().__init__(drafting)
        self.near: Handle | None = None
        """The handle under the pointer, or chosen by keyboard."""
        self.held: Handle | None = None
        self._start: Point | None = None
        self._at: Point | None = None
        self._gesture = 0
        self.is_by_keys = False
        """Whether arrows pull what is held."""
        self.sets_joints = False
        """Whether the next click sets a movement joint."""

    # -- what is there

    @property
    def wall(self) -> Elevation:
        """The wall as it was before it was taken hold of."""
        return next(one for one in self.work.survey.elevations if one.id == self.side)

    @property
    def is_blank(self) -> bool:
        """Whether there is no wall anybody told of or drew."""
        return beginning.is_blank(self.work)

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
        self.drafting.select("")

    def cancel(self) -> bool:
        """Let go, and leave the wall as it was."""
        was = self.held is not None or self._start is not None or self.sets_joints
        self.held, self._start, self.sets_joints, self.trouble = None, None, False, ""
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
            return True
        if self.sets_joints:
            self._set_joint(place)
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
        if self.held is not None:
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
        if self.is_blank and start is not None:
            self._begin_wall(None if still else (start, place))
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

    def _begin_wall(self, box: tuple[Point, Point] | None) -> None:
        size = (beginning.WIDTH_MM, beginning.HEIGHT_MM)
        if box is not None:
            size = beginning.whole_bricks(self.wall, *box)
        self.finish_with(lambda: beginning.begin_wall(self.work, self.side, size))

    def _set_joint(self, place: Point) -> None:
        x = self._joint_at(place)
        number = len(self.wall.movement_joints_mm)
        if self.finish_with(lambda: outline.add_movement_joint(self.work, self.side, x)):
            self.sets_joints = False
            joints = self.drafting.plain.movement_joints_mm
            place_of = min(range(number + 1), key=lambda one: abs(joints[one] - x))
            self.drafting.select(f"{self.side}/joint/{place_of + 1}")

    def _joint_at(self, place: Point) -> float:
        """Return where a joint would be: on half bricks from the left."""
        joint = Handle(Part.JOINT, place, self._no_edit, "")
        return place[0] if self.is_shifted else frame.snapped(self.wall, joint, place)[0]

    def _no_edit(self, _work: object, _to: Point) -> Edit:
        raise RuntimeError("this handle is only looked at")

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
        if key == Qt.Key.Key_J and not self.is_blank:
            self.cancel()
            self.sets_joints = True
            self.drafting.ghosts_changed.emit()
            return True
        if self.sets_joints or self.is_blank:
            return self._start_by_key(key)
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

    def _start_by_key(self, key: int) -> bool:
        """Begin a wall by Enter; joints are set by the cross of the board."""
        if key in TAKES and self.is_blank:
            self._begin_wall(None)
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
            return self._ghosts_of_beginning()
        shown: list[Ghost] = []
        chosen = self.held or self.near
        for one in self._handles():
            is_chosen = chosen is not None and (one.part, one.number) == (
                chosen.part,
                chosen.number,
            )
            shown.append(Mark(one.at, Spot.HELD if is_chosen else Spot.HANDLE))
            if is_chosen and not self.sets_joints:
                shown.append(self._said(one))
        if self.sets_joints and self._at is not None:
            shown.extend(self._ghosts_of_joint(self._at))
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

    def _ghosts_of_joint(self, place: Point) -> Sequence[Ghost]:
        x = self._joint_at(place)
        left, bottom, _right, top = outline.bounds_of(self.drafting.plain.outline)
        words = _("Movement joint {length} from the left").format(length=in_metres(x - left))
        return Trial(((x, bottom), (x, top))), Said((x, place[1]), words)

    def _ghosts_of_beginning(self) -> Sequence[Ghost]:
        """Return the wall a click would begin with, or the box that is being drawn."""
        size = (beginning.WIDTH_MM, beginning.HEIGHT_MM)
        corner = (0.0, 0.0)
        start, at = self._start, self._at
        is_drawn = start is not None and at is not None
        if start is not None and at is not None:
            is_drawn = math.dist(start, at) * self.drafting.per_mm > STILL_PX
            if is_drawn:
                size = beginning.whole_bricks(self.wall, start, at)
                corner = min(start[0], at[0]), min(start[1], at[1])
        if not is_drawn:
            return ()
        coursing = self.drafting.wall.coursing
        width, height = size
        words = _("{width} · {bricks}\n{height} · {courses}").format(
            width=in_metres(width),
            bricks=in_bricks(width, coursing),
            height=in_metres(height),
            courses=in_courses(height, coursing),
        )
        box = (*corner, corner[0] + width, corner[1] + height)
        return Patch(box), Said((box[2], box[3]), words)

    def hint(self) -> str:
        """Return what to do next."""
        if self.is_blank:
            return _("Drag the wall as large as it is, or click to begin with 4.50 × 2.70 m")
        if self.sets_joints:
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
