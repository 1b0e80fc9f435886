"""The desk is drawn off screen, in its own type; what a test leaves open fails it."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest
from PySide6.QtCore import QEvent, QPoint
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QApplication

from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK, load_fonts
from estimator.desktop.theme.tokens import Scheme
from tests.desktop.fakes import WorkersAtOnce, session_on

OFF_THE_SCREEN = QPoint(-1, -1)


@pytest.fixture(scope="session", autouse=True)
def lettered(qapp: QApplication) -> Iterator[None]:
    """Give the application its type, and leave what is loaded out of every later clearing."""
    load_fonts()
    # Widgets must be cleared in the window's thread, never in the file's: see ``tidying``.
    gc.disable()
    gc.collect()
    gc.freeze()
    yield
    gc.unfreeze()
    gc.enable()


@pytest.fixture(scope="module", autouse=True)
def tidied(lettered: None) -> Iterator[None]:
    """Clear what outlived its test, such as what a module's tests share."""
    yield
    gc.collect()
    assert not gc.isenabled(), "widgets may now be cleared in the file's thread"


@pytest.fixture(autouse=True)
def dressed(qapp: QApplication, lettered: None) -> Iterator[None]:
    """Dress the application as at start-up, and see that no window is left behind."""
    LOOK.apply(Scheme.LIGHT)
    # Where the test before left the pointer, a window of this one may be opened.
    QCursor.setPos(OFF_THE_SCREEN)
    yield
    qapp.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    qapp.processEvents()
    # All that a test made is young: nothing grows old but here.
    gc.collect(1)
    left = [one for one in qapp.topLevelWidgets() if one.isVisible()]
    assert not left, f"windows left open: {left}"
    LOOK.apply(Scheme.LIGHT)


@pytest.fixture
def session(qapp: QApplication, tmp_path: Path) -> Iterator[Session]:
    """A fresh call whose ranges settle at once; the file is not opened."""
    made = session_on(tmp_path, workers=WorkersAtOnce())
    yield made
    made.filing.close()
