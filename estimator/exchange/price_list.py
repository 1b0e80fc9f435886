"""What a price list is once it has been read: cells, columns matched, rows, and what is wrong."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from estimator.money import Money

HEADINGS = ("Code", "Title", "Unit", "Pack size", "Price", "Supplier", "Group", "Notes")
"""The heading row of our own catalogue, by which its file is known again."""
MOST_ROWS = 20_000
"""Most priced rows of one list."""
HEADING_ROWS = 60
"""Headings are looked for in so many rows from the top."""
MOST_COLUMNS = 60
MOST_LETTERS = 10_000
"""Most letters of one cell."""


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One thing as a supplier sells it."""

    row: int
    """Row of the file it came from, counted from 1 as spreadsheets do."""
    code: str
    title: str
    unit: str
    """Symbol of the unit the pack is counted in."""
    pack_size: Decimal
    """Units in one pack [unit]."""
    price: Money
    """Price of one pack, in the list's own currency."""
    supplier: str
    group: str
    notes: str


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with one row, or worth a look, and what would do."""

    row: int
    column: str
    """Heading of the column it is about, or nothing for the whole row."""
    text: str
    stops: bool = True
    """True where the row cannot be taken; false where it was taken and should be looked at."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """The cells of one table as text, row by row from the top of the file."""

    cells: tuple[tuple[str, ...], ...]
    how: str
    """What was found out about the file, in words."""
    numbers: frozenset[tuple[int, int]] = field(default=frozenset(), repr=False)
    """Cells that are numbers in the workbook, written here with a point; row and column from 0."""
    ours: bool = False
    """True for a catalogue this program wrote: its texts are taken letter for letter."""


@dataclass(frozen=True, slots=True)
class Matching:
    """Which column holds what, counted from 0; nothing where the list has no such column."""

    code: int | None
    title: int
    unit: int | None
    pack_size: int | None
    price: int
    supplier: int | None = None
    group: int | None = None
    notes: int | None = None
    heading_row: int = 0
    """Row of the headings counted from 1, or 0 where there are none."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What would be taken from a sheet, and what is wrong with the rest; nothing is written."""

    sheet: Sheet
    matching: Matching
    rows: tuple[PriceRow, ...]
    problems: tuple[Problem, ...]
    section_rows: tuple[int, ...] = ()
    """Rows taken as the heading of a section, which names the group of the rows below it."""
    how: str = ""
    """How the columns and numbers were understood, in words."""

    @property
    def stopping(self) -> tuple[Problem, ...]:
        """The problems whose rows are left out."""
        return tuple(problem for problem in self.problems if problem.stops)
