"""The sentences of the paper: read from ``wording.json``, whole, with named gaps.

A sentence is never put together from bits in code, so that whoever changes the wording (or puts it
into another language) sees all of it. Each names where it comes from.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from estimator import resources
from estimator.takeoff.visible import number


@cache
def _table() -> dict[str, Any]:
    table: dict[str, Any] = resources.data("wording.json")
    return table


def say(key: str, **gaps: str) -> str:
    """Return a sentence with its gaps filled.

    Args:
        key: Part of the paper and name of the sentence, with a dot between.
        gaps: What goes into each named gap; it is put in as it stands.

    Raises:
        KeyError: for a sentence that is not there, or a gap left open.

    >>> say("letterhead.page", page="2", pages="5")
    'page 2 of 5'
    """
    part, _dot, name = key.partition(".")
    text: str = _table()[part][name]["text"]
    return text.format(**gaps)


def counted(key: str, count: float, **gaps: str) -> str:
    """Return a sentence in the singular or plural.

    >>> counted("saw.bricks", 1), counted("saw.bricks", 5, number="five")
    ('through one brick', 'through five bricks')
    """
    part, _dot, name = key.partition(".")
    entry = _table()[part][name]
    text: str = entry["one"] if count == 1 and "one" in entry else entry["text"]
    return text.format(**gaps)


def in_words(count: int) -> str:
    """Return a small number in words, a large one in figures.

    >>> in_words(6), in_words(24)
    ('six', '24')
    """
    return number(count) if count < 1000 else f"{count:,}"


def capital(text: str) -> str:
    """Return a text with a capital first letter, the rest as it is.

    >>> capital("lime mortar at No 3")
    'Lime mortar at No 3'
    """
    return text[:1].upper() + text[1:]


@cache
def kept_from_customers() -> frozenset[str]:
    """Return the codes of notices that are for the contractor and not printed for a customer."""
    return frozenset(_table()["kept_from_customers"]["codes"])
