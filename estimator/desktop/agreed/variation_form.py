"""What is written on a variation besides its lines: a title, who asked, why, and photographs."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estimator.contract.variation import Valued, Variation
from estimator.desktop.agreed.change_ticks import BY_HAND, ChangeTicks, names_missing
from estimator.desktop.agreed.extra_lines import ExtraLines
from estimator.desktop.agreed.fields import Ticked, pounds
from estimator.desktop.agreed.valuing import Valuing
from estimator.desktop.language import _
from estimator.desktop.papers.written import Written
from estimator.desktop.widgets.words import words
from estimator.survey.limits import LETTERS
from estimator.survey.survey import Photo
from estimator.takeoff.lines import Item

FOUND_ON_SITE = "found on site"
"""What stands on paper where nobody asked for it; in the language of the paper."""
LONGEST_RATE = 12


@dataclass(frozen=True, slots=True)
class Wording:
    """What somebody wrote of a variation."""

    title: str
    asked_by: str
    reason: str
    photos: tuple[str, ...]
    left_out: frozenset[int]
    added: tuple[Valued, ...]


class VariationForm(QWidget):
    """Fields of a variation; whatever is typed is told at once."""

    changed = Signal()
    hours_wanted = Signal()
    """A sheet of hours is to be written."""

    def __init__(self, valuing: Valuing) -> None:
        """Begin empty."""
        super().__init__()
        self._valuing = valuing
        self._title = ""
        self._is_blank = True
        self.title = Written(_("In a few words"), most=LETTERS["name"])
        self.asked_by = Written(
            _("Who asked for it"), most=LETTERS["name"], hint=_("found on site")
        )
        self.reason = Written(_("Why it is needed"), most=LETTERS["notes"], lines=True)
        self.ticks = ChangeTicks()
        self.extra = ExtraLines()
        self.rate = Written(_("Rate agreed anew for each further brick (£)"), most=LONGEST_RATE)
        self.all_found = Ticked(_("The wall is all open: nothing more will be found"))
        self._photos_head = words(_("Photographs to show"), role="second")
        self._photos = QVBoxLayout()
        self._photos.setSpacing(0)
        self.photos: dict[str, Ticked] = {}
        for field in (self.title, self.asked_by, self.reason):
            field.typed.connect(lambda _typed: self.changed.emit())
        self.ticks.changed.connect(self.changed)
        self.extra.written.connect(self.ticks.write_in)
        self.extra.hours_wanted.connect(self.hours_wanted)
        self.rate.typed.connect(self._review)
        self.all_found.changed.connect(lambda: valuing.find_all(found=self.all_found.is_on))
        self._lay_out()

    def begin(self, draft: Variation | None) -> None:
        """Show what was drafted, or what is usual."""
        session = self._valuing.session
        self._show_photos(session.work.survey.photos)
        self.extra.close_form()
        self._title = self._valuing.title
        self.all_found.tick(on=self._valuing.all_found)
        measured = self._measured
        if draft is None:
            self._begin_anew(measured)
        else:
            self.ticks.show_lines((), ())
            self.title.show_text(draft.title)
            is_found = draft.asked_by == FOUND_ON_SITE
            self.asked_by.show_text("" if is_found else draft.asked_by)
            self.reason.show_text(draft.reason)
            by_hand = tuple(one for one in draft.lines if one.basis in BY_HAND)
            self.ticks.show_lines(measured, by_hand)
            self.ticks.leave_out(names_missing(measured, draft.lines))
            for name, tick in self.photos.items():
                tick.tick(on=name in draft.photos)
        self._show_more()
        self._is_blank = False

    def _begin_anew(self, measured: tuple[Valued, ...]) -> None:
        """Begin empty, unless something was typed that no draft could be made of yet."""
        if self._is_blank:
            self.title.show_text(self._title)
            for field in (self.asked_by, self.reason):
                field.show_text("")
            self.ticks.show_lines((), ())
        self.ticks.show_lines(measured, () if self._is_blank else self.ticks.by_hand)

    def forget(self) -> None:
        """Begin empty the next time: it went out, was dropped, or is of another job."""
        self._is_blank = True

    def refresh(self) -> None:
        """Show the lines as they are valued now; a title nobody touched follows them."""
        before, self._title = self._title, self._valuing.title
        if self.title.text == before:
            self.title.show_text(self._title)
        self.ticks.show_lines(self._measured, self.ticks.by_hand)
        self._show_more()

    @property
    def _measured(self) -> tuple[Valued, ...]:
        found = self._valuing.valuation
        return () if found is None else found.lines

    def _show_more(self) -> None:
        """Ask what only matters where further bricks were promised a rate or allowed for."""
        contract = self._valuing.following.so_far.contract
        allowed = contract is not None and any(
            one.item == Item.ALLOWED_BRICK.value for one in contract.lines
        )
        self.all_found.setVisible(allowed)
        self.rate.setVisible(self._valuing.is_open_to_review)

    def _review(self, typed: str) -> None:
        rate = pounds(typed)
        self.rate.complain(_("Type a rate such as 18.50") if typed.strip() and not rate else "")
        self._valuing.review(rate)

    @property
    def wording(self) -> Wording:
        """What stands in the fields."""
        return Wording(
            self.title.text.strip() or self._title,
            self.asked_by.text.strip() or FOUND_ON_SITE,
            self.reason.text.strip(),
            tuple(name for name, tick in self.photos.items() if tick.is_on),
            self.ticks.left_out,
            self.ticks.written,
        )

    def take_focus(self) -> None:
        """Put the cursor where one writes first."""
        self.reason.take_focus()

    def _show_photos(self, photos: tuple[Photo, ...]) -> None:
        for old in self.photos.values():
            self._photos.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.photos = {}
        for number, one in enumerate(photos, 1):
            title = one.caption or _("Photograph {number}").format(number=number)
            tick = self.photos[one.picture] = Ticked(title)
            tick.changed.connect(self.changed)
            self._photos.addWidget(tick)
        self._photos_head.setVisible(bool(photos))

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(4)
        for part in (self.title, self.asked_by, self.reason):
            layout.addWidget(part)
        layout.addWidget(words(_("What it changes"), role="second"))
        rest: tuple[QWidget, ...] = (
            *(self.ticks, self.rate, self.all_found),
            *(self.extra, self._photos_head),
        )
        for widget in rest:
            layout.addWidget(widget)
        layout.addLayout(self._photos)
