"""Text tables: which letters, which sign between cells, and the cells themselves."""

from __future__ import annotations

import codecs
import csv
import io
from collections import Counter
from itertools import islice
from types import MappingProxyType

from estimator.exchange import headings
from estimator.exchange.price_list import HEADING_ROWS, MOST_COLUMNS, MOST_LETTERS, MOST_ROWS
from estimator.notices import UserMistake

DELIMITERS = MappingProxyType({",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"})
"""The signs a table is looked for with, in order of preference."""
SAMPLE_ROWS = 200
"""So many rows decide which sign parts the cells."""
MOST_LINES = MOST_ROWS + HEADING_ROWS
MOST_LINE_ENDS = 1_000_000
"""Blank lines and those inside cells are many, but not so many."""
SAVE_AGAIN = "open it in a spreadsheet and save it as CSV (UTF-8)"
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
_FEWEST_NULS = 10
"""A file in which one letter in so many is NUL is no 8-bit text."""


def decoded(data: bytes) -> tuple[str, str]:
    """Return the text of a file and the name of its letters.

    A mark at the start decides; without one it is UTF-8 if it can be, else Windows-1252, in which
    nearly any bytes are letters.

    Raises:
        UserMistake: for bytes that are no text.

    >>> decoded("½ bag £4".encode("cp1252"))
    ('½ bag £4', 'Windows-1252')
    """
    for mark, codec, title in _MARKS:
        if data.startswith(mark):
            return _strictly(data, codec), title
    if data.count(0) * _FEWEST_NULS > len(data):
        raise UserMistake("this file is no text", do=SAVE_AGAIN)
    try:
        return data.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        return _strictly(data, "cp1252"), "Windows-1252"


def _strictly(data: bytes, codec: str) -> str:
    try:
        return data.decode(codec)
    except UnicodeDecodeError as error:
        raise UserMistake(
            "the letters of this file cannot be read",
            why=f"byte {error.start + 1} stands for none",
            do=SAVE_AGAIN,
        ) from error


def table(text: str) -> tuple[list[tuple[str, ...]], str]:
    r"""Return the rows of a text table, and what parts its cells in words.

    Raises:
        UserMistake: for a quotation mark that is not closed, or a table past the limits.

    >>> table('Code;Price\r\n"A;1";12,50\r\n')
    ([('Code', 'Price'), ('A;1', '12,50')], 'semicolons')
    """
    if text.count("\n") + text.count("\r") > 2 * MOST_LINE_ENDS:
        raise _too_long()
    delimiter = _named_in(text) or _most_even(text)
    return _all_rows(text, delimiter), DELIMITERS[delimiter]


def _named_in(text: str) -> str:
    """Return the delimiter a first line such as ``sep=;`` names."""
    line = text[:8].splitlines()[:1]
    sign = line[0][4:5] if line and line[0].lower().startswith("sep=") else ""
    return sign if sign in DELIMITERS else ""


def _most_even(text: str) -> str:
    """Return the sign that cuts a sample best; the first of those that cut it equally well."""
    return max(DELIMITERS, key=lambda sign: _evenness(text, sign))


def _evenness(text: str, delimiter: str) -> tuple[bool, float, int]:
    """Tell how well a sign cuts a sample.

    First whether headings come out, then which share of the rows has the commonest width over one,
    then that width: texts may hold more commas than the table has semicolons.
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        sample = [row for row in islice(reader, SAMPLE_ROWS) if row]
    except csv.Error:
        return False, 0.0, 0
    several = Counter(len(row) for row in sample if len(row) > 1)
    if not several:
        return False, 0.0, 0
    width, count = several.most_common(1)[0]
    return headings.find(sample) is not None, round(count / len(sample), 1), width


def _all_rows(text: str, delimiter: str) -> list[tuple[str, ...]]:
    """Return every row down to the last one with anything in it."""
    rows: list[tuple[str, ...]] = []
    blank = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 0
    try:
        for row in reader:
            line = reader.line_num
            if not any(row):
                blank += 1
                continue
            rows.extend([()] * min(blank, MOST_LINES))
            blank = 0
            rows.append(_within_limits(row, len(rows) + 1))
    except csv.Error as error:
        raise _broken(error, line + 1) from error
    return rows


def _too_long() -> UserMistake:
    return UserMistake(
        f"this list has more than {MOST_ROWS:,} rows", do="split it into smaller files"
    )


def _within_limits(row: list[str], number: int) -> tuple[str, ...]:
    if number > MOST_LINES:
        raise _too_long()
    if len(row) > MOST_COLUMNS and any(row[MOST_COLUMNS:]):
        raise UserMistake(
            f"row {number} has more than {MOST_COLUMNS} columns",
            do="delete the columns that are not needed",
        )
    if max(map(len, row)) > MOST_LETTERS:
        raise UserMistake(
            f"a cell in row {number} has more than {MOST_LETTERS:,} letters",
            why="a quotation mark may be missing there",
            do="look at that row and mend it",
        )
    return tuple(row[:MOST_COLUMNS])


def _broken(error: csv.Error, line: int) -> UserMistake:
    """Say in plain words what the parser stopped at; its own words are for programmers."""
    if "field larger" in str(error):
        return UserMistake(
            f"a cell that begins in line {line} does not end",
            why="a quotation mark may be missing there",
            do="look at that line and mend it",
        )
    return UserMistake(
        f"the quotation marks in line {line} do not pair",
        do='write a mark inside a text twice, as in "6"" bolster", or delete it',
    )
