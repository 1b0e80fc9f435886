"""Writing the prices out as a table that other programs open and this one takes in again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QFileDialog, QWidget

from estimator.desktop.filing import Filing
from estimator.desktop.language import _, counted
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.store.database import Database


def choose(parent: QWidget) -> Path | None:
    """Have somebody choose where to write; return nothing where they do not."""
    name, _kind = QFileDialog.getSaveFileName(
        parent, _("Write the prices out"), "prices.csv", _("Tables (*.csv *.xlsx)")
    )
    return Path(name) if name else None


def write(
    filing: Filing,
    path: Path,
    *,
    then: Callable[[str], None],
    on_mistake: Callable[[UserMistake], None],
) -> None:
    """Write whatever is sold in packs, and tell how much that was."""

    def work(database: Database) -> int:
        from estimator.desktop.price_book import asked  # noqa: PLC0415 - loads the database

        return asked.export(database, path)

    def told(count: int) -> None:
        what = counted("{n} price written", "{n} prices written", count)
        then(_("{what}: {file}").format(what=what, file=path.name))

    filing.ask(work, told, on_mistake=on_mistake)
