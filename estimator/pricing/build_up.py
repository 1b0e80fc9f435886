"""From cost to price: risk, overhead and profit, each a rung that can be seen.

Profit is a markup, added to cost, or a margin, kept out of the price; the price book says which and
the words say which. A margin m is the markup m / (1 − m).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from functools import lru_cache

from estimator.money import total
from estimator.pricing.offer import Rung

HUNDRED = Decimal(100)


class ProfitKind(Enum):
    """How profit is reckoned."""

    MARKUP = "markup"
    MARGIN = "margin"


def markup_of_margin(margin_percent: Decimal) -> Decimal:
    """Return the markup on cost that leaves a margin on price [per cent].

    >>> markup_of_margin(Decimal(20))
    Decimal('25.00')
    """
    return margin_percent / (HUNDRED - margin_percent) * HUNDRED


def margin_of_markup(markup_percent: Decimal) -> Decimal:
    """Return the margin on price that a markup on cost leaves [per cent].

    >>> margin_of_markup(Decimal(25))
    Decimal('20.0')
    """
    return markup_percent / (HUNDRED + markup_percent) * HUNDRED


@dataclass(frozen=True, slots=True)
class Profit:
    """Profit as the trader thinks of it."""

    kind: ProfitKind
    percent: Decimal

    @property
    def markup_percent(self) -> Decimal:
        """What is added to cost and overhead [per cent]."""
        if self.kind is ProfitKind.MARKUP:
            return self.percent
        return markup_of_margin(self.percent)

    @property
    def words(self) -> str:
        """Which of the two it is, in words.

        >>> Profit(ProfitKind.MARGIN, Decimal(15)).words
        'margin of 15 % of the price: 17.65 % on cost'
        """
        if self.kind is ProfitKind.MARKUP:
            return f"markup of {self.percent:f} % on cost and overhead"
        return f"margin of {self.percent:f} % of the price: {self.markup_percent:.2f} % on cost"


@dataclass(frozen=True, slots=True)
class Additions:
    """What is added to cost on the way to the price."""

    risk_percent: Decimal
    """On cost; shown as one line."""
    overhead_percent: Decimal
    """On cost and risk."""
    profit: Profit

    @property
    def factor(self) -> Decimal:
        """What a cost is multiplied by to be a selling price, risk apart."""
        return _factor(self.overhead_percent, self.profit.markup_percent)


@lru_cache(maxsize=64)
def _factor(overhead_percent: Decimal, markup_percent: Decimal) -> Decimal:
    return (1 + overhead_percent / HUNDRED) * (1 + markup_percent / HUNDRED)


def ladder(costs: Sequence[Rung], additions: Additions) -> tuple[Rung, ...]:
    """Return the rungs from cost to net, each rounded to the penny as printed.

    Net is the sum of the printed rungs, so that whoever adds them up by hand gets the same.

    >>> extra = Additions(Decimal(5), Decimal(12), Profit(ProfitKind.MARKUP, Decimal(8)))
    >>> from estimator.money import Money
    >>> [str(rung.amount) for rung in ladder([Rung("labour", "Labour", "", Money(100000))], extra)]
    ['1000.00', '50.00', '126.00', '94.08']
    """
    rungs = list(costs)
    cost = total(rung.amount for rung in rungs)
    for key, title, working, share in _additions(additions):
        added = cost.times(share)
        rungs.append(Rung(key, title, working, added))
        cost += added
    return tuple(rungs)


@lru_cache(maxsize=64)
def _additions(additions: Additions) -> tuple[tuple[str, str, str, Decimal], ...]:
    """Return each addition: its rung, how it is reckoned in words, and its share of what is below.

    The words hang on the price book alone, so they are put together once.
    """
    risk, overhead = additions.risk_percent, additions.overhead_percent
    profit = additions.profit
    return (
        ("risk", "Risk", f"{risk:f} % of cost", risk / HUNDRED),
        ("overhead", "Overhead", f"{overhead:f} % of cost and risk", overhead / HUNDRED),
        ("profit", "Profit", profit.words, profit.markup_percent / HUNDRED),
    )
