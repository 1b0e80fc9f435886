"""Every widget of every page that follows a quotation: named, large enough, whole, plain text.

WCAG 2.2: 2.5.8 target size, 4.1.2 name, 1.4.4 resize text.
"""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.agreed.agreeing import ACCEPTANCE, CANCELLING, HOURS, STANDING, WRITING
from estimator.desktop.columns import Columns
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.quoting import edits
from estimator.survey.survey import Party
from tests.desktop import walk
from tests.desktop.agreed.conftest import WAIT, mark_found, say_yes
from tests.desktop.fakes import answered

HOSTILE = Party("<b>Ines</b> & <img src=x> Marlowe", address=("14 <i>Tarn</i> Street",))


def faults(window: Columns) -> dict[str, list[str]]:
    found = {
        "without a name": walk.nameless(window),
        "too small to hit": walk.too_small(window),
        "read as markup": walk.marked_up(window),
        "cut off": walk.cut_off(window),
    }
    return {fault: what for fault, what in found.items() if what}


@pytest.fixture
def to_a_stranger(columns: Columns, qtbot: QtBot) -> Columns:
    """A quotation to somebody whose name looks like markup."""
    session = columns._session
    session.apply(edits.name_customer(session.work, HOSTILE))
    columns.show_paper()
    qtbot.waitUntil(columns.check.page.issue.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT):
        columns.check.page.issue.click()
    answered(session)
    return columns


@pytest.mark.parametrize(("scheme", "scale"), [(Scheme.LIGHT, 1.0), (Scheme.DARK, 2.0)])
def test_every_page(to_a_stranger: Columns, qtbot: QtBot, scheme: Scheme, scale: float) -> None:
    columns = to_a_stranger
    LOOK.apply(scheme, scale=scale)
    columns.resize(*((1366, 720) if scale == 1.0 else (1920, 1100)))
    agreeing = columns.agreeing
    agreeing.accept()
    qtbot.waitUntil(lambda: bool(agreeing.acceptance.options), timeout=WAIT)
    settled()
    assert not faults(columns)
    say_yes(columns, qtbot)
    settled()
    assert not faults(columns)
    mark_found(columns)
    agreeing.since.rows.open("agreed")
    settled()
    assert not faults(columns)
    for page in (WRITING, HOURS, CANCELLING, WRITING):
        agreeing.job.open(page)
        answered(columns._session)
        settled()
        assert agreeing.job.at == page
        assert not faults(columns), page
    agreeing.writing.form.extra.open_sum.click()
    settled()
    assert not faults(columns)
    agreeing.writing.send.click()
    qtbot.waitUntil(lambda: agreeing.job.at == STANDING, timeout=WAIT)
    answered(columns._session)
    settled()
    assert not faults(columns)
    agreeing.job.open()
    settled()
    assert not faults(columns)
    agreeing.job.open(ACCEPTANCE)
    answered(columns._session)
    settled()
    assert not faults(columns)


def settled() -> None:
    """Let what was laid out be laid out again, where words broke."""
    for _turn in range(3):
        QApplication.processEvents()
