"""What was done where: places ticked in the list or on the wall, and what holds for all of them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QPlainTextEdit, QVBoxLayout

from estimator.contract.deeds import Deed
from estimator.contract.works import Built
from estimator.desktop.agreed.fields import DayField, Ticked
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped, Part
from estimator.desktop.language import _, counted
from estimator.desktop.papers.written import Written
from estimator.desktop.wall.photos import dropping
from estimator.desktop.widgets.buttons import quiet_button
from estimator.desktop.widgets.words import words
from estimator.desktop.works import noted_rows, noting
from estimator.desktop.works.noted_rows import NotedRows
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.photo_strip import PhotoStrip
from estimator.desktop.works.rows import Rows
from estimator.desktop.works.signed_points import Point, SignedPoints
from estimator.survey.limits import LETTERS
from estimator.works.as_built import BuiltMark

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 6
MOST_DEEP_MM = 500
"""Deeper than any wall that is stitched here. [mm]"""


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
        self._on: set[str] = set()
        self._of = ""
        self._list = QVBoxLayout()
        self._list.setSpacing(0)
        self._rows: Rows[Ticked, tuple[str, str]] = Rows(self._list, self._made, _tell, self)
        self.on = DayField(_("Done on"))
        self.batch = Written(_("Batch, from the bag or tub"), most=LETTERS["short"])
        self.deep = Written(_("Depth reached (mm)"), most=SHORT)
        self.deviation = Written(
            _("What is otherwise than planned, and why"), most=LETTERS["name"], lines=True
        )
        self.photos = PhotoStrip(self.following.session)
        self.signing = SignedPoints()
        self.by = self.signing.by
        self.done_head = words(_("Noted so far"), role="strong")
        self.done = NotedRows()
        self.half_typed = HalfTyped(
            self.following.session,
            "built",
            {
                "marks": Part(lambda: sorted(self._on), self._tick_again, []),
                "points": Part(self.signing.told, self.signing.show_told, []),
                "on": self.on,
                "batch": self.batch,
                "deep": self.deep,
                "deviation": self.deviation,
                "by": self.by,
                "photos": Part(self.photos.told, self.photos.show_told, []),
            },
            self,
        )
        self._connect()
        self._lay_out()

    def _connect(self) -> None:
        self.every.clicked.connect(self._tick_all)
        for part in (self.photos, self.signing):
            part.changed.connect(self.half_typed.note)
        # In the file before anything that nobody names is thrown away.
        self.photos.came.connect(self.half_typed.keep)
        self.half_typed.shown.connect(self._fill)
        self.done.slip.connect(self._take_back)
        self._overseeing.changed.connect(self._fill)

    def _lay_out(self) -> None:
        self.setAcceptDrops(True)
        notes = self.deviation.editor
        assert isinstance(notes, QPlainTextEdit)
        # A photograph dropped on it would leave the name of its file there.
        notes.setAcceptDrops(False)
        self.add(self.hint)
        self.inside.addLayout(self._list)
        self.inside.addWidget(self.every, 0, Qt.AlignmentFlag.AlignLeft)
        self.add(self.on, self.batch, self.deep, self.deviation, self.photos, self.signing)
        self.add(self.done_head, self.done)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Show what is left; what was ticked and typed and not noted yet is there again."""
        self.say("")
        if self._of != self.following.session.job.uid:
            self._of = self.following.session.job.uid
            self._forget()
        for field in (self.batch, self.deep, self.deviation, self.by):
            field.show_text("")
        self.on.show_text(_("today"))
        self._fill()
        self.half_typed.begin()
        self._look()
        self.allow()
        can_write = self.following.session.filing.can_write
        for part in (self.photos, self.done):
            part.allow(can_write=can_write)

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
    def marks(self) -> dict[str, Ticked]:
        """The places still to do, each with its tick."""
        return self._rows.all()

    @property
    def points(self) -> dict[Point, Ticked]:
        """The hold points that are asked for, each with its tick."""
        return self.signing.points

    @property
    def ticked(self) -> tuple[BuiltMark, ...]:
        """The places that are ticked."""
        works = self._overseeing.works
        left = works.still_to_do if works else ()
        return tuple(one for one in left if one.mark in self._on)

    def press(self, marks: Iterable[str]) -> None:
        """Tick a place that was pressed on the wall, or take its tick off."""
        for mark in marks:
            row = self.marks.get(mark)
            if row is not None:
                row.box.click()

    # -- noting it, and taking it back

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
        self._forget()
        # Batch, day and who signs are mostly the same for the next places.
        self.half_typed.note()
        self.half_typed.keep()
        self._look()
        self.say(counted("{n} place is noted.", "{n} places are noted.", count), tone="done")
        self.noted.emit(count)

    def _take_back(self, uid: str) -> None:
        """Strike a note out, with what was signed along with it."""
        works = self._overseeing.works
        one = next((one for one in works.noted if one.uid == uid), None) if works else None
        if one is None:
            return

        def strike(database: Database, job: str) -> None:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            asked.take_back(database, job, (uid, *one.signed))

        said = _("{place}: that note counts no more.").format(place=one.words)
        self.do(strike, lambda _done: self._taken_back(said))

    def _taken_back(self, said: str) -> None:
        self.say(said, tone="done")
        self.take_focus()

    def _deeds(self) -> tuple[Deed, ...] | None:
        """Return what is to be noted; None, and what is wrong said, where something is missing."""
        on, by = self.on.read(self.following.session.today()), self.by.text.strip()
        depth, is_depth = self._depth()
        signed = self.signing.signed
        self.by.complain(_("Say who signs.") if signed and not by else "")
        if not self.ticked:
            self.say(_("Tick what was done, here or on the wall."), tone="stop")
            return None
        if self.photos.taking.is_busy:
            self.say(_("A photograph is still being taken in. Wait for it."), tone="stop")
            return None
        if on is None or not is_depth or (signed and not by):
            self.say(_("Something is missing; it is said beside it."), tone="stop")
            return None
        works = self._overseeing.works
        alike = Built(
            mark="",
            on=on,
            what="",
            batch=self.batch.text.strip(),
            depth_mm=depth,
            deviation=self.deviation.text.strip(),
            photos=self.photos.photos,
            captions=self.photos.captions,
        )
        titles = works.titles if works else {}
        return noting.deeds(self.ticked, alike, titles, signed=signed, by=by)

    def _depth(self) -> tuple[int, bool]:
        text = self.deep.text.strip().lower().removesuffix("mm").strip()
        is_depth = not text or (text.isdecimal() and 0 < int(text) <= MOST_DEEP_MM)
        self.deep.complain("" if is_depth else _("Type millimetres such as 35"))
        return int(text) if text and is_depth else 0, is_depth

    # -- photographs dropped here

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Let a photograph be held over the page."""
        dropping.welcome(event)

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:  # noqa: N802 - Qt's name
        """Let it be held anywhere here."""
        dropping.welcome(event)

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 - Qt's name
        """Take in what was dropped."""
        dropping.drop(self.photos, event)

    # -- what is listed

    def _forget(self) -> None:
        """Begin the next note; batch, day and who signs are mostly the same again."""
        self._on.clear()
        self.signing.forget()
        for row in self._rows.rows.values():
            row.tick(on=False)
        for field in (self.deep, self.deviation):
            field.show_text("")
        self.photos.clear()

    def _fill(self) -> None:
        """List what is left and what was noted; also while nobody looks, so that it is there."""
        works = self._overseeing.works
        left = works.still_to_do if works else ()
        sides = {one.side for one in left}
        self._rows.show(
            {one.mark: (one.words, _under(one, has_sides=len(sides) > 1)) for one in left}
        )
        self.hint.setText(
            _("Tick what was done, here or by a press on the wall.")
            if left
            else _("Everything that was agreed is noted.")
        )
        self.every.setVisible(len(left) > 1)
        noted = works.noted if works else ()
        self.done.show_said({one.uid: noted_rows.line(one) for one in noted})
        for part in (self.done_head, self.done):
            part.setVisible(bool(noted))
        if self.isVisible():
            self._look()

    def _made(self, mark: str) -> Ticked:
        row = Ticked("", ticked=mark in self._on)
        row.changed.connect(partial(self._ticked, mark, row))
        return row

    def _ticked(self, mark: str, row: Ticked) -> None:
        (self._on.add if row.is_on else self._on.discard)(mark)
        self._look()
        self.half_typed.note()

    def _look(self) -> None:
        """Light what is ticked, and ask only for what belongs to it."""
        ticked = self.ticked
        self.lit.emit(frozenset(one.mark for one in ticked))
        self.signing.show_of(ticked)
        self.deep.setVisible(any(one.planned for one in ticked))
        self.take.setText(
            counted("Note {n} place as done", "Note {n} places as done", len(ticked))
            if ticked
            else _("Note it as done")
        )

    def _tick_all(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        for row in self.marks.values():
            row.tick(on=True)
        self._on |= set(self.marks)
        self._look()
        self.half_typed.note()

    # -- what was half typed

    def _tick_again(self, told: Any) -> None:
        self._on = set(told)
        for mark, row in self._rows.rows.items():
            row.tick(on=mark in self._on)


def _tell(row: Ticked, told: tuple[str, str]) -> None:
    row.say(*told)


def _under(one: BuiltMark, *, has_sides: bool) -> str:
    parts = (one.side if has_sides else "", one.planned)
    return ", ".join(part for part in parts if part)
