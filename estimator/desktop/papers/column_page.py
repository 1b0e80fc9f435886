"""How a page of the left column is laid out: its head, what is scrolled, what stays under it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QLabel, QLayout, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.papers.heading import heading
from estimator.desktop.widgets.following import Following

SET_IN = 8
"""Of words, from the edge of boxes. [px]"""
APART = 6
"""Between what stays under a page. [px]"""


def lay_page(
    page: QWidget,
    title: str,
    go_back: Callable[[], object],
    inner: QWidget,
    *under: QWidget | QLayout,
    apart: int = APART,
) -> QVBoxLayout:
    """Lay a page out, and return the layout of what stays under it.

    Args:
        page: Has no layout yet.
        title: What it is.
        go_back: Called by the button beside the title.
        inner: What is scrolled; the keyboard never goes out of its sight.
        under: What is always in sight, from the top.
        apart: Between those. [px]
    """
    area = scrolled(inner)
    Following(area)
    foot = QVBoxLayout()
    foot.setContentsMargins(12, 0, 12, 0)
    foot.setSpacing(apart)
    for part in under:
        if isinstance(part, QLayout):
            foot.addLayout(part)
        else:
            foot.addWidget(part)
    layout = QVBoxLayout(page)
    layout.setContentsMargins(0, 16, 0, 16)
    layout.setSpacing(12)
    layout.addLayout(heading(title, go_back))
    layout.addWidget(area, 1)
    layout.addLayout(foot)
    return foot


class Contents(QWidget):
    """What is scrolled: never higher than its words need at the width it has."""

    def minimumSizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as high as the words are at this width, not at the narrowest."""
        least = super().minimumSizeHint()
        needed = self.heightForWidth(max(self.width(), least.width()))
        return QSize(least.width(), needed)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Ask for another height at another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


def set_in(part: QWidget) -> None:
    """Set words in from the edge that boxes and lines to be taken up stand at."""
    if isinstance(part, QLabel):
        # A label that is dressed by a style sheet minds its indent, not always its margins.
        part.setIndent(SET_IN)
        return
    margins = part.contentsMargins()
    margins.setLeft(margins.left() + SET_IN)
    part.setContentsMargins(margins)


def scrolled(inner: QWidget) -> QScrollArea:
    """Return a part that can grow longer than the column, to be scrolled by its own contents."""
    area = QScrollArea()
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    # What is in it takes the keyboard, and the area follows.
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inner)
    return area
