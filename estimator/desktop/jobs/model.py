"""Jobs as rows of a list, held a page at a time however many there are."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from estimator.desktop.jobs import wording

if TYPE_CHECKING:
    from estimator.store.job_list import JobLine

PAGE = 200
"""Rows fetched at once."""
MOST_PAGES = 20
"""Pages held; those furthest from what is shown go first."""
JobRole = int(Qt.ItemDataRole.UserRole)
Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()


class JobsModel(QAbstractListModel):
    """Jobs by row; a row whose page is not here yet is empty until it comes."""

    wanted = Signal(int)
    """The number of a page to fetch."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with nothing."""
        super().__init__(parent)
        self.today = datetime.date.min
        self._count = 0
        self._pages: dict[int, tuple[JobLine, ...]] = {}
        self._asked: set[int] = set()

    def begin(self, count: int, first: Sequence[JobLine], today: datetime.date) -> None:
        """Show other jobs, the first page of which is here."""
        self.beginResetModel()
        self.today, self._count = today, count
        self._pages, self._asked = {0: tuple(first[:PAGE])}, set()
        self.endResetModel()

    def put(self, page: int, jobs: Sequence[JobLine]) -> None:
        """Take a page that was fetched."""
        self._asked.discard(page)
        start = page * PAGE
        if not 0 <= start < self._count:
            return
        if page not in self._pages and len(self._pages) >= MOST_PAGES:
            del self._pages[max(self._pages, key=lambda held: abs(held - page))]
        self._pages[page] = tuple(jobs[:PAGE])
        end = min(start + PAGE, self._count) - 1
        self.dataChanged.emit(self.index(start), self.index(end))

    def want(self, first: int, last: int) -> None:
        """Ask for the pages that hold some rows, where they are not here."""
        top = (self._count - 1) // PAGE
        for page in range(max(first, 0) // PAGE, min(max(last, 0) // PAGE, top) + 1):
            if page not in self._pages and page not in self._asked:
                self._asked.add(page)
                self.wanted.emit(page)

    def job(self, row: int) -> JobLine | None:
        """Return the job of a row, if it is here."""
        page, place = self._pages.get(row // PAGE, ()), row % PAGE
        return page[place] if row >= 0 and place < len(page) else None

    def row_of(self, uid: str) -> int:
        """Return the row of a job that is here, or -1."""
        for page, held in self._pages.items():
            for place, one in enumerate(held):
                if one.uid == uid:
                    return page * PAGE + place
        return -1

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many jobs there are."""
        return 0 if parent.isValid() else self._count

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the name of a job to show, all of its line to say, or the job itself."""
        job = self.job(index.row()) if index.isValid() else None
        if job is None:
            return None
        if role == JobRole:
            return job
        if role == Qt.ItemDataRole.DisplayRole:
            return wording.name_of(job)
        is_whole = role in {
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.AccessibleDescriptionRole,
        }
        return self.said(job) if is_whole else None

    def said(self, job: JobLine) -> str:
        """Return a job as one line to be read out."""
        paper = job.paper
        parts = (
            wording.name_of(job),
            wording.place_of(job),
            wording.stage_word(job),
            wording.paper_of(paper) if paper else "",
            wording.total_of(paper) if paper else "",
            wording.day(wording.local_day(job.changed_at), self.today),
        )
        return ", ".join(part for part in parts if part)
