"""Finding things by whatever is typed: customers, jobs, papers and what is in the price book.

Each kind is asked for by itself, so that a hundred thousand materials never hide one customer. The
first letters are answered in the order of the file, because ranking would look at everything that
begins so; from the second word on the best comes first.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sqlalchemy import Connection

from estimator.store import words
from estimator.store.database import Database

STRETCH = 1 << 40
FEW = 3
"""With fewer hits than this, a word nobody ever wrote is taken for a slip."""
LAST_LETTER = "\U0010ffff"
SHORTEST_MENDED = 4
LONG_WORD = 6
"""A word this long may be two slips away from another, a shorter one only one."""


class Kind(StrEnum):
    """What can be found, in the order it is told."""

    CUSTOMER = "customer"
    JOB = "job"
    PAPER = "paper"
    ITEM = "item"


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found."""

    kind: Kind
    ref_id: int
    code: str
    title: str
    snippet: str
    searched_for: str = ""
    """What was looked for instead, when what was typed looked like a slip."""


ENTRY = "e.id, e.kind, e.ref_id, e.code, e.title, e.body"
BY_CODE = f"""
    SELECT {ENTRY} FROM search_entries AS e
    WHERE e.kind = ? AND e.plain >= ? AND e.plain < ? ORDER BY e.plain LIMIT ?
"""
BY_WORDS = f"""
    SELECT {ENTRY} FROM search_words JOIN search_entries AS e ON e.id = search_words.rowid
    WHERE search_words MATCH ? AND search_words.rowid BETWEEN ? AND ? LIMIT ?
"""
BY_WORTH = f"""
    SELECT {ENTRY} FROM search_words JOIN search_entries AS e ON e.id = search_words.rowid
    WHERE search_words MATCH ? AND search_words.rowid BETWEEN ? AND ?
    ORDER BY bm25(search_words, 10.0, 1.0, 5.0) LIMIT ?
"""
BY_PARTS = f"""
    SELECT {ENTRY} FROM search_codes JOIN search_entries AS e ON e.id = search_codes.rowid
    WHERE search_codes MATCH ? AND search_codes.rowid BETWEEN ? AND ? LIMIT ?
"""
BY_SIGNS = f"""
    SELECT {ENTRY} FROM search_entries AS e
    WHERE (e.title || char(10) || e.code || char(10) || e.body) LIKE ? ESCAPE '\\'
    AND e.id BETWEEN ? AND ? LIMIT ?
"""


def find(
    database: Database, typed: str, *, limit: int = 50, kinds: Iterable[Kind] | None = None
) -> tuple[Hit, ...]:
    """Return what fits the words typed, at most so many.

    Args:
        database: The file.
        typed: Anything at all; every word must begin a word of what is found, or lie in its title
            or code.
        limit: The most to return.
        kinds: Only these, if given.
    """
    text = words.cleaned(typed)
    if not text or limit < 1:
        return ()
    wanted = tuple(kind for kind in Kind if kinds is None or kind in set(kinds))
    with database.reading() as connection:
        looking = _Looking(connection, wanted, limit)
        found = looking.through(text)
        if len(found) >= FEW or not (mended := _mended(connection, words.split(text))):
            return found
        known = {(hit.kind, hit.ref_id) for hit in found}
        more = looking.through(mended, instead=True)
    return (found + tuple(hit for hit in more if (hit.kind, hit.ref_id) not in known))[:limit]


@dataclass(frozen=True, slots=True)
class _Looking:
    """One look through the file."""

    connection: Connection
    kinds: Sequence[Kind]
    limit: int

    def through(self, text: str, *, instead: bool = False) -> tuple[Hit, ...]:
        """Return the hits for a cleaned text, every kind with its fair share of the room."""
        said = words.split(text)
        found = [self._of(kind, text, said) for kind in self.kinds]
        room = _shares([len(rows) for rows in found], self.limit)
        return tuple(
            Hit(
                kind=Kind(row.kind),
                ref_id=row.ref_id,
                code=row.code,
                title=row.title,
                snippet=words.around(row.body, said),
                searched_for=text if instead else "",
            )
            for rows, share in zip(found, room, strict=True)
            for row in rows[:share]
        )

    def _of(self, kind: Kind, text: str, said: tuple[str, ...]) -> list[Any]:
        """Return the rows of one kind: the surest ways first, until there are enough."""
        found: dict[int, Any] = {}
        for sql, asked in _questions(kind, text, said):
            if len(found) >= self.limit:
                break
            for row in self.connection.exec_driver_sql(sql, (*asked, self.limit)):
                found.setdefault(row.id, row)
        return list(found.values())[: self.limit]


def _questions(
    kind: Kind, text: str, said: tuple[str, ...]
) -> list[tuple[str, tuple[str | int, ...]]]:
    """Return what the file is asked about one kind, in order."""
    first = (tuple(Kind).index(kind) + 1) * STRETCH
    stretch = (first, first + STRETCH - 1)
    if not said:
        return [(BY_SIGNS, (f"%{words.escaped(text)}%", *stretch))]
    asked: list[tuple[str, tuple[str | int, ...]]] = []
    code = words.squeezed(text)
    if code and (len(said) == 1 or any(letter.isdigit() for letter in code)):
        asked.append((BY_CODE, (kind, code, code + LAST_LETTER)))
    if number := words.telephone(text):
        asked.append((BY_PARTS, (f"plain : {words.quoted(number)}", *stretch)))
    expression = words.expression(said)
    if len(said) == 1:
        asked.append((BY_WORDS, (f"title : ({expression})", *stretch)))
        asked.append((BY_WORDS, (expression, *stretch)))
    else:
        asked.append((BY_WORTH, (expression, *stretch)))
    if parts := words.parts_expression(said):
        asked.append((BY_PARTS, (parts, *stretch)))
    return asked


def _shares(found: list[int], limit: int) -> list[int]:
    """Return how many of each kind are told: even shares, and what one leaves the next may have."""
    shares = [0] * len(found)
    left = limit
    # The kind with the fewest hits is served first, so that what it leaves reaches the others.
    for served, at in enumerate(sorted(range(len(found)), key=found.__getitem__)):
        shares[at] = min(found[at], -(-left // (len(found) - served)))
        left -= shares[at]
    return shares


def _mended(connection: Connection, said: tuple[str, ...]) -> str:
    """Return the text with the words nobody ever wrote put right, or nothing if none can be."""
    put_right = tuple(_closest(connection, word) or word for word in said)
    return "" if put_right == said else " ".join(put_right)


def _closest(connection: Connection, word: str) -> str:
    """Return the word of the file a word was probably meant to be, or nothing."""
    small = words.folded(word)
    if len(small) < SHORTEST_MENDED or not small.isalpha():
        return ""
    # The word, or some word that goes on from it, is there: it is no slip.
    if _vocabulary(connection, small, limit=1):
        return ""
    # Hardly anyone mistypes the first letter, and the rest of the words take longer to read.
    for beginning in (small[0], ""):
        known = _vocabulary(connection, beginning)
        if best := _nearest(small, known):
            return best
    return ""


def _vocabulary(connection: Connection, beginning: str, *, limit: int = -1) -> dict[str, int]:
    """Return the words of the file that begin so, with the number of entries each is in."""
    rows = connection.exec_driver_sql(
        "SELECT term, doc FROM search_vocabulary WHERE term >= ? AND term < ? LIMIT ?",
        (beginning, beginning + LAST_LETTER, limit),
    )
    return {row.term: row.doc for row in rows}


def _nearest(word: str, known: dict[str, int]) -> str:
    """Return the known word the fewest slips away, the commonest of several; or nothing."""
    # Loads slowly and is wanted only for slips.
    from rapidfuzz import process  # noqa: PLC0415
    from rapidfuzz.distance import OSA  # noqa: PLC0415

    slips = 1 if len(word) < LONG_WORD else 2
    terms = list(known)
    # Somebody still typing has the beginning of a word only.
    for shown in (terms, [term[: len(word)] for term in terms]):
        close = process.extract(
            word, shown, scorer=OSA.distance, score_cutoff=slips, processor=None, limit=None
        )
        if close:
            _, _, at = min(close, key=lambda one: (one[1], -known[terms[one[2]]], terms[one[2]]))
            return terms[at]
    return ""
