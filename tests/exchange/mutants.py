"""Good price lists damaged by chance, as broken transfers and broken programs damage them."""

from __future__ import annotations

import io
import random
import re
import zipfile
from collections.abc import Callable

from estimator.exchange.catalogue_out import to_csv, to_xlsx
from tests.exchange import made_up
from tests.exchange.workbooks import ods, ods_row, packed, row, xlsx

TEXT = (
    'Sample Merchant;;;\r\nCode;Description;Unit;Price\r\nL1;"Lime; 25kg";bag;9,50\r\n'
    "S1;Sand ½;tonne;48,00\r\nB1;Bricks;1000;1.234,50\r\n"
)
TOKENS = (
    *(b'"', b'""', b",", b";", b"\t", b"\r", b"\n", b"\x00", b"\xff", b"\xef\xbb\xbf", b"\xff\xfe"),
    *(b"=1+1", b"-", b"1e999", b"NaN", b"9" * 40, b"\xed\xa0\x80", b"'", b"sep=;\n", b" " * 99),
    *(b"<", b">", b"/>", b"&amp;", b"&#0;", b"&#xD800;", b"]]>", b"<![CDATA[", b"<!--", b"</row>"),
    *(b'r="XFD9"', b'r="A0"', b't="s"', b't="e"', b't="d"', b"<row>", b"<c>", b"<v>1</v>", b"-1"),
    *(b"99999999999", b"1.5.5", b"<is><t>x</t></is>", b"_xD800_", b"_x0000_", b"inlineStr"),
)
"""Pieces that readers stumble over."""
VALUE = re.compile(rb'(?<=")[^"<>]*(?=")|(?<=>)[^<>]+(?=<)')
VALUES = (
    *(b"", b"0", b"1", b"-1", b"2", b"999999", b"1048577", b"4294967296", b"18446744073709551616"),
    *(
        b"1e308",
        b"-0",
        b"NaN",
        b"inf",
        b"s",
        b"e",
        b"d",
        b"b",
        b"str",
        b"inlineStr",
        b"n",
        b"x" * 99,
    ),
    *(
        b"A1",
        b"A0",
        b"B1",
        b"XFD1",
        b"A1048577",
        b"#REF!",
        b"true",
        b"2026-13-45",
        b"PT99H",
        b"../x",
    ),
    *(b"A1:XFD1048576", b"B2:A1", b"_xD800_", b"_x0000_", b"/xl/worksheets/sheet1.xml", b"float"),
    *(b"percentage", b"date", b"time", b"boolean", b"string", b"utf-16", b"hidden", b"shared"),
)
TAGS = (
    *(b"<row/>", b'<row r="9"/>', b"<c/>", b'<c t="s"/>', b"<c><v>7</v></c>", b"<v/>", b"<v>1</v>"),
    *(b'<c t="e"><v>#N/A</v></c>', b'<c t="b"><v>2</v></c>', b'<c t="d"><v>2026-99-99</v></c>'),
    *(
        b"<is><t>q</t></is>",
        b"<si/>",
        b"<sheet/>",
        b"<f>1+1</f>",
        b"<x:y xmlns:x='z'/>",
        b"<!---->",
    ),
    *(b'<mergeCell ref="B2:A1"/>', b'<dimension ref="A1:XFD1048576"/>', b"<sheetData/>", b"<?q?>"),
    *(b'<c><f t="shared" si="0" ref="A1:B2">A1</f><v>1</v></c>', b'<xf numFmtId="14"/>', b"<t/>"),
)


def good() -> list[bytes]:
    """Lists of every kind that is read."""
    rows = made_up.rows(12, random.Random(5))
    cells = [("Code", "Description", "Unit", "Price"), ("L1", "Lime 25kg", "bag", "9.50")]
    cells += [("S1", "Sand", "tonne", "48.00"), ("B1", "Bricks", "1000", "1234.50")]
    by_hand = "".join(row(number, *each) for number, each in enumerate(cells, start=1))
    shared = "<sst><si><t>Price</t></si><si><r><t>De</t></r><r><t>scription</t></r></si></sst>"
    named = '<row r="1"><c r="A1" t="s"><v>1</v></c><c r="C1" t="s"><v>0</v></c></row>'
    valued = '<row r="2"><c r="A2" t="str"><v>Lime</v></c><c r="C2"><v>9.5</v></c></row>'
    return [
        *(TEXT.encode(codec) for codec in ("utf-8", "cp1252", "utf-16", "utf-8-sig")),
        to_csv(rows),
        to_xlsx(rows),
        xlsx(by_hand),
        xlsx(named + valued, shared=shared),
        ods("".join(ods_row(*each) for each in cells)),
    ]


def mutant(seed: int, kept: list[bytes]) -> bytes:
    """One damaged list: the same for the same seed."""
    chance = random.Random(seed)
    data = chance.choice(kept)
    if not data.startswith(b"PK") or chance.random() < 0.2:
        return _damaged(data, chance)
    # Damage inside a part reaches the reader of cells; damage to the archive hardly ever does.
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts: dict[str, str | bytes] = {name: archive.read(name) for name in archive.namelist()}
    for name in chance.sample(sorted(parts), chance.randint(1, 2)):
        content = parts[name]
        assert isinstance(content, bytes)
        parts[name] = _damaged(content, chance)
    return packed(parts)


def _damaged(data: bytes, chance: random.Random) -> bytes:
    for _time in range(chance.choice((1, 1, 2, 3, 8))):
        data = chance.choice(DAMAGES)(data, chance)
    return data


def _cut(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randint(0, len(data))]


def _lost(data: bytes, chance: random.Random) -> bytes:
    start = chance.randint(0, len(data))
    return data[:start] + data[start + chance.randint(1, 30) :]


def _doubled(data: bytes, chance: random.Random) -> bytes:
    start = chance.randint(0, len(data))
    end = start + chance.randint(1, 60)
    return data[:end] + data[start:end] * chance.randint(1, 3) + data[end:]


def _put_in(data: bytes, chance: random.Random) -> bytes:
    start = chance.randint(0, len(data))
    return data[:start] + chance.choice(TOKENS) + data[start:]


def _written_over(data: bytes, chance: random.Random) -> bytes:
    start = chance.randint(0, len(data))
    token = chance.choice(TOKENS)
    return data[:start] + token + data[start + len(token) :]


def _flipped(data: bytes, chance: random.Random) -> bytes:
    if not data:
        return data
    at = chance.randrange(len(data))
    return data[:at] + bytes([data[at] ^ 1 << chance.randrange(8)]) + data[at + 1 :]


def _figures_changed(data: bytes, chance: random.Random) -> bytes:
    digits = [at for at, byte in enumerate(data) if chr(byte).isdigit()]
    if not digits:
        return data
    at = chance.choice(digits)
    return data[:at] + chance.choice((b"0", b"-1", b"999999999", b"x", b"")) + data[at + 1 :]


def _value_changed(data: bytes, chance: random.Random) -> bytes:
    """Change one value of a part that stays well formed, so that it reaches the last reader."""
    found = list(VALUE.finditer(data))
    if not found:
        return data
    start, end = chance.choice(found).span()
    return data[:start] + chance.choice(VALUES) + data[end:]


def _tag_moved(data: bytes, chance: random.Random) -> bytes:
    """Put a whole empty tag of a sheet somewhere between others."""
    gaps = [at + 1 for at, byte in enumerate(data) if byte == ord(">")]
    if not gaps:
        return data
    at = chance.choice(gaps)
    return data[:at] + chance.choice(TAGS) + data[at:]


DAMAGES: tuple[Callable[[bytes, random.Random], bytes], ...] = (
    *(_cut, _lost, _doubled, _put_in, _put_in, _written_over, _flipped, _figures_changed),
    *(_value_changed, _value_changed, _value_changed, _tag_moved, _tag_moved),
)
