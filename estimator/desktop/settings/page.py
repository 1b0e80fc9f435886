"""The firm, its terms and rules, and the look of the desk."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.session import Session
from estimator.desktop.settings.firm import FirmForm
from estimator.desktop.settings.logo import LogoForm
from estimator.desktop.settings.parts import Field, InTurn, Section
from estimator.desktop.settings.rule_rows import RulesForm
from estimator.desktop.settings.sections import LookForm, Terms, Whereabouts
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.caution import CautionBox
from estimator.desktop.widgets.following import Following
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Trader

if TYPE_CHECKING:
    from estimator.desktop.settings.asked import Seen
    from estimator.store.database import Database

WIDEST = 900
NARROW = 760
BAR = 12
"""Widths beyond which nothing is gained, below which headings go above, and
of the bar that scrolls. [px]"""


class SettingsPage(QFrame):
    """Settings, as a page of its own; what is typed holds at once and is kept by itself."""

    look_changed = Signal(str, float)
    """Scheme (``light``, ``dark``, ``system``) and scale."""

    shown = Signal()
    """What is set now stands on the page."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; nothing is made or asked of the file before the page is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._making: InTurn | None = None
        self._follows_system = False
        self._says = words(role="second", wrap=False)
        self._hint = words(role="second")
        self._locked = CautionBox()
        self._locked.hide()
        self.area = QScrollArea()
        Following(self.area)
        self._sections: tuple[Section, ...] = ()
        self._pending: list[Section] = []
        self._lay_out()

    def begin(self) -> None:
        """Show what there is now; called whenever the page comes to the front."""
        if self._sections:
            self._look()
        elif self._making is None:
            self._making = InTurn(self._steps(), self)
            self._making.done.connect(self._made)

    def seek(self, words_typed: str) -> None:
        """Open the rules that fit the words typed into the field above."""
        if self._sections:
            self.rules.open_with(words_typed)

    def follow_system(self, *, follows: bool) -> None:
        """Know whether the colours go by the system, which only the desk remembers."""
        self._follows_system = follows
        if self._sections:
            self.look.follow_system(follows=follows)

    def _look(self) -> None:
        """Ask for what is set."""

        def seen(database: Database) -> Seen:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - loads the database

            return asked.seen(database)

        self._session.filing.ask(seen, self._show)
        self.look.show_now()

    # -- what is shown

    def _show(self, seen: Seen) -> None:
        today, book = self._session.today(), self._session.practice.book
        is_locked = not self._session.filing.can_write
        self._locked.say(
            _("The file is open for looking only, so nothing can be changed here.")
            if is_locked
            else ""
        )
        self.firm.show_firm(seen.firm, is_taxed=book.tax.registered)
        self.logo.show_logo(seen.logo)
        self.terms.show_terms(seen.validity, book.tax, today)
        self.rules.show_changes(seen.changes, locked=is_locked)
        self.whereabouts.show_backups(seen.backups, seen.newest, today)
        for field in (*self.firm.fields.values(), self.terms.days):
            field.lock(locked=is_locked)
        self.logo.lock(locked=is_locked)
        self.terms.box.setEnabled(not is_locked)
        self.shown.emit()

    def _show_hint(self, label: str, hint: str) -> None:
        self._hint.setText(f"{label}: {hint}" if hint else "")

    # -- the file

    def _keep_firm(self, firm: Trader) -> None:
        def kept(practice: Practice) -> None:
            self._kept(practice)
            if firm == self.firm.firm():
                self.firm.was_kept()

        def work(database: Database) -> Practice:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - as above

            return asked.keep_firm(database, firm)

        self._keep(work, kept, self.firm.fields["name"].refuse)

    def _keep_rule(self, key: str, value: object) -> None:
        def work(database: Database) -> tuple[Practice, bool]:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - as above

            return asked.keep_rule(database, key, value), asked.is_shipped(key, value)

        def kept(found: tuple[Practice, bool]) -> None:
            self._kept(found[0])
            self.rules.was_kept(key, value, is_shipped=found[1])

        self._keep(work, kept, lambda why: self.rules.refuse(key, why))

    def _keep_days(self, days: int) -> None:
        def work(database: Database) -> Practice:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - as above

            return asked.keep_validity(database, days)

        def kept(practice: Practice) -> None:
            self._kept(practice)
            self.terms.days.was_kept()

        self._keep(work, kept, self.terms.days.refuse)

    def _keep_registered(self, registered: bool) -> None:  # noqa: FBT001 - a signal's own
        def work(database: Database) -> Practice:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - as above

            return asked.keep_registered(database, registered=registered)

        def kept(practice: Practice) -> None:
            self._kept(practice)
            self._look()

        self._keep(work, kept, self.terms.days.refuse)

    def _keep_logo(self, png: bytes) -> None:
        def work(database: Database) -> bytes:
            from estimator.desktop.settings import asked  # noqa: PLC0415 - as above

            return asked.keep_logo(database, png)

        def kept(before: bytes) -> None:
            self.logo.show_logo(png, before=b"" if png else before)
            self._say_kept()

        self._keep(work, kept, self.logo.refuse)

    def _take_picture(self, path: Path) -> None:
        from estimator.desktop.settings import picture  # noqa: PLC0415 - wanted this once

        self._session.filing.beside(
            lambda _file: picture.logo(path),
            self._keep_logo,
            on_mistake=lambda mistake: self.logo.refuse(str(mistake)),
        )

    def _keep(
        self,
        work: Callable[[Database], object],
        kept: Callable[..., None],
        refuse: Callable[[str], None],
    ) -> None:
        def not_kept(mistake: UserMistake) -> None:
            refuse(str(mistake))
            retone(self._says, tone="stop")
            self._says.setText(_("Not kept"))

        self._session.filing.ask(work, kept, on_mistake=not_kept)

    def _kept(self, practice: Practice) -> None:
        """Have the open job follow."""
        self._session.use(practice)
        self._say_kept()

    def _say_kept(self) -> None:
        retone(self._says, tone="done")
        self._says.setText(_("Kept {time}").format(time=f"{datetime.datetime.now():%H:%M}"))

    # -- making

    def _steps(self) -> Iterator[Callable[[], object]]:
        """Return what makes the page, in pieces short enough for nobody to notice."""
        yield self._make_firm
        yield self._make_terms
        yield self._make_rules
        yield self._make_rest

    def _make_firm(self) -> None:
        self.firm, self.logo = FirmForm(self), LogoForm(self)
        self._put(self.firm.section, self.logo.section)

    def _make_terms(self) -> None:
        self.terms = Terms(self)
        self._put(self.terms.section, self.terms.tax)

    def _make_rules(self) -> None:
        self.rules = RulesForm(self)
        self._put(self.rules.section)

    def _make_rest(self) -> None:
        self.look = LookForm(self)
        self.look.follow_system(follows=self._follows_system)
        self.whereabouts = Whereabouts(str(self._session.filing.folder), self)
        self._put(self.look.section, self.whereabouts.language, self.whereabouts.section)

    def _put(self, *sections: Section) -> None:
        for section in sections:
            section.fit(narrow=self.width() < LOOK.px(NARROW))
            self._inner.addWidget(section)
            self._pending.append(section)

    def _made(self) -> None:
        self._sections = tuple(self._pending)
        self._inner.addStretch(1)
        self.firm.changed.connect(self._keep_firm)
        self.rules.changed.connect(self._keep_rule)
        self.terms.changed.connect(self._keep_days)
        self.terms.registered.connect(self._keep_registered)
        self.logo.changed.connect(self._keep_logo)
        self.logo.picked.connect(self._take_picture)
        self.look.changed.connect(self.look_changed)
        self.rules.entered.connect(self._show_hint)
        for field in (*self.firm.fields.values(), self.terms.days):
            field.entered.connect(lambda field=field: self._show_hint(field.label, field.hint))
        self._fit()
        self._look()

    def _lay_out(self) -> None:
        self._holder = QWidget()
        self._inner = QVBoxLayout(self._holder)
        self._inner.setContentsMargins(0, 0, 0, 24)
        self._inner.setSpacing(20)
        self._inner.addWidget(self._locked)
        inside = QWidget()
        middle = QHBoxLayout(inside)
        middle.setContentsMargins(20, 0, 20, 0)
        middle.addStretch(1)
        middle.addWidget(self._holder, 100)
        middle.addStretch(1)
        self.area.setWidget(inside)
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        head = QHBoxLayout()
        head.addWidget(words(_("Settings"), role="heading"))
        head.addStretch(1)
        head.addWidget(self._says)
        self._says.setText(_("Kept as you type"))
        self._head, self._foot = _centred(head), _centred(self._hint)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 16, 0, 8)
        outer.setSpacing(12)
        outer.addWidget(self._head)
        outer.addWidget(self.area, 1)
        outer.addWidget(self._foot)
        LOOK.changed.connect(self._fit)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Put headings above their sections where there is little room."""
        super().resizeEvent(event)
        self._fit()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Have what was just typed kept before the page is gone."""
        super().hideEvent(event)
        if self._sections:
            for field in self.findChildren(Field):
                field.leave()

    def _fit(self) -> None:
        narrow = self.width() < LOOK.px(NARROW)
        self._hint.setMinimumHeight(LOOK.px(40))
        self._holder.setMaximumWidth(LOOK.px(WIDEST))
        for part in (self._head, self._foot):
            inside = part.findChild(QWidget, "inside")
            if inside is not None:
                inside.setMaximumWidth(LOOK.px(WIDEST))
        for section in self._sections:
            section.fit(narrow=narrow)


def _centred(part: QHBoxLayout | QWidget) -> QWidget:
    """Return a part in the middle, as wide as the sections are."""
    inside = QWidget()
    inside.setObjectName("inside")
    if isinstance(part, QWidget):
        row = QHBoxLayout(inside)
        row.addWidget(part, 1)
    else:
        inside.setLayout(part)
        row = part
    row.setContentsMargins(0, 0, 0, 0)
    holder = QWidget()
    outer = QHBoxLayout(holder)
    outer.setContentsMargins(20, 0, 20 + BAR, 0)
    outer.addStretch(1)
    outer.addWidget(inside, 100)
    outer.addStretch(1)
    return holder
