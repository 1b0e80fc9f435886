"""Price lists between a supplier's file and the catalogue."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from estimator.exchange import matching, reading
from estimator.exchange.price_list import PriceRow
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.office import price_lists
from estimator.store import price_books
from estimator.store.database import open_file

ROW = PriceRow(
    row=3,
    code="G3",
    title="Bar grout",
    unit="L",
    pack_size=Decimal(3),
    price=Money.of(23),
    supplier="Example",
    group="Materials",
    notes="",
)


def test_a_row_becomes_an_article_with_its_unit_code() -> None:
    """LTR is the litre of UN/ECE Recommendation 20."""
    made = price_lists.article(ROW)
    assert (made.code, made.unit_code, made.pack_size) == ("G3", "LTR", Decimal(3))


def test_what_is_written_out_can_be_read_again(tmp_path: Path) -> None:
    with open_file(tmp_path / "work.perpend") as database:
        price_books.installed(database)
        count = price_lists.write_out(database, tmp_path / "list.csv")
    written = (tmp_path / "list.csv").read_bytes()
    found = matching.preview(reading.read_sheet(written, "list.csv"))
    assert count == len(found.rows) > 5


def test_a_name_without_a_kind_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UserMistake, match="csv"):
        price_lists.check_name(tmp_path / "list.txt")
