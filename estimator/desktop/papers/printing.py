"""A paper on a printer: drawn page by page in a thread of its own."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSizeF, Qt
from PySide6.QtGui import QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QWidget

from estimator.desktop.language import _
from estimator.desktop.papers import pages
from estimator.notices import WorldFault

FINEST = 300
"""A page is drawn no finer than this, enough for text and 35 MB of memory. [dots per inch]"""


def printer() -> QPrinter:
    """Return a printer for A4 sheets, printed to their edges as the paper was laid out."""
    made = QPrinter(QPrinter.PrinterMode.HighResolution)
    made.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    made.setFullPage(True)
    return made


def ask(onto: QPrinter, parent: QWidget, then: Callable[[], None]) -> None:
    """Have a printer chosen; the window goes on meanwhile."""
    dialog = QPrintDialog(onto, parent)
    dialog.setWindowTitle(_("Print the paper"))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.accepted.connect(then)
    QDialog.open(dialog)


def print_pages(pdf: bytes, onto: QPrinter) -> int:
    """Print the pages that were asked for and return how many; not for the window's thread.

    Raises:
        WorldFault: when the printer will not begin.
    """
    painter = QPainter()
    if not painter.begin(onto):
        raise WorldFault(
            _("the printer did not begin"), do=_("see that it is on, or choose another")
        )
    printed = 0
    try:
        for number, image in enumerate(pages.at_resolution(pdf, _fineness(onto)), 1):
            if not _is_wanted(onto, number):
                continue
            if printed:
                onto.newPage()
            room = onto.paperRect(QPrinter.Unit.DevicePixel)
            size = QSizeF(image.size()).scaled(room.size(), Qt.AspectRatioMode.KeepAspectRatio)
            painter.drawImage(QRectF(room.topLeft(), size), image)
            printed += 1
    finally:
        painter.end()
    return printed


def _fineness(onto: QPrinter) -> int:
    return min(onto.resolution(), FINEST)


def _is_wanted(onto: QPrinter, number: int) -> bool:
    if onto.printRange() is not QPrinter.PrintRange.PageRange:
        return True
    return onto.fromPage() <= number <= onto.toPage()
