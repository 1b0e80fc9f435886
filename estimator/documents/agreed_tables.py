"""Ledgers: lines with their figures, groups with their sums, and the sums struck under all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Table

from estimator.documents import styles, tables
from estimator.documents.agreed_content import Ledger, Line, Lines, Terms
from estimator.documents.tables import LONGEST_CELL, Command
from estimator.documents.text import clean, paragraph, pieces

TERM = 34.0
"""Width of the short word before what it means."""
LEAST_TEXT = 120.0
"""Width the column of texts never goes below."""
KEPT_ROWS = 14
"""Rows up to which a ledger is never cut in two, unless its texts are long."""
KEPT_LETTERS = 1200


class LedgerRows:
    """The rows of a ledger with how they look, taken in one after the other."""

    def __init__(self, ledger: Ledger) -> None:
        look = styles.sheet()
        self.ledger = ledger
        self._line = look.line if ledger.is_fine else look.cell
        self._strong = look.line_strong if ledger.is_fine else look.strong
        heads = [one.title for one in ledger.columns]
        title: Any = paragraph(ledger.title, look.title) if ledger.title else ""
        self.rows: list[list[Any]] = [[title, *heads]]
        self.commands: list[Command] = []
        for group in ledger.groups:
            self._group(group)
        self.first_sum = len(self.rows)
        for one in ledger.sums:
            style = look.cell_strong if one.is_final else self._line
            self.rows.append([paragraph(one.title, style), *self._filled(one.figures)])

    def _group(self, group: Lines) -> None:
        start = len(self.rows)
        if group.title:
            self.rows.append([paragraph(group.title, self._strong), *self._filled(group.figures)])
            self.commands += [
                ("FONTNAME", (1, start), (-1, start), styles.SEMIBOLD),
                ("TOPPADDING", (0, start), (-1, start), 6),
                ("NOSPLIT", (0, start), (-1, start + 1)),
            ]
        for line in group.lines:
            self._add(line)

    def _add(self, line: Line) -> None:
        """Add a line, and more rows under it where its text is very long."""
        start = len(self.rows)
        first, *more = pieces(clean(line.text), LONGEST_CELL)
        self.rows.append([paragraph(first, self._line), *self._filled(line.figures)])
        self.rows += [self._alone(piece, self._line) for piece in more]
        under = pieces(clean(line.under), LONGEST_CELL) if line.under.strip() else []
        self.rows += [self._alone(piece, styles.sheet().quiet) for piece in under]
        if under:
            self.commands += [
                ("NOSPLIT", (0, start), (-1, start + 1)),
                ("BOTTOMPADDING", (0, start), (-1, len(self.rows) - 2), 0),
                ("TOPPADDING", (0, start + 1), (-1, len(self.rows) - 1), 0),
                *(("SPAN", (0, row), (-1, row)) for row in range(start + 1, len(self.rows))),
            ]

    def _alone(self, text: str, style: ParagraphStyle) -> list[Any]:
        return [paragraph(text, style), *[""] * len(self.ledger.columns)]

    def _filled(self, figures: Sequence[str]) -> list[str]:
        """Return figures set from the right, with nothing before them."""
        return [*[""] * (len(self.ledger.columns) - len(figures)), *figures]

    def spans(self) -> Iterator[Command]:
        """Yield what lets the title of a sum run over the columns it leaves empty."""
        for row, one in enumerate(self.ledger.sums, self.first_sum):
            empty = len(self.ledger.columns) - len(one.figures)
            if empty > 0:
                yield ("SPAN", (0, row), (empty, row))


def ledger_table(ledger: Ledger) -> Table:
    """Return a ledger; its heading is repeated on every page it goes over."""
    made = LedgerRows(ledger)
    rows, first_sum = made.rows, made.first_sum
    size, leading = (styles.SMALL, 12.0) if ledger.is_fine else (10.0, 13.0)
    commands: list[Command] = [
        *tables.figures_right(len(rows), size, leading),
        *tables.heading_rule(),
        *_quiet(ledger, first_sum),
        *made.commands,
        *made.spans(),
    ]
    if ledger.sums:
        commands += [
            ("LINEABOVE", (0, first_sum), (-1, first_sum), styles.HAIRLINE, styles.RULE),
            ("BOTTOMPADDING", (0, first_sum - 1), (-1, first_sum - 1), 5),
            ("TOPPADDING", (0, first_sum), (-1, first_sum), 4),
            *tables.struck(ledger.sums, first_sum),
            *_after_final(ledger, first_sum),
        ]
    letters = sum(len(line.text) + len(line.under) for line in ledger.lines)
    if len(rows) <= KEPT_ROWS and letters <= KEPT_LETTERS:
        commands.append(("NOSPLIT", (0, 0), (-1, -1)))
    else:
        commands += tables.kept(first_sum, len(rows))
    return tables.ruled(rows, _widths(ledger), commands, repeat=1)


def terms_table(terms: Terms) -> Table:
    """Return short words, each with what it means."""
    look = styles.sheet()
    rows = [
        [paragraph(one.label, look.line_strong), paragraph(one.value, look.quiet)]
        for one in terms.rows
    ]
    return tables.ruled(rows, [TERM, styles.WIDTH - TERM], [("NOSPLIT", (0, 0), (-1, -1))])


def _after_final(ledger: Ledger, first_sum: int) -> Iterator[Command]:
    """Yield the room under a final sum that others stand under."""
    for row, one in enumerate(ledger.sums[:-1], first_sum + 1):
        if one.is_final:
            yield ("TOPPADDING", (0, row), (-1, row), 4)


def _quiet(ledger: Ledger, first_sum: int) -> Iterator[Command]:
    for number, column in enumerate(ledger.columns, 1):
        if column.is_quiet and first_sum > 1:
            yield ("TEXTCOLOR", (number, 1), (number, first_sum - 1), styles.MUTED)


def _widths(ledger: Ledger) -> list[float]:
    fixed = [column.width for column in ledger.columns]
    return [max(styles.WIDTH - sum(fixed), LEAST_TEXT), *fixed]
