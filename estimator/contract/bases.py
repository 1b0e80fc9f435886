"""On what footing each change is valued: the first of the usual order that fits, with its why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from estimator.contract.contract import Contract, Sold
from estimator.contract.position import key_of
from estimator.contract.so_far import Varied
from estimator.contract.variation import Standing, ValuedBy
from estimator.takeoff.lines import Item

Basis = tuple[ValuedBy, str]
"""The footing, and in words what it rests on."""
REVIEWED = "the rate as reviewed"


class Bases:
    """The footings of one contract and the variations that cover work beside it."""

    def __init__(
        self,
        contract: Contract,
        covered: Sequence[Varied],
        *,
        borrowed: frozenset[str] = frozenset(),
        reviewed: Decimal | None = None,
    ) -> None:
        """Learn which rates are known.

        Args:
            contract: What was agreed first.
            covered: The variations whose work is covered.
            borrowed: Work and materials whose rates had to be taken from today's book.
            reviewed: The rate of further bricks, where it was agreed anew. [£]
        """
        number = contract.quotation
        self._contract, self._borrowed, self._reviewed = contract, borrowed, reviewed
        self._accepted = {key_of(line) for line in contract.lines}
        self._rates = {(line.item, line.unit, line.rate) for line in contract.lines}
        self._known: dict[object, Basis] = {}
        for one in covered:
            is_agreed = one.standing is Standing.AGREED
            for line in one.variation.lines:
                of_old = (ValuedBy.CONTRACT_RATE, f"the rate agreed in {one.number}")
                self._known.setdefault(
                    key_of(line), of_old if is_agreed else (line.basis, line.why)
                )
        of_another = (ValuedBy.CONTRACT_RATE, f"the rate of another choice in {number}")
        self._known |= dict.fromkeys(map(key_of, contract.offered), of_another)
        lines = (*contract.lines, *contract.offered)
        self._kinds = {_kind(line.item) for line in lines}

    def of(self, line: Sold) -> Basis:
        """Return the footing of a line.

        Source: JCT Standard Building Contract 2016 as read on isurv.com: the rate of the contract;
        that rate built up for other conditions; a fair rate where the work is of another kind.
        """
        number, key = self._contract.quotation, key_of(line)
        if line.item == Item.ALLOWED_BRICK.value:
            return ValuedBy.PROVISIONAL_QUANTITY, self._further(line)
        if key in self._accepted or (line.item, line.unit, line.rate) in self._rates:
            return ValuedBy.CONTRACT_RATE, f"the rate in {number}"
        if key in self._known:
            return self._known[key]
        if line.item in self._borrowed:
            return ValuedBy.FAIR_RATE, "our rate of today"
        if _kind(line.item) in self._kinds:
            return ValuedBy.PRO_RATA, f"built up as the rate in {number}, for other conditions"
        return ValuedBy.FAIR_RATE, f"from the price list behind {number}"

    def _further(self, line: Sold) -> str:
        number, promised = self._contract.quotation, self._contract.further_brick.pounds
        if key_of(line) in self._accepted or line.rate == promised:
            return f"the rate for further bricks in {number}"
        if line.rate > promised or line.rate == self._reviewed:
            return REVIEWED
        return f"no more than the rate for further bricks in {number}"

    def notes(self) -> Iterator[str]:
        """Say what is taken from rates of today."""
        if self._borrowed:
            yield "Work the quotation had no rate for is priced at our rates of today."


def reviewed_before(covered: Sequence[Varied]) -> Decimal | None:
    """Return the rate of further bricks that variations agreed anew, None where none did [£].

    >>> reviewed_before(()) is None
    True
    """
    rates = [
        line.rate
        for one in covered
        for line in one.variation.lines
        if line.basis is ValuedBy.PROVISIONAL_QUANTITY and line.why == REVIEWED and line.now
    ]
    return rates[-1] if rates else None


def _kind(item: str) -> str:
    """Return what kind of thing a line is for: a bar of another length is still a bar."""
    return "bar" if item.startswith("bar_") else item
