"""What every form of particulars can do: follow the drawing, and be edited."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QWidget

from estimator.desktop.wall.drafting import Drafting


class Form(QFrame):
    """The sizes of one thing on the wall."""

    def __init__(self, drafting: Drafting, parent: QWidget | None = None) -> None:
        """Stand below the board."""
        super().__init__(parent)
        self.drafting = drafting

    def follow(self) -> bool:
        """Show the sizes as they are now; false where the thing is no longer there."""
        return True
