"""The keyboard list, made from the commands themselves, and what the program is."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QDialog, QGridLayout, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from estimator import __version__
from estimator.desktop.commands import all_commands, menu_titles
from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import button
from estimator.desktop.widgets.words import words


def keys_dialog(parent: QWidget) -> QDialog:
    """Return the list of every command that has a key."""
    grid = QGridLayout()
    grid.setHorizontalSpacing(LOOK.px(24))
    grid.setVerticalSpacing(LOOK.px(6))
    row = 0
    for menu, title in menu_titles().items():
        keyed = [one for one in all_commands() if one.menu == menu and _keys(one.keys)]
        if keyed:
            grid.addWidget(words(_plain(title), role="title"), row, 0, 1, 2)
            row += 1
        for command in keyed:
            grid.addWidget(words(_plain(command.text), wrap=False), row, 0)
            grid.addWidget(words(_keys(command.keys), role="second", wrap=False), row, 1)
            row += 1
    for title, listed in (
        (_("In a question"), _in_a_question()),
        (_("On the wall"), on_the_wall()),
        (_("With a tool in hand"), with_a_tool()),
    ):
        grid.addWidget(words(title, role="title"), row, 0, 1, 2)
        for act, keys in listed:
            row += 1
            grid.addWidget(words(act, wrap=False), row, 0)
            grid.addWidget(words(keys, role="second", wrap=False), row, 1)
        row += 1
    return _dialog(parent, _("Keyboard"), grid)


def about_dialog(parent: QWidget) -> QDialog:
    """Return what the program is, and what it is not."""
    grid = QGridLayout()
    said = (
        _("Perpend {version}").format(version=__version__),
        _("Measures, prices and quotes crack stitching, repointing and brick repairs."),
        _(
            "It designs nothing and certifies nothing: a wall that moves is for a chartered "
            "structural engineer, and local rules come first."
        ),
    )
    for row, text in enumerate(said):
        grid.addWidget(words(text, role="title" if row == 0 else "text"), row, 0)
    return _dialog(parent, _("About Perpend"), grid)


def _in_a_question() -> tuple[tuple[str, str], ...]:
    return (
        (_("Take a choice"), "1 … 9"),
        (_("Not sure"), "0"),
        (_("Take the answer and go on"), _("Enter")),
        (_("Back to the question best asked"), _("Esc")),
        (_("Take an answer back"), _("Del")),
    )


def on_the_wall() -> tuple[tuple[str, str], ...]:
    """Return what keys do while the keyboard is on the wall, the tools first."""
    # Loaded only when somebody asks: it brings the pricing engine.
    from estimator.desktop.wall.rail import entries  # noqa: PLC0415

    return (
        *((one.said, one.letter) for one in entries()),
        (_("From mark to mark"), _("Tab")),
        (_("With a tool: from joint to joint"), _("Arrow keys")),
        (_("Press the tool there"), _("Enter")),
        (_("Take one step back, or remove what is selected"), _("Del")),
        (_("Put the tool down"), _("Esc")),
        (_("Exact sizes of what is selected"), "E"),
        (_("Move it by a joint"), _("Ctrl and an arrow")),
        (_("Dimensions"), "D"),
        (_("To the price of a mark, and back"), "M"),
        (_("Nearer, further, all the work"), "+ - 0"),
    )


def with_a_tool() -> tuple[tuple[str, str], ...]:
    """Return what keys do that mean something to one tool alone."""
    # Loaded only when somebody asks: as above.
    from estimator.desktop.wall.rail import entries  # noqa: PLC0415
    from estimator.desktop.wall.tools.own_keys import own_keys  # noqa: PLC0415

    words_of = {entry.name: entry.word for entry in entries()}
    said = _("{tool}: {act}")
    return tuple(
        (said.format(tool=words_of[one.tool], act=one.said), one.shown) for one in own_keys()
    )


def _dialog(parent: QWidget, title: str, grid: QGridLayout) -> QDialog:
    dialog = QDialog(parent)
    dialog.setWindowTitle(title)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    inside = QWidget()
    inside.setLayout(grid)
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setWidget(inside)
    scroll.setAccessibleName(title)
    close = button(_("Close"))
    close.clicked.connect(dialog.accept)
    foot = QHBoxLayout()
    foot.addStretch()
    foot.addWidget(close)
    layout = QVBoxLayout(dialog)
    layout.setContentsMargins(20, 20, 20, 16)
    layout.addWidget(scroll)
    layout.addLayout(foot)
    dialog.resize(LOOK.px(520), LOOK.px(560))
    return dialog


def _keys(keys: tuple[object, ...]) -> str:
    shown = [
        QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText)  # type: ignore[call-overload]
        for key in keys
    ]
    return ", ".join(dict.fromkeys(one for one in shown if one))


def _plain(text: str) -> str:
    return text.replace("&", "")
