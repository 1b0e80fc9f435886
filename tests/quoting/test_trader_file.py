import json
from pathlib import Path

import pytest

from estimator.notices import UserMistake, WorldFault
from estimator.quoting import trader_file

FULL = {
    "name": "Sample & Daughter <Masonry>",
    "trade": "Masonry repairs",
    "address": ["1 Oak Lane", "Anytown"],
    "telephone": "01632 960000",
    "email": "office@example.com",
    "vat_number": "GB 000 0000 00",
    "company_number": "00000000",
    "waste_carrier": "CBDU000000",
    "insurance": "Insured.",
    "guarantee": "Two lines\nof it.",
    "complaints": "Tell us.",
}


def test_every_field_is_read() -> None:
    trader = trader_file.read(json.dumps(FULL))
    assert {name: getattr(trader, name) for name in FULL} == {
        **FULL,
        "address": ("1 Oak Lane", "Anytown"),
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "the firm file cannot be read at line 1 because it is not JSON there"),
        ("[]", "the firm file is a list; write a group of fields"),
        ("{}", "the firm file: name is missing; write it"),
        ('{"name": ""}', "the firm file: name is empty"),
        ('{"name": "A", "addres": []}', "perhaps 'address' was meant"),
        ('{"name": "A", "address": "1 Oak Lane"}', "write a list in brackets"),
        ('{"name": 7}', "write text in quotes"),
        ("[" * 100_000, "the firm file"),
        (" " * 200_000, "too large"),
    ],
)
def test_mistakes_are_said_plainly(text: str, said: str) -> None:
    with pytest.raises(UserMistake) as caught:
        trader_file.read(text)
    assert said in str(caught.value)


def test_files_are_read_from_disk(tmp_path: Path) -> None:
    path = tmp_path / "firm.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(FULL).encode())
    assert trader_file.load(path).name == FULL["name"]
    path.write_bytes(b"\xff\xfe")
    with pytest.raises(UserMistake, match="not UTF-8"):
        trader_file.load(path)
    with pytest.raises(WorldFault, match=r"'none\.json' could not be read"):
        trader_file.load(tmp_path / "none.json")
