"""Run in a process of its own: a whole call by keys alone, to an issued estimate, then a kill.

    python -m tests.journeys.call_by_keys FOLDER

What happened is printed as one line of JSON before the process kills itself half-way through
typing, as a power cut would.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QDeadlineTimer, QEventLoop, QSettings, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.state import Sight
from estimator.store import settings

KEYS = {
    "warning": "8\r",
    "growing": "1",
    "filled": "0",
    "works": "4\r",
    "ground": "5\r",
    "length": "18 courses\r",
    "count": "1\r",
    "bricks": "0\r",
    "place": "1\r",
    "shape": "1\r",
    "below": "1\r",
    "height": "1\r",
}
"""What is pressed at each question, in whatever order it comes; two of them are *not sure*."""
FIRM = Path(__file__).resolve().parents[2] / "demo" / "firm.json"
ANSWERS = 8
LONGEST_WAIT_MS = 60_000


def wait_until(is_so: Callable[[], bool], what: str) -> None:
    deadline = QDeadlineTimer(LONGEST_WAIT_MS)
    loop = QEventLoop()
    timer = QTimer()
    timer.timeout.connect(loop.quit)
    timer.start(2)
    while not is_so():
        if deadline.hasExpired():
            raise TimeoutError(what)
        loop.exec()


def press(text: str) -> None:
    """Press keys wherever the keyboard is, one after the other."""
    for letter in text:
        target = QApplication.focusWidget()
        if letter == "\r":
            QTest.keyClick(target, Qt.Key.Key_Return)
        else:
            QTest.keyClick(target, letter)


def command(shown: Application, key: Qt.Key) -> None:
    """Press a key with Ctrl."""
    target = QApplication.focusWidget() or shown.desk
    QTest.keyClick(target, key, Qt.KeyboardModifier.ControlModifier)


def settled(shown: Application) -> Sight:
    wait_until(lambda: not shown.session.sight.is_settling, "the range did not settle")
    return shown.session.sight


def width(sight: Sight) -> int:
    assert sight.outlook is not None
    band = sight.outlook.bands[0]
    return band.high.pence - band.low.pence


def answer(shown: Application) -> dict[str, Any]:
    """Answer the open question, and tell what that did to the range."""
    assert shown.desk.columns is not None
    card = shown.desk.columns.questions.card
    before = settled(shown)
    assert card.question is not None
    key = card.question.key
    is_best = bool(before.outlook and before.outlook.worths[0].question == key)
    press(KEYS.get(key, "0\r"))
    if card.question is not None and card.question.key == key:
        press("\r")
    after = settled(shown)
    return {"question": key, "best": is_best, "before": width(before), "after": width(after)}


def take_the_call(shown: Application) -> dict[str, Any]:
    assert shown.desk.columns is not None
    command(shown, Qt.Key.Key_N)
    steps = [answer(shown) for _ in range(ANSWERS)]
    command(shown, Qt.Key.Key_K)
    press("Ines Marlowe\t01632 960417\t14 Tarn Street\tZZ9 1AA\r")
    outlook = settled(shown).outlook
    assert outlook is not None
    command(shown, Qt.Key.Key_Return)
    bands = [(band.low.pence, band.high.pence) for band in outlook.bands]
    return {"steps": steps, "bands": bands}


def issue(shown: Application) -> str:
    """Check and issue by keys: Ctrl+Enter stands for the filled button here too."""
    assert shown.desk.columns is not None
    check = shown.desk.columns.check
    wait_until(check.page.issue.isEnabled, "the paper was not ready to go out")
    command(shown, Qt.Key.Key_Return)
    wait_until(lambda: bool(shown.session.job.papers), "no paper was issued")
    return shown.session.job.papers[-1]


def found_a_firm(folder: Path) -> None:
    """Make the file, with the name of a firm in it, as the settings page would."""
    database = kept.opened(folder)
    settings.keep(database, kept.FIRM, FIRM.read_text(encoding="utf-8"))
    database.close()


def main() -> None:
    folder = Path(sys.argv[1])
    found_a_firm(folder)
    QApplication.setStyle("Fusion")
    application.application(["perpend"])
    looks = QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat)
    shown = Application(folder, looks)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    shown.desk.activateWindow()
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    wait_until(lambda: QApplication.focusWidget() is not None, "nothing has the keyboard")
    told = take_the_call(shown)
    told["number"] = issue(shown)
    told["uid"] = shown.session.job.uid
    # One more answer, kept and not yet a revision: then the process dies.
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert shown.desk.columns is not None
    shown.desk.columns.questions.open("owners")
    shown.desk.columns.questions.take_focus()
    saved: list[object] = []
    shown.session.saved.connect(saved.append)
    press("3\r")
    wait_until(lambda: bool(saved), "what was typed was not kept")
    told["asked"] = [one.question for one in shown.session.work.survey.asked]
    print(json.dumps(told), flush=True)
    os.kill(os.getpid(), signal.SIGKILL)


if __name__ == "__main__":
    main()
