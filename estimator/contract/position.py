"""The priced lines now covered: those of the contract and what variations made of them."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from estimator.contract.contract import Sold
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Valued
from estimator.pricing.offer import Group, OfferLine
from estimator.units import Unit

Key = tuple[str, str, Unit, Decimal | None]
"""What makes two lines one: item, description, unit, and rate unless it is one sum."""


PROVISIONAL_SUM, PROVISIONAL_ACTUAL = "provisional_sum", "provisional_actual"
PRIME_COST, OWN_LINE, DAYWORK = "prime_cost", "own_line", "daywork_"
NOT_MEASURED = frozenset({PROVISIONAL_SUM, PROVISIONAL_ACTUAL, PRIME_COST, OWN_LINE})
"""Lines written in by hand: no measuring gives them, so no measuring takes them off again."""


def sold(line: OfferLine) -> Sold:
    """Return a priced line as a contract keeps it."""
    return Sold(
        line.item,
        line.group,
        line.description,
        line.quantity.unit,
        line.rate,
        line.quantity.amount,
        line.amount,
        line.marks,
    )


def is_measured(line: Sold | Valued) -> bool:
    """Return whether a line comes from the takeoff and its price, and not from a hand."""
    return line.item not in NOT_MEASURED and not line.item.startswith(DAYWORK)


def key_of(line: Sold | Valued) -> Key:
    """Return what makes a line the same line as another.

    A single sum, such as the allowance for risk, is the same line whatever it comes to.
    """
    is_one_sum = line.unit is Unit.ITEM and line.group is Group.PRELIMINARIES
    return (line.item, line.description, line.unit, None if is_one_sum else line.rate)


def joined(lines: Iterable[Sold]) -> dict[Key, Sold]:
    """Return lines by what makes them one, those alike added together."""
    found: dict[Key, Sold] = {}
    for line in lines:
        key = key_of(line)
        before = found.get(key)
        if before is not None:
            line = Sold(  # noqa: PLW2901 - the line with the one before in it
                line.item,
                line.group,
                line.description,
                line.unit,
                line.rate,
                before.quantity + line.quantity,
                before.amount + line.amount,
                tuple(dict.fromkeys((*before.marks, *line.marks))),
            )
        found[key] = line
    return found


def position(so_far: SoFar) -> tuple[Sold, ...]:
    """Return the lines now covered by the contract and its variations; nothing before a contract.

    Those declined or taken back are not in it: their work may be offered again.

    >>> position(SoFar())
    ()
    """
    if so_far.contract is None:
        return ()
    found = joined(so_far.contract.lines)
    for varied in so_far.variations:
        if varied.standing.is_covered:
            for line in varied.variation.lines:
                _vary(found, line)
    return tuple(line for line in found.values() if line.quantity or line.amount)


def _vary(found: dict[Key, Sold], line: Valued) -> None:
    key = key_of(line)
    before = found.get(key)
    quantity = line.change + (before.quantity if before else Decimal(0))
    amount = line.amount + before.amount if before else line.amount
    found[key] = Sold(
        line.item,
        line.group,
        line.description,
        line.unit,
        line.rate,
        quantity,
        amount,
        tuple(dict.fromkeys((*(before.marks if before else ()), *line.marks))),
    )
