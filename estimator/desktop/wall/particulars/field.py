"""The fields of a form: each reads one thing of the wall, and changes it as it is typed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Protocol

from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars.typed import Way, in_mm, read
from estimator.desktop.widgets.buttons import escaped, one_stop
from estimator.desktop.widgets.words import retone, words
from estimator.masonry.coursing import Coursing
from estimator.quoting.edits import Edit

SAY_AFTER_MS = 600
"""Rest after which it is said why what was typed cannot be used [ms]."""
SIZE_WIDE, TEXT_WIDE, LIST_WIDE = 80, 200, 150
SAME = 0.05
"""Sizes nearer than this are the same: widths are kept to a tenth [mm]."""


@dataclass(frozen=True, slots=True)
class About:
    """What a field is about: its words, its value now, and the edit that changes it."""

    label: str
    get: Callable[[], Any]
    make: Callable[[Any], Edit]
    unknown: str = ""
    """What stands there while it is not known; empty where it always is."""


class Holder(Protocol):
    """What a field asks of the form it stands in."""

    @property
    def coursing(self) -> Coursing:
        """The courses sizes are counted in."""

    def is_there(self) -> bool:
        """Return whether what the form is about is still on the wall."""

    def take(self, make: Callable[[], Edit]) -> str:
        """Do an edit; return why it cannot be done, or nothing."""

    def say(self, sentence: str, by: Any = None) -> None:
        """Say why something cannot be used."""

    def empty_words(self) -> str:
        """Return what is said of a field left empty that cannot be."""

    def go_on(self, widget: QWidget) -> None:
        """Go from one field to the next."""

    def leave(self) -> None:
        """Give the keyboard back."""


class Field(QFrame):
    """A label over something to change."""

    def __init__(self, form: Holder, label: str) -> None:
        """Stand in a form."""
        super().__init__()
        self.form = form
        self.label = words(label, role="small", wrap=False)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(LOOK.px(2))
        self._column.addWidget(self.label)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def hold(self, widget: QWidget, said: str) -> None:
        """Put what is changed under the label."""
        widget.setAccessibleName(said)
        self._column.addWidget(widget)

    def follow(self) -> None:
        """Show the value as it is now."""


class Line(QLineEdit):
    """A line edit whose Enter and Esc belong to its field."""

    def __init__(self, field: TypedField) -> None:
        """Lie in a field."""
        super().__init__()
        self._field = field

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Go on, or put back what was."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._field.go_on()
        elif event.key() == Qt.Key.Key_Escape:
            self._field.put_back()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Remember what was, for Esc."""
        super().focusInEvent(event)
        self._field.begin()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """Write what was understood as the program writes it; keep what was not."""
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.PopupFocusReason:
            self._field.leave()


class TypedField(Field):
    """Something typed: it counts at every key, and stays as typed where it cannot be used."""

    def __init__(self, form: Holder, about: About, *, wide: int = TEXT_WIDE) -> None:
        """Show what is there now."""
        super().__init__(form, about.label)
        self.about = about
        self.line = Line(self)
        self.line.setFixedWidth(LOOK.px(wide))
        self.line.setPlaceholderText(about.unknown)
        self.hold(self.line, about.label)
        self._value: Any = about.get()
        self._before: Any = self._value
        self._why = ""
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(SAY_AFTER_MS)
        self._soon.timeout.connect(self._say_why)
        self.line.textEdited.connect(self._typed)
        self._show()

    def read(self, text: str) -> tuple[Any, str]:
        """Return what a text means, or why it means nothing."""
        return text, ""

    def write(self, value: Any) -> str:
        """Return a value as the program writes it."""
        return str(value)

    def is_same(self, one: Any, two: Any) -> bool:
        """Return whether two values are the same to a person."""
        return bool(one == two)

    def begin(self) -> None:
        """Remember what was there when the keyboard came."""
        self._before = self._now()
        self.line.selectAll()

    def follow(self) -> None:
        """Show the value as it is now, unless it is what was typed."""
        value = self.about.get()
        if not self.is_same(value, self._value):
            self._value = value
            self._show()
            self._because("")

    def go_on(self) -> None:
        """Go to the next field; what cannot be used is said instead."""
        if self._why:
            self._say_why()
            return
        self._show()
        self.line.selectAll()
        self.form.go_on(self.line)

    def put_back(self) -> None:
        """Put back what was there when the keyboard came; a second time leaves the form."""
        is_as_it_was = self.is_same(self._now(), self._before)
        if is_as_it_was and self.line.text() == self.write(self._before):
            self.form.leave()
            return
        self._because("")
        if not is_as_it_was:
            self._take(self._before)
        self._value = self._now()
        self._show()
        self.line.selectAll()

    def leave(self) -> None:
        """Write what was understood as it is written; say why what was not cannot be used."""
        if self._why:
            self._say_why()
        else:
            self._show()

    def _typed(self, text: str) -> None:
        value, why = self.read(text)
        if not why:
            why = self._take(value)
        self._because(why)

    def _take(self, value: Any) -> str:
        why = self.form.take(partial(self.about.make, value))
        self._value = self._now()
        return why

    def _now(self) -> Any:
        """Return the value as it is; of a thing that is gone, the last there was."""
        return self.about.get() if self.form.is_there() else self._value

    def _because(self, why: str) -> None:
        """Keep why the text cannot be used, and say it once typing rests."""
        self._why = why
        if why:
            self._soon.start()
        else:
            self._soon.stop()
            retone(self.line, tone="")
            self.form.say("", self)

    def _say_why(self) -> None:
        self._soon.stop()
        if self._why:
            retone(self.line, tone="caution")
            self.form.say(self._why, self)

    def _show(self) -> None:
        self.line.setText(self.write(self._value))
        self.line.setCursorPosition(0)


class SizeField(TypedField):
    """A size as a tradesman says it: m, mm, bricks or courses."""

    def __init__(
        self,
        form: Holder,
        about: About,
        way: Way,
        *,
        written: Callable[[float], str] = in_mm,
        counted: Callable[[float], str] | None = None,
        wide: int = SIZE_WIDE,
    ) -> None:
        """Show a size.

        Args:
            form: The form it stands in.
            about: What it is of.
            way: What bricks and courses mean in it.
            written: Writes the size.
            counted: Says beside the label how many bricks or courses that is.
            wide: Width at the usual type [px].
        """
        self._way, self._written, self._counted = way, written, counted
        super().__init__(form, about, wide=wide)

    def read(self, text: str) -> tuple[Any, str]:
        """Return the millimetres that are meant."""
        if not text.strip():
            empty = self.form.empty_words()
            return None, "" if self.about.unknown else empty
        found = read(text, self._way, self.form.coursing)
        return found.amount, found.why

    def write(self, value: Any) -> str:
        """Return a size with its unit; nothing for one not known."""
        return "" if value is None else self._written(value)

    def is_same(self, one: Any, two: Any) -> bool:
        """Return whether two sizes are nearer than anybody measures."""
        if one is None or two is None:
            return one is two
        return bool(abs(one - two) < SAME)

    def follow(self) -> None:
        """Show the size, and what it counts."""
        super().follow()
        self._count()

    def _show(self) -> None:
        super()._show()
        self._count()

    def _count(self) -> None:
        if self._counted is not None and self._value is not None:
            self.label.setText(f"{self.about.label} · {self._counted(self._value)}")


class PickField(Field):
    """A few choices side by side, one of them taken."""

    def __init__(self, form: Holder, about: About, choices: Sequence[tuple[Any, str]]) -> None:
        """Offer choices: what each means, and its word."""
        super().__init__(form, about.label)
        self.about = about
        row = QFrame()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(LOOK.px(4))
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.buttons: dict[Any, Toggle] = {}
        for value, word in choices:
            button = toggle(word, f"{about.label}: {word}")
            button.clicked.connect(partial(self._take, value))
            self._group.addButton(button)
            self.buttons[value] = button
            line.addWidget(button)
        self.hold(row, about.label)
        self.follow()

    def follow(self) -> None:
        """Show which is taken; none where what is so is not among them."""
        value = self.about.get()
        found = self.buttons.get(value)
        self._group.setExclusive(False)
        for button in self.buttons.values():
            button.setChecked(button is found)
        self._group.setExclusive(found is not None)
        one_stop(self.buttons.values())

    def _take(self, value: Any, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        why = self.form.take(partial(self.about.make, value))
        self.form.say(why, self)
        if self.form.is_there():
            self.follow()


class Chooser(QComboBox):
    """A list that shows by an arrow that there is more to choose from."""

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the arrow over it."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(LOOK.colour("muted"), 1.6 * LOOK.scale))
        half, x, y = LOOK.px(4), self.width() - LOOK.px(15), self.height() / 2
        ends = (QPointF(x - half, y - half / 2), QPointF(x, y + half / 2))
        painter.drawPolyline([*ends, QPointF(x + half, y - half / 2)])
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Leave the wheel alone: nothing changes by being scrolled over."""
        event.ignore()


class ListField(Field):
    """Many choices, one of them shown."""

    def __init__(
        self,
        form: Holder,
        about: About,
        choices: Sequence[tuple[Any, str]],
        *,
        wide: int = LIST_WIDE,
    ) -> None:
        """Offer choices: what each means, and its words."""
        super().__init__(form, about.label)
        self.about = about
        self._values = [value for value, _word in choices]
        self.list = Chooser()
        self.list.addItems([word for _value, word in choices])
        self.list.setFixedWidth(LOOK.px(wide))
        self.hold(self.list, about.label)
        self.list.activated.connect(self._take)
        self.follow()

    def follow(self) -> None:
        """Show which is taken."""
        value = self.about.get()
        self.list.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def _take(self, place: int) -> None:
        why = self.form.take(partial(self.about.make, self._values[place]))
        self.form.say(why, self)
        if self.form.is_there():
            self.follow()


class FactField(Field):
    """Something that follows from the rest, only to be read."""

    def __init__(self, form: Holder, label: str, get: Callable[[], str]) -> None:
        """Show it."""
        super().__init__(form, label)
        self._get = get
        self.fact = words(role="strong", wrap=False)
        self.fact.setMinimumHeight(LOOK.px(32))
        self._column.addWidget(self.fact)
        self.follow()

    def follow(self) -> None:
        """Show it as it is now."""
        self.fact.setText(self._get())


class Toggle(QToolButton):
    """A button that stays pressed; Enter presses it too, which Qt gives to the space bar alone."""

    def __init__(self, word: str, said: str) -> None:
        """Show a word, and say it to a screen reader with what it is about."""
        super().__init__()
        self.setProperty("role", "toggle")
        self.setCheckable(True)
        self.setText(escaped(word))
        self.setAccessibleName(said)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Be pressed by Enter too."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


def toggle(word: str, said: str, *, role: str = "toggle") -> Toggle:
    """Return a button that stays pressed while its choice is taken."""
    button = Toggle(word, said)
    button.setProperty("role", role)
    return button
