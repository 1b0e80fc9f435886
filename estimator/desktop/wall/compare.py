"""The same wall as it is and after each option, side by side, with what can still be seen of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QIcon, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted
from estimator.desktop.money import saying
from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.compare_view import ImpressionView
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.following import Following
from estimator.desktop.widgets.words import retone, words
from estimator.documents.formats import plain
from estimator.drawing.impression import impression_of
from estimator.drawing.picture import picture_of
from estimator.drawing.shapes import Picture
from estimator.survey.ranges import likely, settled
from estimator.survey.survey import Basis

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.desktop.state import Sight
    from estimator.quoting.quotation import Option
    from estimator.survey.survey import Elevation

SETTLED_MS = 120
"""How long an edit has to rest before all is drawn anew: somebody may be typing beside."""
MOST = 4
"""Drawings that have room beside each other, the wall as it is being one."""


class Column(QWidget):
    """What stands over and under one drawing."""

    def __init__(self) -> None:
        """Make an empty column."""
        super().__init__()
        self.title, self.price = words(role="title"), words(role="name")
        self.view = ImpressionView()
        self.caption = words(role="text")
        self.choose = button("")
        for label in (self.title, self.price, self.caption):
            label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)

    def name(self, title: str, price: str, caption: str, *, chosen: bool | None) -> None:
        """Say what it is, what it costs and what will be seen; None for one not to be chosen."""
        self.title.setText(title)
        self.price.setText(price)
        self.caption.setText(caption)
        self.choose.setVisible(chosen is not None)
        self.choose.setText(_("Chosen") if chosen else _("Choose this"))
        self.choose.setIcon(icon("done", "act") if chosen else QIcon())
        retone(self.choose, role="quiet" if chosen else "")
        retone(self.price, tone="" if chosen is not None else "quiet")
        self.view.set_chosen(chosen=bool(chosen))
        said = _("{title}. {price}") if price else "{title}"
        self.view.setAccessibleName(said.format(title=title, price=price))
        self.view.setAccessibleDescription(caption)
        wanted = _("Chosen: {title}") if chosen else _("Choose: {title}")
        self.choose.setAccessibleName(wanted.format(title=title))


class Comparison(QFrame):
    """Drawings of one wall, zoomed and moved together."""

    left = Signal()
    """The wall is wanted back."""
    chosen = Signal(int)
    """One of the options was chosen, the first being 0."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Follow a session; drawn only while it is shown."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self._side = self._chosen = 0
        self.columns: list[Column] = []
        self._shown = 0
        self._is_following = False
        self._heading = words(_("Before and after"), role="heading", wrap=False)
        self._where = words(role="second", wrap=False)
        self.back = quiet_button(_("Back to the wall"))
        self.back.setToolTip(_("Back to the wall (Esc)"))
        self.back.clicked.connect(self._leave)
        self.note = words(role="second")
        self._grid, self._scroll = QGridLayout(), QScrollArea()
        self._lay_out()
        key = QShortcut(QKeySequence(Qt.Key.Key_Escape), self)
        key.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        key.activated.connect(self.left)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._draw)
        session.sight_changed.connect(self._follow_sight)

    def begin(self, side: int, chosen: int) -> None:
        """Show one side of the building, with the option that is chosen."""
        self._side, self._chosen = side, chosen
        self._draw()
        for column in self.columns[: self._shown]:
            column.view.fit()
        if self._shown > 1:
            self.columns[min(chosen, self._shown - 2) + 1].view.setFocus()

    def show_chosen(self, place: int) -> None:
        """Follow which option is chosen beside."""
        self._chosen = place
        if self.isVisible():
            self._draw()

    @property
    def views(self) -> list[ImpressionView]:
        """The drawings shown, the wall as it is first."""
        return [column.view for column in self.columns[: self._shown]]

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Give the drawings the height they can use."""
        super().resizeEvent(event)
        self._give_heights()

    def _give_heights(self) -> None:
        """Let no drawing be taller than its wall, whether or not there is a bar to scroll by."""
        layout = self.layout()
        if not self._shown or layout is None:
            return
        edges = layout.contentsMargins()
        bar = self._scroll.verticalScrollBar().sizeHint().width()
        room = self.width() - edges.left() - edges.right() - bar
        gaps = self._grid.horizontalSpacing() * (self._shown - 1)
        for view in self.views:
            view.fill(max((room - gaps) // self._shown, 1))

    def _leave(self) -> None:
        self.left.emit()

    def _follow_sight(self, _sight: Sight) -> None:
        if self.isVisible():
            self._soon.start(SETTLED_MS)

    # -- what is drawn

    def _draw(self) -> None:
        sight = self._session.sight
        survey, options = sight.work.survey, sight.options[: MOST - 1]
        before = impression_of(survey, self._side)
        pictures = [picture_of(survey, self._side, one.measure) for one in options]
        frame = _framed([one for one in pictures if one is not None])
        if before is None or frame is None:
            self.left.emit()
            return
        self.note.setText(_note(survey.basis))
        self._where.setText(frame.name if len(survey.elevations) > 1 else "")
        while len(self.columns) < len(options) + 1:
            self._add()
        first = self.columns[0]
        said = _as_it_is(frame, settled(survey.elevations[self._side]))
        first.name(_("As it is now"), _("nothing done"), said, chosen=None)
        first.view.show_impression(frame, before)
        for place, option in enumerate(options):
            after = impression_of(survey, self._side, option.measure)
            if after is not None:
                column = self.columns[place + 1]
                self._say(column, option, sight, chosen=place == self._chosen)
                column.view.show_impression(frame, after)
        self._show_only(len(options) + 1)
        self._give_heights()

    def _say(self, column: Column, option: Option, sight: Sight, *, chosen: bool) -> None:
        band, firm = saying.band_of(sight, option), saying.is_firm(sight)
        column.name(
            option.offer.scope.title,
            saying.price(option, band, firm=firm),
            " ".join(saying.all_seen(option)) or _("Nothing of the work will be seen."),
            chosen=chosen,
        )

    # -- looked at together

    def _follow_view(self, column: Column) -> None:
        """Look at every drawing from the same place, whichever was moved."""
        seen = column.view.view
        if self._is_following or seen is None:
            return
        self._is_following = True
        for other in self.columns[: self._shown]:
            if other is not column:
                other.view.follow(seen, fitted=column.view.is_fitted)
        self._is_following = False

    def _step(self, place: int) -> None:
        if 0 <= place < self._shown:
            self.columns[place].view.setFocus()

    def _take(self, place: int) -> None:
        if place > 0:
            self.chosen.emit(place - 1)

    # -- layout

    def _add(self) -> None:
        column, place = Column(), len(self.columns)
        grid = self._grid
        parts = (column.title, column.price, column.view, column.caption, column.choose)
        for row, part in enumerate(parts):
            if part is column.choose:
                grid.addWidget(part, row, place, Qt.AlignmentFlag.AlignLeft)
            else:
                grid.addWidget(part, row, place)
        # Painted sharp one after another, so that no turn is long.
        column.view.rest.setInterval(column.view.rest.interval() * (place + 1))
        column.view.view_changed.connect(partial(self._follow_view, column))
        column.view.stepped.connect(partial(self._step_from, place))
        column.view.taken.connect(partial(self._take, place))
        column.choose.clicked.connect(partial(self._clicked, place))
        self.columns.append(column)

    def _step_from(self, place: int, by: int) -> None:
        self._step(place + by)

    def _clicked(self, place: int, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self._take(place)

    def _show_only(self, count: int) -> None:
        self._shown = count
        for place, column in enumerate(self.columns):
            is_shown = place < count
            for part in (column.title, column.price, column.view, column.caption):
                part.setVisible(is_shown)
            column.choose.setVisible(is_shown and place > 0)
            self._grid.setColumnStretch(place, 1 if is_shown else 0)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(16)
        head.addWidget(self._heading)
        head.addWidget(self._where)
        head.addStretch()
        head.addWidget(self.back)
        inside = QWidget()
        inside.setLayout(self._grid)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(LOOK.px(16))
        self._grid.setVerticalSpacing(6)
        # The drawings grow first; what they cannot use is left under the words.
        self._grid.setRowStretch(2, 1000)
        self._grid.setRowStretch(5, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 12)
        layout.setSpacing(10)
        layout.addLayout(head)
        # Large type may leave the drawings no room: then all of it moves, and nothing is cut off.
        scroll = self._scroll
        scroll.setWidgetResizable(True)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setWidget(inside)
        Following(scroll)
        layout.addWidget(scroll, 1)
        layout.addWidget(self.note)


def _note(basis: Basis) -> str:
    """Say how far the drawings can be trusted."""
    if basis is Basis.TOLD:
        return _(
            "An impression, not a promise: the wall is drawn from the answers, how near the new "
            "mortar comes is seen on a sample first, and mortar and bricks change as they weather."
        )
    return _(
        "An impression, not a promise: how near the new mortar comes is seen on a sample first, "
        "and mortar and bricks change as they weather. Where it lies is as measured."
    )


def _framed(pictures: Sequence[Picture]) -> Picture | None:
    """Return one picture whose work is that of all, so that all are looked at alike."""
    if not pictures:
        return None
    first = pictures[0]
    return replace(
        first,
        bars=tuple(bar for one in pictures for bar in one.bars),
        areas=tuple(area for one in pictures for area in one.areas),
    )


def _as_it_is(picture: Picture, side: Elevation) -> str:
    """Say what is seen of the damage."""
    said = []
    if side.cracks:
        width = plain(max(float(likely(crack.width_mm)) for crack in side.cracks))
        one = _("{n} crack shows, up to {width} mm wide.")
        many = _("{n} cracks show, up to {width} mm wide.")
        number = len(side.cracks)
        said.append((one if number == 1 else many).format(n=number, width=width))
    if picture.bricks:
        number = len(picture.bricks)
        said.append(counted("{n} brick is cracked.", "{n} bricks are cracked.", number))
    return " ".join(said)
