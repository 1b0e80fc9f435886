"""Price books in the file: dated, one after another, never overwritten.

Every earlier book reads as it did on its day. Every accepted change, of one rate or of thousands,
makes one book and one batch, which one undo takes back while nothing rests on it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from estimator import resources
from estimator.money import Money
from estimator.pricing import price_book
from estimator.pricing.price_book import PriceBook
from estimator.store import book_parts, book_rows
from estimator.store.book_parts import ENGINE, Entry, Kind, Parts
from estimator.store.book_rows import Batch, Book, ChangeSet
from estimator.store.database import Database

OWN_TITLE = "Our own rates"
"""Title of a book once its last illustration is confirmed: the shipped title says otherwise."""


@dataclass(frozen=True, slots=True)
class Rate:
    """An entry in a book that changed it, beside what it was before."""

    book: Book
    old: Entry | None
    new: Entry | None
    """Nothing where the book drops it."""

    @property
    def prices(self) -> tuple[Money | None, Money | None]:
        """The price before and from then on."""
        return (self.old.price if self.old else None), (self.new.price if self.new else None)


def books(database: Database) -> tuple[Book, ...]:
    """Return every price book, oldest first."""
    with database.reading() as connection:
        return book_rows.all_books(connection)


def batches(database: Database) -> tuple[Batch, ...]:
    """Return every accepted change, oldest first, those taken back too."""
    with database.reading() as connection:
        return book_rows.all_batches(connection)


def current(database: Database) -> Book | None:
    """Return the newest price book, or nothing in a file that has none yet."""
    with database.reading() as connection:
        return book_rows.newest(connection)


def install(database: Database, text: str, why: str, *, at: datetime | None = None) -> Book:
    """Take a price book file in: as the first book, or as what it changes of the newest one.

    Raises:
        UserMistake: when the text is no price book that can be used.
    """
    price_book.read(text)
    parts = book_parts.taken_apart(text)
    with database.writing() as connection:
        before = book_rows.newest(connection)
        if before is None:
            return book_rows.first(connection, parts, why, at or book_rows.today())
        change = _difference(parts, book_rows.whole(connection, before.id, kinds=ENGINE), why)
        if not change.entries and not change.dropped and before.title == parts.title:
            return before
        book_rows.supersede(connection, change, at=at)
        return book_rows.numbered(connection, None)


def installed(database: Database) -> Book:
    """Return the newest price book, taking in the shipped one where the file has none."""
    found = current(database)
    if found is not None:
        return found
    text = resources.path("price_book.json").read_text(encoding="utf-8")
    return install(database, text, "rates that ship with the program, not yet your own")


def document(database: Database, book: int | None = None) -> str:
    """Return a price book as the text of a price book file; the newest when none is named.

    Raises:
        UserMistake: when there is no such book.
    """
    with database.reading() as connection:
        return book_rows.document_of(connection, book_rows.numbered(connection, book))


def load(database: Database, book: int | None = None) -> PriceBook:
    """Return a price book as the engine prices with it; the newest when none is named.

    Raises:
        UserMistake: when there is no such book.
    """
    with database.reading() as connection:
        found = book_rows.numbered(connection, book)
        return price_book.read(book_rows.document_of(connection, found, indent=None))


def confirm(
    database: Database, *, code: str = "", group: str = "", at: datetime | None = None
) -> int:
    """Mark illustrations as the contractor's own figures; return how many were not so before.

    Args:
        database: The file.
        code: The one entry meant; all of them when empty.
        group: The one group meant, in any case of letters; all of them when empty.
        at: When; now when not said.
    """
    with database.writing() as connection:
        book = book_rows.numbered(connection, None)
        open_ones = unconfirmed_in(book_rows.whole(connection, book.id))
        now = [
            replace(entry, confirmed=True)
            for entry in open_ones
            if (not code or entry.code == code)
            and (not group or entry.group.casefold() == group.casefold())
        ]
        if not now:
            return 0
        is_last = len(now) == len(open_ones) and book.title == price_book.shipped().title
        title = OWN_TITLE if is_last else book.title
        what = now[0].title if len(now) == 1 else f"{len(now)} rates"
        why = f"{what} confirmed as our own"
        change = ChangeSet("confirm", why, now, title=title, keeps_dates=True)
        book_rows.supersede(connection, change, at=at)
        return len(now)


def unconfirmed(database: Database) -> tuple[Entry, ...]:
    """Return what is still an illustration in the newest price book."""
    with database.reading() as connection:
        book = book_rows.numbered(connection, None)
        return unconfirmed_in(book_rows.whole(connection, book.id, kinds=ENGINE))


def unconfirmed_in(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """Return those of some entries that are still illustrations."""
    return tuple(entry for entry in entries if not entry.confirmed)


def history(database: Database, kind: Kind, code: str, supplier: str = "") -> tuple[Rate, ...]:
    """Return what an entry was in every price book that changed it, oldest first."""
    with database.reading() as connection:
        changes = book_rows.changes_of(connection, (kind.value, supplier, code))
    before = (None, *(entry for _book, entry in changes))
    return tuple(Rate(book, old, new) for (book, new), old in zip(changes, before, strict=False))


def _difference(parts: Parts, before: tuple[Entry, ...], why: str) -> ChangeSet:
    """Return what a whole price book changes of the newest one."""
    old = {entry.key: entry for entry in before}
    changed = [
        _kept(entry, old.get(entry.key), confirmed=parts.confirmed) for entry in parts.entries
    ]
    wanted = {entry.key for entry in parts.entries}
    return ChangeSet(
        "price book",
        why,
        [entry for entry in changed if entry != old.get(entry.key)],
        [entry for entry in before if entry.key not in wanted],
        parts.title,
        parts.dated,
    )


def _kept(new: Entry, old: Entry | None, *, confirmed: bool) -> Entry:
    """Return an entry with what a price book file does not say, as its owner has said it."""
    if old is None:
        return new
    kept = replace(new, supplier=old.supplier, group=old.group, notes=old.notes)
    if new.body != old.body:
        return kept
    return replace(kept, title=old.title, dated=old.dated, confirmed=old.confirmed or confirmed)
