"""What every form of particulars can do: follow the drawing, and be edited."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import QButtonGroup, QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estimator.desktop.language import _, in_full
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.particulars.field import Field, toggle
from estimator.desktop.wall.particulars.flow import Flow
from estimator.desktop.wall.particulars.heading import Heading
from estimator.desktop.widgets.buttons import one_stop, quiet_button
from estimator.desktop.widgets.words import words
from estimator.masonry.coursing import Coursing
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.survey.survey import Elevation


class Form(QFrame):
    """The sizes of one thing on the wall."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Stand below the board."""
        super().__init__(parent)
        self.setProperty("role", "card")
        self.drafting = drafting
        self.side, self.mark = drafting.side_id, drafting.selection
        self.fields: list[Field] = []
        self.pages: list[QFrame] = []
        self.title = words(role="strong", wrap=False)
        self.told = words(role="second")
        self.trouble = words(role="second", tone="caution")
        self.trouble.hide()
        self._in_trouble: Field | None = None
        self.page = 0
        self._unmade: dict[int, Callable[[], Sequence[Field]]] = {}
        """How the fields of pages are made that nobody has turned to yet."""
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.timeout.connect(self._make_rest)
        self._turns = QButtonGroup(self)
        self._lay_out()

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        self._head.setSpacing(LOOK.px(8))
        line = QFrame()
        self._line = Flow(line, gap=4, ends_right=True)
        self._line.addWidget(Heading(self.title, self.told))
        self._head.addWidget(line, 1)
        self._column = QVBoxLayout(self)
        side, edge = LOOK.px(14), LOOK.px(8)
        self._column.setContentsMargins(side, edge, side, LOOK.px(10))
        self._column.setSpacing(LOOK.px(6))
        self._column.addLayout(self._head)
        self._column.addWidget(self.trouble)

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Return its least width; how high it is then hangs on the width it gets."""
        return QSize(super().minimumSizeHint().width(), 0)

    # -- how a form is made

    def add_page(self, name: str, fields: Sequence[Field] | Callable[[], Sequence[Field]]) -> None:
        """Add fields that are seen together; with several pages, their names stand at the top.

        Those of a page that is not seen at first may be made a turn later, for which ``fields``
        makes them: what is selected is then shown at once.
        """
        page = QFrame()
        Flow(page)
        self._column.insertWidget(self._column.count() - 1, page)
        page.setVisible(not self.pages)
        button = toggle(name, name, role="tab")
        button.setChecked(not self.pages)
        button.clicked.connect(partial(self.turn_to, len(self.pages)))
        self._turns.addButton(button)
        # In the form before it shows: alone it would be a window for a moment.
        self._line.addWidget(button)
        button.setVisible(bool(self.pages))
        self.pages.append(page)
        if callable(fields):
            self._unmade[len(self.pages) - 1] = fields
            self._later.start(0)
        else:
            self._fill(page, fields)
        if len(self.pages) > 1:
            self._turns.buttons()[0].show()
        one_stop(self._turns.buttons())

    def _fill(self, page: QFrame, fields: Sequence[Field]) -> None:
        flow = page.layout()
        assert flow is not None
        for field in fields:
            flow.addWidget(field)
        self.fields.extend(fields)

    def _make_rest(self) -> None:
        """Make the fields of the pages nobody has turned to; a form that was let go needs none."""
        if not self._unmade or self.parentWidget() is None or not self.is_there():
            return
        for number, make in self._unmade.items():
            self._fill(self.pages[number], make())
        self._unmade = {}
        self.describe()

    def add_act(self, word: str, do: Callable[[], object]) -> QPushButton:
        """Add a quiet button at the end of the top line."""
        button = quiet_button(word)
        button.clicked.connect(partial(self._act, do))
        self._line.addWidget(button)
        return button

    def turn_to(self, number: int, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        """Show another page of fields."""
        self.page = number
        if number in self._unmade:
            self._make_rest()
        for place, page in enumerate(self.pages):
            page.setVisible(place == number)
            self._turns.buttons()[place].setChecked(place == number)
        one_stop(self._turns.buttons())

    # -- what is there

    @property
    def work(self) -> Work:
        """What the drawing shows."""
        return self.drafting.work

    @property
    def elevation(self) -> Elevation:
        """The side the form is about."""
        return next(one for one in self.work.survey.elevations if one.id == self.side)

    @property
    def coursing(self) -> Coursing:
        """The courses sizes are counted in."""
        return self.drafting.wall.coursing

    @property
    def key(self) -> str:
        """What the mark says after its side and kind, such as the id of an opening."""
        return self.mark.split("/", 2)[-1]

    def is_there(self) -> bool:
        """Return whether the thing is still on the wall."""
        return self.drafting.side_id == self.side

    def follow(self) -> bool:
        """Show the sizes as they are now; false where the thing is no longer there."""
        if not self.is_there():
            return False
        for field in self.fields:
            field.follow()
        self.describe()
        return True

    def follow_tool(self) -> None:
        """Show what the tool in hand does now; most forms are about no tool."""

    def is_outgrown(self) -> bool:
        """Return whether the thing has more or fewer parts than there are fields."""
        return False

    def describe(self) -> None:
        """Say at the top what the thing is."""

    def empty_words(self) -> str:
        """Return what is said of a field left empty that cannot be."""
        return _("A size belongs here. Esc puts back what it was.")

    # -- what is done

    def take(self, make: Callable[[], Edit]) -> str:
        """Do an edit; return why it cannot be done, or nothing.

        What an undo took off the wall a moment ago is left alone: its form goes in the next turn.
        """
        if not self.is_there():
            return ""
        try:
            edit = make()
        except UserMistake as mistake:
            return in_full(mistake)
        self.drafting.do(edit)
        return ""

    def say(self, sentence: str, by: Field | None = None) -> None:
        """Say why something cannot be used; only who said it can take it back."""
        if not sentence and by is not None and self._in_trouble not in (by, None):
            return
        self._in_trouble = by if sentence else None
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))
        if by is not None:
            by.setAccessibleDescription(sentence)

    def _act(self, do: Callable[[], object], _ticked: bool = False) -> None:  # noqa: FBT001, FBT002
        if self.is_there():
            do()

    def act(self, make: Callable[[], Edit]) -> None:
        """Do an edit from a button, and say why it cannot be done."""
        self.say(self.take(make))

    # -- the keyboard

    def take_focus(self) -> None:
        """Put the keyboard into the first thing that takes it."""
        for widget in self.findChildren(QWidget):
            takes = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            if takes and widget.isVisibleTo(self) and self._is_in_page(widget):
                widget.setFocus(Qt.FocusReason.ShortcutFocusReason)
                return

    def _is_in_page(self, widget: QWidget) -> bool:
        return any(page.isAncestorOf(widget) for page in self.pages) or not self.pages

    def go_on(self, widget: QWidget) -> None:
        """Go from one field to the next, and from the last back to the wall."""
        page = next(one for one in self.pages if one.isAncestorOf(widget))
        stops = [
            one
            for one in page.findChildren(QWidget)
            if one.focusPolicy() & Qt.FocusPolicy.TabFocus and one.isVisibleTo(page)
        ]
        place = stops.index(widget) + 1
        if place < len(stops):
            stops[place].setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self.leave()

    def leave(self) -> None:
        """Give the keyboard back to the wall."""
        self.drafting.left_particulars.emit()
