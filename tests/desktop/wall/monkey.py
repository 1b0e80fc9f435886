"""Somebody who does anything to the wall: presses, drags, keys and buttons in no order at all.

Every act is made of real events, and is written down so that a fault can be told by its way there.
"""

from __future__ import annotations

import random
from collections.abc import Callable

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QWidget

from estimator.desktop.wall import hits
from estimator.desktop.wall.column import WallColumn
from estimator.desktop.wall.rail import entries

Key = Qt.Key
NONE, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
LEFT, RIGHT = Qt.MouseButton.LeftButton, Qt.MouseButton.RightButton
MIDDLE = Qt.MouseButton.MiddleButton
ARROWS = (Key.Key_Left, Key.Key_Right, Key.Key_Up, Key.Key_Down)
ACTS = (Key.Key_Return, Key.Key_Space, Key.Key_Escape, Key.Key_Delete, Key.Key_Backspace)
OTHERS = (*map(Qt.Key, range(Key.Key_A, Key.Key_Z + 1)), Key.Key_PageUp, Key.Key_PageDown)
SIGNS = (Key.Key_Plus, Key.Key_Minus, Key.Key_Period, Key.Key_Tab, Key.Key_Backtab)
DIGITS = tuple(map(Qt.Key, range(Key.Key_0, Key.Key_9 + 1)))
SIZES = (
    *("20 bricks", "36 courses", "4.5", "2700", "1.2 m", "0", "-3", "half"),
    *("", "9" * 9, "2,5", "6"),
)
NAMES = ("Front", "", "<b>Gable</b>", "x" * 300)


class Monkey:
    """Does one thing after another to a column, by chance."""

    def __init__(self, column: WallColumn, seed: int) -> None:
        self.column, self.board, self.drafting = column, column.board, column.drafting
        self.session = column.drafting.session
        self.chance = random.Random(seed)
        self.trail: list[str] = []
        self._is_down = False

    def act(self) -> None:
        """Do one thing."""
        acts: dict[Callable[[], str], int] = {
            self._take: 10,
            self._click: 14,
            self._drag: 22,
            self._half_drag: 4,
            self._hover: 6,
            self._arrows: 9,
            self._key: 16,
            self._digits: 4,
            self._wheel: 2,
            self._step: 7,
            self._side: 3,
            self._option: 2,
            self._form_button: 6,
            self._form_field: 6,
            self._basis: 1,
            self._resize: 1,
        }
        (act,) = self.chance.choices(tuple(acts), tuple(acts.values()))
        self.trail.append(act.__name__)
        self.trail[-1] += f" {act()}"
        # Now and then the next thing comes before the wall has followed the last.
        if self.chance.random() < 0.85:
            QApplication.processEvents()

    def let_go(self) -> None:
        """Let go of whatever is held, and put everything down."""
        if self._is_down:
            self._release(self._spot())
        # The hand of these tests is one for all windows: what it last pressed it believes it still
        # holds, and would drag with it in whatever test comes next.
        for button in (MIDDLE, RIGHT, LEFT):
            QTest.mouseRelease(self.board, button, NONE, self._spot())
        self.drafting.tool.cancel()
        self.column.rail.take("point")
        QApplication.processEvents()
        QApplication.processEvents()

    # -- where

    def _spot(self) -> QPoint:
        """Return a place on the board: as often as not on something that is drawn there."""
        rect, view, picture = self.board.rect(), self.board.view, self.board.picture
        if view is not None and picture is not None and self.chance.random() < 0.6:
            shapes = hits.in_order(picture)
            places = [hits.middle_of(shape) for shape in shapes]
            places += [point for crack in picture.cracks for point in crack.points[:1]]
            places += [x for bar in picture.bars for x in ((bar.left, bar.y), (bar.right, bar.y))]
            places += list(picture.masonry.outline)
            place = self.chance.choice(places)
            spot = QPointF(*view.at(*place)).toPoint()
            spot += QPoint(self.chance.randint(-6, 6), self.chance.randint(-6, 6))
            if rect.contains(spot):
                return spot
        return QPoint(self.chance.randrange(rect.width()), self.chance.randrange(rect.height()))

    def _held(self) -> Qt.KeyboardModifier:
        return self.chance.choices((NONE, SHIFT, ALT), (8, 2, 1))[0]

    # -- by mouse

    def _click(self) -> str:
        spot, held = self._spot(), self._held()
        button = self.chance.choices((LEFT, RIGHT, MIDDLE), (10, 2, 1))[0]
        QTest.mouseMove(self.board, spot)
        if self.chance.random() < 0.15:
            QTest.mouseDClick(self.board, button, held, spot)
        else:
            QTest.mouseClick(self.board, button, held, spot)
        # A press of another button lets go of nothing.
        self._is_down = self._is_down and button is not LEFT
        return f"{spot.toTuple()} {button.name} {held.name}"

    def _drag(self) -> str:
        spots = [self._spot() for _ in range(self.chance.randint(2, 4))]
        held = self._held()
        QTest.mousePress(self.board, LEFT, held, spots[0])
        for spot in spots[1:]:
            QTest.mouseMove(self.board, spot)
        self._release(spots[-1])
        return f"{[spot.toTuple() for spot in spots]} {held.name}"

    def _half_drag(self) -> str:
        """Press and draw, and do not let go: whatever comes next comes while it is held."""
        start, end = self._spot(), self._spot()
        QTest.mousePress(self.board, LEFT, NONE, start)
        QTest.mouseMove(self.board, end)
        self._is_down = True
        return f"{start.toTuple()} {end.toTuple()}"

    def _release(self, spot: QPoint) -> None:
        QTest.mouseRelease(self.board, LEFT, NONE, spot)
        self._is_down = False

    def _hover(self) -> str:
        spot = self._spot()
        QTest.mouseMove(self.board, spot)
        return str(spot.toTuple())

    def _wheel(self) -> str:
        spot, turn = QPointF(self._spot()), self.chance.choice((-240, -120, 120, 240))
        none, phase = Qt.MouseButton.NoButton, Qt.ScrollPhase.NoScrollPhase
        event = QWheelEvent(
            spot, self.board.mapToGlobal(spot), QPoint(), QPoint(0, turn), none, NONE, phase, False
        )
        QApplication.sendEvent(self.board, event)
        return str(turn)

    # -- by keys

    def _press(self, *keys: Qt.Key, held: Qt.KeyboardModifier = NONE) -> str:
        if self.chance.random() < 0.7:
            self.column.take_focus()
        for key in keys:
            QTest.keyClick(self._target(), key, held)
        return f"{[key.name for key in keys]} {held.name}"

    def _target(self) -> QWidget:
        widget = QApplication.focusWidget()
        return widget if widget is not None and self.column.isAncestorOf(widget) else self.board

    def _take(self) -> str:
        entry = self.chance.choice(entries())
        if self.chance.random() < 0.5:
            self.column.take_focus()
            QTest.keyClick(self.board, getattr(Key, f"Key_{entry.letter}"))
        else:
            QTest.mouseClick(self.column.rail.buttons[entry.name], LEFT)
        return entry.name

    def _arrows(self) -> str:
        held = self.chance.choice((NONE, NONE, NONE, CTRL, SHIFT, CTRL | SHIFT))
        return self._press(*self.chance.choices(ARROWS, k=self.chance.randint(1, 5)), held=held)

    def _key(self) -> str:
        pool = self.chance.choices((ACTS, OTHERS, SIGNS), (5, 5, 1))[0]
        return self._press(self.chance.choice(pool))

    def _digits(self) -> str:
        digits = self.chance.choices(DIGITS, k=self.chance.randint(1, 3))
        return self._press(*digits, Key.Key_Return)

    # -- beside the board

    def _step(self) -> str:
        """Undo or redo a few steps."""
        history, count = self.session.history, self.chance.randint(1, 3)
        step = history.undo if self.chance.random() < 0.6 else history.redo
        for _ in range(count):
            step()
        return f"{step.__name__} {count}"

    def _side(self) -> str:
        """Go to another side, or make, copy, mirror, rename or remove one."""
        sides = self.column.sides
        if not sides.tabs:
            return "none"
        number = self.chance.randrange(len(sides.tabs))
        what = self.chance.randrange(8)
        if what < 3:
            QTest.mouseClick(sides.tabs[number], LEFT)
            return f"tab {number}"
        if what == 3 and len(sides.tabs) < 5:
            QTest.mouseClick(sides.add, LEFT)
            self._name_side()
            return "add"
        sides.open_menu(number)
        acts = [one for one in sides.menu.actions() if one.isEnabled()]
        if len(sides.tabs) >= 5:
            acts = [one for one in acts if "quoin" not in one.text() and one.text() != "Copy"]
        chosen = self.chance.choice(acts)
        chosen.trigger()
        sides.menu.close()
        self._name_side()
        return f"{chosen.text()} {number}"

    def _name_side(self) -> None:
        """Type a name where one is asked for."""
        line = self.column.sides.line
        if line.isVisible() and self.chance.random() < 0.7:
            QTest.keyClicks(line, self.chance.choice(NAMES)[:40])
            QTest.keyClick(line, self.chance.choice((Key.Key_Return, Key.Key_Escape)))

    def _option(self) -> str:
        count = max(len(self.session.sight.options), 1)
        number = self.chance.randrange(count)
        self.column.show_option(number)
        return str(number)

    def _form_button(self) -> str:
        form = self.column.particulars.form
        buttons = form.findChildren(QAbstractButton) if form is not None else []
        seen = [one for one in buttons if one.isVisible() and one.isEnabled()]
        if not seen:
            return "none"
        button = self.chance.choice(seen)
        said = button.text() or button.accessibleName()
        QTest.mouseClick(button, LEFT)
        return said

    def _form_field(self) -> str:
        form = self.column.particulars.form
        if form is None:
            return "none"
        fields = [
            one
            for kind in (QLineEdit, QComboBox)
            for one in form.findChildren(kind)
            if one.isVisible() and one.isEnabled()
        ]
        if not fields:
            return "none"
        field = self.chance.choice(fields)
        said = field.accessibleName()
        field.setFocus()
        if isinstance(field, QComboBox):
            QTest.keyClick(field, self.chance.choice((Key.Key_Up, Key.Key_Down, Key.Key_End)))
            return said
        text = self.chance.choice(SIZES)
        field.selectAll()
        QTest.keyClick(field, Key.Key_Delete)
        QTest.keyClicks(field, text)
        ends = (Key.Key_Return, Key.Key_Escape, Key.Key_Tab)
        QTest.keyClick(self._target(), self.chance.choice(ends))
        return f"{said} {text!r}"

    def _basis(self) -> str:
        basis, button = self.chance.choice(tuple(self.column.basis.buttons.items()))
        QTest.mouseClick(button, LEFT)
        return basis.value

    def _resize(self) -> str:
        size = self.chance.choice(((640, 690), (520, 480), (1100, 900)))
        self.column.resize(*size)
        return str(size)
