"""A paper of an agreed job before it has a number, made by the workers while it is looked at."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from importlib import import_module

from PySide6.QtCore import QObject

from estimator.contract.so_far import SoFar
from estimator.desktop.papers.drafting import Making
from estimator.desktop.session import Session
from estimator.quoting.quotation import Trader

SHEETS = {
    "site sheet": ("site_sheet", "render"),
    "as-built record": ("as_built_paper", "render"),
    "statement": ("account_paper", "render_statement"),
    "final account": ("account_paper", "render_final"),
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

    def show(self, function: Callable[..., bytes], *about: object) -> None:
        """Have another paper made, once that rests; the function runs in a worker."""
        self._ordered = function, about
        self.look()

    def follows_from(self) -> tuple[object, ...]:
        """Return what it follows from."""
        return self._ordered or ()

    def order(self) -> None:
        """Have it made, if there is anything to make."""
        if self._ordered is not None:
            function, about = self._ordered
            self.hand_out(function, *about)


def sheet(kind: str, so_far: SoFar, trader: Trader, date: datetime.date) -> bytes:
    """Return a sheet before it has a number; runs in a worker."""
    # The library that lays out pages loads slowly; only the paper that is wanted is loaded.
    module, name = SHEETS[kind]
    paper = import_module(f"estimator.documents.{module}")
    made: bytes = getattr(paper, name)(so_far, trader=trader, number="", date=date)
    return made
