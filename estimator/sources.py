"""Where a fact comes from, and how far it can be trusted.

Rules, formats, rates and words cite a source by its key; the printed paper and the tests turn the
key into a document, clause and year.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache
from types import MappingProxyType

from estimator import resources


class Trust(Enum):
    """How sure we are of a source."""

    READ = "read in the document or a copy of it"
    MEMORY = "from memory, not read"
    COMPUTED = "computed from a stated formula"
    COMMON_PRACTICE = "common practice, no source"
    HOUSE = "house rule, change it to suit"


@dataclass(frozen=True, slots=True)
class Source:
    """One document, clause or habit that a fact rests on."""

    key: str
    title: str
    clause: str
    year: str
    trust: Trust

    @property
    def is_print(self) -> bool:
        """Whether it is something published, that a reader could look up."""
        return self.trust not in (Trust.HOUSE, Trust.COMMON_PRACTICE)

    def __str__(self) -> str:
        if not self.is_print:
            return self.trust.value
        named = ", ".join(part for part in (self.title, self.clause, self.year) if part)
        return f"{named} ({self.trust.value})"


@cache
def all_sources() -> Mapping[str, Source]:
    """Return every source by key.

    >>> all_sources()["house"].trust is Trust.HOUSE
    True
    """
    table = {
        key: Source(
            key,
            entry["title"],
            entry.get("clause", ""),
            entry.get("year", ""),
            Trust[entry["trust"]],
        )
        for key, entry in resources.data("sources.json").items()
    }
    return MappingProxyType(table)


def source(key: str) -> Source:
    """Return one source.

    Raises:
        KeyError: when no source has that key.
    """
    return all_sources()[key]
