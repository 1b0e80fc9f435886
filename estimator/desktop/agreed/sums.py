"""The sums of an agreed job with tax, as the customer knows them."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.contract.so_far import SoFar
from estimator.contract.sums import price_of
from estimator.money import Money


@dataclass(frozen=True, slots=True)
class Sums:
    """From the accepted quotation to now."""

    original: Money
    changes: tuple[Money, ...]
    """Of each agreed variation, in their order; each with the tax it brought."""
    now: Money
    is_taxed: bool
    """Whether there is tax in them."""


def sums_of(so_far: SoFar) -> Sums:
    """Return the sums of a job that was agreed.

    Raises:
        ValueError: before anything was accepted.
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    net, before = contract.net, price_of(contract, contract.net)
    original, changes = before.total, []
    for one in so_far.agreed:
        net += one.variation.net
        after = price_of(contract, net)
        changes.append(after.total - before.total)
        before = after
    return Sums(original, tuple(changes), before.total, before.total != before.net)
