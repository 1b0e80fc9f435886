"""A workbook looked through before it is opened, so that a small file cannot fill the machine.

What is handed on is a new archive of only the parts a table needs, each of them unpacked, measured
and read through here first. So the reader behind it never meets a size that lies, an entity, a part
twice, or a cell so far out that the table up to it would fill the memory.
"""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from array import array
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import IO
from xml.parsers import expat

from estimator.exchange.price_list import HEADING_ROWS, MOST_COLUMNS, MOST_ROWS
from estimator.notices import UserMistake

MOST_UNPACKED = 100_000_000
"""All parts together, unpacked [byte]."""
MOST_RATIO = 100
"""So many times its packed size a part may be."""
RATIO_MATTERS = 1_000_000
"""Parts smaller than this may be packed as tightly as they like [byte]."""
MOST_PARTS = 1_000
MOST_SHEETS = 50
MOST_TAGS = 2_500_000
"""Tags opened in all parts together; a full sheet of the greatest size has fewer."""
MOST_TEXT = 20_000_000
"""Letters of all cells together, a text counted each time it is used."""
MOST_LINES = MOST_ROWS + HEADING_ROWS
LONGEST_NUMBER = 9
"""Most digits by which a cell names a shared text."""
CHUNK = 1 << 18
"""So much of a part is unpacked at a time [byte]."""
KEPT = (".xml", ".rels", "mimetype")
NEEDLESS = (
    *("xl/drawings/", "xl/media/", "xl/theme/", "xl/charts/", "xl/externalLinks/", "xl/tables/"),
    *("xl/pivotTables/", "xl/pivotCache/", "xl/comments", "docProps/", "Thumbnails/", "Pictures/"),
)
SHARED_TEXTS = "xl/sharedStrings.xml"
BROKEN = "this workbook is damaged or locked"
SAVE_AGAIN = "open it in a spreadsheet and save it again without a password, or save it as CSV"
LESS = "copy the list by itself to a new workbook, or save it as CSV"
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")


def looked_through(data: bytes) -> bytes:
    """Return a workbook that is safe to open, holding the same tables.

    Raises:
        UserMistake: for a damaged or locked workbook, or one past the limits.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = _parts(archive, len(data))
            return _repacked(archive, parts)
    except (
        *(zipfile.BadZipFile, zlib.error, expat.ExpatError, NotImplementedError),
        *(EOFError, OSError, OverflowError, RuntimeError, ValueError),
    ) as error:
        raise UserMistake(BROKEN, do=SAVE_AGAIN) from error


def _parts(archive: zipfile.ZipFile, packed: int) -> list[zipfile.ZipInfo]:
    """Return the parts a table needs, by what the archive says of itself; texts come first."""
    listed = archive.infolist()
    if len(listed) > MOST_PARTS:
        raise UserMistake(f"this workbook has more than {MOST_PARTS:,} parts", do=LESS)
    unpacked = sum(part.file_size for part in listed)
    tight = any(
        part.file_size > max(RATIO_MATTERS, part.compress_size * MOST_RATIO) for part in listed
    )
    if unpacked > MOST_UNPACKED or unpacked > max(RATIO_MATTERS, packed * MOST_RATIO) or tight:
        raise UserMistake(
            "this workbook is far larger unpacked than it looks", why="it may be a trap", do=LESS
        )
    names = {part.filename: part for part in listed}
    if "xl/workbook.bin" in names:
        raise UserMistake("this workbook is of a kind not read here", do="save it as .xlsx or CSV")
    if not names.keys() & {"[Content_Types].xml", "content.xml"}:
        raise UserMistake("this file is an archive and no workbook", do="unpack it first")
    needed = [
        part
        for name, part in names.items()
        if name.endswith(KEPT) and not name.startswith(NEEDLESS)
    ]
    return sorted(needed, key=lambda part: part.filename != SHARED_TEXTS)


def _repacked(archive: zipfile.ZipFile, parts: list[zipfile.ZipInfo]) -> bytes:
    """Return an archive of the parts, each read through on its way."""
    out = io.BytesIO()
    reader = _Reader()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as fresh:
        for part in parts:
            with archive.open(part) as source, fresh.open(part.filename, "w") as copy:
                copy.writelines(reader.followed(source, is_xml=part.filename != "mimetype"))
    return out.getvalue()


def _too_much(what: str) -> UserMistake:
    return UserMistake(f"this workbook has {what}", do=LESS)


@lru_cache(maxsize=256)
def column_of(letters: str) -> int:
    """Return which column some letters name, counted from 1.

    >>> column_of("A"), column_of("BH"), column_of("XFD")
    (1, 60, 16384)
    """
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - ord("A") + 1
    return column


class _Reader:
    """Reads the parts of one workbook through and keeps count; it keeps none of their contents.

    Every part is read by the same rules, since its name does not say what it is. Sheets of both
    kinds are known: ``row`` and ``c`` of ISO/IEC 29500, ``table-row`` and ``table-cell`` of ISO/IEC
    26300. Only what holds something counts: a format may reach to the end of the sheet.
    """

    def __init__(self) -> None:
        self.tags = 0
        self.letters = 0
        self.sheets = 0
        self.lengths = array("L")
        """Length of each shared text."""
        self.row = self.column = 0
        self.rows_at_once = self.cells_at_once = 1
        self.counted = 1
        """How often the letters that come next are used."""
        self.is_shared = self.in_shared_texts = False
        self.known = {
            "c": self._cell,
            "v": self._held,
            "is": self._held,
            "f": self._held,
            "row": self._row,
            "table-row": self._repeated_row,
            "table-cell": self._repeated_cell,
            "covered-table-cell": self._repeated_cell,
            "p": self._paragraph,
            "si": self._shared_text,
            "sheet": self._sheet,
            "table": self._sheet,
        }
        self.named: dict[str, Callable[[Mapping[str, str]], None] | None] = {}
        """The same by the names the part uses, which may have any prefix."""

    def followed(self, source: IO[bytes], *, is_xml: bool) -> Iterator[bytes]:
        """Hand on a part piece by piece, each read through before."""
        parser = self.parser()
        while chunk := source.read(CHUNK):
            self.tags += chunk.count(b"<") - chunk.count(b"</")
            if self.tags > MOST_TAGS:
                raise _too_much("more tags than a list has")
            if is_xml:
                parser.Parse(chunk, False)
            yield chunk
        if is_xml:
            parser.Parse(b"", True)

    def parser(self) -> expat.XMLParserType:
        """Return a parser for one part; whatever the part says of its letters, they are UTF-8."""
        self.row = self.column = 0
        self.rows_at_once = self.cells_at_once = self.counted = 1
        self.is_shared = self.in_shared_texts = False
        parser = expat.ParserCreate("utf-8")
        parser.buffer_text = True
        parser.EntityDeclHandler = self.entity
        parser.StartElementHandler = self.start
        parser.CharacterDataHandler = self.text
        return parser

    def entity(self, *_declared: object) -> None:
        """Refuse a part that declares entities: no spreadsheet does, and they can explode."""
        raise UserMistake(
            "this workbook has words that stand for others", why="it may be a trap", do=SAVE_AGAIN
        )

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        """Follow a tag to the row and cell it opens, and refuse what lies too far out."""
        if name not in self.named:
            self.named[name] = self.known.get(name.rpartition(":")[2])
        follow = self.named[name]
        if follow is not None:
            follow(attributes)

    def text(self, text: str) -> None:
        """Count letters as often as they are used, shared texts wherever a cell names them."""
        if self.is_shared and text.isdecimal():
            # A longer number could come in two pieces, and each would name another text.
            if len(text) > LONGEST_NUMBER:
                raise ValueError("no number of a shared text")
            number = int(text)
            self._count(self.lengths[number] if number < len(self.lengths) else 0)
        if self.in_shared_texts:
            self.lengths[-1] += len(text)
        self._count(len(text) * self.counted)

    def _count(self, letters: int) -> None:
        self.letters += letters
        if self.letters > MOST_TEXT:
            raise _too_much("more text than a list has")

    def _sheet(self, _attributes: Mapping[str, str]) -> None:
        self.row = self.column = 0
        self.sheets += 1
        if self.sheets > MOST_SHEETS:
            raise _too_much(f"more than {MOST_SHEETS} sheets")

    def _shared_text(self, _attributes: Mapping[str, str]) -> None:
        self.lengths.append(0)
        self.in_shared_texts = True

    def _row(self, attributes: Mapping[str, str]) -> None:
        """Go to the next row, or to the one named, which must lie below."""
        named = attributes.get("r")
        row = self.row + 1 if named is None else _whole(named)
        if row <= self.row:
            raise ValueError("rows out of order")
        self.row, self.column = row, 0

    def _cell(self, attributes: Mapping[str, str]) -> None:
        """Go to the next cell, or to the one named, which must lie to the right in this row."""
        column = self.column + 1
        named = attributes.get("r")
        if named is not None:
            match = _CELL.fullmatch(named)
            if match is None or int(match[2]) != self.row:
                raise ValueError("a cell outside its row")
            column = column_of(match[1])
        if column <= self.column:
            raise ValueError("cells out of order")
        self.column = column
        self.is_shared = attributes.get("t") == "s"

    def _held(self, _attributes: Mapping[str, str]) -> None:
        self._within_limits()

    def _repeated_row(self, attributes: Mapping[str, str]) -> None:
        self.rows_at_once = _times(attributes, "number-rows-repeated")
        self.row += self.rows_at_once
        self.column, self.counted = 0, 1

    def _repeated_cell(self, attributes: Mapping[str, str]) -> None:
        across = _times(attributes, "number-columns-repeated")
        self.column += across
        self.cells_at_once, self.counted = across * self.rows_at_once, 1
        if any(name.rpartition(":")[2] in {"value-type", "value"} for name in attributes):
            self._within_limits()

    def _paragraph(self, _attributes: Mapping[str, str]) -> None:
        self._within_limits()
        self.counted = self.cells_at_once

    def _within_limits(self) -> None:
        """Refuse a cell that holds something and lies past the greatest sheet."""
        if self.row > MOST_LINES:
            raise _too_much(f"more than {MOST_ROWS:,} rows")
        if self.column > MOST_COLUMNS:
            raise _too_much(f"more than {MOST_COLUMNS} columns")


def _whole(written: str) -> int:
    """Return a short whole number, or raise ``ValueError``."""
    if len(written) > 7 or not (written.isascii() and written.isdigit()):
        raise ValueError("no whole number")
    return int(written)


def _times(attributes: Mapping[str, str], name: str) -> int:
    """Return how often a row or cell is repeated."""
    return max(
        (_whole(value) for key, value in attributes.items() if key.rpartition(":")[2] == name),
        default=1,
    )
