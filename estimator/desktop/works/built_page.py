"""What was done where: places ticked in the list or on the wall, and what holds for all of them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QVBoxLayout

from estimator.contract.deeds import BuiltThere, Deed, HeldThere
from estimator.contract.works import Built, Feature, Held
from estimator.desktop.agreed import wording as agreed_wording
from estimator.desktop.agreed.fields import DayField, Ticked
from estimator.desktop.language import _, counted, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.desktop.works.form_page import FormPage
from estimator.desktop.works.overseeing import Overseeing
from estimator.survey.limits import LETTERS
from estimator.takeoff.lines import Item
from estimator.works.as_built import BuiltMark
from estimator.works.hold_points import HoldPoint

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 6
MOST_DEEP_MM = 500
"""Deeper than any wall that is stitched here. [mm]"""
MAIN_WORK = (Item.SET_BAR, Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.REPOINT)
"""What a place is called by where several kinds of work meet there; the first that is there."""

Point = tuple[Feature, str]
"""A hold point by what it makes sure of, in words: alike at many places."""


class BuiltPage(FormPage):
    """A list of what is still to do, and of what was noted."""

    noted = Signal(int)
    """How many places were noted just now."""
    lit = Signal(object)
    """The marks that are ticked, to be lit on the wall."""

    def __init__(self, overseeing: Overseeing) -> None:
        """Ask nothing yet."""
        super().__init__(overseeing.following, _("What was done"), _("Note it as done"))
        self._overseeing = overseeing
        self.hint = words(role="second")
        self.every = quiet_button(_("Tick all that is left"))
        self.marks: dict[str, Ticked] = {}
        self.points: dict[Point, Ticked] = {}
        self._list, self._points = QVBoxLayout(), QVBoxLayout()
        self.on = DayField(_("Done on"))
        self.batch = Written(_("Batch, from the bag or tub"), most=LETTERS["short"])
        self.deep = Written(_("Depth reached (mm)"), most=SHORT)
        self.deviation = Written(
            _("What is otherwise than planned, and why"), most=LETTERS["name"], lines=True
        )
        self.points_head = words(_("Looked at and signed for"), role="strong")
        self.by = Written(_("Who signs"), most=LETTERS["name"])
        self.done_head = words(_("Noted so far"), role="strong")
        self.done = words(role="second")
        self._of = ""
        self.every.clicked.connect(self._tick_all)
        overseeing.changed.connect(self._changed)
        for layout in (self._list, self._points):
            layout.setSpacing(0)
        self.add(self.hint)
        self.inside.addLayout(self._list)
        self.inside.addWidget(self.every, 0, Qt.AlignmentFlag.AlignLeft)
        self.add(self.on, self.batch, self.deep, self.deviation, self.points_head)
        self.inside.addLayout(self._points)
        self.add(self.by, self.done_head, self.done)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Show what is left; ticks and words that were not noted yet stay."""
        if self._of != self.following.session.job.uid:
            self._of = self.following.session.job.uid
            self._forget()
        self.say("")
        self._fill()
        self.allow()

    def rest(self) -> None:
        """Let the wall shine alike again."""
        self.lit.emit(frozenset())

    def take_focus(self) -> None:
        """Put the keyboard on the first place."""
        first = next(iter(self.marks.values()), None)
        if first is not None:
            first.box.setFocus(Qt.FocusReason.ShortcutFocusReason)
        else:
            self.on.take_focus()

    @property
    def ticked(self) -> tuple[BuiltMark, ...]:
        """The places that are ticked."""
        works = self._overseeing.works
        found = works.marks if works else ()
        on = {mark for mark, row in self.marks.items() if row.is_on}
        return tuple(one for one in found if one.mark in on)

    def press(self, marks: Iterable[str]) -> None:
        """Tick a place that was pressed on the wall, or take its tick off."""
        for mark in marks:
            row = self.marks.get(mark)
            if row is not None:
                row.box.click()

    def keep(self) -> None:
        """Note all that is ticked, in one go."""
        deeds = self._deeds()
        if deeds is None:
            return
        count = len(self.ticked)

        def note(database: Database, uid: str) -> None:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            asked.note(database, uid, deeds)

        self.do(note, lambda _done: self._kept(count))

    def _kept(self, count: int) -> None:
        self._forget(batch=False)
        self.say(counted("{n} place is noted.", "{n} places are noted.", count), tone="done")
        self.noted.emit(count)

    def _deeds(self) -> tuple[Deed, ...] | None:
        """Return what is to be noted; None, and what is wrong said, where something is missing."""
        on, by = self.on.read(self.following.session.today()), self.by.text.strip()
        depth, is_depth = self._depth()
        signed = {point for point, row in self.points.items() if row.is_on}
        self.by.complain(_("Say who signs.") if signed and not by else "")
        if not self.ticked:
            self.say(_("Tick what was done, here or on the wall."), tone="stop")
            return None
        if on is None or not is_depth or (signed and not by):
            self.say(_("Something is missing; it is said beside it."), tone="stop")
            return None
        deeds: list[Deed] = []
        for one in self.ticked:
            built = Built(
                one.mark,
                on,
                self._title(one),
                self.batch.text.strip(),
                depth,
                self.deviation.text.strip(),
            )
            deeds.append(BuiltThere(built))
            deeds += [
                HeldThere(Held(point.feature, one.mark, on, by))
                for point in one.missing
                if (point.feature, point.text) in signed
            ]
        return tuple(deeds)

    def _depth(self) -> tuple[int, bool]:
        text = self.deep.text.strip().lower().removesuffix("mm").strip()
        is_depth = not text or (text.isdecimal() and 0 < int(text) <= MOST_DEEP_MM)
        self.deep.complain("" if is_depth else _("Type millimetres such as 35"))
        return int(text) if text and is_depth else 0, is_depth

    def _title(self, one: BuiltMark) -> str:
        works = self._overseeing.works
        titles = works.titles if works else {}
        main = next((item for item in MAIN_WORK if item in one.items), None)
        item = main or next(iter(one.items), None)
        return titles.get(item, one.words) if item else one.words

    # -- what is listed

    def _changed(self) -> None:
        if self.isVisible():
            self._fill()

    def _forget(self, *, batch: bool = True) -> None:
        for row in self.marks.values():
            row.tick(on=False)
        fields: tuple[Written, ...] = (self.deep, self.deviation)
        for field in (*fields, self.batch, self.by) if batch else fields:
            field.show_text("")
        self._look()

    def _fill(self) -> None:
        works = self._overseeing.works
        left = works.still_to_do if works else ()
        sides = {one.side for one in left}
        on = {mark for mark, row in self.marks.items() if row.is_on}
        _clear(self._list, self.marks.values())
        self.marks.clear()
        for one in left:
            row = Ticked(one.words, ticked=one.mark in on)
            under = (one.side if len(sides) > 1 else "", one.planned)
            row.say(one.words, ", ".join(part for part in under if part))
            row.changed.connect(self._look)
            self._list.addWidget(row)
            self.marks[one.mark] = row
        self.hint.setText(
            _("Tick what was done, here or by a press on the wall.")
            if left
            else _("Everything that was agreed is noted.")
        )
        self.every.setVisible(len(left) > 1)
        self._show_done()
        self._look()

    def _show_done(self) -> None:
        works = self._overseeing.works
        done = [one for one in works.marks if one.done] if works else []
        self.done.setText("\n".join(_done_line(one) for one in done))
        for part in (self.done_head, self.done):
            part.setVisible(bool(done))

    def _look(self) -> None:
        """Light what is ticked, and ask only for what belongs to it."""
        ticked = self.ticked
        self.lit.emit(frozenset(one.mark for one in ticked))
        points: dict[Point, None] = {}
        for one in ticked:
            for point in one.missing:
                points[point.feature, point.text] = None
        if list(points) != list(self.points):
            self._show_points(points)
        has_points = bool(points)
        self.points_head.setVisible(has_points)
        self.by.setVisible(has_points)
        self.deep.setVisible(any(one.planned for one in ticked))
        self.take.setText(
            counted("Note {n} place as done", "Note {n} places as done", len(ticked))
            if ticked
            else _("Note it as done")
        )

    def _show_points(self, points: Iterable[Point]) -> None:
        on = {point for point, row in self.points.items() if row.is_on}
        _clear(self._points, self.points.values())
        self.points.clear()
        for point in points:
            row = Ticked(point[1], ticked=point in on)
            self._points.addWidget(row)
            self.points[point] = row

    def _tick_all(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        for row in self.marks.values():
            row.tick(on=True)
        self._look()


def _clear(layout: QVBoxLayout, rows: Iterable[Ticked]) -> None:
    for row in rows:
        layout.removeWidget(row)
        row.hide()
        row.deleteLater()


def _done_line(one: BuiltMark) -> str:
    last = one.done[-1]
    parts = [agreed_wording.day(last.on)]
    if last.batch:
        parts.append(_("batch {number}").format(number=last.batch))
    if one.shallow_mm:
        parts.append(_("{n} mm less deep than planned").format(n=one.shallow_mm))
    if last.deviation:
        parts.append(in_full(last.deviation))
    if one.missing:
        parts.append(_not_signed(one.missing))
    return _("{place}: {what}").format(place=one.words, what=", ".join(parts))


def _not_signed(points: tuple[HoldPoint, ...]) -> str:
    return counted("{n} point not signed", "{n} points not signed", len(points))
