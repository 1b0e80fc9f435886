"""The time, in one place; whoever needs another time hands it in."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

Clock = Callable[[], datetime]
"""Gives the time: ``now``, or a test's own."""


def now() -> datetime:
    """Return the time in UTC, which no change of clocks moves.

    >>> str(now().tzinfo)
    'UTC'
    """
    return datetime.now(UTC)
