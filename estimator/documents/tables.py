"""Tables: hairlines only where sums are struck, figures set right, sums never alone on a page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import Any

from reportlab.platypus import Table

from estimator.documents import styles
from estimator.documents.content import Row, Schedule, ScheduleGroup, Steps, Sum, Work
from estimator.documents.text import clean, paragraph, pieces

MONEY = 76.0
"""Width of a column of money where there are one or two options."""
MONEY_NARROW = 66.0
RANGE_MORE = 44.0
"""What a column is wider by where it holds ranges."""
QUANTITY = 96.0
LINE_QUANTITY, LINE_RATE, LINE_SURETY = 58.0, 50.0, 56.0
LONGEST_CELL = 600
"""Letters in one table row; a longer text goes on in further rows, so that any row fits a page."""
WHOLE_TO = 24
"""Rows up to which the table of the work is never cut in two."""
KEPT_WITH_SUMS = 3
"""Rows that always stay on the page of the sums under them."""

Command = tuple[Any, ...]


def work_table(work: Work) -> Table:
    """Return the work with a column for each option, and its sums."""
    look = styles.sheet()
    rows: list[list[Any]] = [[paragraph(work.title, look.title), *work.columns]]
    for row in work.rows:
        rows += _spread(row)
    first_sum = len(rows)
    for one in work.sums:
        style = look.cell_strong if one.is_final else look.cell
        rows.append([paragraph(one.title, style), "", *one.figures])
    commands = [
        *figures_right(len(rows), 10, 13),
        *heading_rule(),
        ("LINEABOVE", (0, first_sum), (-1, first_sum), styles.HAIRLINE, styles.RULE),
        ("TOPPADDING", (0, first_sum), (-1, first_sum), 4),
        ("TEXTCOLOR", (1, 1), (1, first_sum - 1), styles.MUTED),
        *struck(work.sums, first_sum),
        *(("SPAN", (0, row), (1, row)) for row in range(first_sum, len(rows))),
        # It is short, and read across: never cut in two unless it is longer than a page.
        ("NOSPLIT", (0, 0), (-1, -1)) if len(rows) <= WHOLE_TO else kept(first_sum, len(rows))[0],
    ]
    count = len(work.columns) - 1
    money = MONEY if count <= 2 else MONEY_NARROW
    quantity = QUANTITY if work.columns[0] else 0.0
    if not work.columns[0]:
        money += RANGE_MORE
    widths = [styles.WIDTH - quantity - count * money, quantity, *[money] * count]
    return ruled(rows, widths, commands, repeat=1)


def schedule_table(schedule: Schedule) -> Table:
    """Return every line under its group, and the same sums as the work has."""
    has_rates = bool(schedule.columns[0])
    rows: list[list[Any]] = [_schedule_heading(schedule, has_rates=has_rates)]
    commands: list[Command] = []
    for group in schedule.groups:
        commands += _group_rows(group, rows, has_rates=has_rates)
    first_sum = len(rows)
    look = styles.sheet()
    blanks = [""] * (3 if has_rates else 1)
    for one in schedule.sums:
        style = look.line_strong if one.is_final else look.line
        rows.append([paragraph(one.title, style), *blanks, *one.figures])
    final = [("FONTSIZE", (0, first_sum), (-1, -1), styles.SMALL)] if schedule.sums else []
    before = [
        *figures_right(len(rows), styles.SMALL, 12),
        *heading_rule(),
        ("TEXTCOLOR", (1, 1), (1 if not has_rates else 3, -1), styles.MUTED),
    ]
    if schedule.sums:
        commands += [
            ("LINEABOVE", (0, first_sum), (-1, first_sum), styles.HAIRLINE, styles.RULE),
            ("BOTTOMPADDING", (0, first_sum - 1), (-1, first_sum - 1), 5),
            ("TOPPADDING", (0, first_sum), (-1, first_sum), 4),
            *struck(schedule.sums, first_sum),
            *final,
            *(("SPAN", (0, row), (len(blanks), row)) for row in range(first_sum, len(rows))),
        ]
    commands += kept(first_sum, len(rows))
    return ruled(
        rows, _schedule_widths(schedule, has_rates=has_rates), [*before, *commands], repeat=1
    )


def steps_table(steps: Steps) -> Table:
    """Return a programme: what, how long, why."""
    look = styles.sheet()
    rows = [
        [paragraph(title, look.line), paragraph(days, look.line), paragraph(reason, look.quiet)]
        for whole in steps.rows
        for title, days, reason in _chunked(whole)
    ]
    widths = [styles.TEXT_WIDTH * share for share in (0.36, 0.19, 0.45)]
    commands: list[Command] = [
        ("LINEBELOW", (0, 0), (-1, -1), styles.HAIRLINE, styles.RULE),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("RIGHTPADDING", (0, 0), (-1, -1), 8),
    ]
    return ruled(rows, widths, commands)


def text_table(
    heads: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[float]
) -> Table:
    """Return texts in columns under their headings, a hairline under each row."""
    look = styles.sheet()
    shown: list[list[Any]] = [[paragraph(one, look.quiet) for one in heads]]
    for row in rows:
        columns = [pieces(clean(text), LONGEST_CELL // 4) for text in row]
        shown += (
            [paragraph(text, look.line) for text in texts]
            for texts in zip_longest(*columns, fillvalue="")
        )
    commands: list[Command] = [
        ("LINEBELOW", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK),
        ("LINEBELOW", (0, 1), (-1, -1), styles.HAIRLINE, styles.RULE),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
        ("TOPPADDING", (0, 1), (-1, -1), 2.5),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("RIGHTPADDING", (0, 0), (-1, -1), 7),
    ]
    return ruled(shown, widths, commands, repeat=1)


def ruled(
    rows: list[list[Any]], widths: Sequence[float], commands: Iterable[Command], *, repeat: int = 0
) -> Table:
    """Return a table in the one look of all tables, with commands on top of it."""
    plain: list[Command] = [
        ("FONTNAME", (0, 0), (-1, -1), styles.REGULAR),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 0.6),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.7),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ]
    # At the right edge, so that tables beside a side heading need no indent of their own.
    return Table(
        rows, colWidths=widths, style=[*plain, *commands], repeatRows=repeat, hAlign="RIGHT"
    )


def figures_right(rows: int, size: float, leading: float) -> list[Command]:
    """Return how plain text in cells looks: figures to the right, in figures of one width."""
    last = rows - 1
    return [
        ("FONTNAME", (0, 0), (-1, last), styles.REGULAR),
        ("FONTSIZE", (0, 0), (-1, last), size),
        ("LEADING", (0, 0), (-1, last), leading),
        ("TEXTCOLOR", (0, 0), (-1, last), styles.INK),
        ("ALIGN", (1, 0), (-1, last), "RIGHT"),
    ]


def heading_rule() -> list[Command]:
    """Return how headings look, and the strong line under them."""
    return [
        ("TEXTCOLOR", (0, 0), (-1, 0), styles.MUTED),
        ("LINEBELOW", (0, 0), (-1, 0), styles.STRONG_RULE, styles.INK),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 4),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        ("TOPPADDING", (0, 1), (-1, 1), 5),
    ]


def struck(sums: Sequence[Sum], first: int) -> list[Command]:
    """Return the line over a final sum, and its weight."""
    commands: list[Command] = []
    for number, one in enumerate(sums, first):
        if one.is_final:
            commands += [
                ("LINEABOVE", (0, number), (-1, number), styles.STRONG_RULE, styles.INK),
                ("FONTNAME", (0, number), (-1, number), styles.SEMIBOLD),
                ("FONTSIZE", (0, number), (-1, number), 11),
                ("LEADING", (0, number), (-1, number), 14),
                ("TOPPADDING", (0, number), (-1, number), 4),
            ]
    return commands


def kept(first_sum: int, rows: int) -> list[Command]:
    """Return what keeps the sums together with the rows above them."""
    first = max(first_sum - KEPT_WITH_SUMS, 1)
    return [("NOSPLIT", (0, first), (-1, rows - 1))] if rows - 1 > first else []


def _spread(row: Row) -> list[list[Any]]:
    """Return a row, and more rows under it where its title is very long."""
    look = styles.sheet()
    first, *more = pieces(clean(row.title), LONGEST_CELL)
    blanks = [""] * (len(row.figures) + 1)
    return [
        [paragraph(first, look.cell), row.quantity, *row.figures],
        *([paragraph(piece, look.cell), *blanks] for piece in more),
    ]


def _schedule_heading(schedule: Schedule, *, has_rates: bool) -> list[Any]:
    quantity, *letters = schedule.columns
    if not has_rates:
        return ["", "", *letters]
    return ["", "", quantity, schedule.rate_title, *letters]


def _schedule_widths(schedule: Schedule, *, has_rates: bool) -> list[float]:
    count = len(schedule.columns) - 1
    money = 64.0 if count <= 2 else 55.0
    fixed = [LINE_SURETY, LINE_QUANTITY, LINE_RATE] if has_rates else [LINE_SURETY]
    if not has_rates:
        money += 16
    return [styles.WIDTH - sum(fixed) - count * money, *fixed, *[money] * count]


def _group_rows(group: ScheduleGroup, rows: list[list[Any]], *, has_rates: bool) -> list[Command]:
    """Add a group with its lines to the rows, and return how they look."""
    look = styles.sheet()
    start = len(rows)
    blanks = [""] * (3 if has_rates else 1)
    columns = max((len(line.figures) for line in group.lines), default=0)
    figures = group.figures or ("",) * columns
    rows.append([paragraph(group.title, look.line_strong), *blanks, *figures])
    for line in group.lines:
        first, *more = pieces(clean(line.description), LONGEST_CELL)
        middle = [line.surety, line.quantity, line.rate] if has_rates else [line.surety]
        rows.append([paragraph(first, look.line), *middle, *line.figures])
        rows += [[paragraph(piece, look.line), *blanks, *[""] * columns] for piece in more]
    return [
        ("FONTNAME", (1, start), (-1, start), styles.SEMIBOLD),
        ("TOPPADDING", (0, start), (-1, start), 6),
        ("NOSPLIT", (0, start), (-1, min(start + 1, len(rows) - 1))),
    ]


def _chunked(whole: tuple[str, str, str]) -> list[tuple[str, str, str]]:
    """Return a step in rows that each fit a page."""
    columns = [pieces(clean(text), LONGEST_CELL // 2) for text in whole]
    most = max(map(len, columns))
    return [_nth(columns, number) for number in range(most)]


def _nth(columns: Sequence[Sequence[str]], number: int) -> tuple[str, str, str]:
    first, second, third = (column[number] if number < len(column) else "" for column in columns)
    return first, second, third
