"""Hours that could not be measured get their paper, under a number like any other."""

from __future__ import annotations

import datetime
import io
from dataclasses import replace
from decimal import Decimal

from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from estimator.contract.daywork import DayworkSheet, Hours
from estimator.contract.deeds import DayworkKept
from estimator.desktop.columns import Columns
from estimator.money import Money
from estimator.office import contracts
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered
from tests.desktop.works.conftest import come_to

SHEET = DayworkSheet(
    "d1",
    "",
    "Dug out a drain",
    (Hours(TODAY, "Jo Bell", "bricklayer", Decimal("2.5"), Money.of(24)),),
    (),
    (),
    Decimal(100),
    Decimal(15),
    Decimal(15),
)


def worked(columns: Columns, qtbot: QtBot, sheet: DayworkSheet = SHEET) -> None:
    following = columns.agreeing.following
    following.do(lambda place, job: contracts.do(place, job, DayworkKept(sheet)))
    come_to(columns, qtbot, lambda works: any(one.key == sheet.key for one in works.daywork))


def made(columns: Columns, qtbot: QtBot) -> str:
    """Keep the sheet that is looked at, and return its title."""
    sheet = columns.working.sheet
    qtbot.waitUntil(sheet.take.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(sheet.kept, timeout=WAIT):
        sheet.take.click()
    answered(columns._session)
    return columns.working.paper.title.text()


def test_the_sheet_is_offered_made_and_kept_under_a_number(agreed: Columns, qtbot: QtBot) -> None:
    worked(agreed, qtbot)
    row = agreed.working.section.list.rows["daywork/d1"]
    assert row.accessibleName() == "Make the daywork sheet: Dug out a drain"
    with qtbot.waitSignal(agreed.working.sheet.draft.done, timeout=WAIT) as drawn:
        row.click()
    said = " ".join(one.extract_text() for one in PdfReader(io.BytesIO(drawn.args[0])).pages)
    assert "Dug out a drain" in said
    # 2.5 h at £24.00 with 100 % on it (RICS, Definition of Prime Cost of Daywork, option A).
    assert "120.00" in said
    assert made(agreed, qtbot) == "S-0001: daywork sheet"
    come_to(agreed, qtbot, lambda works: works.daywork[0].number == "S-0001")
    assert "daywork/d1" not in agreed.working.section.list.rows
    # It stays to be found among the papers, and can be made anew once it is signed.
    agreed.agreeing.job.open("papers")
    row = agreed.working.papers.sheets.rows["daywork/d1"]
    assert row.accessibleName() == "Daywork sheet S-0001: Dug out a drain"
    worked(agreed, qtbot, replace(SHEET, signed_by="Ines Marlowe", signed_on=TODAY))
    agreed.working.papers.sheets.rows["daywork/d1"].click()
    assert agreed.working.sheet.before.accessibleName().startswith("S-0001 is kept already")
    assert made(agreed, qtbot) == "S-0002: daywork sheet"


def test_each_sheet_has_its_own_paper(agreed: Columns, qtbot: QtBot) -> None:
    worked(agreed, qtbot)
    later = replace(SHEET, key="d2", what="Cut back the ivy & roots")
    hours = replace(SHEET.hours[0], on=TODAY - datetime.timedelta(days=1))
    worked(agreed, qtbot, replace(later, hours=(hours,)))
    agreed.working.section.list.rows["daywork/d2"].click()
    assert made(agreed, qtbot) == "S-0001: daywork sheet"
    come_to(agreed, qtbot, lambda works: works.daywork[1].number == "S-0001")
    works = agreed.working.overseeing.works
    assert works is not None
    assert [one.number for one in works.daywork] == ["", "S-0001"]
    assert "daywork/d1" in agreed.working.section.list.rows
