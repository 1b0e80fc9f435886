"""The whole desk in a language nobody speaks: every word is looked up, and every word has room.

What the engine, the file and the papers say comes in the language of the paper and is let through;
so is what a person typed. Any other plain letter on the screen was never given to a translator.
"""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Iterable, Iterator, Set
from contextlib import closing
from dataclasses import fields

import pytest
from babel import Locale
from PySide6.QtCore import QEvent, QSettings
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QVBoxLayout, QWidget

from estimator import resources
from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.language import LANGUAGE
from estimator.desktop.price_book import asked
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.tools.own_keys import own_keys
from estimator.sources import all_sources
from estimator.store import catalogue, settings
from estimator.store.book_parts import GROUPS, SETTING_GROUPS, Kind
from estimator.store.database import Database
from estimator.survey import photo_points
from estimator.survey.photo import squared
from estimator.takeoff import rules, scope
from tests.desktop import spoken, walk
from tests.desktop.fakes import DEMO
from tests.desktop.pseudo import ACCENTED, CLOSE, OPEN, Pseudo, forget_words
from tests.desktop.test_walk import HOSTILE, SCENES, go, settle
from tests.journeys.call_by_keys import wait_until

FURTHER = ("readings", "offer", "customer", "keys", "about")
ON_PAPER = ("Sheet", "LetterHead", "Choice in OfferRow")
"""A paper, its head, and a price as it is printed: they speak the paper's own language."""
NAMES = {"Perpend", "VAT", "GB", "mm", "cm", "m", "m²", "kg", "L", "h", "min", "px"}
"""A name; a tax; units (SI, and those used with it), which are the same in every language."""
PLAIN = re.compile(r"[A-Za-z]")
LOOKED_UP = re.compile(f"[{ACCENTED}{OPEN}{CLOSE}]+")


@pytest.fixture(scope="module")
def desk(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Application]:
    """The whole program on a file with a firm in it, speaking the language."""
    LANGUAGE.catalogue, before = Pseudo(), LANGUAGE.catalogue
    forget_words()
    folder = tmp_path_factory.mktemp("pseudo")
    with closing(kept.opened(folder)) as database:
        settings.keep(database, kept.FIRM, (DEMO / "firm.json").read_text(encoding="utf-8"))
    application.application(["perpend"])
    shown = Application(folder, QSettings(str(folder / "x.ini"), QSettings.Format.IniFormat))
    LOOK.apply(Scheme.LIGHT)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    shown.desk.resize(1366, 768)
    yield shown
    LANGUAGE.catalogue = before
    forget_words()
    shown.desk.close()
    shown.end()
    shown.desk.deleteLater()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.fixture(autouse=True)
def dressed() -> None:
    """Take the place of the fixture that looks for windows left open: this one stays."""


def shipped() -> frozenset[str]:
    """Every text of the shipped data, of the demonstration's firm, and of languages and lands."""
    firm = json.loads((DEMO / "firm.json").read_text(encoding="utf-8"))
    files = [resources.data(name) for name in resources.NAMES if name.endswith(".json")]
    locale = Locale.parse(LANGUAGE.tag)
    months = [locale.months["format"][width] for width in ("abbreviated", "wide")]
    days = [locale.days["format"][width] for width in ("abbreviated", "wide")]
    lands = dict(locale.territories)
    held = (files, firm, HOSTILE, scope.ALL, scope.UNSTITCHED, GROUPS, SETTING_GROUPS)
    return frozenset(spoken.of_data([*held, *months, *days, lands, list(NAMES)]))


@pytest.fixture(scope="module")
def known(desk: Application) -> set[str]:
    """Every text of the jobs shown so far and of the file; grows with each look at a job."""
    found: set[str] = set(shipped())
    desk.session.sight_changed.connect(lambda sight: found.update(spoken.of_data(sight)))
    found.update(spoken.of_data([desk.session.practice, desk.folder]))
    found.update(map(str, all_sources().values()))
    found.update(rules.rule_info(one.name).bounds for one in fields(rules.Rules))
    assert desk.desk.columns is not None
    found.update(desk.desk.columns.wall.rail.letters)
    found.update(key for one in own_keys() for key in one.shown.split())
    for action in desk.desk.findChildren(QAction):
        native = QKeySequence.SequenceFormat.NativeText
        found.update(key.toString(native) for key in action.shortcuts())
    return found


def in_file(shown: Application) -> set[str]:
    """Every text of the price book in the file."""
    held: list[object] = []
    shown.filing.ask(_in_file, held.append)
    wait_until(lambda: bool(held), "the file did not answer")
    return set(spoken.of_data(held))


def of_photographs(shown: Application) -> set[str]:
    """Every sentence of the engine on how far the photographs on the wall can be trusted."""
    assert shown.desk.columns is not None
    survey = shown.session.work.survey
    square = [one for one in survey.photos if len(one.points) >= photo_points.FEWEST]
    return {sentence for one in square for sentence in squared(one).limits}


def _in_file(database: Database) -> list[object]:
    entries = [one for kind in Kind for one in catalogue.entries(database, kind)]
    told = [asked.told_of(database, entry) for entry in entries]
    return [entries, told, asked.book(database)]


def unspoken(texts: Iterable[tuple[str, str]], known: Set[str]) -> dict[str, str]:
    """Return what was never looked up and is no data, with where it stands."""
    whole = "\n".join(known)
    by_length = sorted((one for one in known if PLAIN.search(one)), key=len, reverse=True)
    found: dict[str, str] = {}
    for where, text in set(texts):
        for piece in LOOKED_UP.split(text.replace("&&", "&")):
            # A text painted where there is little room ends in dots.
            plain = piece.strip().removesuffix("…").rstrip()
            if PLAIN.search(plain) and plain not in whole and _left(plain, by_length):
                found[plain] = f"{where}: {text}"
    return found


def _left(piece: str, known: list[str]) -> bool:
    """Return whether letters are left once everything that is data is taken away."""
    for one in known:
        if one in piece:
            piece = re.sub(rf"(?<![A-Za-z]){re.escape(one)}(?![A-Za-z])", " ", piece)
            if not PLAIN.search(piece):
                return False
    return True


def window_of(shown: Application, scene: str) -> QWidget:
    """Bring a scene to the desk, and return the window it is in."""
    if scene not in FURTHER:
        go(shown, scene)
        return shown.desk
    go(shown, "call")
    shown.desk.actions_[scene].trigger()
    settle(shown)
    dialogs = [one for one in shown.desk.findChildren(QDialog) if one.isVisible()]
    return dialogs[0] if dialogs else shown.desk


@pytest.mark.slow
@pytest.mark.parametrize("scene", [*SCENES, *FURTHER])
def test_every_word_is_looked_up_and_has_room(
    desk: Application, known: set[str], scene: str
) -> None:
    window = window_of(desk, scene)
    with spoken.painted() as painted:
        window.grab()
    said = [one for one in spoken.of_window(window) if not any(kind in one[0] for kind in ON_PAPER)]
    hand = [("painted", text) for text in painted]
    cut = walk.cut_off(window)
    loose = unspoken([*said, *hand], known | in_file(desk) | of_photographs(desk))
    if window is not desk.desk:
        window.close()
    assert not loose, json.dumps(loose, indent=1, ensure_ascii=False)
    assert not cut


def test_a_word_nobody_looked_up_is_noticed(qapp: QApplication) -> None:
    window = QWidget()
    layout = QVBoxLayout(window)
    for text in ("⟦Šàṽé⟧ it", "Wall, 12 mm", "Helical bar", "⟦ƀàŕ⟧"):
        layout.addWidget(QLabel(text))
    known = frozenset({"Wall", "mm", "Helical bar in grout"})
    assert set(unspoken(spoken.of_window(window), known)) == {"it"}
    window.deleteLater()
