"""Sums, days and sizes as the page says them, and figures read strictly as they are typed."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache
from types import ModuleType

from estimator.desktop.language import LANGUAGE, _
from estimator.exchange import figures

MOST = Decimal(1_000_000)
"""Nothing in a price book is larger; a house rule."""
MOST_PLACES = 6
"""Decimals the price book keeps."""


@cache
def _numbers() -> ModuleType:
    from babel import numbers  # noqa: PLC0415 - loads slowly, and no page is shown before it is read

    return numbers


def money(pounds: Decimal, currency: str = "GBP") -> str:
    """Return a sum with its sign, to the penny or as finely as it is kept.

    >>> money(Decimal("1488")), money(Decimal("0.555"))
    ('£1,488.00', '£0.555')
    """
    return _money(pounds, currency, LANGUAGE.tag)


def signed(pounds: Decimal, currency: str = "GBP") -> str:
    """Return a difference, its direction always said.

    >>> signed(Decimal("17")), signed(Decimal("-3.5"))
    ('+£17.00', '−£3.50')
    """
    mark = "+" if pounds > 0 else "−" if pounds < 0 else ""
    return f"{mark}{money(abs(pounds), currency)}"


def number(value: Decimal) -> str:
    """Return a number without needless noughts.

    >>> number(Decimal("1719.90")), number(Decimal("25"))
    ('1,719.9', '25')
    """
    return _number(value, LANGUAGE.tag)


def typed_as(value: Decimal, *, is_money: bool) -> str:
    """Return a figure as a field holds it: no sign, and sums to the penny at least.

    >>> typed_as(Decimal("4.6"), is_money=True), typed_as(Decimal("4.60"), is_money=False)
    ('4.60', '4.6')
    """
    if not is_money:
        return number(value)
    exponent = value.as_tuple().exponent
    places = max(2, -exponent if isinstance(exponent, int) else 2)
    shown: str = _numbers().format_decimal(
        value, format=f"#,##0.{'0' * places}", locale=LANGUAGE.tag
    )
    return shown


def day(text: str) -> str:
    """Return an ISO 8601 date with its month as a word; any other text as it stands.

    >>> day("2026-11-25"), day("")
    ('25 Nov 2026', '')
    """
    return _day(text, LANGUAGE.tag)


def decimal_sign() -> str:
    """Return what begins the decimals in the language of the screen."""
    return _sign(LANGUAGE.tag)


@dataclass(frozen=True, slots=True)
class Understood:
    """What a figure somebody typed was taken for, or why it was not."""

    value: Decimal | None
    why_not: str = ""


def understood(typed: str, called: str, *, whole: bool = False) -> Understood:
    """Read a figure strictly: one reading, or a plain sentence about it.

    Args:
        typed: As it stands in the field.
        called: What the figure is, as its label says.
        whole: Whether only whole numbers will do.

    >>> understood("4.60", "Price").value
    Decimal('4.60')
    >>> understood("4,60", "Price").why_not
    'Price: “4,60” is not a figure. Write it as 4.60.'
    """
    if not typed.strip():
        return Understood(None, _("{called}: write a figure.").format(called=called))
    found = figures.number(typed, decimal_sign())
    if isinstance(found, figures.Reading):
        shape = number(Decimal(460)) if whole else f"4{decimal_sign()}60"
        told = _("{called}: “{typed}” is not a figure. Write it as {shape}.")
        return Understood(None, told.format(called=called, typed=typed.strip()[:30], shape=shape))
    return _within(found, called, whole=whole)


def _within(found: Decimal, called: str, *, whole: bool) -> Understood:
    exponent = found.as_tuple().exponent
    places = -exponent if isinstance(exponent, int) else 0
    if found < 0:
        return Understood(None, _("{called} must be 0 or more.").format(called=called))
    if found > MOST:
        told = _("{called} must be {most} or less. Is a decimal sign missing?")
        return Understood(None, told.format(called=called, most=number(MOST)))
    if whole and found != found.to_integral_value():
        return Understood(None, _("{called} must be a whole number.").format(called=called))
    if places > MOST_PLACES:
        return Understood(None, _("{called} must have 6 decimals or fewer.").format(called=called))
    return Understood(found)


@lru_cache(maxsize=8192)
def _money(pounds: Decimal, currency: str, tag: str) -> str:
    shown: str = _numbers().format_currency(
        pounds, currency, locale=tag, decimal_quantization=False
    )
    return shown


@lru_cache(maxsize=8192)
def _number(value: Decimal, tag: str) -> str:
    shown: str = _numbers().format_decimal(value, locale=tag, decimal_quantization=False)
    return shown


@lru_cache(maxsize=2048)
def _day(text: str, tag: str) -> str:
    from babel.dates import format_date  # noqa: PLC0415 - as above

    try:
        shown: str = format_date(datetime.date.fromisoformat(text), "d MMM y", locale=tag)
    except ValueError:
        return text
    return shown


@cache
def _sign(tag: str) -> str:
    sign: str = _numbers().get_decimal_symbol(tag)
    return sign if sign in figures.SHAPES else "."
