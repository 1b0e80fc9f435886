"""All that an issued paper says, as one JSON text that is the same for the same paper.

Names are sorted and nothing is left to choice, so that the hash of the text stands for the paper.
Money, rates and quantities are decimal text; the survey is the text of a survey file.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from datetime import UTC, datetime
from decimal import Decimal
from enum import Enum, IntEnum
from typing import Any

from estimator.money import Money
from estimator.quoting.quotation import Quotation
from estimator.survey import survey_file
from estimator.units import Unit

VERSION = 1
"""Of the layout of the text; a later one may add to it."""


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What a paper was made from, in names that last."""

    number: str
    issued_at: datetime
    job: str
    revision: int
    price_book: str
    supersedes: str
    pdf_sha256: str


def sha256(content: bytes) -> str:
    """Return the SHA-256 of some bytes, in lower-case hexadecimal.

    >>> sha256(b"abc")[:16]
    'ba7816bf8f01cfea'
    """
    return hashlib.sha256(content).hexdigest()


def content_of(quotation: Quotation, made: Circumstances) -> str:
    """Return all that a paper says."""
    said = _fields(quotation)
    del said["survey"]
    return canonical(
        {
            "perpend_paper": VERSION,
            **_fields(made),
            "kind": quotation.paper.value,
            "total_pence": total_pence(quotation),
            "survey": survey_file.write(quotation.survey),
            "quotation": said,
        }
    )


def total_pence(quotation: Quotation) -> int:
    """Return what the first option on the paper comes to, tax in [penny]."""
    return quotation.options[0].offer.total.pence


def canonical(value: dict[str, Any]) -> str:
    """Return JSON with sorted names and no spare space.

    >>> canonical({"b": "£5", "a": [1]})
    '{"a":[1],"b":"£5"}'
    """
    return json.dumps(
        value, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def moment(at: datetime) -> str:
    """Return a moment as the file writes it.

    >>> moment(datetime(2026, 11, 25, 9, 30, tzinfo=UTC))
    '2026-11-25T09:30:00.000000+00:00'
    """
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def _fields(value: Any) -> dict[str, Any]:
    return {entry.name: plain(getattr(value, entry.name)) for entry in fields(value)}


def plain(value: Any) -> Any:
    """Return a value as JSON holds it.

    Raises:
        TypeError: for something with no lasting form.

    >>> plain((Money(1205), Decimal("7.50"), Unit.METRE))
    ['12.05', '7.50', 'm']
    """
    for kind, written in WRITTEN:
        if isinstance(value, kind):
            return written(value)
    if is_dataclass(value):
        return _fields(value)
    raise TypeError(f"a {type(value).__name__} cannot stand on a paper")


WRITTEN: tuple[tuple[type | tuple[type, ...], Callable[[Any], Any]], ...] = (
    (Unit, lambda unit: unit.symbol),
    (IntEnum, lambda member: member.name.lower()),
    (Enum, lambda member: plain(member.value)),
    (datetime, moment),
    (Money, str),
    (Decimal, lambda number: f"{number:f}"),
    ((str, int, float, type(None)), lambda value: value),
    (tuple, lambda values: [plain(one) for one in values]),
    (frozenset, lambda values: sorted(plain(one) for one in values)),
)
"""How each kind is written; the first that fits counts, and some kinds are also numbers."""
