"""A supplier's list: every row told before anything is written, and nothing written by halves."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estimator.desktop.price_book.page import PriceBookPage
from estimator.desktop.price_book.preview import PreviewModel, Row
from estimator.desktop.session import Session
from estimator.exchange import catalogue_out
from tests.desktop.price_book.conftest import Desk

LIST = """Code,Description,Unit,Pack size,Price,Group
grout,Bar grout,L,3,25.10,Materials
T225,Stainless ties 225 mm,nr,250,62.50,Fixings
P7,Wall plugs,nr,100,abc,Fixings
S1,Sand for pointing,kg,25,,Fixings
"""


@pytest.fixture
def price_list(tmp_path: Path) -> Path:
    path = tmp_path / "spring.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_rows_are_told_new_changed_and_left_out_with_why(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, price_list: Path
) -> None:
    page.take_in_file(price_list)
    pane = page.taking_in
    qtbot.waitUntil(lambda: bool(pane.model.rows), timeout=10_000)
    told = [(row.what, row.title, str(row.was), str(row.now)) for row in pane.model.rows]
    assert told == [
        ("Left out", "Row 4, Price", "None", "None"),
        ("Left out", "Row 5, Price", "None", "None"),
        ("Changed", "Bar grout", "23.50", "25.10"),
        ("New", "Stainless ties 225 mm", "None", "62.50"),
    ]
    assert "'abc' is no price" in pane.model.rows[0].note
    assert pane.told.text() == "1 new · 1 changed · 0 as before · 2 rows left out"
    assert page.book.count == page.pane.rates.rowCount()


def test_a_list_taken_in_is_one_change_and_goes_back_whole(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, price_list: Path, open_session: Session
) -> None:
    count = page.book.count
    grout = open_session.practice.book.materials["grout"].pack_price
    page.take_in_file(price_list)
    qtbot.waitUntil(page.taking_in.take.isEnabled, timeout=10_000)
    with qtbot.waitSignal(page.changes.done, timeout=20_000) as told:
        page.taking_in.take.click()
    assert told.args == ["spring.csv"]
    desk.settled()
    assert page.book.count == count + 1
    assert open_session.practice.book.materials["grout"].pack_price != grout
    with qtbot.waitSignal(page.changes.done, timeout=10_000):
        page.pane.undo.click()
    desk.settled()
    assert page.book.count == count
    assert open_session.practice.book.materials["grout"].pack_price == grout


def test_columns_can_be_matched_by_hand(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, tmp_path: Path
) -> None:
    path = tmp_path / "bare.csv"
    path.write_text("what,so much\nLime putty,19.00\nOil,4.00\n", encoding="utf-8")
    page.take_in_file(path)
    pane = page.taking_in
    qtbot.waitUntil(lambda: "say which column holds what" in pane.told.text(), timeout=10_000)
    for name, column in (("title", 0), ("price", 1)):
        pane.choices[name].setCurrentIndex(pane.choices[name].findData(column))
        pane.choices[name].activated.emit(pane.choices[name].currentIndex())
    qtbot.waitUntil(lambda: len(pane.model.rows) == 2, timeout=10_000)
    assert [row.title for row in pane.model.rows] == ["Lime putty", "Oil"]


def test_a_file_that_is_no_list_is_refused_in_words(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, tmp_path: Path
) -> None:
    path = tmp_path / "list.pdf"
    path.write_bytes(b"%PDF-1.7 whatever")
    page.take_in_file(path)
    qtbot.waitUntil(lambda: "is a PDF" in page.taking_in.told.text(), timeout=10_000)
    page.take_in_file(tmp_path / "gone.csv")
    qtbot.waitUntil(lambda: "could not be read" in page.taking_in.told.text(), timeout=10_000)
    assert not page.taking_in.take.isEnabled()


def test_a_workbook_is_read_as_a_text_table_is(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, tmp_path: Path, price_list: Path
) -> None:
    path = tmp_path / "prices.xlsx"
    path.write_bytes(catalogue_out.to_xlsx([]))
    page.take_in_file(path)
    qtbot.waitUntil(lambda: "0 new" in page.taking_in.told.text(), timeout=10_000)


def test_writing_stops_when_asked_and_nothing_is_taken_in(
    qtbot: QtBot, page: PriceBookPage, desk: Desk, tmp_path: Path
) -> None:
    path, count = tmp_path / "long.csv", page.book.count
    rows = "".join(f"A{at},Article {at},nr,1,{at + 1}.00\n" for at in range(9_000))
    path.write_text(f"Code,Description,Unit,Pack size,Price\n{rows}", encoding="utf-8")
    page.take_in_file(path)
    pane = page.taking_in
    qtbot.waitUntil(pane.take.isEnabled, timeout=20_000)
    pane.take.click()
    pane.stop.click()
    qtbot.waitUntil(lambda: "nothing was taken in" in pane.told.text().lower(), timeout=20_000)
    desk.settled()
    page.reload()
    desk.settled()
    assert page.book.count == count


def test_the_preview_keeps_qt_content(qtbot: QtBot) -> None:
    model = PreviewModel()
    tester = QAbstractItemModelTester(
        model, QAbstractItemModelTester.FailureReportingMode.Fatal, model
    )
    for count in (0, 3, 200, 0, 1):
        model.show_rows([Row("New", f"Article {at}") for at in range(count)])
        assert model.rowCount() == count
    del tester
