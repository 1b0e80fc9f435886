"""The sides of the building as tabs above the board: looked at, added, named, copied, removed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLineEdit, QMenu, QToolButton, QWidget

from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars.field import Toggle
from estimator.desktop.wall.particulars.flow import Flow
from estimator.desktop.wall.tools import beginning
from estimator.desktop.widgets.buttons import IconButton, escaped
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit
from estimator.quoting.wall_edits import sides

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting

WIDEST, WIDEST_OF_MANY, NAME_WIDE = 220, 130, 170
MANY = 3
"""Widest tab, the same among many, and how wide a name is to be typed at the least [px]."""
RETURN_MM = 2700.0
"""A return is drawn so wide, until it is measured; house rule [mm]."""


class Tab(Toggle):
    """One side; arrows go to the next, F2 and a double click rename it."""

    def __init__(self, tabs: SideTabs, number: int, name: str, *, widest: int) -> None:
        """Show the name, shortened where it is long."""
        super().__init__("", _("Side of the building: {name}").format(name=name))
        self._tabs, self.number, self.name = tabs, number, name
        self.setProperty("role", "tab")
        metrics = QFontMetrics(LOOK.font(strong=True))
        short = metrics.elidedText(name, Qt.TextElideMode.ElideRight, LOOK.px(widest))
        self.setText(escaped(short))
        self.setToolTip(name if short != name else "")
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go to the next side, rename, remove or be pressed."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        if event.key() in steps:
            self._tabs.go(self.number + steps[Qt.Key(event.key())])
        elif event.key() == Qt.Key.Key_F2:
            self._tabs.rename(self.number)
        elif event.key() == Qt.Key.Key_Delete:
            self._tabs.remove(self.number)
        elif event.key() == Qt.Key.Key_Down:
            self._tabs.open_menu(self.number)
        else:
            super().keyPressEvent(event)

    def mouseDoubleClickEvent(self, _event: object) -> None:  # noqa: N802 - Qt's name
        """Rename it."""
        self._tabs.rename(self.number)


class NameLine(QLineEdit):
    """A name being typed over its tab."""

    def __init__(self, tabs: SideTabs) -> None:
        """Lie hidden until it is wanted."""
        super().__init__(tabs)
        self._tabs = tabs
        self.setAccessibleName(_("Name of this side"))
        self.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the name, or the one before it."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._tabs.keep_name()
        elif event.key() == Qt.Key.Key_Escape:
            self._tabs.drop_name()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Keep the name."""
        super().focusOutEvent(event)
        if self.isVisible() and event.reason() is not Qt.FocusReason.PopupFocusReason:
            self._tabs.keep_name()


class SideTabs(QFrame):
    """A tab for every side, a button to add one, and a menu of what can be done with it."""

    chosen = Signal(int)
    """A side to put on the board."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Follow the drawing."""
        super().__init__(parent)
        self._drafting = drafting
        self._named = -1
        self.tabs: list[Tab] = []
        self._shown: tuple[object, ...] = ()
        self.add = IconButton("add", _("Add a side of the building"))
        self.more = QToolButton()
        self.more.setText("⋯")
        self.more.setProperty("role", "quiet")
        self.more.setAccessibleName(_("What can be done with this side"))
        self.more.setToolTip(self.more.accessibleName())
        self.more.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.menu = QMenu(self)
        self.line = NameLine(self)
        self._end = QFrame()
        row = QHBoxLayout(self._end)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.add)
        row.addWidget(self.more)
        self._flow = Flow(self, gap=4)
        self._flow.addWidget(self._end)
        self.add.clicked.connect(self._add)
        self.more.clicked.connect(self._open_menu_here)
        LOOK.changed.connect(self._list_anew)

    # -- what is shown

    def follow(self) -> None:
        """Show the sides as they are now, and which is on the board."""
        names = tuple(one.name for one in self._drafting.session.sight.work.survey.elevations)
        if names != self._shown:
            self._list(names)
        for tab in self.tabs:
            is_on_board = tab.number == self._drafting.side
            tab.setChecked(is_on_board)
            # One stop for Tab; arrows go on from there.
            policy = Qt.FocusPolicy.StrongFocus if is_on_board else Qt.FocusPolicy.ClickFocus
            tab.setFocusPolicy(policy)

    def _list_anew(self) -> None:
        self._shown = ()
        self.follow()

    def _list(self, names: tuple[str, ...]) -> None:
        had_keyboard = any(tab.hasFocus() for tab in self.tabs)
        self._shown = names
        for tab in self.tabs:
            self._flow.removeWidget(tab)
            tab.hide()
            tab.deleteLater()
        self._flow.removeWidget(self._end)
        widest = WIDEST if len(names) < MANY else WIDEST_OF_MANY
        self.tabs = [Tab(self, place, name, widest=widest) for place, name in enumerate(names)]
        for tab in self.tabs:
            tab.clicked.connect(partial(self._clicked, tab.number))
            tab.customContextMenuRequested.connect(partial(self._menu_at, tab.number))
        for widget in (*self.tabs, self._end):
            self._flow.addWidget(widget)
        for before, after in pairwise((*self.tabs, self.add, self.more)):
            self.setTabOrder(before, after)
        if had_keyboard and self._drafting.side < len(self.tabs):
            self.tabs[self._drafting.side].setFocus()

    # -- which side

    def go(self, number: int) -> None:
        """Show another side, and put the keyboard on its tab."""
        if 0 <= number < len(self.tabs):
            self.chosen.emit(number)
            self.follow()
            self.tabs[number].setFocus(Qt.FocusReason.OtherFocusReason)

    def _clicked(self, number: int, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.chosen.emit(number)
        self.follow()

    # -- what can be done with it

    def _id(self, number: int) -> str:
        return self._drafting.session.sight.work.survey.elevations[number].id

    def _do(self, make: Callable[[], Edit]) -> bool:
        try:
            edit = make()
        except UserMistake as mistake:
            self._drafting.refuse(mistake)
            return False
        self._drafting.tool.cancel()
        self._drafting.do(edit)
        return True

    def _work(self, make: Callable[..., Edit], *given: object, **named: object) -> bool:
        """Do an edit of the work as it is."""
        work = self._drafting.session.sight.work
        return self._do(partial(make, work, *given, **named))

    def _add(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        work = self._drafting.session.sight.work
        if beginning.is_blank(work):
            # A guess nobody told of is no side of the building: it would be priced with the rest.
            begun = self._work(beginning.begin_wall, self._drafting.side_id)
        else:
            name = _("Side {n}").format(n=len(self.tabs) + 1)
            begun = self._work(sides.add_side, name=name)
        if begun:
            self._show_last_to_name()

    def _show_last_to_name(self) -> None:
        self.follow()
        self.go(len(self.tabs) - 1)
        self.rename(len(self.tabs) - 1)

    def copy(self, number: int) -> None:
        """Add a side like another, and let it be named."""
        name = _("{name}, copy").format(name=self.tabs[number].name)
        if self._work(sides.copy_side, self._id(number), name=name):
            self._show_last_to_name()

    def mirror(self, number: int) -> None:
        """Turn a side left to right."""
        self._work(sides.mirror_side, self._id(number))

    def add_return(self, number: int, end: str) -> None:
        """Add the side round a quoin, and let it be named."""
        kinds = {
            "left": _("{name}, round the left quoin"),
            "right": _("{name}, round the right quoin"),
        }
        name = kinds[end].format(name=self.tabs[number].name)
        given = (self._id(number), end)
        if self._work(sides.add_return, *given, width_mm=RETURN_MM, name=name):
            self._show_last_to_name()

    def remove(self, number: int) -> None:
        """Take a side away; undo brings it back."""
        if self._work(sides.remove_side, self._id(number)):
            self.follow()
            self.go(min(number, len(self.tabs) - 1))

    def open_menu(self, number: int) -> None:
        """Open the menu of a side under its tab."""
        tab = self.tabs[number]
        self._menu_at(number, QPoint(0, tab.height()))

    def _open_menu_here(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        if self._drafting.side < len(self.tabs):
            self._fill_menu(self._drafting.side)
            self.menu.popup(self.more.mapToGlobal(QPoint(0, self.more.height())))

    def _menu_at(self, number: int, at: QPoint) -> None:
        self._fill_menu(number)
        self.menu.popup(self.tabs[number].mapToGlobal(at))

    def _fill_menu(self, number: int) -> None:
        """Offer what can be done with a side."""
        self.menu.clear()
        wall = self._drafting.session.sight.work.survey.elevations[number]
        acts: list[tuple[str, Callable[[], object], bool]] = [
            (_("Rename"), partial(self.rename, number), True),
            (_("Copy"), partial(self.copy, number), True),
            (_("Mirror"), partial(self.mirror, number), True),
        ]
        for end, word in (
            ("left", _("Add the wall round the left quoin")),
            ("right", _("Add the wall round the right quoin")),
        ):
            is_free = not getattr(wall, f"{end}_return")
            acts.append((word, partial(self.add_return, number, end), is_free))
        acts.append((_("Remove"), partial(self.remove, number), len(self.tabs) > 1))
        for word, do, is_on in acts:
            act = self.menu.addAction(word)
            act.setEnabled(is_on)
            act.triggered.connect(partial(self._triggered, do))

    def _triggered(self, do: Callable[[], object], _ticked: bool = False) -> None:  # noqa: FBT001, FBT002
        do()

    # -- its name

    def rename(self, number: int) -> None:
        """Let a name be typed over its tab."""
        if not 0 <= number < len(self.tabs):
            return
        self._named = number
        tab = self.tabs[number]
        tab.setMinimumWidth(min(LOOK.px(NAME_WIDE), self.width()))
        for one in self.tabs:
            # Tabs just made show only a turn later, and would have no place until then.
            one.show()
        self._flow.activate()
        self.line.setText(tab.name)
        self.line.setGeometry(tab.geometry())
        self.line.raise_()
        self.line.show()
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.line.selectAll()

    def keep_name(self) -> None:
        """Give the side the name that was typed."""
        number, name = self._named, self.line.text()
        self._end_naming()
        if 0 <= number < len(self.tabs) and name.strip() != self.tabs[number].name:
            self._work(sides.rename_side, self._id(number), name)
            self.follow()
            self.tabs[number].setFocus(Qt.FocusReason.OtherFocusReason)

    def drop_name(self) -> None:
        """Leave the name as it was."""
        self._end_naming()

    def _end_naming(self) -> None:
        number, self._named = self._named, -1
        had_keyboard = self.line.hasFocus()
        self.line.hide()
        if 0 <= number < len(self.tabs):
            self.tabs[number].setMinimumWidth(0)
        if had_keyboard and 0 <= number < len(self.tabs):
            self.tabs[number].setFocus(Qt.FocusReason.OtherFocusReason)
