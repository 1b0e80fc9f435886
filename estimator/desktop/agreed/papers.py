"""Papers of what is agreed as they would go out now, made by the workers."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.variation import Variation
from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.drafting import Making
from estimator.desktop.session import Session
from estimator.quoting.quotation import Trader

if TYPE_CHECKING:
    from estimator.store.database import Database


class VariationPaper(Making):
    """The paper as it would go out now; ``done`` brings its PDF."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(session, parent)
        self._so_far = SoFar()
        self._variation: Variation | None = None

    def show_variation(self, so_far: SoFar, variation: Variation | None) -> None:
        """Make the paper of another variation, once that rests."""
        self._so_far, self._variation = so_far, variation
        self.look()

    def follows_from(self) -> tuple[object, ...]:
        """Return what it follows from."""
        trader = self.session.practice.trader
        return self._so_far, self._variation, trader, self.session.today()

    def order(self) -> None:
        """Have it made, if there is anything to say, once its photographs are there."""
        variation, asked, job = self._variation, self.asked, self.session.job
        if variation is None:
            return
        told = self.follows_from()
        if not variation.photos:
            self.hand_out(drawn, *told, {})
            return

        def read(database: Database) -> dict[str, bytes]:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            return kept.pictures(database, job.uid, variation.photos)

        def there(pictures: dict[str, bytes]) -> None:
            if asked is self.asked:
                self.hand_out(drawn, *told, pictures)

        ask(self, self.session.filing, read, there)


class ConfirmationDraft(Making):
    """What the customer would have in writing of their yes; ``done`` brings its PDF."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Make nothing before it is asked for."""
        super().__init__(session, parent)
        self._contract: Contract | None = None

    def show_contract(self, contract: Contract | None) -> None:
        """Make the paper of another contract, once that rests; None leaves the one before."""
        if contract is not None:
            self._contract = contract
            self.look()

    def forget(self) -> None:
        """Make nothing until another contract is shown."""
        self._contract = None

    def follows_from(self) -> tuple[object, ...]:
        """Return what it follows from."""
        return self._contract, self.session.practice.trader, self.session.today()

    def order(self) -> None:
        """Have it made, if there is anything to say."""
        if self._contract is not None:
            self.hand_out(confirmation, *self.follows_from())


def confirmation(contract: Contract, trader: Trader, date: datetime.date) -> bytes:
    """Return the confirmation of what would be agreed, without a number; runs in a worker."""
    from estimator.documents import confirmation as paper  # noqa: PLC0415 - loads the PDF library

    made: bytes = paper.render(SoFar(contract=contract), trader=trader, number="", date=date)
    return made


def drawn(
    so_far: SoFar,
    variation: Variation,
    trader: Trader,
    date: datetime.date,
    pictures: Mapping[str, bytes],
) -> bytes:
    """Return the paper of a variation before it has a number; runs in a worker."""
    from estimator.documents import variation_paper  # noqa: PLC0415 - loads the PDF library

    others = tuple(one for one in so_far.variations if one.variation.key != variation.key)
    with_it = replace(so_far, variations=(*others, Varied(variation)))
    made: bytes = variation_paper.render(
        with_it, variation.key, trader=trader, number="", date=date, pictures=pictures
    )
    return made
