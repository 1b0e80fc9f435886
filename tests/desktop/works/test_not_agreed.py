"""Where work would be started, it is said what of the wall nobody agreed to."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from estimator.contract.variation import Standing
from estimator.desktop.columns import Columns
from estimator.takeoff.lines import Item
from tests.desktop.agreed.conftest import WAIT, at_once, mark_found
from tests.desktop.agreed.test_variations import press, send, write
from tests.desktop.fakes import answered
from tests.desktop.works.conftest import come_to

__all__ = ["at_once"]


def said(columns: Columns) -> str:
    block = columns.working.section
    return "" if block.caution.isHidden() else block.caution.text()


def test_what_is_marked_and_not_agreed_is_said_with_the_works(
    agreed: Columns, qtbot: QtBot
) -> None:
    come_to(agreed, qtbot, lambda works: works.beginning is not None)
    assert said(agreed) == ""
    mark_found(agreed, bricks=2, thin=False)
    assert said(agreed) == (
        "Marked, but not agreed: 2 more cracked bricks. Agree it before the gang works by it."
    )
    write(agreed, qtbot)
    send(agreed, qtbot)
    agreed.agreeing.valuing.look()
    assert said(agreed) == "Sent, but not agreed: V-0001. Do none of it before they agree."
    press(agreed, qtbot, "main", Standing.AGREED)
    agreed.agreeing.valuing.look()
    assert said(agreed) == ""


def test_what_the_gang_is_shown_of_a_declined_variation_is_said(
    agreed: Columns, qtbot: QtBot
) -> None:
    """Two bricks are declined; the whole panel is agreed after that, on the same wall."""
    session, before = agreed._session, agreed._session.work
    mark_found(agreed, bricks=2, thin=False)
    write(agreed, qtbot)
    send(agreed, qtbot)
    press(agreed, qtbot, "decline", Standing.DECLINED)
    agreed.agreeing.since.choice_lines[0].click()
    write(agreed, qtbot)
    form = agreed.agreeing.writing.form
    form.ticks.leave_out(
        frozenset(
            (one.valued.item, one.valued.description)
            for one in form.ticks.lines
            if one.valued.item == Item.ALLOWED_BRICK.value
        )
    )
    form.changed.emit()
    send(agreed, qtbot)
    press(agreed, qtbot, "main", Standing.AGREED)
    agreed.agreeing.valuing.look()
    assert said(agreed).startswith("Marked, but not agreed: Further cracked bricks")
    # The bricks are rubbed out on the desk; the gang's drawing still has them.
    session._put(before)
    agreed.agreeing.valuing.look()
    qtbot.waitUntil(lambda: said(agreed).startswith("The gang's wall shows"), timeout=WAIT)
    assert "Further cracked bricks" in said(agreed)
    assert "+\N{NO-BREAK SPACE}2 nr" in said(agreed)


def test_what_waits_is_said_once(agreed: Columns, qtbot: QtBot) -> None:
    """What is sent stands on the wall of what was agreed after it, too."""
    mark_found(agreed, bricks=1, thin=False)
    write(agreed, qtbot)
    send(agreed, qtbot)
    agreed.agreeing.valuing.look()
    agreed.agreeing.valuing._look_further()
    agreed.agreeing.since.choice_lines[0].click()
    write(agreed, qtbot)
    send(agreed, qtbot)
    agreed.agreeing.valuing.look()
    since = agreed.agreeing.since
    assert since.what.text() == (
        "All that is marked is in V-0001, V-0002, which wait for an answer."
    )
    press(agreed, qtbot, "main", Standing.AGREED)
    agreed.agreeing.valuing.look()
    answered(agreed._session)
    assert said(agreed) == "Sent, but not agreed: V-0001. Do none of it before they agree."
