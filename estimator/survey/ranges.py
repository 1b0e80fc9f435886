"""Numbers that were told rather than measured.

A ``Range`` is a low, a likely and a high value. One survey holds ranges and plain numbers side by
side; resolving it draws a plain survey, which the engine then measures like any other.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import cache
from typing import Any, TypeVar, get_args, get_type_hints


@dataclass(frozen=True, slots=True)
class Range:
    """Low, likely and high, in the unit of the field that holds it."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError("a range runs from low through likely to high")


Told = float | Range
"""A number measured on site, or a range told on the telephone."""

Draw = Callable[[str, Range], float]
"""Turns the range at a path in the survey into one number."""

T = TypeVar("T")


def likely(value: Told) -> float:
    """Return the likely value of a range, or the plain number itself.

    >>> likely(Range(10, 18, 24)), likely(18.0)
    (18, 18.0)
    """
    return value.likely if isinstance(value, Range) else value


def resolve(value: T, draw: Draw, *, path: str = "") -> T:
    """Return the same frozen value with every range inside it replaced by a drawn number.

    Parts without ranges are kept as they are, not copied.

    >>> from estimator.survey.survey import StraightRun
    >>> resolve(StraightRun(500, 1, Range(10, 18, 24)), lambda _path, told: told.high)
    StraightRun(x_mm=500, course=1, courses=24)
    """
    result: Any = value
    if isinstance(value, Range):
        result = draw(path, value)
    elif isinstance(value, tuple) and value and is_dataclass(value[0]):
        parts = tuple(resolve(part, draw, path=f"{path}[{n}]") for n, part in enumerate(value))
        if any(new is not old for new, old in zip(parts, value, strict=True)):
            result = parts
    elif is_dataclass(value) and not isinstance(value, type):
        changes = {}
        for name in _holding(type(value)):
            old = getattr(value, name)
            new = resolve(old, draw, path=f"{path}.{name}" if path else name)
            if new is not old:
                changes[name] = new
        if changes:
            result = replace(value, **changes)
    return result  # type: ignore[no-any-return]


@cache
def _holding(kind: type) -> tuple[str, ...]:
    """Return the fields of a dataclass that can hold a range somewhere inside, by their types.

    Most of a survey never can; a sample draws it hundreds of times, so it looks only where one may.
    """
    hints = get_type_hints(kind)
    return tuple(entry.name for entry in fields(kind) if _may_hold(hints[entry.name]))


def _may_hold(hint: Any) -> bool:
    if isinstance(hint, type) and is_dataclass(hint):
        return hint is Range or bool(_holding(hint))
    return any(_may_hold(part) for part in get_args(hint))


def settled(value: T) -> T:
    """Return a survey with each range at its likely value.

    >>> settled(Range(10, 18, 24))
    18
    """
    return resolve(value, lambda _path, told: told.likely)
