"""Who sells what the works need: names that people type, and when two of them mean one counter."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

MERCHANT = "merchant"
"""Where things come from whose supplier nobody has said."""
MOST_LETTERS = 60
"""Longest name that is kept, so that a heading stays one; a house rule."""


def tidy(name: str) -> str:
    r"""Return a name as it is written on a list: one line, without what nobody can see.

    >>> tidy("  Bars \n &  Co ")
    'Bars & Co'
    """
    seen = "".join(filter(str.isprintable, " ".join(name.split())))
    return " ".join(unicodedata.normalize("NFC", seen).split())


def folded(name: str) -> str:
    """Return what is the same for every way of writing one name in capitals and small letters.

    >>> folded("BARS & Co") == folded("bars  & co")
    True
    """
    return unicodedata.normalize("NFKC", tidy(name).casefold())


def distinct(names: Iterable[str]) -> tuple[str, ...]:
    """Return each name once, as it is first written, without those that say nothing.

    >>> distinct(["Bars & Co", "", "bars & co", "Quarry"])
    ('Bars & Co', 'Quarry')
    """
    found: dict[str, str] = {}
    for name in names:
        if tidy(name):
            found.setdefault(folded(name), tidy(name))
    return tuple(found.values())
