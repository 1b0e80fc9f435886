"""Every command of the window, in the order of its menus; the keyboard list is made from these."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from estimator.desktop.language import _, in_context

Key = QKeySequence.StandardKey
Keys = tuple[QKeySequence.StandardKey | str, ...]
ONCE = ("new", "paper", "email", "print", "survey_paper", "elevation")
"""Commands that a key held down gives once."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command: where it stands, what it says, which keys give it."""

    name: str
    menu: str
    text: str
    keys: Keys = ()
    starts_group: bool = False
    role: QAction.MenuRole = QAction.MenuRole.NoRole


def menu_titles() -> dict[str, str]:
    """Return the menus in their order."""
    return {
        "file": in_context("menu", "&File"),
        "edit": in_context("menu", "&Edit"),
        "view": in_context("menu", "&View"),
        "job": in_context("menu", "&Job"),
        "help": in_context("menu", "&Help"),
    }


def all_commands() -> tuple[Command, ...]:
    """Return every command; the names are what the parts of the window hang their acts on."""
    return (
        Command("new", "file", _("&New call"), (Key.New,)),
        Command("jobs", "file", _("&Jobs"), (Key.Open,)),
        Command("price_book", "file", _("&Price book"), ("Ctrl+B",)),
        Command("back_up", "file", _("&Back up now"), starts_group=True),
        Command("restore", "file", _("&Restore a backup…")),
        Command("print", "file", _("Pr&int…"), (Key.Print,), starts_group=True),
        Command(
            "settings",
            "file",
            _("&Settings"),
            ("Ctrl+,",),
            starts_group=True,
            role=QAction.MenuRole.PreferencesRole,
        ),
        Command("quit", "file", _("&Quit"), ("Ctrl+Q",), role=QAction.MenuRole.QuitRole),
        Command("undo", "edit", _("&Undo"), (Key.Undo,)),
        Command("redo", "edit", _("&Redo"), (Key.Redo, "Ctrl+Shift+Z")),
        Command("find", "edit", _("&Find a job or a rate"), (Key.Find,), starts_group=True),
        Command("questions", "view", _("What we &know"), ("F2",)),
        Command("wall", "view", _("The &wall"), ("F3",)),
        Command("money", "view", _("The &money"), ("F4",)),
        Command("agreement", "view", _("What is a&greed"), ("F5",)),
        Command("works", "view", _("W&orks"), ("F8",)),
        Command("account", "view", _("&Account"), ("F9",)),
        Command("compare", "view", _("&Before and after"), ("F6",)),
        Command("light", "view", _("&Light colours"), starts_group=True),
        Command("dark", "view", _("&Dark colours")),
        Command("larger", "view", _("La&rger"), (Key.ZoomIn, "Ctrl+="), starts_group=True),
        Command("smaller", "view", _("&Smaller"), (Key.ZoomOut,)),
        Command("usual_size", "view", _("&Usual size"), ("Ctrl+0",)),
        Command("full_screen", "view", _("&Full screen"), (Key.FullScreen,)),
        Command("next_question", "job", _("&Next question"), ("Ctrl+Down",)),
        Command("customer", "job", _("&Who is calling"), ("Ctrl+K",)),
        Command("offer", "job", _("What is &offered"), ("Ctrl+R",), starts_group=True),
        Command("paper", "job", _("Write the &paper"), ("Ctrl+Return",)),
        Command("email", "job", _("&E-mail the paper"), ("Ctrl+E",)),
        Command("survey_paper", "job", _("&Survey paper"), ("F7",), starts_group=True),
        Command("elevation", "job", _("Elevation for an en&gineer (SVG)…")),
        Command("readings", "job", _("Crack &readings"), ("Ctrl+M",), starts_group=True),
        Command("keys", "help", _("&Keyboard"), (Key.HelpContents,)),
        Command("about", "help", _("&About Perpend"), role=QAction.MenuRole.AboutRole),
    )


class Actions:
    """The commands as Qt actions in the menus of a window; acts are hung on by name."""

    def __init__(self, window: QMainWindow) -> None:
        """Fill the menu bar."""
        self._actions: dict[str, QAction] = {}
        menus = {name: window.menuBar().addMenu(title) for name, title in menu_titles().items()}
        for command in all_commands():
            self._add(window, menus[command.menu], command)

    def __getitem__(self, name: str) -> QAction:
        return self._actions[name]

    def hang(self, acts: Mapping[str, Callable[[], object]]) -> None:
        """Have commands do something; those without an act stay grey."""
        for name, act in acts.items():
            action = self._actions[name]
            # The act gets no argument: Qt would hand it the tick of a box that is not there.
            action.triggered.connect(lambda _ticked=False, act=act: act())
            action.setEnabled(True)

    def _add(self, window: QMainWindow, menu: QMenu, command: Command) -> None:
        if command.starts_group:
            menu.addSeparator()
        action = QAction(command.text, window)
        action.setObjectName(command.name)
        # The standard keys differ by system, so one named beside them may be among them already.
        keys = [QKeySequence(key) for key in command.keys]
        action.setShortcuts(list({key.toString(): key for key in keys}.values()))
        action.setMenuRole(command.role)
        # Whoever leans on Ctrl+Enter wants one paper, and not the next thing and the next.
        action.setAutoRepeat(command.name not in ONCE)
        action.setEnabled(False)
        menu.addAction(action)
        self._actions[command.name] = action
