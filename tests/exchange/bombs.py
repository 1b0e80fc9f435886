"""Small files that would fill the machine, and what is said of each (reliability table, row 20)."""

from __future__ import annotations

import random
import struct
from collections.abc import Callable

from tests.exchange.workbooks import MAIN, ods, ods_row, packed, row, xlsx, xlsx_parts

ENTITIES = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
ENTITY_BOMB = f'<!DOCTYPE sst [<!ENTITY e0 "lol">{ENTITIES}]>'


def shared(*texts: str, before: str = "") -> str:
    items = "".join(f"<si><t>{text}</t></si>" for text in texts)
    return f'{before}<sst xmlns="{MAIN}">{items}</sst>'


def packed_thousandfold() -> bytes:
    return xlsx(row(1, "a" * 20_000_000))


def lying_about_its_size() -> bytes:
    """A part of 40 MB whose entry in the directory says 900 kB."""
    data = bytearray(packed(xlsx_parts(row(1, "a")) | {"xl/styles.xml": b" " * 40_000_000}))
    for start, size_at in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        at = data.find(start)
        while at >= 0:
            if struct.unpack_from("<I", data, at + size_at)[0] == 40_000_000:
                struct.pack_into("<I", data, at + size_at, 900_000)
            at = data.find(start, at + 4)
    return bytes(data)


def a_million_rows() -> bytes:
    chance = random.Random(1)
    rows = [f"<row><c><v>{chance.randrange(10**6)}</v></c></row>" for _row in range(20_000)]
    return xlsx("".join(rows) * 50)


def a_far_cell() -> bytes:
    return xlsx('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


def a_column_past_all_counting() -> bytes:
    return xlsx('<row r="1"><c r="AAAAAAAAAAAAA1"><v>1</v></c></row>')


def many_columns() -> bytes:
    return xlsx(row(1, *map(str, range(16_384))))


def many_sheets() -> bytes:
    return xlsx(row(1, "a"), sheets=10_000)


def some_sheets_too_many() -> bytes:
    return xlsx(row(1, "a"), sheets=51)


def an_entity_bomb() -> bytes:
    return xlsx('<row><c t="s"><v>0</v></c></row>', shared=shared("&e9;", before=ENTITY_BOMB))


def an_entity_bomb_in_ods() -> bytes:
    return ods(ods_row("&e9;"), before=ENTITY_BOMB.replace("sst", "office:document-content"))


def one_long_text_used_everywhere() -> bytes:
    chance = random.Random(3)
    fillers = [str(chance.random()) for _filler in range(1_000)]
    cells = [f'<c s="{chance.randrange(100)}" t="s"><v>0</v></c>' for _cell in range(10_000)]
    return xlsx(
        f"<row>{'</row><row>'.join(cells)}</row>",
        shared=shared("".join(map(str, range(2_000))), *fillers),
    )


def one_cell_repeated_everywhere() -> bytes:
    return ods(ods_row("lime", across=16_384, down=1_048_576))


def one_long_cell_repeated() -> bytes:
    return ods(ods_row("lime " * 1_000, across=60, down=20_000))


def tags_without_end() -> bytes:
    chance = random.Random(2)
    kinds = ["<a/>", "<b/>", "<c/>", "<d/>"]
    return xlsx(f"<row>{''.join(chance.choices(kinds, k=2_600_000))}</row>")


def text_a_million_rows() -> bytes:
    return b"Item,Price\n" + b"Lime,9\n" * 1_000_000


def text_many_columns() -> bytes:
    return b"Item,Price" + b",x" * 16_384


def text_one_endless_cell() -> bytes:
    return b'Item,Price\n"Lime,9\n' + b"Sand,3\n" * 1_000_000


def text_only_line_ends() -> bytes:
    return b"\n" * 10_000_000


def larger_than_allowed() -> bytes:
    return b"Lime,9\n" * 1_500_000


BOMBS: dict[Callable[[], bytes], str] = {
    packed_thousandfold: "far larger unpacked",
    lying_about_its_size: "damaged",
    a_million_rows: "more than 20,000 rows",
    a_far_cell: "more than 20,000 rows",
    a_column_past_all_counting: "damaged",
    many_columns: "more than 60 columns",
    many_sheets: "more than 1,000 parts",
    some_sheets_too_many: "more than 50 sheets",
    an_entity_bomb: "words that stand for others",
    an_entity_bomb_in_ods: "words that stand for others",
    one_long_text_used_everywhere: "more text than a list has",
    one_cell_repeated_everywhere: "more than 20,000 rows",
    one_long_cell_repeated: "more text than a list has",
    tags_without_end: "more tags than a list has",
    text_a_million_rows: "more than 20,000 rows",
    text_many_columns: "more than 60 columns",
    text_one_endless_cell: "quotation mark may be missing",
    text_only_line_ends: "more than 20,000 rows",
    larger_than_allowed: "larger than 10 MB",
}
