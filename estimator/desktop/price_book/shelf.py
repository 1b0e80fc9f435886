"""What the page holds of the price book: its shelves, and the newest book as text."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.store.book_parts import Entry, Kind

BOUGHT = (Kind.MATERIAL, Kind.BAR)
"""Kinds that stand on a buying list."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """One kind or group of the price book."""

    title: str
    kind: Kind | None = None
    """All kinds when none."""
    group: str | None = None
    count: int = 0
    strange: int = 0
    """How many are not yet one's own."""

    def same_as(self, other: Shelf) -> bool:
        """Tell whether it is the same shelf, whatever stands on it."""
        return (self.kind, self.group) == (other.kind, other.group)


@dataclass(frozen=True, slots=True)
class Book:
    """The newest price book, seen from outside."""

    shelves: tuple[Shelf, ...] = ()
    text: str = ""
    """The whole book as a price book file, for trying a change before it is made."""
    labour: tuple[Entry, ...] = ()
    """Pay, the working year, what an employer pays on top, and the gang."""
    last_change: str = ""
    """The newest change, which one step takes back; nothing where there is none."""
    last_batch: int = 0
    """Nought where the newest change is of who sells something, and of no price."""

    @property
    def count(self) -> int:
        """How many rates and articles there are."""
        return sum(shelf.count for shelf in self.shelves)

    @property
    def strange(self) -> int:
        """How many are not yet one's own."""
        return sum(shelf.strange for shelf in self.shelves)
