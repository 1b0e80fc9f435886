"""The contract sum before and after each variation, with the tax on it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.contract.contract import Contract
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.variation import Standing
from estimator.money import NOTHING, Money, total
from estimator.pricing import tax
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax import Supply
from estimator.pricing.tax_habits import SalesTax

HUNDRED = Decimal(100)


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

    It is taxed as the contract was: at the rate that was printed, on the share of goods that was
    printed. The price of the contract itself keeps the very tax that was printed, however it was
    rounded. Charged taxes always add up to the total less the sum before tax.

    Raises:
        UserMistake: where the terms ask for tax to be treated as the law does not allow.
    """
    printed = contract.total - contract.net
    taxes = _taxed(contract, net, printed)
    # Taken line by line, the tax that was printed may be a penny off that on the whole.
    off = printed - tax.charged(_taxed(contract, contract.net, printed))
    if off and net:
        taxes = _corrected(taxes, off)
    return Price(net, taxes, net + tax.charged(taxes))


def taxes_on(contract: Contract, net: Money) -> tuple[TaxLine, ...]:
    """Return the tax on a part of a contract: at its rate, and on its share of goods.

    Raises:
        UserMistake: where the terms ask for tax to be treated as the law does not allow.
    """
    return _taxed(contract, net, contract.total - contract.net)


def _taxed(contract: Contract, net: Money, printed: Money) -> tuple[TaxLine, ...]:
    """Return the tax on a sum, goods in it as in the contract."""
    if contract.terms.sales_tax is SalesTax.SEPARATED:
        percent = contract.terms.sales_tax_percent
        if not contract.net or not percent:
            return tax.charge(Supply((net,)), contract.terms).lines
        share = printed.pounds * HUNDRED / percent / contract.net.pounds
        return tax.charge(Supply((net,), materials_sold=net.times(share)), contract.terms).lines

    # Where more goods than a share of it make all of it goods, the paper tells which it was.
    is_goods = abs(_off(contract, printed, is_goods=True)) < abs(
        _off(contract, printed, is_goods=False)
    )
    return _charge(contract, net, is_goods=is_goods)


def _charge(contract: Contract, net: Money, *, is_goods: bool) -> tuple[TaxLine, ...]:
    supply = Supply((net,), goods_cost=net if is_goods else NOTHING)
    return tax.charge(supply, contract.terms).lines


def _off(contract: Contract, printed: Money, *, is_goods: bool) -> int:
    """Return how far the tax that was printed is off one way to charge it [penny]."""
    return (tax.charged(_charge(contract, contract.net, is_goods=is_goods)) - printed).pence


def _corrected(taxes: tuple[TaxLine, ...], off: Money) -> tuple[TaxLine, ...]:
    place = next((place for place, line in enumerate(taxes) if line.charged), None)
    if place is None:
        return taxes
    line = replace(taxes[place], amount=taxes[place].amount + off)
    return (*taxes[:place], line, *taxes[place + 1 :])


def running(so_far: SoFar, key: str) -> Running:
    """Return the contract sum before and after a variation.

    Those agreed before it was answered count before it; one not agreed yet stands after all.

    Raises:
        ValueError: before anything was accepted.
        KeyError: when there is no such variation.

    >>> running(SoFar(), "a")
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    this = so_far.varied(key)
    earlier = so_far.agreed
    if this.standing is Standing.AGREED:
        # Two agreed at one time come in the order they were drawn up in.
        in_order = sorted(so_far.agreed, key=_moment)
        earlier = tuple(in_order[: in_order.index(this)])
    before = price_of(contract, contract.net + total(one.variation.net for one in earlier))
    after = price_of(contract, before.net + this.variation.net)
    return Running(
        price_of(contract, contract.net),
        tuple((one.number, one.variation.title, one.variation.net) for one in earlier),
        before,
        _difference(before, after),
        after,
    )


def _moment(one: Varied) -> float:
    return one.answered_at.timestamp() if one.answered_at else 0.0


def _difference(before: Price, after: Price) -> Price:
    taxes = tuple(
        TaxLine(two.title, two.rate, two.base - one.base, two.amount - one.amount, two.charged)
        for one, two in zip(before.taxes, after.taxes, strict=True)
    )
    return Price(after.net - before.net, taxes, after.total - before.total)
