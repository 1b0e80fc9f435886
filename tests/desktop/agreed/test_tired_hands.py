"""What went wrong under the hands of somebody tired, and is mended."""

from __future__ import annotations

from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from estimator.desktop.agreed import reckoning
from estimator.desktop.columns import Columns
from tests.desktop.agreed.conftest import WAIT, mark_found
from tests.desktop.agreed.test_variations import send, write
from tests.desktop.fakes import Ticket


def test_what_was_slow_once_is_not_left_to_the_workers_for_good(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    valuing = agreed.agreeing.valuing
    monkeypatch.setattr(valuing, "_is_slow", True)
    mark_found(agreed)
    qtbot.waitUntil(lambda: valuing.is_anything, timeout=WAIT)
    assert not valuing._is_slow


def test_a_slow_wall_is_told_before_its_other_choices(
    agreed: Columns, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Any] = []
    valuing, run = agreed.agreeing.valuing, agreed._session.workers.run

    def noted(function: Any, *about: Any, **named: Any) -> Ticket:
        asked.append(function)
        return run(function, *about, **named)

    monkeypatch.setattr("estimator.desktop.agreed.valuing.SLOW_MS", -1.0)
    monkeypatch.setattr(valuing, "_is_slow", True)
    monkeypatch.setattr(agreed._session.workers, "run", noted)
    mark_found(agreed)
    qtbot.waitUntil(lambda: reckoning.other_ways in asked, timeout=WAIT)
    valued = [one for one in asked if one in (reckoning.timed, reckoning.other_ways)]
    assert valued == [reckoning.timed, reckoning.other_ways]


def test_nothing_differs_is_not_said_while_it_is_worked_out(
    agreed: Columns, monkeypatch: pytest.MonkeyPatch
) -> None:
    valuing, foot = agreed.agreeing.valuing, agreed.money.foot
    monkeypatch.setattr(valuing, "_is_slow", True)
    monkeypatch.setattr(valuing.session.workers, "run", lambda *_given, **_named: Ticket())
    mark_found(agreed)
    assert agreed.agreeing.since.price.text() == "Working it out…"
    assert not foot.button.isEnabled()
    assert foot.reason.text() == "What is marked is being worked out."


def test_no_old_paper_lies_under_the_title_of_the_next(agreed: Columns, qtbot: QtBot) -> None:
    area = agreed.preview.area
    agreed.show_issued(agreed._session.job.papers[-1])
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)
    mark_found(agreed)
    write(agreed, qtbot)
    send(agreed, qtbot)
    seen: list[str] = []
    agreed.agreeing.job.laid.connect(
        lambda _laid: seen.extend(sheet.page.text for sheet in area.sheets if sheet.page)
    )
    agreed.agreeing.job.open()
    agreed.agreeing.variations.lines_[0].click()
    qtbot.waitUntil(lambda: agreed.has_paper, timeout=WAIT)
    assert not seen and agreed.preview.caption.text() == ""
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)
    assert agreed.preview.caption.text() == "V-0001, as it went out"
    agreed.show_issued(agreed._session.job.papers[-1])
    assert not area.sheets
    qtbot.waitUntil(lambda: bool(area.sheets), timeout=WAIT)
