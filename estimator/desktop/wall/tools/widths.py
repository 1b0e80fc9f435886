"""How wide a crack is at a place of it: typed while the pointer is over it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall import hits
from estimator.desktop.wall.tools import snaps
from estimator.desktop.wall.tools.found import REACH_PX, name_of
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot
from estimator.desktop.wall.tools.typed import Typed
from estimator.masonry.region import Point
from estimator.quoting.wall_edits import cracks

if TYPE_CHECKING:
    from estimator.desktop.wall.tools.tool import Tool

TAKES = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Widths:
    """Takes a width down: of the place under the pointer, or of the one that is asked about."""

    def __init__(self, tool: Tool) -> None:
        """Belong to a tool."""
        self._tool = tool
        self._typed = Typed()
        self._over: tuple[str, Point] | None = None
        """The crack under the pointer, and the place of it."""
        self._asked: tuple[str, Point] | None = None
        """The crack and the place that is asked about, wherever the pointer is."""

    def hover(self, place: Point) -> None:
        """Look which crack is under the pointer."""
        if self._typed and self._asked is None:
            return
        drafting = self._tool.drafting
        reach = REACH_PX / drafting.per_mm
        shape = None
        if drafting.shown is not None:
            shape = hits.nearest_crack(drafting.shown, place, reach)
        self._over = None
        if shape is not None:
            at = snaps.onto(place, shape.points)[1]
            self._over = name_of(shape.mark, "crack"), at

    def leave(self) -> None:
        """Look at no crack any more."""
        if not self._typed:
            self._over = None

    def ask(self) -> bool:
        """Ask about the place under the pointer; false where no crack is."""
        self._asked = self._over
        self._typed.clear()
        return self._asked is not None

    def ask_of(self, crack: str, place: Point) -> None:
        """Ask about a place of a crack."""
        self._asked, self._over = (crack, place), None
        self._typed.clear()

    def cancel(self) -> bool:
        """Ask no more; false where nothing was asked or typed."""
        was = self._asked is not None or bool(self._typed)
        self._asked = None
        self._typed.clear()
        return was

    def back(self) -> bool:
        """Take the last digit back; false where there is none."""
        return self._typed.back()

    def _forget_gone(self) -> None:
        """Ask no more of a crack that is gone: an undo took it, or another side is shown."""
        wall = self._tool.drafting.elevation
        known = () if wall is None else tuple(one.id for one in wall.cracks)
        if self._over is not None and self._over[0] not in known:
            self._over = None
        if self._asked is not None and self._asked[0] not in known:
            self.cancel()

    def key(self, key: int) -> bool:
        """Type a width, or write it down with Enter; false for any other key."""
        self._forget_gone()
        place = self._asked or self._over
        if place is None:
            return False
        if key in TAKES and self._typed:
            self._write_down(place)
            return True
        if key in TAKES and self._asked is not None:
            return self.cancel()
        return self._typed.take(key)

    def _write_down(self, place: tuple[str, Point]) -> None:
        width = self._typed.value
        crack, (x, y) = place
        if width is not None:
            self._tool.finish_with(
                lambda: cracks.set_width(self._tool.work, self._tool.side, crack, x, y, width)
            )
        self.cancel()

    def ghosts(self) -> Sequence[Ghost]:
        """Return the place a width is typed for, and what was typed."""
        self._forget_gone()
        place = self._asked or (self._over if self._typed else None)
        if place is None:
            return ()
        words = _("How wide here? Type mm, then Enter")
        if self._typed:
            words = _("{width} mm").format(width=self._typed.text)
        return Mark(place[1], Spot.HELD, Ink.CRACK), Said(place[1], words, Ink.CRACK)

    def hint(self) -> str:
        """Return how a width is written down; empty where no crack is meant."""
        self._forget_gone()
        if self._asked is not None or self._typed:
            return _("Type the width in mm · Enter writes it down · Esc leaves it open")
        if self._over is not None:
            return _("Type a width in mm for this place · click an end to draw the crack on")
        return ""
