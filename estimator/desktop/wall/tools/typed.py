"""A number typed while a tool is held over the wall, such as the width of a crack."""

from __future__ import annotations

from PySide6.QtCore import Qt

MOST = 5
"""Signs a size on a wall has at the most."""


class Typed:
    """Digits as they come, one decimal sign among them."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self.text = ""

    def __bool__(self) -> bool:
        return bool(self.text)

    @property
    def value(self) -> float | None:
        """The number so far; None where there is none yet."""
        return float(self.text) if self.text.strip(".") else None

    def take(self, key: int) -> bool:
        """Take a digit or a decimal sign; false for any other key."""
        if Qt.Key.Key_0 <= key <= Qt.Key.Key_9:
            sign = chr(key)
        elif key in (Qt.Key.Key_Period, Qt.Key.Key_Comma) and "." not in self.text:
            sign = "."
        else:
            return False
        if len(self.text) < MOST:
            self.text += sign
        return True

    def back(self) -> bool:
        """Take the last sign back; false where there is none."""
        was, self.text = self.text, self.text[:-1]
        return bool(was)

    def clear(self) -> bool:
        """Forget what was typed; false where nothing was."""
        was, self.text = self.text, ""
        return bool(was)
