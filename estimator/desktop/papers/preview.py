"""The paper as it will be printed, drawn off the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from estimator.desktop.courier import Courier
from estimator.desktop.language import _
from estimator.desktop.papers import pages
from estimator.desktop.papers.asking import carry
from estimator.desktop.papers.heading import on_escape
from estimator.desktop.papers.pages import Page
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.words import words

SETTLE_MS = 120
"""Rest after a change of width before pages are drawn anew. [ms]"""
PATIENCE_MS = 1000
"""Wait after which it is said that a paper is being made. [ms]"""
EDGE, BETWEEN = 20, 20
"""Ground round the pages and between them. [px]"""
SHADOW = (26, 16, 10, 5)
"""Opacity of the shadow under a page, the nearest line of it first. [of 255]"""


@dataclass(frozen=True, slots=True)
class Shown:
    """What lies in the middle: a PDF, and what is said of it above."""

    pdf: bytes
    caption: str


class PreviewColumn(QFrame):
    """The pages of a PDF, one under the other, as wide as the column."""

    left = Signal()
    """Escape was pressed here."""
    page_drawn = Signal()
    """New pages are on the screen."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.setProperty("role", "column")
        self._session = session
        self.shown: Shown | None = None
        """What is shown, or about to be once its pages are drawn."""
        self.owner: QWidget | None = None
        """The column the paper belongs to; whoever takes it up next sees none of an old one."""
        self._asked = 0
        self._pool = ThreadPoolExecutor(1, "pages")
        self.destroyed.connect(_ended(self._pool))
        self._courier = Courier(self)
        self.caption = words(role="second", wrap=False)
        self.area = PagesArea()
        self._settle = _rest(self, SETTLE_MS, self._draw)
        self._patience = _rest(self, PATIENCE_MS, self._say_busy)
        self._lay_out()
        on_escape(self, self.left.emit)

    def await_paper(self) -> None:
        """Keep what is shown while a paper is made; say so only if that takes long."""
        if not self._patience.isActive():
            self._patience.start()

    def belong_to(self, column: QWidget) -> None:
        """Be of one column from now on, without a paper of another."""
        if self.owner is not column:
            self.make_way()
        self.owner = column

    def make_way(self) -> None:
        """Put the paper away: the next one is of something else, and takes a moment."""
        self._asked += 1
        self.shown = None
        self.caption.clear()
        self.area.show_words("")
        self.await_paper()

    def show_paper(self, pdf: bytes, caption: str) -> None:
        """Show a paper; the one before stays until the pages are there."""
        self.shown = Shown(pdf, caption)
        self._draw()

    def show_nothing(self, why: str) -> None:
        """Say why there is no paper."""
        self._patience.stop()
        self._asked += 1
        self.shown = None
        self.caption.clear()
        self.area.show_words(why)

    def take_focus(self) -> None:
        """Put the keyboard on the pages, to scroll them."""
        self.area.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Draw anew for another width, once it rests."""
        super().resizeEvent(event)
        self._settle.start()

    def event(self, event: QEvent) -> bool:
        """Draw anew for a screen with other pixels."""
        if event.type() is QEvent.Type.DevicePixelRatioChange:
            self._settle.start()
        return super().event(event)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setContentsMargins(EDGE, 0, EDGE, 0)
        head.addWidget(words(_("The paper"), role="heading", wrap=False))
        head.addStretch()
        head.addWidget(self.caption)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 16, 0, 0)
        layout.setSpacing(8)
        layout.addLayout(head)
        layout.addWidget(self.area, 1)

    def _say_busy(self) -> None:
        self.caption.setText(_("Making the paper…"))

    def _draw(self) -> None:
        """Have the pages drawn; only the newest answer is shown."""
        shown = self.shown
        if shown is None:
            return
        self._asked += 1
        asked, width, ratio = self._asked, self.area.page_width, self.devicePixelRatioF()

        def over(job: Future[tuple[Page, ...]]) -> None:
            carry(self._courier, lambda: self._drawn(asked, shown, job))

        job = self._pool.submit(
            pages.drawn, shown.pdf, width, ratio, wanted=lambda: asked == self._asked
        )
        job.add_done_callback(over)

    def _drawn(self, asked: int, shown: Shown, job: Future[tuple[Page, ...]]) -> None:
        if asked != self._asked or job.cancelled():
            return
        error = job.exception()
        if error is not None:
            self.show_nothing(_("The paper cannot be shown here. Save a copy to look at it."))
            self._session.filing.broke.emit(error)
            return
        self._patience.stop()
        self.caption.setText(shown.caption)
        self.area.show_pages(job.result())
        self.page_drawn.emit()


class PagesArea(QScrollArea):
    """Pages under one another; arrows, Page Up and Down, Home, End and space move them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(_("Pages of the paper"))
        self.sheets: list[Sheet] = []
        self._words: QLabel = words(role="text", tone="quiet")
        self._words.hide()
        ground = QWidget()
        self._column = QVBoxLayout(ground)
        self._column.setContentsMargins(EDGE, 4, EDGE, EDGE)
        self._column.setSpacing(BETWEEN)
        self._column.addWidget(self._words)
        self._column.addStretch()
        self.setWidget(ground)

    @property
    def page_width(self) -> int:
        """Width that a page has room for [px]."""
        bar = self.verticalScrollBar()
        taken = 0 if bar.isVisible() else bar.sizeHint().width()
        return max(self.viewport().width() - taken - 2 * EDGE - 2, 120)

    @property
    def said(self) -> str:
        """What is said in place of pages, if anything."""
        return "" if self._words.isHidden() else self._words.text()

    def show_pages(self, found: tuple[Page, ...]) -> None:
        """Put other pages into the sheets that lie there, so that nothing flickers."""
        # Always there, so that the width of a page does not hang on its own height.
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self._words.hide()
        for place, page in enumerate(found):
            if place == len(self.sheets):
                self.sheets.append(Sheet())
                self._column.insertWidget(self._column.count() - 1, self.sheets[-1])
            said = _("Page {number} of {count}").format(number=place + 1, count=len(found))
            self.sheets[place].take(page, said)
        self._keep(len(found))

    def show_words(self, text: str) -> None:
        """Say something where the pages would be."""
        self._keep(0)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self._words.setText(text)
        self._words.show()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Move by keys."""
        bar = self.verticalScrollBar()
        page = bar.pageStep() * 9 // 10
        back = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        moves = {
            Qt.Key.Key_Home: bar.minimum() - bar.value(),
            Qt.Key.Key_End: bar.maximum() - bar.value(),
            Qt.Key.Key_PageDown: page,
            Qt.Key.Key_PageUp: -page,
            Qt.Key.Key_Space: -page if back else page,
            Qt.Key.Key_Down: LOOK.px(48),
            Qt.Key.Key_Up: -LOOK.px(48),
        }
        step = moves.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            bar.setValue(bar.value() + step)

    def _keep(self, count: int) -> None:
        while len(self.sheets) > count:
            sheet = self.sheets.pop()
            self._column.removeWidget(sheet)
            sheet.hide()
            sheet.deleteLater()


class Sheet(QWidget):
    """One page on the ground: a hairline round it and a quiet shadow under it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Lie there empty."""
        super().__init__(parent)
        self.page: Page | None = None

    def take(self, page: Page, said: str) -> None:
        """Show a page; a screen reader is told its number and all that stands on it."""
        self.page = page
        size = page.image.deviceIndependentSize().toSize()
        # Two pixels for the hairline, and room for the shadow.
        self.setFixedHeight(size.height() + 2 + len(SHADOW))
        self.setAccessibleName(said)
        self.setAccessibleDescription(page.text)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as large as the page."""
        if self.page is None:
            return QSize(1, 1)
        return self.page.image.deviceIndependentSize().toSize()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the page, stretched for the moment until it is drawn at a new width."""
        if self.page is None:
            return
        painter = QPainter(self)
        size = self.page.image.deviceIndependentSize().toSize()
        sheet = QRect(QPoint(0, 0), QSize(self.width(), self.height() - len(SHADOW)))
        inner = sheet.adjusted(1, 1, -1, -1)
        shade = QColor(Qt.GlobalColor.black)
        for step, opacity in enumerate(SHADOW):
            shade.setAlpha(opacity)
            painter.fillRect(
                QRect(sheet.left() + 1, sheet.bottom() + 1 + step, sheet.width() - 2, 1), shade
            )
        painter.setPen(LOOK.colour("rule"))
        painter.drawRect(sheet.adjusted(0, 0, -1, -1))
        if size.width() == inner.width():
            painter.drawImage(inner.topLeft(), self.page.image)
        else:
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(inner, self.page.image)
        painter.end()


def _rest(owner: QWidget, rest_ms: int, then: Callable[[], None]) -> QTimer:
    timer = QTimer(owner)
    timer.setSingleShot(True)
    timer.setInterval(rest_ms)
    timer.timeout.connect(then)
    return timer


def _ended(pool: ThreadPoolExecutor) -> Callable[[], None]:
    """Return what ends a pool without holding on to the widget that had it."""
    return lambda: pool.shutdown(wait=False, cancel_futures=True)
