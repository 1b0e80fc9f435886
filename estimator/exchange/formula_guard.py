"""Texts kept from running as formulas when a spreadsheet opens them, and given back unchanged.

Source: OWASP, CSV injection (the lead letters, LF added in 2025); ASVS 5.0 §1.2.10 adds NUL and
asks for an apostrophe in front. Numbers are written as numbers and need none.
"""

from __future__ import annotations

LEADS = ("=", "+", "-", "@", "\t", "\r", "\n", "\x00")
"""A text cell that begins with one of these may run."""
GUARD = "'"


def guarded(text: str) -> str:
    """Return a text that no spreadsheet runs.

    A text that begins with the guard itself gets another, so that taking one off gives it back.

    >>> guarded("=1+1"), guarded("'=1"), guarded("lime"), guarded("'tis")
    ("'=1+1", "''=1", 'lime', "''tis")
    """
    return GUARD + text if text.startswith((*LEADS, GUARD)) else text


def unguarded(text: str) -> str:
    """Return a text as it was before it was guarded.

    >>> [unguarded(guarded(text)) for text in ("=1+1", "'=1", "lime", "'tis")]
    ['=1+1', "'=1", 'lime', "'tis"]
    """
    if text[:1] == GUARD and text[1:2] in {*LEADS, GUARD}:
        return text[1:]
    return text
