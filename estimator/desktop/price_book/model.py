"""The rates of a shelf as rows of a table, held a page at a time however many there are."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from enum import IntEnum
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from estimator.desktop.language import _
from estimator.desktop.price_book.figure import main_figure, rate_words, sources_of
from estimator.desktop.price_book.wording import day
from estimator.store.book_parts import Entry

PAGE = 200
"""Rows fetched at once."""
MOST_PAGES = 40
"""Pages held; those furthest from what is shown go first."""
EntryRole = int(Qt.ItemDataRole.UserRole)
SortRole = EntryRole + 1
Index = QModelIndex | QPersistentModelIndex
NOWHERE = QModelIndex()
EXAMPLE = "illustrative"
"""Key of the source of figures that ship with the program."""
SIDE = Qt.AlignmentFlag.AlignVCenter


class Column(IntEnum):
    """The columns, from the left."""

    TITLE = 0
    UNIT = 1
    PACK = 2
    RATE = 3
    DATED = 4
    SOURCE = 5
    STATE = 6


def headings() -> tuple[str, ...]:
    """Return the headings of the columns."""
    return (
        _("What it is"),
        _("Unit"),
        _("Pack"),
        _("Price or hours"),
        _("Since"),
        _("From"),
        _("Whose figure"),
    )


class RatesModel(QAbstractTableModel):
    """Entries by row; a row whose page is not here yet is empty until it comes."""

    wanted = Signal(int, object)
    """A page to fetch: its number, and the entry just before it if that is known."""
    typed = Signal(object, object)
    """An entry, and the figure that is to stand in it."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin with nothing."""
        super().__init__(parent)
        self.currency = "GBP"
        self.can_edit = False
        self._count = 0
        self._pages: dict[int, tuple[Entry, ...]] = {}
        self._asked: set[int] = set()
        self._stale: set[int] = set()

    # -- what is put in

    def begin(self, count: int) -> None:
        """Start on another shelf, of which nothing is here yet."""
        self.beginResetModel()
        self._count, self._pages, self._asked, self._stale = count, {}, set(), set()
        self.endResetModel()

    def renew(self, count: int) -> None:
        """Have the same shelf fetched again, showing it as it was until then."""
        if count != self._count:
            self.begin(count)
            return
        self._asked = set()
        self._stale = set(self._pages)

    def show_all(self, entries: Sequence[Entry]) -> None:
        """Show entries that are all here."""
        pages = {
            start // PAGE: tuple(entries[start : start + PAGE])
            for start in range(0, len(entries), PAGE)
        }
        self._asked, self._stale = set(), set()
        if self._keys(pages) == self._keys(self._pages) and len(entries) == self._count > 0:
            # The same rows with other figures: whatever is being typed stays open.
            self._pages = pages
            self._tell(0, self._count - 1)
            return
        self.beginResetModel()
        self._count, self._pages = len(entries), pages
        self.endResetModel()

    def put(self, page: int, entries: Sequence[Entry]) -> None:
        """Take a page that was fetched."""
        self._asked.discard(page)
        self._stale.discard(page)
        start = page * PAGE
        if not 0 <= start < self._count:
            return
        if len(self._pages) >= MOST_PAGES:
            del self._pages[max(self._pages, key=lambda held: abs(held - page))]
        self._pages[page] = tuple(entries)
        self._tell(start, min(start + PAGE, self._count) - 1)

    def want(self, first: int, last: int) -> None:
        """Ask for the pages that hold some rows, where they are not here."""
        top = (self._count - 1) // PAGE
        for page in range(max(first, 0) // PAGE, min(max(last, 0) // PAGE, top) + 1):
            is_here = page in self._pages and page not in self._stale
            if not is_here and page not in self._asked:
                self._asked.add(page)
                before = None if page - 1 in self._stale else self._pages.get(page - 1)
                self.wanted.emit(page, before[-1] if before else None)

    def _tell(self, first: int, last: int) -> None:
        self.dataChanged.emit(self.index(first, 0), self.index(last, Column.STATE))

    @staticmethod
    def _keys(pages: dict[int, tuple[Entry, ...]]) -> list[tuple[str, str, str]]:
        return [one.key for page in sorted(pages) for one in pages[page]]

    # -- what is there

    def entry(self, row: int) -> Entry | None:
        """Return the entry of a row, if it is here."""
        page = self._pages.get(row // PAGE, ())
        place = row % PAGE
        return page[place] if 0 <= place < len(page) else None

    # -- Qt's questions

    def rowCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return how many entries the shelf has."""
        return 0 if parent.isValid() else self._count

    def columnCount(self, parent: Index = NOWHERE) -> int:  # noqa: N802 - Qt's name
        """Return the number of columns."""
        return 0 if parent.isValid() else len(Column)

    def headerData(  # noqa: N802 - Qt's name
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a heading, set to the side its column is set to."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return headings()[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(section)
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return whether a cell can be edited: a figure can."""
        usual = super().flags(index)
        if not index.isValid() or index.column() != Column.RATE or not self.can_edit:
            return usual
        entry = self.entry(index.row())
        has_figure = entry is not None and main_figure(entry) is not None
        return usual | Qt.ItemFlag.ItemIsEditable if has_figure else usual

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell: words to show, or its typed value to edit and sort by."""
        if not index.isValid():
            return None
        column = Column(index.column())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _side(column)
        entry = self.entry(index.row())
        return None if entry is None else self._cell(entry, column, role)

    def _cell(self, entry: Entry, column: Column, role: int) -> Any:
        if role == EntryRole:
            return entry
        if role == Qt.ItemDataRole.DisplayRole:
            return _words(entry, column, self.currency)
        if role in {Qt.ItemDataRole.EditRole, SortRole}:
            return _value(entry, column)
        is_hint = role == Qt.ItemDataRole.ToolTipRole and column is Column.TITLE
        return entry.title if is_hint else None

    def setData(  # noqa: N802 - Qt's name
        self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole
    ) -> bool:
        """Take a figure for a cell; it is handed on, and shown when it has been kept."""
        entry = self.entry(index.row()) if index.isValid() else None
        is_figure = isinstance(value, Decimal) and role == Qt.ItemDataRole.EditRole
        if entry is None or not is_figure or not self.flags(index) & Qt.ItemFlag.ItemIsEditable:
            return False
        self.typed.emit(entry, value)
        return True


def state_words(entry: Entry) -> str:
    """Return whose figure an entry is."""
    return _("Yours") if entry.confirmed else _("Not yours yet")


def from_words(entry: Entry) -> str:
    """Return in a word or two where an entry's figures came from."""
    sources = sources_of(entry)
    if entry.supplier or not sources:
        return entry.supplier
    if entry.confirmed and EXAMPLE in sources:
        return _("Own")
    return source_word(sources[0]) if len(sources) == 1 else _("Several")


def source_word(source: str) -> str:
    """Return in a word what kind of source a figure has."""
    return {
        EXAMPLE: _("Example"),
        "house": _("House rule"),
        "supplier": _("Supplier"),
        "own": _("Own"),
    }.get(source, _("Published"))


def _words(entry: Entry, column: Column, currency: str) -> str:
    """Return what a cell says."""
    if column is Column.RATE:
        return rate_words(entry, currency)
    if column is Column.PACK:
        return _pack(entry)
    if column is Column.DATED:
        return day(entry.dated)
    if column is Column.SOURCE:
        return from_words(entry)
    if column is Column.STATE:
        return state_words(entry)
    return entry.unit if column is Column.UNIT else entry.title


def _value(entry: Entry, column: Column) -> Any:
    """Return a cell's own value."""
    if column is Column.RATE:
        figure = main_figure(entry)
        return figure.value if figure is not None else None
    if column is Column.PACK:
        return Decimal(entry.pack_size) if entry.pack_size else None
    return {
        Column.TITLE: entry.title,
        Column.UNIT: entry.unit,
        Column.DATED: entry.dated,
        Column.SOURCE: entry.source,
        Column.STATE: entry.confirmed,
    }[column]


def _pack(entry: Entry) -> str:
    if not entry.pack_size or (not entry.pack and entry.pack_size == "1"):
        return entry.pack
    return " ".join(part for part in (entry.pack_size, entry.unit, entry.pack) if part)


def _side(column: int) -> Qt.AlignmentFlag:
    right = column == Column.RATE
    return SIDE | (Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft)
