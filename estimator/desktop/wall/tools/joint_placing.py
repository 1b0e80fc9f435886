"""Movement joints set by a click, on half bricks from the left of the wall."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.desktop.language import _
from estimator.desktop.wall.particulars.typed import in_metres
from estimator.desktop.wall.tools import frame
from estimator.desktop.wall.tools.ghosts import Ghost, Said, Trial
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.quoting.wall_edits import outline


class JointPlacing:
    """What the wall tool does once a movement joint was asked for."""

    def __init__(self, tool: Tool) -> None:
        """Belong to a tool."""
        self._tool = tool
        self.is_on = False
        """Whether the next click sets a movement joint."""

    def set_at(self, place: Point) -> None:
        """Set a joint, and select it."""
        tool, x = self._tool, self._along(place)
        if tool.finish_with(lambda: outline.add_movement_joint(tool.work, tool.side, x)) is None:
            return
        self.is_on = False
        joints = tool.drafting.plain.movement_joints_mm
        nearest = min(joints, key=lambda one: abs(one - x))
        tool.drafting.select(f"{tool.side}/joint/{joints.index(nearest) + 1}")

    def ghosts(self, place: Point) -> Sequence[Ghost]:
        """Return where the joint would be."""
        x = self._along(place)
        left, bottom, _right, top = outline.bounds_of(self._tool.drafting.plain.outline)
        words = _("Movement joint {length} from the left").format(length=in_metres(x - left))
        return Trial(((x, bottom), (x, top))), Said((x, place[1]), words)

    def _along(self, place: Point) -> float:
        """Return where a joint goes: on half bricks from the left unless with Shift [mm]."""
        if self._tool.is_shifted:
            return place[0]
        return frame.on_half_bricks(self._tool.drafting.plain, place)[0]
