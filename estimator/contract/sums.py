"""The contract sum before and after each variation, with the tax on it."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.money import Money, total
from estimator.pricing import tax
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax import Supply


@dataclass(frozen=True, slots=True)
class Price:
    """A sum before tax, the tax on it, and both together."""

    net: Money
    taxes: tuple[TaxLine, ...]
    total: Money

    @property
    def tax(self) -> Money:
        """The tax that is charged."""
        return self.total - self.net


@dataclass(frozen=True, slots=True)
class Running:
    """The contract sum on the way through one variation."""

    original: Price
    agreed: tuple[tuple[str, str, Money], ...]
    """Number, title and net of each variation agreed before it."""
    before: Price
    change: Price
    """What this one changes; its tax is tax after less tax before."""
    after: Price


def price_of(contract: Contract, net: Money) -> Price:
    """Return a sum with its tax, as the terms of the contract have it.

    The price of the contract itself keeps the very tax that was printed, however it was rounded.

    Raises:
        UserMistake: where the terms ask for tax to be treated as the law does not allow.
    """
    taxes = tax.charge(Supply((net,)), contract.terms).lines
    charged = tax.charged(taxes)
    # Taken line by line, the tax that was printed may be a penny off that on the whole.
    printed = contract.total - contract.net
    usual = tax.charged(tax.charge(Supply((contract.net,)), contract.terms).lines)
    return Price(net, taxes, net + charged + printed - usual)


def running(so_far: SoFar, key: str) -> Running:
    """Return the contract sum before and after a variation.

    Those agreed before it was answered count before it; one not agreed yet stands after all.

    Raises:
        ValueError: before anything was accepted.
        KeyError: when there is no such variation.
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    this = so_far.varied(key)
    earlier = [
        one
        for one in so_far.agreed
        if one is not this
        and not (
            this.standing is Standing.AGREED
            and one.answered_at is not None
            and this.answered_at is not None
            and one.answered_at > this.answered_at
        )
    ]
    before = price_of(contract, contract.net + total(one.variation.net for one in earlier))
    after = price_of(contract, before.net + this.variation.net)
    return Running(
        price_of(contract, contract.net),
        tuple((one.number, one.variation.title, one.variation.net) for one in earlier),
        before,
        _difference(before, after),
        after,
    )


def _difference(before: Price, after: Price) -> Price:
    taxes = tuple(
        TaxLine(two.title, two.rate, two.base - one.base, two.amount - one.amount, two.charged)
        for one, two in zip(before.taxes, after.taxes, strict=True)
    )
    return Price(after.net - before.net, taxes, after.total - before.total)
