"""What can be in hand: pressed, drawn along, let go, and moved by keys; here it does nothing.

It knows places on the wall in millimetres and no pixels.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt

from estimator.desktop.wall.tools.ghosts import Ghost
from estimator.masonry.region import Point


class Held:
    """Something in hand that does nothing."""

    name = ""
    """Key of the tool: its word, letter and icon stand in ``rail``."""
    keeps: tuple[str, ...] = ()
    """Kinds of marks that stay selected when it is taken up: those it can change."""
    points_at_marks = False
    """Whether marks under the pointer are lit and named, as when only looking."""
    cursor = Qt.CursorShape.CrossCursor
    is_stroked = False
    """Whether it is drawn from a press to its release; by keys, from one Enter to the next."""

    def __init__(self) -> None:
        """Lie ready in the rail."""
        self.is_shifted = False
        """Whether Shift is held, as the board tells."""
        self.is_by_keys = False
        """Whether arrows pull what is held."""

    # -- taken up and put down

    def begin(self) -> None:
        """Be taken up."""

    def again(self) -> None:
        """Be taken up while it is in hand."""

    def end(self) -> None:
        """Be put down; what was half drawn goes."""
        self.cancel()

    def cancel(self) -> bool:
        """Give up what is half drawn; false where there is nothing to give up."""
        return False

    def back(self) -> bool:
        """Take one step of what is half drawn back, or remove what is selected; false for none."""
        return False

    # -- by hand

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Be pressed at a place; false leaves the press to moving the wall."""
        return False

    def draw(self, place: Point) -> None:
        """Be drawn along while it is pressed."""

    def release(self, place: Point) -> None:
        """Be let go."""

    def hover(self, place: Point) -> None:
        """Be held over a place."""

    def leave(self) -> None:
        """Be taken off the wall."""

    def press_aside(self, place: Point) -> bool:
        """Be pressed with Alt held; false leaves it to an ordinary press."""
        return False

    def press_right(self, place: Point) -> bool:
        """Be pressed with the right button; false leaves it."""
        return False

    def double(self, place: Point) -> bool:
        """Be pressed twice; false leaves it to fitting the view."""
        return False

    # -- by keys

    def start_place(self) -> Point:
        """Return where the cross of the keyboard begins [mm]."""
        return 0.0, 0.0

    def step(self, place: Point, way: Point) -> Point:
        """Return the next place from another in a direction [mm]."""
        return place

    def key(self, key: int, *, shifted: bool) -> bool:
        """Take a key before anybody else; false leaves it."""
        return False

    def nudge(self, way: Point, *, fine: bool) -> bool:
        """Move what is selected a joint that way, or finely a millimetre; false for nothing."""
        return False

    # -- what it shows

    def ghosts(self) -> Sequence[Ghost]:
        """Return what is half drawn, and the handles there are."""
        return ()

    def hint(self) -> str:
        """Return what to do next, in a sentence."""
        return ""
