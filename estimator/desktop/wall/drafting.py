"""The wall as it is being drawn: which side, which option, which tool, what is selected.

Between the session and the board. What is tried out while the hand is still moving is measured and
drawn at once and leaves the session alone; what is let go becomes an edit of it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from estimator.desktop.language import in_full
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.tools.held import Held
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.survey.ranges import settled
from estimator.survey.survey import Elevation
from estimator.survey.wall import Wall, wall_of
from estimator.takeoff.lines import Measure
from estimator.takeoff.measure import measure

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.desktop.state import Sight
    from estimator.desktop.wall.view import View


_NOTHING = Elevation("", "", ())
"""Stands for the side on the board until there is one."""


class Drafting(QObject):
    """What is on the board, and what the hand is doing to it."""

    picture_changed = Signal(object)
    """A ``Picture`` or None: something of the drawing changed."""
    ghosts_changed = Signal()
    """What is half drawn changed."""
    selected = Signal(str)
    """The mark that was selected; empty for none."""
    side_changed = Signal(int)
    """Another side of the building is on the board."""
    tool_changed = Signal(object)
    """The ``Held`` thing now in hand."""
    left_particulars = Signal()
    """The keyboard goes back from the sizes below to the wall."""
    said = Signal(str)
    """What could not be done, in a plain sentence; empty when that is over."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Draw what a session holds."""
        super().__init__(parent)
        self.session = session
        self.side = self.option = 0
        self.selection = ""
        self.view: View | None = None
        """What is seen of the wall, as the board tells."""
        self.size = (1.0, 1.0)
        self.tool = Held()
        self.shown: Picture | None = None
        """The drawing as it is on the board."""
        self._tried: Edit | None = None
        self._tried_on: Work | None = None
        """The work that what is tried out would change."""
        self._measured: tuple[tuple[object, ...] | None, Measure | None] = None, None
        """What was measured last of what is tried out, and of what it was measured."""
        self._settled: tuple[Elevation | None, Elevation] = None, _NOTHING
        self._uid = session.sight.job.uid
        self._drawn_on = ""
        """Id of the side that was drawn last."""
        self._gesture = 0
        self.album = Album(self, self)

    # -- what is drawn

    @property
    def work(self) -> Work:
        """What the drawing shows: the work of the session, or what is tried out."""
        return self.session.sight.work if self._tried is None else self._tried.after

    @property
    def is_trying(self) -> bool:
        """Whether something is tried out that is not done yet."""
        return self._tried is not None

    @property
    def elevation(self) -> Elevation | None:
        """The side on the board as it was told, ranges in it; None before there is a wall."""
        sides = self.work.survey.elevations
        # An undo may have taken the last side away a turn before the board hears of it.
        return sides[min(self.side, len(sides) - 1)] if sides else None

    @property
    def side_id(self) -> str:
        """Id of the side on the board."""
        return "" if self.elevation is None else self.elevation.id

    @property
    def plain(self) -> Elevation:
        """The side on the board with ranges at their likely values.

        Raises:
            RuntimeError: before there is a wall.
        """
        told = self.elevation
        if told is None:
            raise RuntimeError("there is no wall yet")
        if self._settled[0] is not told:
            self._settled = told, settled(told)
        return self._settled[1]

    @property
    def wall(self) -> Wall:
        """The side on the board, laid out on its courses."""
        return wall_of(self.plain)

    @property
    def per_mm(self) -> float:
        """Scale of the view [px/mm]."""
        return 1.0 if self.view is None else self.view.per_mm

    def picture(self) -> Picture | None:
        """Return the drawing with the work of the option in front."""
        return picture_of(self.work.survey, self.side, self.measure())

    def measure(self) -> Measure | None:
        """Return the measured work that is drawn; what is tried out is measured anew."""
        sight = self.session.sight
        if self._tried is None:
            return sight.measure(self.option)
        if not sight.assessment.route.allows_price or sight.priced_by is None:
            return None
        work = self._tried.after
        scope = work.scopes[min(self.option, len(work.scopes) - 1)]
        rules = work.rules(sight.priced_by.rules)
        key = (self._tried, scope, rules)
        if self._measured[0] is None or any(
            one is not two for one, two in zip(self._measured[0], key, strict=True)
        ):
            try:
                self._measured = key, measure(work.survey, scope, rules)
            except UserMistake:
                self._measured = key, None
        return self._measured[1]

    def middle(self) -> Point:
        """Return the middle of what is seen [mm]."""
        if self.view is None:
            return 0.0, 0.0
        return self.view.place(self.size[0] / 2, self.size[1] / 2)

    # -- which side, which option, which mark

    def show_side(self, number: int) -> None:
        """Put another side of the building on the board."""
        if number != self.side and 0 <= number < len(self.work.survey.elevations):
            self.tool.cancel()
            self.side = number
            self.select("")
            self.side_changed.emit(number)
            self.refresh()

    def show_option(self, number: int) -> None:
        """Draw the work of another option."""
        if number != self.option and number >= 0:
            self.option = number
            self.refresh()

    def select(self, mark: str) -> None:
        """Select a mark, so that its particulars can be seen and changed; empty for none."""
        if mark != self.selection:
            self.selection = mark
            self.selected.emit(mark)
            self.ghosts_changed.emit()

    def take(self, tool: Held) -> None:
        """Take a tool up and put the one in hand down; taken up again, it begins afresh."""
        if tool is self.tool:
            tool.again()
            return
        self.tool.end()
        self.tool = tool
        self.said.emit("")
        kind = self.selection.partition("/")[2].partition("/")[0]
        if not tool.points_at_marks and kind not in tool.keeps:
            # Its handles would be pulled where something new is to be drawn.
            self.select("")
        tool.begin()
        self.tool_changed.emit(tool)
        self.ghosts_changed.emit()

    # -- what the hand does

    def gesture(self) -> int:
        """Return a number no drag had before, so that each is undone by itself."""
        self._gesture += 1
        return self._gesture

    def try_out(self, edit: Edit | None) -> None:
        """Show an edit as if it were done; None goes back to what is."""
        if edit is not self._tried:
            self._tried, self._tried_on = edit, self.session.work
            self.said.emit("")
            self.refresh()

    def do(self, edit: Edit) -> None:
        """Do an edit: it can be undone, and is priced and kept."""
        self._tried = None
        self.said.emit("")
        if edit.after == self.session.work:
            self.refresh()
        else:
            self.session.apply(edit)

    def refuse(self, mistake: UserMistake) -> None:
        """Say why something could not be done; nothing was changed."""
        self.said.emit(in_full(mistake))

    def refresh(self) -> None:
        """Draw anew."""
        self._drawn_on = self.side_id
        self.shown = self.picture()
        self.picture_changed.emit(self.shown)

    def show_sight(self, sight: Sight) -> None:
        """Follow the session: another job, another edit, an undo."""
        # A range that has settled, or other rates, must not take away what is in the hand.
        if sight.work is not self._tried_on:
            self._tried = None
        if sight.job.uid != self._uid:
            self._uid = sight.job.uid
            self.tool.cancel()
            self.side = 0
            self.select("")
        self.side = min(self.side, max(len(sight.work.survey.elevations) - 1, 0))
        if self._drawn_on != self.side_id:
            # What is half drawn was meant for a side that is gone.
            self.tool.cancel()
            self.select("")
            self.side_changed.emit(self.side)
        self.refresh()
