"""What is said to a terminal that lacks letters."""

from __future__ import annotations

import io
import json
import sys

import pytest

from estimator.command import main
from estimator.command.speech import spelled
from tests.journeys.test_command import DEMO


@pytest.mark.parametrize("encoding", ["utf-8", "latin-1", "ascii", "cp437"])
def test_a_sum_of_money_is_never_a_question_mark(encoding: str) -> None:
    assert "?" not in spelled("£1,200.00 for 2 × 1.5 m², “all in” – the owner’s wall", encoding)


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_json_says_the_same_on_an_old_terminal(
    encoding: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    results = []
    for one in ("utf-8", encoding):
        raw = io.BytesIO()
        with monkeypatch.context() as patched:
            patched.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=one))
            assert main.run(["price", str(DEMO / "quoin_cavity.json"), "--json"]) == 0
            results.append(json.loads(raw.getvalue().decode(one)))
    assert results[0] == results[1]
    assert any("×" in line["working"] for line in results[0]["quantities"])
