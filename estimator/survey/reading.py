"""Reading JSON strictly, with every mistake named by the place a person would look for it.

A reader is a function from a JSON value and its place to a typed value. Small readers are made by
the functions below; a ``Shape`` joins them into a reader of one group of fields. Whatever cannot be
used is said in one sentence as a ``UserMistake``: where, what is wrong, what would do.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import MISSING, dataclass, fields
from datetime import date
from difflib import get_close_matches
from enum import Enum
from typing import Any, Generic, TypeVar

from estimator.notices import UserMistake
from estimator.survey.json_text import SHOWN_LETTERS, Doubled, shown
from estimator.survey.limits import Limit
from estimator.survey.ranges import Range, Told

T = TypeVar("T")
E = TypeVar("E", bound=Enum)

MOST_LISTED = 6
UNPRINTABLE = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
UNPRINTABLE_IN_NOTES = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff]")
SHA_256 = re.compile(r"[0-9a-f]{64}")
ISO_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


@dataclass(frozen=True, slots=True)
class Place:
    """Where a value stands in the file, as a person would say it."""

    parts: tuple[str, ...] = ()

    def at(self, part: str) -> Place:
        """Return the place of something inside this one.

        >>> str(Place().at("elevation 'front'").at("crack 'a'").at("width_mm"))
        "elevation 'front', crack 'a': width_mm"
        """
        return Place((*self.parts, part))

    def beside(self, part: str) -> Place:
        """Return the place of one thing in the list that stands here, which names itself.

        >>> str(Place(("elevation 'front'", "cracks")).beside("crack 'a'"))
        "elevation 'front': crack 'a'"
        """
        return Place((*self.parts[:-1], part))

    def mistake(self, what: str, do: str) -> UserMistake:
        """Return the mistake to raise: what is wrong here, and what would do."""
        return UserMistake(f"{self} {what}", do=do, field=str(self))

    def __str__(self) -> str:
        if not self.parts:
            return "the survey"
        outer = ", ".join(self.parts[:-1])
        return f"{outer}: {self.parts[-1]}" if outer else self.parts[-1]


Read = Callable[[object, Place], T]
"""Turns a JSON value at a place into a typed value."""


def nearest(word: object, known: Collection[str]) -> str:
    """Return the known word most like the one given, or nothing.

    >>> nearest("widht_mm", ["width_mm", "run"])
    'width_mm'
    """
    found = get_close_matches(str(word)[:SHOWN_LETTERS].lower(), list(known), n=1)
    return found[0] if found else ""


def group(value: object, place: Place) -> Mapping[str, Any]:
    """Read a group of fields as it stands, with no name twice."""
    if isinstance(value, Doubled):
        raise place.at(shown(value.name)[1:-1]).mistake("is written twice", "keep one of them")
    if not isinstance(value, dict):
        raise place.mistake(f"is {shown(value)}", "write a group of fields in braces { }")
    return value


@dataclass(frozen=True, slots=True)
class Shape(Generic[T]):
    """A reader of one group of fields: which there are, which must be there, how each is read."""

    build: Callable[..., T]
    fields: Mapping[str, Read[Any]]
    needed: tuple[str, ...]

    def __call__(self, value: object, place: Place) -> T:
        """Read the group at a place, refusing what is unknown before missing what is needed."""
        given = group(value, place)
        # A misspelt field is best told as such, not as the right one missing.
        for name in given:
            if name not in self.fields:
                raise self._unknown(name, place)
        for name in self.needed:
            if name not in given:
                raise place.at(name).mistake("is missing", "write it")
        return self.build(
            **{name: self.fields[name](entry, place.at(name)) for name, entry in given.items()}
        )

    def _unknown(self, name: str, place: Place) -> UserMistake:
        """Return the mistake of a name nobody knows, with the one that was perhaps meant."""
        meant = nearest(name, self.fields)
        do = f"perhaps '{meant}' was meant" if meant else "leave it out"
        return place.at(shown(name)[1:-1] or "''").mistake("is not a known field", do)


def shape(
    build: type[T], readers: Mapping[str, Read[Any]], *, spare: Mapping[str, Any] | None = None
) -> Shape[T]:
    """Make the reader of a dataclass; what it has no default for must be in the file.

    Args:
        build: The dataclass.
        readers: A reader for each of its fields.
        spare: Values for fields without a default that the file may still leave out.
    """
    spares = dict(spare or {})
    needed = tuple(
        entry.name
        for entry in fields(build)  # type: ignore[arg-type]
        if entry.default is MISSING
        and entry.default_factory is MISSING
        and entry.name not in spares
    )
    return Shape(lambda **given: build(**{**spares, **given}), readers, needed)


def text(letters: int, *, blank: bool = True, lines: bool = False) -> Read[str]:
    """Make a reader of text up to so many letters, perhaps over several lines.

    >>> text(10)("Oak Lane", Place())
    'Oak Lane'
    """
    unprintable = UNPRINTABLE_IN_NOTES if lines else UNPRINTABLE

    def read(value: object, place: Place) -> str:
        if not isinstance(value, str):
            raise place.mistake(f"is {shown(value)}", "write text in quotes")
        if len(value) > letters:
            raise place.mistake(f"has {len(value):,} letters", f"shorten it to {letters:,}")
        if unprintable.search(value):
            raise place.mistake(
                "has a character in it that cannot be printed", "type it again without it"
            )
        if not blank and not value.strip():
            raise place.mistake("is empty", f"write text of 1 to {letters:,} letters")
        return value

    return read


def identity(letters: int) -> Read[str]:
    """Make a reader of an id, which marks on the wall are made of.

    >>> identity(40)("front", Place())
    'front'
    """
    written = text(letters, blank=False)

    def read(value: object, place: Place) -> str:
        name = written(value, place)
        # Marks on the wall join ids with slashes, and are taken apart at them.
        if "/" in name or name != name.strip():
            raise place.mistake(
                f"is {shown(name)}", "write an id without a slash and without spaces at its ends"
            )
        return name

    return read


def flag(value: object, place: Place) -> bool:
    """Read true or false.

    >>> flag(True, Place())
    True
    """
    if not isinstance(value, bool):
        raise place.mistake(f"is {shown(value)}", "write true or false, without quotes")
    return value


def number(limit: Limit) -> Read[float]:
    """Make a reader of a number within limits.

    >>> number(Limit(0, 200, "mm"))(3, Place())
    3.0
    """

    def read(value: object, place: Place) -> float:
        # To Python true is the number 1 and infinity is a number; they measure nothing.
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            raise place.mistake(f"is {shown(value)}", f"write {limit.words}")
        if not limit.allows(value):
            raise place.mistake(f"is {value:,.15g}", f"write {limit.words}")
        return float(value)

    return read


def whole(limit: Limit) -> Read[int]:
    """Make a reader of a whole number within limits.

    >>> whole(Limit(1, 99, "courses"))(12, Place())
    12
    """
    fine = number(limit)

    def read(value: object, place: Place) -> int:
        found = fine(value, place)
        if not found.is_integer():
            raise place.mistake(f"is {shown(value)}", f"write a whole number, {limit.words}")
        return int(found)

    return read


def told(limit: Limit) -> Read[Told]:
    """Make a reader of a number that was measured, or a range that was told.

    >>> told(Limit(0, 200, "mm"))({"low": 1, "likely": 2, "high": 4}, Place())
    Range(low=1.0, likely=2.0, high=4.0)
    """
    plain = number(limit)
    names = ("low", "likely", "high")
    ends: Shape[dict[str, float]] = Shape(dict, dict.fromkeys(names, plain), names)

    def read(value: object, place: Place) -> Told:
        if not isinstance(value, dict):
            return plain(value, place)
        found = ends(value, place)
        if not found["low"] <= found["likely"] <= found["high"]:
            raise place.mistake(
                "does not run from low through likely to high", "put its three numbers in order"
            )
        return Range(**found)

    return read


def choice(kind: type[E]) -> Read[E]:
    """Make a reader of one of the values of an enum.

    >>> from estimator.survey.survey import Answer
    >>> choice(Answer)("not sure", Place())
    <Answer.NOT_SURE: 'not sure'>
    """
    known = {member.value: member for member in kind}
    named = key(lambda: tuple(known))
    return lambda value, place: known[named(value, place)]


def key(known: Callable[[], Collection[str]]) -> Read[str]:
    """Make a reader of one of the keys there are; which, is asked when one is read.

    >>> key(lambda: ("left", "right"))("left", Place())
    'left'
    """

    def read(value: object, place: Place) -> str:
        # Asked now, not when the reader was made: no data is read at import.
        keys = known()
        if isinstance(value, str) and value in keys:
            return value
        meant = nearest(value, keys) if isinstance(value, str) else ""
        if len(keys) <= MOST_LISTED:
            do = "write " + " or ".join(f"'{one}'" for one in keys)
        else:
            named = [one for one in keys if one]
            do = f"write one of the {len(named)} there are, such as '{meant or named[0]}'"
        raise place.mistake(f"is {shown(value)}, which is not known here", do)

    return read


def iso_date(value: object, place: Place) -> str:
    """Read a date, kept as text.

    >>> iso_date("2026-11-25", Place())
    '2026-11-25'
    """
    try:
        # The library reads other forms of ISO 8601 too; one form is enough to compare as text.
        if not isinstance(value, str) or not ISO_DATE.fullmatch(value):
            raise ValueError
        date.fromisoformat(value)
    except ValueError:
        # The first error is ours or the library's and adds nothing a person could use.
        raise place.mistake(
            f"is {shown(value)}, which is no day of the calendar",
            "write year, month and day as 2026-11-25",
        ) from None
    return value


def perhaps_date(value: object, place: Place) -> str:
    """Read a date, or an empty text where it is not known.

    >>> perhaps_date("", Place())
    ''
    """
    return "" if value == "" else iso_date(value, place)


def sha256(value: object, place: Place) -> str:
    """Read the SHA-256 of a kept picture, 64 small hexadecimal digits.

    >>> len(sha256("0a" * 32, Place()))
    64
    """
    if not isinstance(value, str) or not SHA_256.fullmatch(value):
        raise place.mistake(
            f"is {shown(value)}, which names no kept picture",
            "write its SHA-256 in 64 digits from 0 to 9 and a to f",
        )
    return value


def listed(read: Read[T], called: str, count: tuple[int, int]) -> Read[tuple[T, ...]]:
    """Make a reader of a list, its parts named by their id or counted from 1.

    >>> listed(flag, "answer", (1, 2))([True, False], Place())
    (True, False)
    """
    least, most = count

    def label(value: object, position: int) -> str:
        named = value.get("id") if isinstance(value, dict) else None
        if isinstance(named, str) and named.strip():
            return f"{called} {shown(named, letters=24)}"
        return f"{called} {position}"

    def read_all(value: object, place: Place) -> tuple[T, ...]:
        if not isinstance(value, list):
            raise place.mistake(f"is {shown(value)}", "write a list in brackets [ ]")
        if not least <= len(value) <= most:
            raise place.mistake(
                f"has {len(value):,} in its list", f"write from {least:,} to {most:,}"
            )
        return tuple(
            read(part, place.beside(label(part, position)))
            for position, part in enumerate(value, 1)
        )

    return read_all


def pair(limit: Limit) -> Read[tuple[float, float]]:
    """Make a reader of a point: across and up, in that order.

    >>> pair(Limit(-9, 9, "mm"))([1, 2], Place())
    (1.0, 2.0)
    """
    plain = number(limit)

    def read(value: object, place: Place) -> tuple[float, float]:
        if not isinstance(value, list) or len(value) != 2:
            raise place.mistake(
                f"is {shown(value)} that is no pair of numbers"
                if isinstance(value, list)
                else f"is {shown(value)}",
                "write a point as [across, up] in mm",
            )
        return plain(value[0], place.at("across")), plain(value[1], place.at("up"))

    return read


def tagged(tag: str, readers: Mapping[str, Read[T]]) -> Read[T]:
    """Make a reader of a group whose kind is told by one of its fields.

    >>> tagged("runs", {"far": lambda value, place: "far"})({"runs": "far"}, Place())
    'far'
    """
    kind = key(lambda: tuple(readers))

    def read(value: object, place: Place) -> T:
        given = dict(group(value, place))
        if tag not in given:
            known = " or ".join(f"'{one}'" for one in readers)
            raise place.at(tag).mistake("is missing", f"write {known}")
        return readers[kind(given.pop(tag), place.at(tag))](given, place)

    return read
