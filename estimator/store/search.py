"""Finding things by whatever is typed: customers, jobs, papers and what is in the price book.

Each kind is asked for by itself, so that a hundred thousand materials never hide one customer. The
first letters are answered in the order of the file, because ranking would look at everything that
begins so; from the second word on the best comes first.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from enum import StrEnum

from estimator.store import words
from estimator.store.database import Database

STRETCH = 1 << 40
FEW = 3
"""With fewer hits than this, a word nobody ever wrote is taken for a slip."""
LAST_LETTER = "\U0010ffff"
FIRST_WORD = "a"
"""Figures and codes, of which there are many, come before it."""
SHORTEST_MENDED = 4
LONG_WORD = 6
"""A word this long may be two slips away from another, a shorter one only one."""


class Kind(StrEnum):
    """What can be found, in the order it is told."""

    CUSTOMER = "customer"
    JOB = "job"
    PAPER = "paper"
    ITEM = "item"


KINDS = tuple(Kind)
ORDER = {kind: place for place, kind in enumerate(KINDS)}


@dataclass(frozen=True, slots=True)
class Hit:
    """One thing found."""

    kind: Kind
    ref_id: int
    """The row it stands for."""
    code: str
    title: str
    snippet: str
    """The line of the other words about it that was looked for, or the first of them."""
    name: str = ""
    """What the other stores know a customer, job or paper by."""
    searched_for: str = ""
    """What was looked for instead, when what was typed looked like a slip."""


Row = tuple[int, int, str, str, str, str]
Question = tuple[str, tuple[str, ...]]
"""The SQL, and what is put into it before the kind and the limit."""

ENTRY = """
    e.id, e.ref_id, e.code, e.title, e.body, CASE e.kind
        WHEN 'customer' THEN (SELECT uid FROM customers WHERE customers.id = e.ref_id)
        WHEN 'job' THEN (SELECT uid FROM jobs WHERE jobs.id = e.ref_id)
        WHEN 'paper' THEN e.code
        ELSE '' END
"""
BY_CODE = f"""
    SELECT {ENTRY} FROM search_entries AS e
    WHERE e.plain >= ? AND e.plain < ? AND e.kind = ? ORDER BY e.plain LIMIT ?
"""
BY_WORDS = f"""
    SELECT {ENTRY} FROM search_words JOIN search_entries AS e ON e.id = search_words.rowid
    WHERE search_words MATCH ? AND search_words.rowid BETWEEN ? AND ?
    ORDER BY search_words.rowid LIMIT ?
"""
BY_WORTH = f"""
    SELECT {ENTRY} FROM search_words JOIN search_entries AS e ON e.id = search_words.rowid
    WHERE search_words MATCH ? AND search_words.rowid BETWEEN ? AND ?
    ORDER BY bm25(search_words, 10.0, 1.0, 5.0) LIMIT ?
"""
BY_PARTS = f"""
    SELECT {ENTRY} FROM search_codes JOIN search_entries AS e ON e.id = search_codes.rowid
    WHERE search_codes MATCH ? AND search_codes.rowid BETWEEN ? AND ?
    ORDER BY search_codes.rowid LIMIT ?
"""
BY_SIGNS = f"""
    SELECT {ENTRY} FROM search_entries AS e
    WHERE instr(e.title || char(10) || e.code || char(10) || e.body, ?)
    AND e.id BETWEEN ? AND ? ORDER BY e.id LIMIT ?
"""
IN_ORDER = {BY_WORDS, BY_PARTS, BY_SIGNS}
"""Answered in the order of ids, which is the order of kinds."""


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
    asked_for = None if kinds is None else set(kinds)
    wanted = tuple(kind for kind in Kind if asked_for is None or kind in asked_for)
    with _cursor(database) as cursor:
        looking = _Looking(cursor, wanted, limit)
        found = looking.through(text)
        if len(found) >= FEW or not (mended := _mended(cursor, words.split(text))):
            return found
        known = {(hit.kind, hit.ref_id) for hit in found}
        more = looking.through(mended, instead=True)
    return (found + tuple(hit for hit in more if (hit.kind, hit.ref_id) not in known))[:limit]


@contextmanager
def _cursor(database: Database) -> Iterator[sqlite3.Cursor]:
    """Let a dozen small questions be put straight to the file, which takes a fifth of the time.

    They all see one state of it, and wait for nobody who writes.
    """
    with database.reading() as connection:
        raw = connection.connection.driver_connection
        if not isinstance(raw, sqlite3.Connection):
            raise TypeError("the file is searched through SQLite")
        with closing(raw.cursor()) as cursor:
            cursor.execute("BEGIN")
            try:
                yield cursor
            finally:
                raw.rollback()


@dataclass(frozen=True, slots=True)
class _Looking:
    """One look through the file."""

    cursor: sqlite3.Cursor
    kinds: Sequence[Kind]
    limit: int

    def through(self, text: str, *, instead: bool = False) -> tuple[Hit, ...]:
        """Return the hits for a cleaned text, every kind with its fair share of the room."""
        said = words.split(text)
        found = [list(rows.values())[: self.limit] for rows in self._rows(text, said).values()]
        room = _shares([len(rows) for rows in found], self.limit)
        return tuple(
            Hit(
                kind=kind,
                ref_id=ref_id,
                code=code,
                title=title,
                snippet=words.around(body, said),
                name=name,
                searched_for=text if instead else "",
            )
            for kind, rows, share in zip(self.kinds, found, room, strict=True)
            for _id, ref_id, code, title, body, name in rows[:share]
        )

    def _rows(self, text: str, said: tuple[str, ...]) -> dict[Kind, dict[int, Row]]:
        """Return the rows of each kind by id: the surest ways first, until there are enough."""
        found: dict[Kind, dict[int, Row]] = {kind: {} for kind in self.kinds}
        for sql, asked in _questions(text, said):
            short = [kind for kind in self.kinds if len(found[kind]) < self.limit]
            for row in self._asked(sql, asked, short):
                found.get(_kind_of(row), {}).setdefault(row[0], row)
        return found

    def _asked(self, sql: str, asked: tuple[str, ...], kinds: list[Kind]) -> Iterator[Row]:
        """Yield what answers one question, of each kind at most the limit."""
        if sql not in IN_ORDER:
            for kind in kinds:
                where = (kind.value,) if sql is BY_CODE else _stretch(kind, kind)
                yield from self.cursor.execute(sql, (*asked, *where, self.limit))
            return
        # The answer comes in the order of kinds, so one look is often enough for all: it is whole
        # up to where the limit cut it off. Asking four times would gather the words four times.
        rest = kinds
        while rest:
            bounds = _stretch(rest[0], rest[-1])
            rows = self.cursor.execute(sql, (*asked, *bounds, self.limit)).fetchall()
            yield from rows
            if len(rows) < self.limit:
                return
            reached = _kind_of(rows[-1])
            later = [kind for kind in rest if ORDER[kind] > ORDER[reached]]
            is_whole = _kind_of(rows[0]) is reached
            rest = later if is_whole or reached not in rest else [reached, *later]


def _stretch(first: Kind, last: Kind) -> tuple[int, int]:
    """Return the ids between which the entries of some kinds in a row lie."""
    return (ORDER[first] + 1) * STRETCH, (ORDER[last] + 2) * STRETCH - 1


def _kind_of(row: Row) -> Kind:
    """Return the kind of an entry, by its id."""
    return KINDS[row[0] // STRETCH - 1]


def _questions(text: str, said: tuple[str, ...]) -> list[Question]:
    """Return what the file is asked about each kind, in order."""
    if not said:
        return [(BY_SIGNS, (text,))]
    asked: list[Question] = []
    code = words.squeezed(text)
    if code and (len(said) == 1 or any(letter.isdigit() for letter in code)):
        asked.append((BY_CODE, (code, code + LAST_LETTER)))
    if number := words.telephone(text):
        asked.append((BY_PARTS, (f"plain : {words.quoted(number)}",)))
    expression = words.expression(said)
    if len(said) == 1:
        asked.append((BY_WORDS, (f"title : ({expression})",)))
        asked.append((BY_WORDS, (expression,)))
    else:
        asked.append((BY_WORTH, (expression,)))
    if parts := words.parts_expression(said):
        asked.append((BY_PARTS, (parts,)))
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


def _mended(cursor: sqlite3.Cursor, said: tuple[str, ...]) -> str:
    """Return the text with the words nobody ever wrote put right, or nothing if none can be."""
    put_right = tuple(_closest(cursor, word) or word for word in said)
    return "" if put_right == said else " ".join(put_right)


def _closest(cursor: sqlite3.Cursor, word: str) -> str:
    """Return the word of the file a word was probably meant to be, or nothing."""
    small = words.folded(word)
    if len(small) < SHORTEST_MENDED or not small.isalpha():
        return ""
    # The word, or some word that goes on from it, is there: it is no slip.
    if _vocabulary(cursor, small, small + LAST_LETTER, limit=1):
        return ""
    # Hardly anyone mistypes the first letter, and the rest of the words take longer to read.
    for first, end in ((small[0], small[0] + LAST_LETTER), (FIRST_WORD, LAST_LETTER)):
        if best := _nearest(small, _vocabulary(cursor, first, end)):
            return best
    return ""


def _vocabulary(cursor: sqlite3.Cursor, first: str, end: str, *, limit: int = -1) -> dict[str, int]:
    """Return the words of the file from one on to another, with the number of entries with each."""
    rows = cursor.execute(
        "SELECT term, doc FROM search_vocabulary WHERE term >= ? AND term < ? LIMIT ?",
        (first, end, limit),
    )
    return dict(rows)


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
