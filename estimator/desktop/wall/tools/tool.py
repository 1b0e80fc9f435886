"""What every tool has: the drafting it makes edits of, and the joints its cross goes by.

What it makes goes to the drafting as an ``Edit``: tried out while it is drawn, done when it is let
go.
"""

from __future__ import annotations

from collections.abc import Callable

from estimator.desktop.language import in_full
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools.held import Held
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work


class Tool(Held):
    """One thing that can be done on the wall."""

    def __init__(self, drafting: Drafting) -> None:
        """Lie ready in the rail."""
        super().__init__()
        self.drafting = drafting
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
            self.trouble = in_full(mistake)
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

    def again(self) -> None:
        """Let go of what is selected, so that the next can be drawn; what is half drawn stays."""
        if not self.drafting.is_trying:
            self.drafting.select("")

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
