"""Ends the program when the system asks it to, as at the end of a session: everything is kept."""

from __future__ import annotations

import signal
import socket

from PySide6.QtCore import QObject, QSocketNotifier, Signal

ASKING = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGINT", "SIGHUP") if hasattr(signal, name)
)


class Ending(QObject):
    """Hears of the system's wish in the window's own thread."""

    asked = Signal()
    """The system asks the program to end."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin to listen."""
        super().__init__(parent)
        # Python hears a signal only between two steps of its own, and Qt makes none while it
        # waits; a byte through a socket wakes it.
        self._ours, self._theirs = socket.socketpair()
        for end in (self._ours, self._theirs):
            end.setblocking(False)
        self._before = {one: signal.signal(one, _nothing) for one in ASKING}
        self._wakeup_before = signal.set_wakeup_fd(self._theirs.fileno())
        self._notifier = QSocketNotifier(self._ours.fileno(), QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._heard)

    def stop(self) -> None:
        """Listen no more."""
        self._notifier.setEnabled(False)
        signal.set_wakeup_fd(self._wakeup_before)
        for one, before in self._before.items():
            signal.signal(one, before)
        self._ours.close()
        self._theirs.close()

    def _heard(self) -> None:
        self._ours.recv(64)
        self.asked.emit()


def _nothing(_number: int, _frame: object) -> None:
    """Do nothing: the byte has been sent already."""
