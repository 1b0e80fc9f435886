import json
import re
from typing import Any

import pytest

from estimator.command import as_json
from estimator.takeoff.rules import shipped
from tests.command import made_up

DECIMAL = re.compile(r"-?\d+(\.\d+)?")
KEYS = {
    "quantities": {"item", "unit", "quantity", "working", "marks"},
    "options": {"key", "title", "lines", "net", "tax", "total", "labour_hours", "working_days"},
    "notices": {"code", "severity", "text", "source"},
    "buying": {"material", "needed", "unit", "packs", "pack_size", "cost"},
}


@pytest.fixture
def printed() -> dict[str, Any]:
    result: dict[str, Any] = json.loads(json.dumps(as_json.of(made_up.quotation(), shipped())))
    return result


@pytest.mark.parametrize("name", KEYS)
def test_every_promised_key_is_there(printed: dict[str, Any], name: str) -> None:
    assert printed[name]
    assert all(entry.keys() >= KEYS[name] for entry in printed[name])


def test_lines_and_bars_have_their_promised_keys(printed: dict[str, Any]) -> None:
    line = printed["options"][0]["lines"][0]
    assert line.keys() >= {"item", "description", "quantity", "unit", "rate", "amount"}
    assert printed["bars"].keys() >= {
        "diameter_mm",
        "pieces_mm",
        "stock",
        "offcut_mm",
        "bound_gap",
    }
    assert printed["bars"]["stock"] == [{"length_mm": 3000, "count": 1}]


def test_money_and_quantities_are_text(printed: dict[str, Any]) -> None:
    first = printed["options"][0]
    line, tax, bought = first["lines"][0], first["tax"][0], printed["buying"][0]
    texts = [
        first["net"],
        first["total"],
        line["quantity"],
        line["rate"],
        line["amount"],
        tax["rate"],
        tax["amount"],
        bought["needed"],
        bought["packs"],
        bought["pack_size"],
        bought["cost"],
        printed["quantities"][0]["quantity"],
    ]
    assert all(isinstance(text, str) and DECIMAL.fullmatch(text) for text in texts), texts
    assert (first["net"], tax["amount"], first["total"]) == ("1033.33", "206.67", "1240.00")


def test_work_shared_by_the_options_is_said_once(printed: dict[str, Any]) -> None:
    owners = [(entry["item"], entry["options"]) for entry in printed["quantities"]]
    assert owners == [("cut_slot", ["local", "panel"]), ("repoint", ["panel"])]


def test_notices_are_said_once_and_the_loudest_first(printed: dict[str, Any]) -> None:
    assert [notice["code"] for notice in printed["notices"]] == ["look", "dust"]
    assert printed["notices"][0]["severity"] == "refer"


def test_an_estimate_carries_its_range() -> None:
    first = as_json.of(made_up.estimate(), shipped())["options"][0]
    assert (first["range"]["low"], first["range"]["high"]) == ("900.00", "1650.00")


def test_a_wall_for_somebody_else_has_words_and_no_options() -> None:
    printed = as_json.of(made_up.refusal(), shipped())
    assert printed["options"] == printed["quantities"] == printed["buying"] == []
    assert printed["bars"]["pieces_mm"] == printed["bars"]["stock"] == []
    assert printed["route"] == "refer to a chartered structural engineer"
    assert printed["words"][0]["text"] == "It may move again."
    assert printed["paper"] is None
