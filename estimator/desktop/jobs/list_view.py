"""The list of jobs: arrows walk it, Enter opens a job, letters go on to the field above."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QWidget

from estimator.desktop.jobs.model import JobsModel
from estimator.desktop.jobs.row import HIGH, JobRow
from estimator.desktop.language import _
from estimator.desktop.theme.look import LOOK

AHEAD = 40
"""Rows fetched beyond those that are shown."""
MOST_AT_ONCE = 200
ENTER = {int(Qt.Key.Key_Return), int(Qt.Key.Key_Enter)}
NO_TEXT = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)


class JobList(QListView):
    """Jobs of the file, fetched as they come into sight."""

    taken = Signal(str)
    """The uid of the job to open."""
    typed = Signal(str)
    """A letter typed here, which belongs to the field above."""
    left_up = Signal()
    """The arrow up was pressed on the first job."""

    def __init__(self, model: JobsModel, parent: QWidget | None = None) -> None:
        """Show a model."""
        super().__init__(parent)
        self.jobs = model
        self.setModel(model)
        self.setItemDelegate(JobRow(self))
        self.setUniformItemSizes(True)
        self.setMouseTracking(True)
        self.setAccessibleName(_("Jobs, the last changed first"))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalScrollBar().valueChanged.connect(self.look_ahead)
        self.doubleClicked.connect(self._take)
        model.modelReset.connect(self.look_ahead)
        LOOK.changed.connect(self.scheduleDelayedItemsLayout)

    def look_ahead(self) -> None:
        """Have what is in sight fetched, and a little more."""
        first = max(self.indexAt(self.viewport().rect().topLeft()).row(), 0)
        shown = self.viewport().height() // LOOK.px(HIGH) + 1
        self.jobs.want(first - AHEAD, first + min(shown, MOST_AT_ONCE) + AHEAD)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Fetch what a larger list shows."""
        super().resizeEvent(event)
        self.look_ahead()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Open on Enter; hand letters on; leave upwards from the first row."""
        text, key = event.text(), event.key()
        if key in ENTER:
            self._take(self.currentIndex())
        elif key == Qt.Key.Key_Up and self.currentIndex().row() <= 0:
            self.left_up.emit()
        elif text.strip() and text.isprintable() and not event.modifiers() & NO_TEXT:
            self.typed.emit(text)
        else:
            super().keyPressEvent(event)

    def _take(self, index: QModelIndex) -> None:
        job = self.jobs.job(index.row()) if index.isValid() else None
        if job is not None:
            self.taken.emit(job.uid)
