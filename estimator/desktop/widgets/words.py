"""Labels: always plain text, so that nothing a person typed is ever read as markup."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QSizePolicy, QWidget


def words(
    text: str = "", *, role: str = "text", tone: str = "", wrap: bool = True, said: str = ""
) -> QLabel:
    """Return a label.

    Args:
        text: What it says.
        role: Its size and weight, a key of ``TEXT_SIZES``.
        tone: ``caution``, ``stop``, ``done``, ``act``, ``quiet`` or none.
        wrap: Whether it breaks into lines.
        said: Its name for a screen reader, where the text alone does not tell.
    """
    label = QLabel()
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setText(text)
    label.setWordWrap(wrap)
    label.setProperty("role", role)
    if tone:
        label.setProperty("tone", tone)
    if said:
        label.setAccessibleName(said)
    if wrap:
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        label.setSizePolicy(policy)
    return label


def figures(text: str = "", *, role: str = "text", tone: str = "") -> QLabel:
    """Return a label for a number in a column: right-aligned and on one line."""
    label = words(text, role=role, tone=tone, wrap=False)
    label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    return label


def hairline() -> QFrame:
    """Return a thin level line, where columns meet or a sum is struck."""
    line = QFrame()
    line.setProperty("role", "hairline")
    return line


def retone(widget: QWidget, **properties: object) -> None:
    """Set properties the style sheet goes by, and dress the widget anew if any changed."""
    changed = False
    for name, value in properties.items():
        if widget.property(name) != value:
            widget.setProperty(name, value)
            changed = True
    if changed:
        widget.style().unpolish(widget)
        widget.style().polish(widget)
