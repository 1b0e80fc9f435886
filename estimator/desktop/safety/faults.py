"""Faults nobody foresaw: written down without a name in it, said in one sentence, survived."""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Callable
from types import TracebackType

from PySide6.QtCore import QObject, Signal

from estimator import logs
from estimator.desktop.language import _


class Watch(QObject):
    """Hears of every exception that nothing else caught."""

    heard = Signal(str)
    """One sentence to show."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin to listen."""
        super().__init__(parent)
        self._before: Callable[..., object] = sys.excepthook
        sys.excepthook = self._hear

    def stop(self) -> None:
        """Listen no more."""
        sys.excepthook = self._before

    def note(self, error: BaseException) -> None:
        """Write a fault down, and say so."""
        logging.getLogger(logs.NAME).error(logs.Said.CRASHED, exc_info=error)
        if os.environ.get("PERPEND_DEBUG"):
            sys.__excepthook__(type(error), error, error.__traceback__)
        self.heard.emit(
            _(
                "Something in the program went wrong just now. What you typed is kept. "
                "If it happens again, close the desk and open it again."
            )
        )

    def _hear(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            sys.__excepthook__(kind, error, trace)
        else:
            self.note(error)
