"""Terms of payment as people type them: days, months, a share of the price."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal

from estimator.contract.stages import (
    most_due_days,
    most_retained,
    most_retention_months,
    usual_due_days,
    usual_retention_months,
)
from estimator.desktop.language import _
from estimator.documents import formats
from estimator.exchange import figures
from estimator.notices import UserMistake

COUNTED = re.compile(r"([0-9]{1,4}) ?([a-z]*)")
SHARE = re.compile(r"([^ a-z%]*) ?([a-z.% ]*)")
DAYS = {"days": 1, "weeks": 7, "wks": 7}
MONTHS = {"months": 1, "mths": 1, "years": 12, "yrs": 12}
PERCENT = ("%", "per cent", "percent", "pc", "p.c")
"""Each may be typed in part: nobody is told off in the middle of a word."""
DECIMALS = 2


def due_days(text: str) -> int:
    """Return the days from an invoice to when it should be paid, the usual for nothing [day].

    Raises:
        UserMistake: for what is no number of days, or too many.

    >>> due_days("30"), due_days("30 days"), due_days(" 2 weeks "), due_days("0"), due_days("")
    (30, 30, 14, 0, 14)
    """
    found = _counted(text, DAYS, usual_due_days(), most_due_days())
    if found is None:
        raise UserMistake(
            _("Type the days to pay, such as 14 or 30, at most {most}").format(most=most_due_days())
        )
    return found


def months(text: str) -> int:
    """Return months from completion, the usual for nothing [month].

    Raises:
        UserMistake: for what is no number of months, or too many.

    >>> months("6"), months("6 months"), months("1 year"), months("0"), months("")
    (6, 6, 12, 0, 6)
    """
    found = _counted(text, MONTHS, usual_retention_months(), most_retention_months())
    if found is None:
        raise UserMistake(
            _("Type the months, such as 6 or 12, at most {most}").format(
                most=most_retention_months()
            )
        )
    return found


def kept_back(text: str) -> Decimal:
    """Return the share of the price that is kept back, none for nothing [%].

    Raises:
        UserMistake: for what is no such share, or too great a one.

    >>> kept_back("5"), kept_back("5 %"), kept_back("2.5 per cent"), kept_back(" ")
    (Decimal('5'), Decimal('5'), Decimal('2.5'), Decimal('0'))
    """
    plain = _plain(text)
    if plain in ("", _("nothing")):
        return Decimal(0)
    match = SHARE.fullmatch(plain)
    if match and _is_begun(match[2], PERCENT):
        found = figures.number(match[1], ".")
        if isinstance(found, Decimal) and _is_share(found):
            return found
    raise UserMistake(
        _("Type a share in per cent, such as 5 or 2.5, at most {most}").format(
            most=formats.plain(most_retained())
        )
    )


def _is_share(found: Decimal) -> bool:
    return 0 <= found <= most_retained() and found == round(found, DECIMALS)


def _plain(text: str) -> str:
    return " ".join(text.lower().split()).rstrip(".")


def _counted(text: str, units: Mapping[str, int], usual: int, most: int) -> int | None:
    """Return a number of the first unit, the usual for nothing; None for what is none or more."""
    plain = _plain(text)
    if not plain:
        return usual
    match = COUNTED.fullmatch(plain)
    if match is None:
        return None
    each = (many for name, many in units.items() if name.startswith(match[2]))
    many = next(each, None)
    found = None if many is None else int(match[1]) * many
    return found if found is not None and found <= most else None


def _is_begun(typed: str, names: Iterable[str]) -> bool:
    return any(name.startswith(typed) for name in names)
