"""The table's model under random operations, watched by Qt's own tester."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estimator.desktop.price_book import model as model_file
from estimator.desktop.price_book.model import (
    MOST_PAGES,
    PAGE,
    Column,
    EntryRole,
    RatesModel,
    SortRole,
)
from estimator.money import Money
from estimator.store.book_parts import Entry, Kind

MANY = 100_000


def article(number: int) -> Entry:
    return Entry(
        Kind.ITEM,
        f"A{number:06}",
        f"Article {number}",
        "Example Supplies",
        unit="nr",
        pack_size="10",
        price=Money(number + 1),
        dated="2026-11-25",
        confirmed=bool(number % 2),
    )


def page(number: int, count: int = MANY) -> tuple[Entry, ...]:
    return tuple(article(at) for at in range(number * PAGE, min((number + 1) * PAGE, count)))


@pytest.fixture
def model(qtbot: QtBot) -> RatesModel:
    made = RatesModel()
    made.can_edit = True
    return made


def test_a_thousand_random_operations_keep_qt_content(
    model: RatesModel, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Qt's tester looks at every cell after every change, so the pages are small here.
    monkeypatch.setattr(model_file, "PAGE", 4)
    monkeypatch.setattr(model_file, "MOST_PAGES", 3)
    tester = QAbstractItemModelTester(
        model, QAbstractItemModelTester.FailureReportingMode.Fatal, model
    )
    chance, count = random.Random(54), 0
    for _step in range(1_000):
        match chance.randrange(6):
            case 0:
                count = chance.choice((0, 1, 4, 5, chance.randrange(24)))
                model.begin(count)
            case 1:
                number = chance.randrange(-1, 8)
                few = range(max(number, 0) * 4, min((number + 1) * 4, count))
                model.put(number, [article(at) for at in few])
            case 2:
                first = chance.randrange(-5, 30)
                model.want(first, first + chance.randrange(12))
            case 3:
                count = chance.choice((count, chance.randrange(20)))
                model.renew(count)
            case 4:
                count = chance.randrange(20)
                model.show_all([article(at) for at in range(count)])
            case 5:
                index = model.index(chance.randrange(max(count, 1)), chance.randrange(7))
                for role in (Qt.ItemDataRole.DisplayRole, SortRole, EntryRole):
                    model.data(index, role)
        assert model.rowCount() == count
    del tester


def test_only_pages_in_sight_are_asked_for_and_each_once(model: RatesModel) -> None:
    asked: list[int] = []
    model.wanted.connect(lambda number, _before: asked.append(number))
    model.begin(MANY)
    model.want(0, 40)
    model.want(10, 50)
    model.want(190, 230)
    assert asked == [0, 1]


def test_a_page_below_one_that_is_here_is_asked_for_by_what_stands_before_it(
    model: RatesModel,
) -> None:
    asked: list[object] = []
    model.begin(MANY)
    model.put(0, page(0))
    model.wanted.connect(lambda _number, before: asked.append(before))
    model.want(PAGE, PAGE + 20)
    model.want(80_000, 80_020)
    assert asked == [article(PAGE - 1), None]


def test_no_more_pages_are_held_than_allowed_and_the_nearest_stay(model: RatesModel) -> None:
    model.begin(MANY)
    for number in range(MOST_PAGES + 20):
        model.put(number, page(number))
    held = [n for n in range(MOST_PAGES + 20) if model.entry(n * PAGE) is not None]
    assert len(held) == MOST_PAGES
    assert held[-1] == MOST_PAGES + 19


def test_a_figure_is_handed_on_typed_and_text_is_not_taken(model: RatesModel) -> None:
    typed: list[tuple[Entry, Decimal]] = []
    model.typed.connect(lambda entry, value: typed.append((entry, value)))
    model.begin(1)
    model.put(0, page(0, 1))
    cell = model.index(0, Column.RATE)
    assert not model.setData(cell, "4.60")
    assert not model.setData(model.index(0, Column.TITLE), Decimal("4.60"))
    assert model.setData(cell, Decimal("4.60"))
    assert typed == [(article(0), Decimal("4.60"))]


def test_nothing_can_be_edited_where_the_file_is_only_looked_at(model: RatesModel) -> None:
    model.can_edit = False
    model.begin(1)
    model.put(0, page(0, 1))
    assert not model.setData(model.index(0, Column.RATE), Decimal("4.60"))


def test_cells_have_values_of_their_own_kind(model: RatesModel) -> None:
    model.begin(1)
    model.put(0, page(0, 1))
    values = [model.data(model.index(0, column), SortRole) for column in Column]
    assert [type(value) for value in values] == [str, str, Decimal, Decimal, str, str, bool]


def test_whose_figure_it_is_stands_in_words(model: RatesModel) -> None:
    model.begin(2)
    model.put(0, page(0, 2))
    said = [model.data(model.index(row, Column.STATE)) for row in range(2)]
    assert said == ["Not yours yet", "Yours"]
