"""Run in a process of its own: a whole morning at the desk, with the window's pulse taken.

    python -m tests.desktop.run_of_work FOLDER
    python -m tests.desktop.run_of_work FOLDER --with-sleeper

Between two beats of a timer the window's own thread may have worked only so long. What counts is
the time the processor spent in that thread, not the time that went by: on a machine that does other
things too, a thread waits for its turn, and that is no fault of the program's. Time spent waiting
(for a file, for a lock) is no work; so the longest silence is told beside it.

With ``--with-sleeper`` one thing done takes too long, to show that it would be noticed.
Printed as one line of JSON: for each thing done, the longest work and the longest silence [ms].
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from PySide6.QtCore import QSettings, Qt, QTimer

from estimator.desktop import application
from estimator.desktop.application import Application
from estimator.quoting import edits
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from tests.journeys.call_by_keys import (
    ANSWERS,
    answer,
    command,
    found_a_firm,
    press,
    settled,
    wait_until,
)

BEAT_MS = 5
SLEEPER = "too much at once"


@dataclass
class Pulse:
    """Beats with the event loop, and notes the longest work and silence of each thing done."""

    doing: str = "start"
    worked: dict[str, float] = field(default_factory=dict)
    silent: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._timer = QTimer()
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self.beat)
        self._cpu, self._wall = time.thread_time(), time.monotonic()
        self._timer.start(BEAT_MS)

    def beat(self) -> None:
        cpu, wall = time.thread_time(), time.monotonic()
        for noted, now, before in (
            (self.worked, cpu, self._cpu),
            (self.silent, wall, self._wall),
        ):
            noted[self.doing] = max(noted.get(self.doing, 0.0), (now - before) * 1000)
        self._cpu, self._wall = cpu, wall

    def during(self, what: str, act: Callable[[], object]) -> None:
        """Note an act and what follows from it under its name."""
        self.beat()
        self.doing = what
        act()
        self.beat()


def at_rest(shown: Application) -> None:
    """Let the range settle and the file answer."""
    settled(shown)
    answered: list[object] = []
    shown.filing.ask(lambda _database: None, answered.append)
    wait_until(lambda: bool(answered), "the file did not answer")


def type_a_call(shown: Application, pulse: Pulse) -> None:
    pulse.during("new call", lambda: command(shown, Qt.Key.Key_N))
    for number in range(ANSWERS):
        pulse.during(f"answer {number + 1}", lambda: answer(shown))
    pulse.during("who is calling", lambda: command(shown, Qt.Key.Key_K))
    for letter in "Ines Marlowe\t01632 960417\t14 Tarn Street\tZZ9 1AA\r":
        pulse.during("typing", partial(press, letter))
    pulse.during("range", lambda: at_rest(shown))


def change_options(shown: Application, pulse: Pulse) -> None:
    session = shown.session
    for scopes in ((LOCAL,), (LOCAL, PANEL, REPOINT), (LOCAL, PANEL)):
        pulse.during("options", partial(session.apply, edits.offer(session.work, scopes)))
        pulse.during("options settled", lambda: at_rest(shown))
    for name in ("undo", "redo", "undo"):
        pulse.during(name, shown.desk.actions_[name].trigger)
    pulse.during("undone", lambda: at_rest(shown))


def visit(shown: Application, pulse: Pulse) -> None:
    """Go to every other place, and change the look."""
    for place in ("price_book", "jobs", "settings", "restore", "readings", "questions"):
        pulse.during(place, shown.desk.actions_[place].trigger)
        pulse.during(f"{place} filled", lambda: at_rest(shown))
    for scheme in ("dark", "larger", "usual_size", "light"):
        pulse.during(scheme, shown.desk.actions_[scheme].trigger)
        pulse.during(f"{scheme} shown", lambda: at_rest(shown))


def write_a_paper(shown: Application, pulse: Pulse) -> None:
    assert shown.desk.columns is not None
    check = shown.desk.columns.check
    pulse.during("paper", shown.desk.actions_["paper"].trigger)
    pulse.during("paper shown", lambda: wait_until(check.page.issue.isEnabled, "no paper came"))
    pulse.during("issue", check.page.issue.click)
    session = shown.session
    pulse.during(
        "issued", lambda: wait_until(lambda: bool(session.job.papers), "no paper was issued")
    )
    pulse.during("at rest", lambda: at_rest(shown))


def main() -> None:
    folder = Path(sys.argv[1])
    found_a_firm(folder)
    application.application(["perpend"])
    shown = Application(folder, QSettings(str(folder / "x.ini"), QSettings.Format.IniFormat))
    pulse = Pulse()
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None, "no session")
    wait_until(lambda: shown.filing.is_open, "the file did not open")
    shown.desk.activateWindow()
    at_rest(shown)
    for part in (type_a_call, change_options, write_a_paper, visit):
        part(shown, pulse)
    if "--with-sleeper" in sys.argv:
        pulse.during(SLEEPER, lambda: sum(n * n for n in range(8_000_000)))
    print(json.dumps({"worked": pulse.worked, "silent": pulse.silent}))
    shown.desk.close()
    shown.end()


if __name__ == "__main__":
    main()
