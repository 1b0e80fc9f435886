"""The rail of tools at the left of the board: an icon, a word and a letter each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QFrame, QLayout, QToolButton, QVBoxLayout, QWidget

from estimator.desktop.language import _, in_context
from estimator.desktop.theme.icons import icon
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.drafting import Drafting
from estimator.desktop.wall.tools.area import AreaTool
from estimator.desktop.wall.tools.bar import BarTool
from estimator.desktop.wall.tools.brick import BrickTool
from estimator.desktop.wall.tools.crack import CrackTool
from estimator.desktop.wall.tools.opening import OpeningTool
from estimator.desktop.wall.tools.outline import WallTool
from estimator.desktop.wall.tools.photo import PhotoTool
from estimator.desktop.wall.tools.point import PointTool
from estimator.desktop.wall.tools.thin_bed import ThinBedTool
from estimator.desktop.wall.tools.tool import Tool
from estimator.desktop.widgets.buttons import one_stop

TALL, WORD_FROM, LEAST_PX, SPACING = 50, 46, 24, 2
"""Height of a tool; from which it has its word; which it has at the least; and between two [px]."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One tool in the rail."""

    name: str
    word: str
    said: str
    letter: str
    """Key that takes it up while the keyboard is on the wall."""
    make: Callable[[Drafting], Tool]


def entries() -> tuple[Entry, ...]:
    """Return the tools from the top down."""
    return (
        Entry("point", in_context("tool", "Point"), _("Point and move"), "P", PointTool),
        Entry("wall", in_context("tool", "Wall"), _("Outline of the wall"), "W", WallTool),
        Entry("opening", in_context("tool", "Opening"), _("Window, door, vent"), "O", OpeningTool),
        Entry("crack", in_context("tool", "Crack"), _("Trace a crack"), "C", CrackTool),
        Entry("brick", in_context("tool", "Brick"), _("Mark cracked bricks"), "B", BrickTool),
        Entry("bar", in_context("tool", "Bar"), _("Set a bar by hand"), "S", BarTool),
        Entry("area", in_context("tool", "Repoint"), _("Area to repoint"), "R", AreaTool),
        Entry("thin_bed", in_context("tool", "Thin bed"), _("Thin bed"), "T", ThinBedTool),
        Entry("photo", in_context("tool", "Photo"), _("Photograph"), "F", PhotoTool),
    )


class Rail(QFrame):
    """The tools, one of them in hand."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Lay the tools out and take the first up."""
        super().__init__(parent)
        self._drafting = drafting
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self.tools: dict[str, Tool] = {}
        self.letters: dict[str, str] = {}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(SPACING)
        # Buttons are fitted to the rail, never the rail to them: the board may be low.
        layout.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)
        self.setMinimumSize(LOOK.px(64), len(entries()) * (LEAST_PX + SPACING))
        for entry in entries():
            self.tools[entry.name] = entry.make(drafting)
            self.letters[entry.letter] = entry.name
            button = self._button(entry)
            self._group.addButton(button)
            layout.addWidget(button)
        layout.addStretch()
        drafting.tool_changed.connect(self._show)
        LOOK.changed.connect(self._redraw)
        self._redraw()
        self.take("point")

    def take(self, name: str) -> None:
        """Take a tool up by its name."""
        self._drafting.take(self.tools[name])

    def take_by_letter(self, letter: str) -> bool:
        """Take up the tool a letter stands for; false where it stands for none."""
        name = self.letters.get(letter.upper(), "")
        if name:
            self.take(name)
        return bool(name)

    @property
    def buttons(self) -> Mapping[str, QToolButton]:
        """The buttons by the names of their tools."""
        return {one.objectName(): one for one in self._group.buttons()}  # type: ignore[misc]

    def _button(self, entry: Entry) -> QToolButton:
        button = QToolButton()
        button.setObjectName(entry.name)
        button.setProperty("role", "tool")
        button.setCheckable(True)
        button.setText(entry.word)
        said = _("{name} (key {letter})").format(name=entry.said, letter=entry.letter)
        button.setToolTip(said)
        button.setAccessibleName(entry.said)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        button.clicked.connect(partial(self._clicked, entry.name))
        return button

    def _clicked(self, name: str, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.take(name)

    def _show(self, tool: Tool) -> None:
        button = self.buttons.get(tool.name)
        if button is not None:
            button.setChecked(True)
            one_stop(self.buttons.values())

    def _redraw(self) -> None:
        self.setMinimumWidth(LOOK.px(64))
        size = LOOK.px(22)
        for name, button in self.buttons.items():
            button.setIcon(icon(f"tool_{name}"))
            button.setIconSize(QSize(size, size))
        self._fit_in()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fit the tools into the height there is."""
        super().resizeEvent(event)
        self._fit_in()

    def _fit_in(self) -> None:
        """Give each tool its share of the height; where that is too low for a word, its icon."""
        buttons = self._group.buttons()
        gaps = SPACING * (len(buttons) - 1)
        share = (self.height() - gaps) // len(buttons)
        tall = min(max(share, LEAST_PX), LOOK.px(TALL))
        style = Qt.ToolButtonStyle.ToolButtonTextUnderIcon
        if tall < LOOK.px(WORD_FROM):
            style = Qt.ToolButtonStyle.ToolButtonIconOnly
        for button in buttons:
            button.setToolButtonStyle(style)  # type: ignore[attr-defined]
            button.setFixedSize(LOOK.px(64), tall)
