"""The text of a JSON file, taken apart so that nothing odd in it is passed over.

JSON as commonly read lets pass what no survey should hold: ``NaN``, numbers too long to mean
anything, one name written twice. Here they are kept as what they are, for the readers to refuse
with the place they stand at.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from estimator.notices import UserMistake

MOST_DIGITS = 20
SHOWN_LETTERS = 40


@dataclass(frozen=True, slots=True)
class Odd:
    """A number as written that is no number to measure with: ``NaN``, or thousands of digits."""

    written: str


class Doubled(dict[str, Any]):
    """A group of fields in which one name stands twice."""

    name: str = ""


def shown(value: object, *, letters: int = SHOWN_LETTERS) -> str:
    """Return a value as a message shows it: short, on one line, in plain words.

    >>> shown("wide"), shown(True), shown([1]), shown(2.50)
    ("'wide'", 'true', 'a list', '2.5')
    """
    if isinstance(value, str):
        # Marks that turn the reading direction would garble the sentence around them.
        clean = "".join(one if one.isprintable() else "?" for one in value[:letters])
        return f"'{clean}…'" if len(value) > letters else f"'{clean}'"
    if isinstance(value, Odd):
        written = value.written
        return f"{written[:8]}… ({len(written)} digits)" if len(written) > letters else written
    # Never the contents: a message stays one short line whatever was put there.
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "a group of fields"
    words = {True: "true", False: "false", None: "null"}
    return words[value] if value is None or isinstance(value, bool) else repr(value)


def parsed(text: str, *, called: str = "the survey file") -> object:
    """Return the value of a JSON text, repeated names and strange numbers kept to be refused.

    Raises:
        UserMistake: when the text is not JSON, with the line and column.

    >>> parsed('{"a": NaN}')
    {'a': Odd(written='NaN')}
    """
    try:
        value: object = json.loads(
            text, object_pairs_hook=_group, parse_int=_integer, parse_constant=Odd
        )
    except RecursionError as error:
        raise UserMistake(
            f"{called} has brackets inside brackets too deep to follow",
            do=f"write the fields as the description of {called} sets them out",
        ) from error
    except json.JSONDecodeError as error:
        raise UserMistake(
            f"{called} cannot be read at line {error.lineno:,}, column {error.colno:,}",
            why="it is not JSON there",
            do="look for a missing comma, quote or bracket at or just before that place",
        ) from error
    return value


def _group(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Make a group of fields, remembering a name that stands twice."""
    # A plain dictionary keeps the last of two values and says nothing of the first.
    group = dict(pairs)
    if len(group) == len(pairs):
        return group
    doubled = Doubled(group)
    seen: set[str] = set()
    for name, _value in pairs:
        if name in seen:
            doubled.name = name
            break
        seen.add(name)
    return doubled


def _integer(digits: str) -> int | Odd:
    """Make a whole number, unless it has more digits than anything measured."""
    # Python itself refuses thousands of digits, with words no user should meet.
    return int(digits) if len(digits) <= MOST_DIGITS else Odd(digits)
