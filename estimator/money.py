"""Exact money in whole pence, with one rounding rule.

Amounts are integers of the smallest coin. Rates may be finer than a penny and are decimals.
The one rounding function rounds half away from zero to the penny; no float gets in.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

PENNY = Decimal("0.01")


def exact(value: Decimal | int | str) -> Decimal:
    """Return an exact decimal, refusing floats and anything not finite.

    Raises:
        TypeError: for a float, whose pennies cannot be trusted.
        ValueError: for text that is not a finite number.

    >>> exact("12.50")
    Decimal('12.50')
    """
    if isinstance(value, float) or not isinstance(value, Decimal | int | str):
        raise TypeError(f"money is never made from {type(value).__name__}")
    try:
        number = Decimal(value)
    except ArithmeticError as error:
        raise ValueError(f"{value!r} is not a number") from error
    if not number.is_finite():
        raise ValueError(f"{value!r} is not a finite number")
    return number


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """A sum in whole pence of one currency, the trader's own."""

    pence: int

    @classmethod
    def of(cls, pounds: Decimal | int | str) -> Money:
        """Make money from pounds, rounded half up to the penny.

        >>> str(Money.of("1.005"))
        '1.01'
        """
        return cls(int(exact(pounds).quantize(PENNY, rounding=ROUND_HALF_UP).scaleb(2)))

    @property
    def pounds(self) -> Decimal:
        """The sum in pounds, always with two decimals."""
        return Decimal(self.pence).scaleb(-2)

    def __add__(self, other: Money) -> Money:
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.pence + other.pence)

    def __sub__(self, other: Money) -> Money:
        if not isinstance(other, Money):
            return NotImplemented
        return Money(self.pence - other.pence)

    def __neg__(self) -> Money:
        return Money(-self.pence)

    def __bool__(self) -> bool:
        return self.pence != 0

    def times(self, factor: Decimal | int) -> Money:
        """Multiply by an exact factor and round once, half up, to the penny.

        >>> str(Money.of("38.50").times(Decimal("16.5")))
        '635.25'
        """
        return Money.of(self.pounds * exact(factor))

    def __str__(self) -> str:
        return f"{self.pounds:f}"


NOTHING = Money(0)


def total(amounts: Iterable[Money]) -> Money:
    """Add amounts up; an empty list is nothing.

    >>> str(total([Money(120), Money(30)]))
    '1.50'
    """
    return Money(sum(amount.pence for amount in amounts))


def share_out(whole: Money, weights: Sequence[int | Decimal]) -> tuple[Money, ...]:
    """Split a sum by weights without losing a penny; the last share takes the balance.

    Raises:
        ValueError: when there are no weights or they do not add to more than nothing.

    >>> [str(part) for part in share_out(Money.of("4417.08"), [30, 40, 30])]
    ['1325.12', '1766.83', '1325.13']
    """
    base = sum((exact(weight) for weight in weights), Decimal(0))
    if base <= 0:
        raise ValueError("shares need weights that add to more than nothing")
    shares = [whole.times(exact(weight) / base) for weight in weights[:-1]]
    return (*shares, whole - total(shares))
