"""Make the kept bad price lists, each wrong in one way that its name says.

Run ``python -m tests.bad_price_lists.make`` to write them again. ``index.json`` beside them holds,
for each, a part of what must be said of it. The files are kept so that a change of the reader is
tried on what suppliers really send, not on whatever this script makes today.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from tests.bad_price_lists.cells import CASES, COLUMNS, GOOD
from tests.bad_price_lists.raw import TEXTS, WORKBOOKS
from tests.exchange.workbooks import ods, ods_row, packed, row, xlsx_parts

FOLDER = Path(__file__).parent
INDEX = FOLDER / "index.json"
KINDS = ("*.csv", "*.xlsx", "*.xlsb", "*.docx", "*.ods", "*.zip")
Rows = Sequence[Sequence[str]]
Bad = tuple[str, bytes, str]
"""A file name, its bytes, and a part of what must be said of it."""


def as_csv(rows: Rows) -> bytes:
    """A list as most programs write it."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    return out.getvalue().encode()


def as_tabs(rows: Rows) -> bytes:
    """A list as copied from a spreadsheet, in UTF-16."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter="\t").writerows(rows)
    return b"\xff\xfe" + out.getvalue().encode("utf-16-le")


def as_xlsx(rows: Rows) -> bytes:
    """A list as a workbook."""
    made = "".join(row(at, *map(in_xml, cells)) for at, cells in enumerate(rows, start=1))
    return packed(xlsx_parts(made), squeezed=False)


def as_ods(rows: Rows) -> bytes:
    """A list as an open document."""
    return ods("".join(ods_row(*map(in_xml, cells)) for cells in rows), squeezed=False)


def in_xml(text: str) -> str:
    """A text as a workbook spells it, with what XML cannot hold."""
    spelled = "".join(f"_x{ord(letter):04X}_" if letter < " " else letter for letter in text)
    return spelled.replace("&", "&amp;").replace("<", "&lt;")


WRITERS: dict[str, Callable[[Rows], bytes]] = {
    ".csv": as_csv,
    "-in-tabs.csv": as_tabs,
    ".xlsx": as_xlsx,
    ".ods": as_ods,
}


def cells() -> Iterator[Bad]:
    """Every wrong cell in every kind of file."""
    for column, (at, cases) in CASES.items():
        for slug, wrong, fragment in cases:
            first = [*GOOD[0][:at], wrong, *GOOD[0][at + 1 :]]
            for ending, data in written([COLUMNS, first, *GOOD[1:]]):
                yield f"{column}-{slug}{ending}", data, fragment


def written(rows: Rows) -> Iterator[tuple[str, bytes]]:
    """A list in every kind of file that can hold it, with how its name ends."""
    control = any(letter < " " for cells in rows for cell in cells for letter in cell)
    for ending, write in WRITERS.items():
        # An open document has no way to spell a control character.
        if ending != ".ods" or not control:
            yield ending, write(rows)


def every() -> Iterator[Bad]:
    """Every bad price list there is to make."""
    yield from cells()
    yield from ((f"{name}.csv", data, fragment) for name, data, fragment in TEXTS)
    yield from WORKBOOKS


def write_all() -> None:
    """Write the files and their index, and remove those no longer made."""
    made = list(every())
    names = [name for name, _data, _fragment in made]
    assert len(set(names)) == len(names), "two bad lists of one name"
    for kind in KINDS:
        for old in FOLDER.glob(kind):
            old.unlink()
    for name, data, _fragment in made:
        (FOLDER / name).write_bytes(data)
    index = {name: fragment for name, _data, fragment in sorted(made)}
    INDEX.write_text(json.dumps(index, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write_all()
