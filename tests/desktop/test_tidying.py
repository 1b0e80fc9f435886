"""Garbage is cleared in the window's thread only: from the start until every other has ended."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path
from threading import current_thread, main_thread
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QEvent, QSettings
from PySide6.QtWidgets import QApplication

from estimator.desktop import application
from estimator.desktop.application import Application
from estimator.desktop.tidying import Tidying
from tests.journeys.call_by_keys import wait_until

if TYPE_CHECKING:
    from estimator.store.database import Database


@pytest.fixture(autouse=True)
def dressed() -> None:
    """Take the place of the fixture that dresses every window anew: one here has ended."""


@pytest.fixture
def rounds_of_python(lettered: None) -> Iterator[None]:
    """Python makes its rounds, as in a program that has just begun; the tests' own are off."""
    gc.enable()
    yield
    gc.disable()


def test_a_program_that_ends_clears_nothing_in_the_files_thread(
    qapp: QApplication, tmp_path: Path, rounds_of_python: None
) -> None:
    """The rounds came back before the last save: the file's thread could clear widgets."""
    application.application(["perpend"])
    shown = Application(tmp_path, QSettings(str(tmp_path / "x.ini"), QSettings.Format.IniFormat))
    shown.start()
    wait_until(lambda: hasattr(shown, "tidying"), "it did not begin")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    assert not gc.isenabled()
    # Every page is made, so that none is still to come when the window is cleared away.
    assert shown.places.jobs is not None
    assert shown.places.price_book is not None
    assert shown.places.settings is not None
    seen: list[tuple[bool, bool]] = []

    def last_asked(_database: Database) -> None:
        seen.append((current_thread() is main_thread(), gc.isenabled()))

    shown.session.closing.connect(lambda: shown.filing.ask(last_asked))
    shown.desk.close()
    shown.end()
    assert seen == [(False, False)]
    assert gc.isenabled()
    gc.disable()
    # What was answered on the way is still told, to pages that are still there.
    qapp.processEvents()
    shown.desk.deleteLater()
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    gc.collect()


@pytest.mark.parametrize("is_on", [True, False])
def test_the_rounds_are_given_back_as_they_were(
    qapp: QApplication, rounds_of_python: None, *, is_on: bool
) -> None:
    """Once ended, a program left Python's rounds on for whoever had switched them off before."""
    if not is_on:
        gc.disable()
    tidying = Tidying()
    assert not gc.isenabled()
    tidying.stop()
    assert gc.isenabled() is is_on
