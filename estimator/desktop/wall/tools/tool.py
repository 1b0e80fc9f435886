"""What every tool can do: it is pressed, drawn along, let go, and moved by keys.

A tool knows places on the wall in millimetres and no pixels. What it makes goes to the drafting as
an ``Edit``: tried out while it is drawn, done when it is let go.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from estimator.desktop.wall.tools.ghosts import Ghost
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting


def sentence(mistake: UserMistake) -> str:
    """Return what a mistake says, with its first letter large."""
    words = str(mistake)
    return words[:1].upper() + words[1:]


class Tool:
    """One thing that can be done on the wall; this one does nothing."""

    name = ""
    """Key of the tool: its word, letter and icon stand in ``rail``."""
    points_at_marks = False
    """Whether marks under the pointer are lit and named, as when only looking."""
    cursor = Qt.CursorShape.CrossCursor
    is_stroked = False
    """Whether it is drawn from a press to its release; by keys, from one Enter to the next."""

    def __init__(self, drafting: Drafting) -> None:
        """Lie ready in the rail."""
        self.drafting = drafting
        self.is_shifted = False
        """Whether Shift is held, as the board tells."""
        self.trouble = ""
        """Why what is tried out cannot be done; empty where it can."""

    @property
    def work(self) -> Work:
        """The work as it is, without what is tried out: every trial starts from it."""
        return self.drafting.session.sight.work

    @property
    def side(self) -> str:
        """Id of the side on the board."""
        return self.drafting.side_id

    def attempt(self, make: Callable[[], Edit]) -> Edit | None:
        """Try an edit out; where it cannot be done, ``trouble`` says why beside the hand."""
        try:
            edit = make()
        except UserMistake as mistake:
            self.trouble = sentence(mistake)
            self.drafting.try_out(None)
            return None
        self.trouble = ""
        self.drafting.try_out(edit)
        return edit

    def finish_with(self, make: Callable[[], Edit]) -> Edit | None:
        """Do an edit; None where it cannot be done, which is said and leaves all as it was."""
        self.trouble = ""
        try:
            edit = make()
        except UserMistake as mistake:
            self.drafting.try_out(None)
            self.drafting.refuse(mistake)
            return None
        self.drafting.do(edit)
        return edit

    # -- taken up and put down

    def begin(self) -> None:
        """Be taken up."""

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
        """Return where the cross of the keyboard begins: the middle of what is seen [mm]."""
        return self.drafting.middle()

    def step(self, place: Point, way: Point) -> Point:
        """Return the next place from another in a direction, joint by joint [mm]."""
        coursing = self.drafting.wall.coursing
        if way[1]:
            course = coursing.course_at(place[1]) + (1 if way[1] > 0 else -1)
            return place[0], coursing.bed_middle(course)
        course = coursing.course_at(place[1] + coursing.gauge_mm / 2)
        rhythm = coursing.rhythm(course)
        return rhythm.perpend_after(rhythm.next_perpend(place[0], rightward=way[0] > 0)), place[1]

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
