"""Clears garbage in the window's thread only.

Python clears cycles of objects in whichever thread happens to make the next one. A widget cleared
in the file's thread would take timers and windows down from the wrong side, which Qt does not
survive. So the automatic round is switched off, and made here, when the window has time.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

LOOK_EVERY_MS = 250
YOUNG = 5_000
"""Objects made since the last round that make a round worth while."""
ROUNDS_TO_OLD = 40
"""Young rounds to one of everything."""


class Tidying(QObject):
    """Makes the rounds while the window runs."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Switch the automatic round off; what is loaded so far is looked at no more."""
        super().__init__(parent)
        self._was_on = gc.isenabled()
        gc.disable()
        gc.collect()
        # Modules and tables loaded at the start stay to the end: a round need not walk them.
        gc.freeze()
        self._rounds = 0
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_EVERY_MS)
        self._timer.timeout.connect(self.tidy)
        self._timer.start()

    def tidy(self) -> None:
        """Make a round if enough has gathered."""
        if gc.get_count()[0] < YOUNG:
            return
        self._rounds += 1
        gc.collect(2 if self._rounds % ROUNDS_TO_OLD == 0 else 1)

    def stop(self) -> None:
        """Give the rounds back to Python, if it made them before; no other thread may run now."""
        self._timer.stop()
        gc.unfreeze()
        if self._was_on:
            gc.enable()
