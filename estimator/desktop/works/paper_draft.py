"""A paper of an agreed job before it has a number, made by the workers while it is looked at."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from estimator.contract.so_far import SoFar
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.drafting import Making
from estimator.desktop.session import Session
from estimator.quoting.quotation import Trader

if TYPE_CHECKING:
    from estimator.store.database import Database

SHEETS = {
    "site sheet": ("site_sheet", "render"),
    "as-built record": ("as_built_paper", "render"),
    "statement": ("account_paper", "render_statement"),
    "final account": ("account_paper", "render_final"),
    "daywork sheet": ("daywork_paper", "render"),
    "programme": ("programme_paper", "render"),
    "buying list": ("buying_paper", "render"),
}
"""Module and function of each sheet, by its kind: a ``store.kept_papers.PaperKind`` where kept."""


class PaperDraft(Making):
    """The paper as it would go out now; ``done`` brings its PDF."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(session, parent)
        self._ordered: tuple[Callable[..., bytes], tuple[object, ...]] | None = None
        self._photos: tuple[str, ...] = ()
        self._is_bought = False

    def show(
        self,
        function: Callable[..., bytes],
        *about: object,
        photos: Sequence[str] = (),
        is_bought: bool = False,
    ) -> None:
        """Have another paper made, once that rests; the function runs in a worker.

        Args:
            function: Makes it.
            about: What it is given; at last come the pictures by their hashes, and who sells what,
                where it shows any.
            photos: Hashes of the photographs it shows.
            is_bought: Whether it tells who sells what, as the file has it when it is made.
        """
        self._ordered, self._photos = (function, about), tuple(photos)
        self._is_bought = is_bought
        self.look()

    def follows_from(self) -> tuple[object, ...]:
        """Return what it follows from."""
        return self._ordered or ()

    def order(self) -> None:
        """Have it made, if there is anything to make, once the file has told what is on it."""
        if self._ordered is None:
            return
        function, about = self._ordered
        photos, asked, uid = self._photos, self.asked, self.session.job.uid
        is_bought = self._is_bought
        if not photos and not is_bought:
            self.hand_out(function, *about)
            return

        def read(database: Database) -> tuple[dict[str, bytes], dict[str, str]]:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library
            from estimator.store import suppliers  # noqa: PLC0415 - as above

            sold_by = suppliers.bought_from(database) if is_bought else {}
            return kept.pictures(database, uid, photos), sold_by

        def there(told: tuple[dict[str, bytes], dict[str, str]]) -> None:
            if asked is self.asked:
                self.hand_out(function, *about, *told)

        ask(self, self.session.filing, read, there)


def sheet(
    kind: tuple[str, str],
    so_far: SoFar,
    trader: Trader,
    date: datetime.date,
    pictures: Mapping[str, bytes] | None = None,
    suppliers: Mapping[str, str] | None = None,
) -> bytes:
    """Return a sheet before it has a number; runs in a worker.

    Args:
        kind: A key of ``SHEETS``, and the key of what the sheet is about, empty for the whole job.
        so_far: What the job has come to.
        trader: Whose name is on it.
        date: Of the sheet.
        pictures: JPEG by SHA-256, where it shows photographs.
        suppliers: Who sells a material, by its key, where it is a list of what to buy.
    """
    key = kind[1:] if kind[1] else ()
    more: dict[str, Any] = {"pictures": pictures} if pictures else {}
    if suppliers:
        more["suppliers"] = suppliers
    # The library that lays out pages loads slowly; only the paper that is wanted is loaded.
    module, name = SHEETS[kind[0]]
    paper = import_module(f"estimator.documents.{module}")
    made: bytes = getattr(paper, name)(so_far, *key, trader=trader, number="", date=date, **more)
    return made
