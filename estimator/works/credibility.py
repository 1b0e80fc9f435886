"""How far own figures are believed beside the book's, while there are few of them.

The estimate is Z × own mean + (1 − Z) × book, with Z = n ÷ (n + K): n observations, and K the
variance of one observation about its own mean over the variance of such means between firms.
Source: H. Bühlmann, *Experience Rating and Credibility*, ASTIN Bulletin 4 (1967), from memory. K is
a setting: the number of observations at which both count alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from estimator.notices import UserMistake


def factor_of(observations: int, k: Decimal) -> Decimal:
    """Return the credibility factor Z = n ÷ (n + K).

    Raises:
        UserMistake: when K is not above nothing.
        ValueError: for fewer observations than none.

    >>> factor_of(6, Decimal(6)), factor_of(0, Decimal(6))
    (Decimal('0.5'), Decimal('0'))
    """
    if observations < 0:
        raise ValueError("observations are counted from nothing up")
    if k <= 0:
        raise UserMistake(
            f"own figures cannot count half after {k} jobs", do="type a number above 0"
        )
    return Decimal(observations) / (Decimal(observations) + k)


def shrunk(own: Decimal, book: Decimal, z: Decimal) -> Decimal:
    """Return what lies between the book and one's own, own figures counting for Z.

    >>> shrunk(Decimal(20), Decimal(10), Decimal("0.25"))
    Decimal('12.50')
    """
    return z * own + (1 - z) * book


def mean_of_logs(ratios: Sequence[Decimal]) -> Decimal:
    """Return the mean of the natural logarithms of ratios.

    Raises:
        ValueError: for none, or one that is not above nothing.

    >>> mean_of_logs([Decimal(2), Decimal("0.5")]).is_zero()
    True
    """
    if not ratios or min(ratios) <= 0:
        raise ValueError("a mean of logarithms wants ratios above nothing")
    return sum((ratio.ln() for ratio in ratios), Decimal(0)) / len(ratios)


def shrunk_ratio(ratios: Sequence[Decimal], k: Decimal) -> Decimal:
    """Return the ratio to the book, own ratios shrunk towards 1 on their logarithms.

    On logarithms twice the hours and half the hours lie equally far off, and no estimate falls to
    nothing or below.

    >>> round(shrunk_ratio([Decimal(4)] * 6, Decimal(6)), 6)
    Decimal('2.000000')
    """
    if not ratios:
        return Decimal(1)
    return (factor_of(len(ratios), k) * mean_of_logs(ratios)).exp()
