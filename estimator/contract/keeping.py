"""Deeds as JSON text and back, every field spelled out, nothing guessed.

Money and decimals are text, moments and days ISO 8601, units their symbols, choices their values.
A text with a field too many or a kind not known is refused: it comes from a newer program.
"""

from __future__ import annotations

import datetime
import json
from decimal import Decimal
from functools import lru_cache
from typing import Any

from cattrs import (
    BaseValidationError,
    Converter,
    ForbiddenExtraKeysError,
    StructureHandlerNotFoundError,
)
from cattrs.strategies import configure_tagged_union

from estimator.contract.deeds import Deed
from estimator.money import Money, exact
from estimator.notices import UserMistake
from estimator.takeoff.scope import Scope, Work
from estimator.units import Unit

KIND = "kind"
"""Name of the field that says which kind of deed it is."""
_UNREADABLE = (
    BaseValidationError,
    ForbiddenExtraKeysError,
    StructureHandlerNotFoundError,
    ValueError,
    TypeError,
    KeyError,
)


def written(deed: Deed) -> str:
    """Return a deed as text; the same deed always gives the same text.

    >>> from estimator.contract.deeds import Struck
    >>> written(Struck("a1", "typed twice"))
    '{"happening":"a1","kind":"Struck","why":"typed twice"}'
    """
    told = _converter().unstructure(deed, unstructure_as=Deed)
    return json.dumps(
        told, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def read(text: str) -> Deed:
    """Return the deed a text is.

    Raises:
        UserMistake: when it cannot be read.

    >>> read('{"happening":"a1","kind":"Struck","why":"typed twice"}').why
    'typed twice'
    """
    try:
        deed: Deed = _converter().structure(json.loads(text), Deed)  # type: ignore[arg-type]
    except _UNREADABLE as error:
        raise UserMistake(
            "something that happened to this job cannot be read",
            why="it was kept by a newer program, or is damaged",
            do="use the newer program, or a good backup",
        ) from error
    return deed


def plain(value: Any) -> Any:
    """Return any of this room's values as JSON holds it.

    >>> plain(Money(1205))
    '12.05'
    """
    return _converter().unstructure(value)


@lru_cache(maxsize=1)
def _converter() -> Converter:
    converter = Converter(forbid_extra_keys=True)
    texts: tuple[tuple[type, Any, Any], ...] = (
        (Money, str, Money.of),
        (Decimal, lambda number: f"{number:f}", exact),
        (Unit, lambda unit: unit.symbol, Unit.of_symbol),
        (datetime.datetime, datetime.datetime.isoformat, datetime.datetime.fromisoformat),
        (datetime.date, datetime.date.isoformat, datetime.date.fromisoformat),
    )
    for kind, to_text, from_text in texts:
        converter.register_unstructure_hook(kind, to_text)
        converter.register_structure_hook(kind, _from_text(from_text))
    # A set has no order, and the same deed always gives the same text.
    converter.register_unstructure_hook(
        Scope,
        lambda scope: {
            "key": scope.key,
            "title": scope.title,
            "works": sorted(work.name for work in scope.works),
        },
    )
    converter.register_structure_hook(
        Scope,
        lambda told, _kind: Scope(
            told["key"], told["title"], frozenset(Work[name] for name in told["works"])
        ),
    )
    configure_tagged_union(Deed, converter, tag_name=KIND)
    return converter


def _from_text(read_text: Any) -> Any:
    def structured(value: object, _kind: type) -> Any:
        if not isinstance(value, str):
            raise TypeError("a text is wanted here")
        return read_text(value)

    return structured
