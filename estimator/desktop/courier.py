"""Carries calls from other threads to the window's own."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal, Slot

Call = Callable[[], None]


class Courier(QObject):
    """Runs what it is handed, in the thread it was made in and in the order it came."""

    _came = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        """Belong to the thread that makes it."""
        super().__init__(parent)
        self._came.connect(self._run, Qt.ConnectionType.QueuedConnection)

    def carry(self, call: Call) -> None:
        """Have a call made in the window's thread; may be used from any."""
        self._came.emit(call)

    @Slot(object)
    def _run(self, call: Call) -> None:
        call()
