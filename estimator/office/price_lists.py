"""Price lists between a supplier's file and the catalogue, both ways."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

from estimator import whole_file
from estimator.exchange import catalogue_out
from estimator.exchange.price_list import PriceRow
from estimator.exchange.trade_units import CODES
from estimator.notices import UserMistake
from estimator.store import catalogue
from estimator.store.book_parts import SOLD, Entry
from estimator.store.bulk import Article
from estimator.store.database import Database

WRITERS = {".csv": catalogue_out.to_csv, ".xlsx": catalogue_out.to_xlsx}


def article(row: PriceRow) -> Article:
    """Return a row of a supplier's list as the catalogue takes it."""
    return Article(
        code=row.code,
        title=row.title,
        unit=row.unit,
        unit_code=CODES.get(row.unit, ""),
        pack="",
        pack_size=row.pack_size,
        price=row.price,
        supplier=row.supplier,
        group=row.group,
        notes=row.notes,
        row=row.row,
    )


def check_name(path: Path) -> None:
    """See that a name says which kind of list it is to be.

    Raises:
        UserMistake: when its ending is neither of the two.
    """
    if path.suffix.lower() not in WRITERS:
        raise UserMistake(
            f"'{path.name}' does not say what it is to be", do="end its name in .csv or .xlsx"
        )


def write_out(database: Database, path: Path) -> int:
    """Write whatever is sold in packs out as a table, and return how many prices it has.

    Raises:
        UserMistake: when the name's ending is neither .csv nor .xlsx.
        WorldFault: when the disk would not take it.
    """
    check_name(path)
    rows = [_row(entry) for entry in _sold(database)]
    whole_file.write_whole(path, WRITERS[path.suffix.lower()](rows))
    return len(rows)


def _sold(database: Database) -> Iterator[Entry]:
    """Yield everything that has a price a pack."""
    for kind in SOLD:
        entries = catalogue.entries(database, kind, limit=catalogue.count(database, kind))
        yield from (entry for entry in entries if entry.price is not None)


def _row(entry: Entry) -> PriceRow:
    if entry.price is None:
        raise ValueError(f"{entry.code} has no price")
    return PriceRow(
        row=0,
        code=entry.code,
        title=entry.title,
        unit=entry.unit,
        pack_size=Decimal(entry.pack_size or 1),
        price=entry.price,
        supplier=entry.supplier,
        group=entry.group,
        notes=entry.notes,
    )
