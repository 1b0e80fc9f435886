"""Run in a process of its own: opens a bare window or the desk, and tells when what was there.

python -m tests.benchmarks.started bare|desk FOLDER    with PERPEND_BEGAN set to time.time()
"""

from __future__ import annotations

import json
import os
import sys
import time
from pathlib import Path

BEGAN = float(os.environ.get("PERPEND_BEGAN", "0"))
TOLD: dict[str, float] = {}


def note(name: str) -> None:
    """Note a moment, once. [ms]"""
    TOLD.setdefault(name, (time.time() - BEGAN) * 1000)


def bare() -> None:
    """Open a window with one field in it."""
    from PySide6.QtCore import QTimer  # noqa: PLC0415
    from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow  # noqa: PLC0415

    app = QApplication([])
    window = QMainWindow()
    field = QLineEdit()
    window.setCentralWidget(field)
    window.resize(1366, 740)
    window.show()
    field.setFocus()
    app.processEvents()
    note("painted")
    note("ready")
    QTimer.singleShot(0, app.quit)
    app.exec()


def desk(folder: Path) -> None:
    """Open the desk, and close it once its cursor stands ready and the range has settled."""
    from PySide6.QtCore import QSettings, QTimer  # noqa: PLC0415

    from estimator.desktop import application  # noqa: PLC0415

    app = application.application(["perpend"])
    settings = QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat)
    started = application.Application(folder, settings)

    # Connected before the program's own act, so that nothing comes between.
    started.desk.painted.connect(lambda: note("painted"))
    started.start()

    def look() -> None:
        focused = started.desk.focusWidget()
        if focused is not None and started.desk.columns is not None:
            note("ready")
        session = getattr(started, "session", None)
        if session is not None and session.sight.outlook is not None and session.filing.is_open:
            note("settled")
            TOLD["rss_mb"] = _rss()
            TOLD["pss_workers_mb"] = _pss_of_children()
            timer.stop()
            started.desk.close()

    timer = QTimer()
    timer.timeout.connect(look)
    timer.start(1)
    app.exec()
    started.end()


def _rss() -> float:
    """Return the memory of this process now. [MB]

    The most it ever had, which the system also tells, counts its parent's before it began.
    """
    lines = Path("/proc/self/status").read_text().splitlines()
    return int(next(line for line in lines if line.startswith("VmRSS:")).split()[1]) / 1024


def _pss_of_children() -> float:
    """Return the memory of the worker processes, shared pages counted by share. [MB]"""
    task = Path("/proc/self/task")
    children = [pid for one in task.iterdir() for pid in (one / "children").read_text().split()]
    held = 0
    for pid in children:
        for line in Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines():
            if line.startswith("Pss:"):
                held += int(line.split()[1])
    return held / 1024


if __name__ == "__main__":
    bare() if sys.argv[1] == "bare" else desk(Path(sys.argv[2]))
    print(json.dumps(TOLD))
