"""Grids: rows of texts, numbers and boxes; one text's length never breaks a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Table

from estimator.documents import styles, tables
from estimator.documents.tables import LONGEST_CELL, Command
from estimator.documents.text import clean, paragraph, pieces
from estimator.documents.works_blocks import NumberMark, TickBox
from estimator.documents.works_content import Box, Grid, GridColumn, GridGroup, GridRow, Number
from estimator.documents.works_styles import cells

LEAST_TEXT = 110.0
LETTERS_AT_ONCE = LONGEST_CELL // 2


class GridRows:
    """The rows of a grid with how they look, taken in one after the other."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        self._look = cells(is_large=grid.is_large)
        self.rows: list[list[Any]] = []
        self.commands: list[Command] = []
        self.heads = 0
        if any(one.title for one in grid.columns):
            self.rows.append([self._head(one) for one in grid.columns])
            self.heads = 1
        for group in grid.groups:
            self._group(group)

    def _head(self, column: GridColumn) -> Any:
        style = self._look.head_right if column.is_right else self._look.head
        return paragraph(column.title, style)

    def _group(self, group: GridGroup) -> None:
        start = len(self.rows)
        if group.title:
            first, *more = pieces(clean(group.title), LETTERS_AT_ONCE)
            beside = [paragraph(group.beside, self._look.cell_right)] if group.beside else []
            self.rows.append([paragraph(first, self._look.cell_strong), *self._blanks()])
            self.commands += [
                ("TOPPADDING", (0, start), (-1, start), 10 if start > 1 else 6),
                ("NOSPLIT", (0, start), (-1, start + 1)),
            ]
            if beside:
                self.rows[-1][-1] = beside[0]
            self.commands.append(("SPAN", (0, start), (-2 if beside else -1, start)))
            for piece in more:
                self._alone(piece, self._look.cell_strong)
        for row in group.rows:
            self._row(row)

    def _row(self, row: GridRow) -> None:
        """Add a row, and more under it where a text in it is very long."""
        start = len(self.rows)
        columns = [
            pieces(clean(one), self._letters(place)) if isinstance(one, str) else [one]
            for place, one in enumerate(row.cells)
        ]
        self.rows += (
            [self._cell(one, place) for place, one in enumerate(shown)]
            for shown in zip_longest(*columns, fillvalue="")
        )
        for piece in pieces(clean(row.under), LONGEST_CELL) if row.under.strip() else ():
            self._alone(piece, self._look.quiet)
        last = len(self.rows) - 1
        if last > start:
            self.commands += [
                ("NOSPLIT", (0, start), (-1, start + 1)),
                ("BOTTOMPADDING", (0, start), (-1, last - 1), 0),
                ("TOPPADDING", (0, start + 1), (-1, last), 0),
            ]
        self.commands.append(("LINEBELOW", (0, last), (-1, last), styles.HAIRLINE, styles.RULE))

    def _letters(self, place: int) -> int:
        """Return how many letters a cell of a column may hold in one row."""
        width = _widths(self._grid.columns)[place]
        return max(round(LONGEST_CELL * width / styles.WIDTH), 24)

    def _cell(self, one: Any, place: int) -> Any:
        column, look = self._grid.columns[place], self._look
        if isinstance(one, Box):
            return TickBox(one.signed, is_large=self._grid.is_large, is_wide=one.is_wide)
        if isinstance(one, Number):
            return NumberMark(one, is_large=self._grid.is_large)
        style = look.cell_right if column.is_right else look.cell
        return paragraph(one, _muted(style) if column.is_quiet else style) if one else ""

    def _alone(self, text: str, style: ParagraphStyle) -> None:
        """Add a text that runs over all columns but that of the numbers."""
        place = len(self.rows)
        first = 1 if self._has_numbers() else 0
        row: list[Any] = ["", *self._blanks()]
        row[first] = paragraph(text, style)
        self.rows.append(row)
        self.commands.append(("SPAN", (first, place), (-1, place)))

    def _has_numbers(self) -> bool:
        first = next(self._grid.rows, None)
        return first is not None and not isinstance(first.cells[0], str)

    def _blanks(self) -> list[str]:
        return [""] * (len(self._grid.columns) - 1)


def grid_table(grid: Grid) -> Table:
    """Return a grid; its heading is repeated on every page it goes over."""
    made = GridRows(grid)
    pad = 2.5
    commands: list[Command] = [
        ("TOPPADDING", (0, 0), (-1, -1), pad),
        ("BOTTOMPADDING", (0, 0), (-1, -1), pad + 0.5),
        ("RIGHTPADDING", (0, 0), (-2, -1), grid.gap),
        ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
        *_head_looks(made.heads),
        *made.commands,
    ]
    return tables.ruled(made.rows, _widths(grid.columns), commands, repeat=made.heads)


def _head_looks(heads: int) -> Iterator[Command]:
    if heads:
        yield ("LINEBELOW", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK)
        yield ("VALIGN", (0, 0), (-1, 0), "BOTTOM")
        yield ("TOPPADDING", (0, 0), (-1, 0), 0)
        yield ("BOTTOMPADDING", (0, 0), (-1, 0), 4)
    else:
        yield ("LINEABOVE", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK)


def _widths(columns: Sequence[GridColumn]) -> list[float]:
    """Return widths that fill the page: what is left goes alike to the columns that ask for it."""
    fixed = sum(one.width for one in columns)
    free = sum(1 for one in columns if not one.width)
    left = max((styles.WIDTH - fixed) / free, LEAST_TEXT) if free else 0.0
    return [one.width or left for one in columns]


def _muted(style: ParagraphStyle) -> ParagraphStyle:
    return ParagraphStyle(f"{style.name}_muted", parent=style, textColor=styles.MUTED)
