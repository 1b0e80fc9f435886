"""The particulars of a bar: where it lies, why, and whose it is."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from estimator.desktop.language import _, in_full
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.field import About, SizeField
from estimator.desktop.wall.particulars.form import Form
from estimator.desktop.wall.particulars.small_forms import whole
from estimator.desktop.wall.particulars.typed import Way, in_mm
from estimator.desktop.widgets.words import words
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import bars
from estimator.survey.survey import HandWork
from estimator.takeoff.lines import Bar

COURSE_APART_MM = 10_000.0
"""How much further a bar of another bed is than one of the same; house rule [mm]."""
REASONS = 3
"""Reasons shown; the paper's working has all of them."""


class BarForm(Form):
    """One bar; after each change it is found again, since bars are numbered from the top."""

    def __init__(self, drafting: Drafting) -> None:
        """Show where it lies."""
        super().__init__(drafting)
        self._bar = next((one for one in self._bars() if one.id == self.mark), None)
        self.title.setText(_("Bar"))
        self.why = words(role="second")
        bed = About(_("Under course"), self._course, self._set_course)
        self.add_page(
            _("Place"),
            (
                SizeField(self, bed, Way.NUMBER, written=whole, wide=64),
                self._size(_("From"), self._left, self._set_left),
                self._size(_("To"), self._right, self._set_right),
                self._size(_("Long"), self._length, self._set_length),
            ),
        )
        self._column.insertWidget(self._column.count() - 1, self.why)
        self._keep = self.add_act(_("Keep it here"), partial(self.act, self._kept))
        self._back = self.add_act(_("Back to the rule"), partial(self.act, self._to_rule))
        self._out = self.add_act(_("Leave out"), partial(self.act, self._left_out))

    # -- which bar it is

    @property
    def bar(self) -> Bar:
        """The bar as it is measured now.

        Raises:
            RuntimeError: once it is gone.
        """
        if self._bar is None:
            raise RuntimeError("the bar is gone")
        return self._bar

    def _bars(self) -> list[Bar]:
        measure = self.drafting.measure()
        return [] if measure is None else [x for x in measure.bars if x.elevation == self.side]

    def _seek(self, course: int, left: float, right: float, hand: str) -> None:
        """Find the bar again: by its id where a hand set it, else the nearest in its bed."""
        found = self._bars()
        mine = [one for one in found if hand and one.hand == hand]
        near = mine or [one for one in found if one.course == course]
        near = [one for one in near if mine or (one.left_mm < right and one.right_mm > left)]
        self._bar = min(near, key=partial(_apart, course, left, right), default=None)
        if self._bar is not None and self._bar.id != self.mark:
            was_selected = self.drafting.selection == self.mark
            self.mark = self._bar.id
            if was_selected:
                self.drafting.select(self.mark)

    def is_there(self) -> bool:
        """Find the bar among those measured now."""
        bar = self._bar
        if not super().is_there() or bar is None:
            return False
        self._seek(bar.course, bar.left_mm, bar.right_mm, bar.hand)
        if self._bar is None:
            # While it is dragged it may be back with the next move.
            self._bar = bar
            return False
        return True

    def describe(self) -> None:
        """Say how long it is, whose it is and why."""
        bar = self.bar
        work = next((one.work for one in self.elevation.bars if one.id == bar.hand), None)
        whose = _("where the rule has it")
        if work is HandWork.KEPT:
            whose = _("kept where the rule had it")
        elif bar.hand:
            whose = _("set by hand")
        told = _("{length}, {whose}").format(length=in_mm(round(bar.length_mm)), whose=whose)
        self.told.setText(told)
        sentences = [in_full(one.text) for one in bar.reasons[:REASONS]]
        self.why.setText(" ".join(f"{one.rstrip('.')}." for one in sentences))
        self.why.setVisible(bool(sentences))
        self._keep.setVisible(not bar.hand)
        self._back.setVisible(bool(bar.hand))

    # -- its sizes

    def _size(
        self, label: str, get: Callable[[], float], make: Callable[[float], Edit]
    ) -> SizeField:
        return SizeField(self, About(label, get, make), Way.ALONG)

    def _course(self) -> float:
        return float(self.bar.course)

    def _left(self) -> float:
        return round(self.bar.left_mm)

    def _right(self) -> float:
        return round(self.bar.right_mm)

    def _length(self) -> float:
        return round(self.bar.face_mm)

    def _set_course(self, value: float) -> Edit:
        return self._moved(round(value), self._left(), self._right())

    def _set_left(self, value: float) -> Edit:
        return self._moved(self.bar.course, value, self._right())

    def _set_right(self, value: float) -> Edit:
        return self._moved(self.bar.course, self._left(), value)

    def _set_length(self, value: float) -> Edit:
        middle = (self._left() + self._right()) / 2
        left = round(middle - value / 2)
        return self._moved(self.bar.course, left, left + value)

    def _moved(self, course: int, left: float, right: float) -> Edit:
        self._wanted = (course, left, right)
        if self.bar.hand:
            fields = {"course": course, "from_mm": left, "to_mm": right}
            return bars.change_bar(self.work, self.side, self.bar.hand, **fields)
        return bars.take_over(
            self.work, self.side, self.bar, course=course, from_mm=left, to_mm=right
        )

    def take(self, make: Callable[[], Edit]) -> str:
        """Do an edit, and find the bar where it lies then."""
        bar = self.bar
        self._wanted = (bar.course, bar.left_mm, bar.right_mm)
        why = super().take(make)
        if not why:
            self._seek(*self._wanted, bar.hand)
            if self._bar is None:
                # The edit may have left it out: then there is nothing to show.
                self._bar = bar
        return why

    def _kept(self) -> Edit:
        return bars.keep(self.work, self.side, self.bar)

    def _to_rule(self) -> Edit:
        return bars.back_to_rule(self.work, self.side, self.bar.hand)

    def _left_out(self) -> Edit:
        return bars.leave_out(self.work, self.side, self.bar)


def _apart(course: int, left: float, right: float, bar: Bar) -> float:
    beds = abs(bar.course - course) * COURSE_APART_MM
    return beds + abs(bar.left_mm - left) + abs(bar.right_mm - right)
