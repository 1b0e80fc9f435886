"""Every widget of every page, looked at in both schemes, at the usual size and at twice it.

WCAG 2.2: 2.5.8 target size, 4.1.2 name, 1.4.4 resize text; plain text so that nothing a person
typed is ever read as markup; and no sentence that escapes translation.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QSettings
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication, QWidget

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.quoting import edits
from estimator.store import settings
from estimator.survey.survey import Asked, Party
from tests.desktop import walk, wall_scenes
from tests.desktop.fakes import DEMO
from tests.journeys.call_by_keys import wait_until

pytestmark = pytest.mark.slow
HOSTILE = Party("<b>Ines</b> & <img src=x> Marlowe", address=("14 <i>Tarn</i> Street",))
ANSWERS = (
    Asked("place", ("under_window",)),
    Asked("shape", ("stepped",)),
    Asked("length", amount=18.0, unit="course", said="18 courses"),
    Asked("growing", ("same",)),
)
SCENES = (
    *("call", "refer", "stop", "paper", "survey_paper"),
    *("jobs", "price_book", "settings", "restore"),
    *wall_scenes.SCENES,
)
CASES = [(scene, Scheme.LIGHT, 1.0) for scene in SCENES]
CASES += [(scene, Scheme.DARK, 2.0) for scene in SCENES]


class Flashes(QObject):
    """Notes every window that shows, be it for a moment."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        is_widget = event.type() is QEvent.Type.Show and isinstance(watched, QWidget)
        if is_widget and watched.isWindow():  # type: ignore[attr-defined]
            self.seen.append(type(watched).__name__)
        return False


@pytest.fixture(scope="module")
def desk(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Application]:
    """The whole program on a file with a firm in it, with a hostile name on the desk."""
    folder = tmp_path_factory.mktemp("walk")
    database = kept.opened(folder)
    settings.keep(database, kept.FIRM, (DEMO / "firm.json").read_text(encoding="utf-8"))
    database.close()
    application.application(["perpend"])
    flashes = Flashes()
    qapp.installEventFilter(flashes)
    shown = Application(folder, QSettings(str(folder / "x.ini"), QSettings.Format.IniFormat))
    shown.setProperty("flashes", flashes)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    yield shown
    shown.desk.close()
    shown.end()
    shown.desk.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.fixture(autouse=True)
def dressed() -> None:
    """Take the place of the fixture that looks for windows left open: this one stays."""


def go(shown: Application, scene: str) -> None:
    """Bring a scene to the desk."""
    if scene in wall_scenes.SCENES:
        wall_scenes.go(shown, scene, HOSTILE)
        settle(shown)
        return
    session = shown.session
    shown.desk.new_call()
    session.apply(edits.name_customer(session.work, HOSTILE))
    for asked in ANSWERS:
        session.apply(edits.answer(session.work, asked))
    if scene == "refer":
        session.apply(edits.answer(session.work, Asked("growing", ("bigger",))))
    elif scene == "stop":
        session.apply(edits.answer(session.work, Asked("warning", ("loose",))))
    settle(shown)
    if scene not in ("call", "refer", "stop"):
        shown.desk.actions_[scene].trigger()
        settle(shown)
    if scene == "paper":
        assert shown.desk.columns is not None
        wait_until(shown.desk.columns.check.page.issue.isEnabled, "no paper came")
    if scene == "survey_paper":
        assert shown.desk.columns is not None
        wait_until(shown.desk.columns.survey.page.email.isEnabled, "no paper came")
    QApplication.processEvents()


def settle(shown: Application) -> None:
    wait_until(lambda: not shown.session.sight.is_settling, "the range did not settle")
    answered: list[object] = []
    shown.filing.ask(lambda _database: None, answered.append)
    wait_until(lambda: bool(answered), "the file did not answer")
    QApplication.processEvents()


@pytest.mark.parametrize(("scene", "scheme", "scale"), CASES)
def test_every_widget(desk: Application, scene: str, scheme: Scheme, scale: float) -> None:
    LOOK.apply(scheme, scale=scale)
    desk.desk.resize(*((1366, 768) if scale == 1.0 else (1920, 1200)))
    go(desk, scene)
    window = desk.desk
    found = {
        "without a name": walk.nameless(window),
        "too small to hit": walk.too_small(window),
        "read as markup": walk.marked_up(window),
        "cut off": walk.cut_off(window),
    }
    assert not {fault: what for fault, what in found.items() if what}


def test_no_window_flashes_up_beside_the_desk(desk: Application) -> None:
    """A widget shown before it has a parent is a window for a moment, and takes the keyboard."""
    for scene in SCENES:
        go(desk, scene)
    assert set(desk.property("flashes").seen) == {"Desk"}


def test_no_key_means_two_things(desk: Application) -> None:
    keys: dict[str, list[str]] = {}
    for action in desk.desk.findChildren(QAction):
        for key in action.shortcuts():
            keys.setdefault(key.toString(), []).append(action.objectName() or action.text())
    assert not {key: names for key, names in keys.items() if len(names) > 1}


def test_every_command_is_in_the_menus_and_does_something(desk: Application) -> None:
    named = [one for one in desk.desk.findChildren(QAction) if one.objectName()]
    idle = [one.objectName() for one in named if not one.isEnabled()]
    assert set(idle) <= {"undo", "redo"}


def test_menus_begin_with_different_letters(desk: Application) -> None:
    bar = desk.desk.menuBar()
    for menu in [bar, *(action.menu() for action in bar.actions())]:
        letters = [
            found.group(1).lower()
            for action in menu.actions()
            if (found := re.search(r"&(\w)", action.text()))
        ]
        assert len(letters) == len(set(letters)), [one.text() for one in menu.actions()]


def test_the_file_holds_no_markup_made_of_a_name(desk: Application, tmp_path: Path) -> None:
    go(desk, "call")
    assert desk.desk.windowTitle().startswith("<b>Ines</b>")
    assert any("<b>Ines</b>" in label.text() for label in walk.labels(desk.desk))
