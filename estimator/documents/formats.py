"""Money, dates and quantities as a British reader writes them.

Sums are rounded before they come here. Babel is imported when first used: a command that prints no
paper does not wait for it.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from functools import cache, lru_cache

from estimator.documents.wording import counted
from estimator.money import Money
from estimator.units import Quantity, Unit

LOCALE = "en_GB"
CURRENCY = "GBP"
NONE = "—"
"""Stands where an option has nothing of a line."""


@cache
def _formats() -> tuple[Callable[..., str], Callable[..., str], Callable[..., str]]:
    # Here and not above: Babel takes longer to load than a wall to price.
    from babel.dates import format_date  # noqa: PLC0415
    from babel.numbers import format_currency, format_decimal  # noqa: PLC0415

    return format_currency, format_decimal, format_date


@lru_cache(maxsize=4096)
def money(amount: Money) -> str:
    """Return a sum with its sign and pence.

    >>> money(Money.of("1488"))
    '£1,488.00'
    """
    return _formats()[0](amount.pounds, CURRENCY, locale=LOCALE)


def whole_money(amount: Money) -> str:
    """Return a sum in whole pounds, for anything that is not a fixed price.

    >>> whole_money(Money.of("1488.60"))
    '£1,489'
    """
    pounds = amount.pounds.quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return _formats()[0](pounds, CURRENCY, format="¤#,##0", currency_digits=False, locale=LOCALE)


@lru_cache(maxsize=4096)
def figure(amount: Money) -> str:
    """Return a sum for a column headed in pounds.

    >>> figure(Money.of("1488")), figure(Money.of("-3.5"))
    ('1,488.00', '-3.50')
    """
    return _number(amount.pounds, 2)


@lru_cache(maxsize=4096)
def rate(pounds: Decimal) -> str:
    """Return a rate for a column headed in pounds, to the penny or as finely as it is.

    >>> rate(Decimal("20.9")), rate(Decimal("0.125"))
    ('20.90', '0.125')
    """
    exponent = pounds.normalize().as_tuple().exponent
    return _number(pounds, max(2, -exponent if isinstance(exponent, int) else 2))


@lru_cache(maxsize=4096)
def _number(value: Decimal, places: int) -> str:
    pattern = "#,##0." + "0" * places if places else "#,##0"
    return _formats()[1](value, format=pattern, locale=LOCALE)


@lru_cache(maxsize=1024)
def date(text: str) -> str:
    """Return an ISO 8601 date with its month as a word; any other text as it stands.

    >>> date("2026-11-25"), date("next week")
    ('25 November 2026', 'next week')
    """
    try:
        day = datetime.date.fromisoformat(text)
    except ValueError:
        return text
    return _formats()[2](day, "d MMMM y", locale=LOCALE)


@lru_cache(maxsize=1024)
def short_day(on: datetime.date) -> str:
    """Return a day of these months as short as it can be said.

    >>> short_day(datetime.date(2026, 12, 10))
    'Thu 10 Dec'
    """
    return _formats()[2](on, "EEE d MMM", locale=LOCALE)


@lru_cache(maxsize=4096)
def quantity(amount: Quantity) -> str:
    """Return a quantity as the trade writes it.

    >>> quantity(Quantity.of(6.6, Unit.METRE)), quantity(Quantity.of(1, Unit.ITEM))
    ('6.60 m', 'item')
    """
    unit = amount.unit
    if unit is Unit.ITEM and amount.amount == 1:
        return unit.symbol
    plural = "s" if unit in (Unit.DAY, Unit.WEEK, Unit.VISIT) and amount.amount != 1 else ""
    return f"{_number(amount.amount, unit.places)} {unit.symbol}{plural}"


def metres(millimetres: float) -> str:
    """Return a length in metres.

    >>> metres(1350)
    '1.35 m'
    """
    return quantity(Quantity.of(millimetres / 1000, Unit.METRE))


def plain(value: float | Decimal) -> str:
    """Return a number without needless noughts.

    >>> plain(2.0), plain(1.5), plain(1500)
    ('2', '1.5', '1,500')
    """
    number = value if isinstance(value, Decimal) else Decimal(repr(round(value, 3)))
    return f"{number.normalize():,f}"


def days(key: str, count: Decimal) -> str:
    """Return a number of days in a sentence.

    >>> days("programme.days", Decimal("1.0")), days("programme.days", Decimal("2.5"))
    ('1 day', '2.5 days')
    """
    return counted(key, float(count), days=plain(count))
