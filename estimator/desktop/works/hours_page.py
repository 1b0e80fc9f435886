"""Hours and materials booked on kinds of work; what was quoted stands beside them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from estimator.contract.deeds import Booked
from estimator.contract.works import Booking, Used
from estimator.desktop.agreed.fields import DayField, Picked, amount_in
from estimator.desktop.agreed.form_page import FormPage
from estimator.desktop.agreed.half_typed import HalfTyped
from estimator.desktop.language import _, in_full
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.words import words
from estimator.desktop.works import wording
from estimator.desktop.works.noted_rows import NotedRows
from estimator.desktop.works.overseeing import Overseeing
from estimator.desktop.works.state import Took
from estimator.desktop.works.took_bars import TookBars
from estimator.documents import formats
from estimator.money import Money
from estimator.survey.limits import LETTERS
from estimator.takeoff.lines import Item

if TYPE_CHECKING:
    from estimator.store.database import Database

SHORT = 10
MOST_HOURS = Decimal(200)
"""More than a gang works in a week: a slip of the hand. [h]"""
NONE = Decimal(0)


class HoursPage(FormPage):
    """One booking after another; the page stays for the next."""

    booked = Signal()

    def __init__(self, overseeing: Overseeing) -> None:
        """Ask nothing yet."""
        super().__init__(overseeing.following, _("Hours and materials"), _("Book it"))
        self._overseeing = overseeing
        self.bars = TookBars()
        self.other = words(role="second")
        self.item: Picked[Item | None] = Picked(_("Which work"), {None: _other()})
        self.hours = Written(_("Hours of bricklayers, together"), most=SHORT)
        self.done = Written(_("How much was done"), most=SHORT, hint=_("if it is finished"))
        self.who = Written(_("Who"), most=LETTERS["name"])
        self.on = DayField(_("On which day"))
        self.material: Picked[str] = Picked(_("Material used up"), {"": _("none")})
        self.much = Written(_("How many packs or bars"), most=SHORT)
        self.cost = Written(_("What they cost before VAT (£)"), most=SHORT)
        self.back_head = words(_("Booked so far"), role="strong")
        self.back = NotedRows()
        self.back.slip.connect(self._take_back)
        self.half_typed = HalfTyped(
            self.following.session,
            "hours",
            {
                "item": self.item,
                "hours": self.hours,
                "done": self.done,
                "who": self.who,
                "on": self.on,
                "material": self.material,
                "much": self.much,
                "cost": self.cost,
            },
            self,
        )
        self._is_known = False
        self.item.changed.connect(self._look)
        self.material.changed.connect(self._look)
        overseeing.changed.connect(self._changed)
        self.half_typed.shown.connect(self._look)
        self.add(self.item, self.hours, self.done, self.who, self.on)
        self.add(self.material, self.much, self.cost)
        self.add(words(_("Quoted and booked"), role="strong"), self.bars, self.other)
        self.add(self.back_head, self.back)
        self.inside.addStretch(1)

    def begin(self) -> None:
        """Begin with the first work not booked in full; what was half typed is there again."""
        self._is_known = self._overseeing.works is not None
        for field in (self.hours, self.done, self.much, self.cost):
            field.show_text("")
            field.complain("")
        plan = self.following.so_far.plan
        self.who.show_text(plan.gang[0] if plan and plan.gang else "")
        self.on.show_text(_("today"))
        self.say("")
        self._fill()
        self._pick_next()
        self.material.pick("")
        if self._is_known:
            self.half_typed.begin()
        self._look()
        self.allow()
        self.back.allow(can_write=self.following.session.filing.can_write)

    def take_focus(self) -> None:
        """Put the cursor on the hours."""
        self.hours.take_focus()

    def keep(self) -> None:
        """Book what stands there."""
        booking = self.booking()
        if booking is None:
            return

        def note(database: Database, uid: str) -> None:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            asked.note(database, uid, (Booked(booking),))

        self.do(note, lambda _done: self._kept(booking))

    def booking(self) -> Booking | None:
        """Return what stands there; None, and what is wrong said, while it cannot be booked."""
        on = self.on.read(self.following.session.today())
        hours = amount_in(self.hours, _("Type hours such as 2.5"))
        done = amount_in(self.done, _("Type how much, such as 4.8"))
        used = self._used()
        if on is None or hours is None or done is None or used is None:
            self.say(_("Something is missing; it is said beside it."), tone="stop")
            return None
        if hours > MOST_HOURS:
            self.hours.complain(_("Book no more than {n} hours at once").format(n=MOST_HOURS))
            return None
        if not hours and not used:
            self.hours.complain(_("Type hours, or a material below."))
            return None
        is_work = self.item.value is not None
        return Booking(
            on, self.item.value, hours, done if is_work else NONE, self.who.text.strip(), used
        )

    def _used(self) -> tuple[Used, ...] | None:
        if not self.material.value:
            return ()
        much = amount_in(self.much, _("Type how many, such as 2"))
        cost = amount_in(self.cost, _("Type a sum such as 18.40"))
        if not much and much is not None:
            self.much.complain(_("Type how many, such as 2"))
            much = None
        if much is None or cost is None:
            return None
        return (Used(self.material.value, much, Money.of(cost)),)

    def _kept(self, booking: Booking) -> None:
        for field in (self.hours, self.done, self.much, self.cost):
            field.show_text("")
        self.material.pick("")
        # The same work, day and person mostly go on.
        self.half_typed.note()
        self.half_typed.keep()
        self._look()
        self.say(_("Booked: {hours}.").format(hours=wording.hours(booking.hours)), tone="done")
        self.hours.take_focus()
        self.booked.emit()

    def _take_back(self, slip: str) -> None:
        def strike(database: Database, uid: str) -> None:
            from estimator.desktop.works import asked  # noqa: PLC0415 - loads the database

            asked.take_back(database, uid, (slip,))

        self.do(strike, self._taken_back)

    def _taken_back(self, _done: object) -> None:
        self.say(_("It counts no more."), tone="done")
        self.take_focus()

    def _show_booked(self) -> None:
        works = self._overseeing.works
        booked = works.booked if works else ()
        titles = {one.item: one.title for one in works.took} if works else {}
        materials = dict(works.materials) if works else {}
        self.back.show_said(
            {one.uid: _booked_line(one.booking, titles, materials) for one in booked}
        )
        for part in (self.back_head, self.back):
            part.setVisible(bool(booked))

    def _changed(self) -> None:
        if self.isVisible() and not self._is_known:
            self.begin()
        else:
            self._fill()

    def _fill(self) -> None:
        works = self._overseeing.works
        took = works.took if works else ()
        self.item.offer({**{one.item: in_full(one.title) for one in took}, None: _other()})
        materials = works.materials if works else ()
        self.material.offer({"": _("none"), **dict(materials)})
        self.bars.show_took(took)
        other = works.other_hours if works else NONE
        self.other.setText(
            _("Setting up, travel and the like: {hours}").format(hours=wording.hours(other))
        )
        self.other.setVisible(bool(other))
        self._show_booked()
        self._look()

    def _look(self) -> None:
        one = self._took()
        self.done.setVisible(one is not None)
        if one is not None:
            label = _("How much was done, of {measured}").format(
                measured=wording.much(one.measured, one.unit)
            )
            self.done.label.setText(label)
            self.done.editor.setAccessibleName(label)
        for field in (self.much, self.cost):
            field.setVisible(bool(self.material.value))

    def _pick_next(self) -> None:
        """Take up the first work that is not booked yet."""
        works = self._overseeing.works
        left = [one for one in works.took if not one.booked] if works else []
        if left:
            self.item.pick(left[0].item)
        self._look()

    def _took(self) -> Took | None:
        works = self._overseeing.works
        item = self.item.value
        return next((one for one in works.took if one.item is item), None) if works else None


def _booked_line(one: Booking, titles: Mapping[Item, str], materials: Mapping[str, str]) -> str:
    """Return what was booked in one line."""
    work = titles.get(one.item, "") if one.item else _other()
    parts = [wording.hours(one.hours)] if one.hours else []
    parts += [one.who, wording.day(one.on)]
    parts += [
        _("{n} of {material}").format(
            n=formats.plain(used.quantity), material=materials.get(used.material, used.material)
        )
        for used in one.used
    ]
    gaps = {"work": in_full(work), "what": ", ".join(part for part in parts if part)}
    return _("{work}: {what}").format(**gaps)


def _other() -> str:
    return _("Setting up, travel and the like")
