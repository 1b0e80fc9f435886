"""Which customers and jobs fit what was typed, as parts of larger questions to the file.

``search`` tells the best hits of every kind; here the indexes only say which rows fit, so that a
list can be cut down by words and still come in its own order.
"""

from __future__ import annotations

from sqlalchemy import ColumnElement, Integer, Select, TableClause, and_, column, or_, select, table

from estimator.store import words
from estimator.store.search import LAST_LETTER, ORDER, STRETCH, Kind
from estimator.store.tables import Jobs, PaperLines

WORDS = table("search_words", column("rowid", Integer))
LETTERS = table("search_codes", column("rowid", Integer))
ENTRIES = table("search_entries", column("ref_id", Integer), column("kind"), column("plain"))
FEWEST_OF_A_NUMBER = 3
"""Letters of a paper's number by which its job is found; fewer would find nearly every job."""
MOST_PAPERS = 1_000


def customers_with(expression: str) -> Select[int]:
    """Return the question for the rows of customers whom the index of words finds."""
    return _rows(WORDS, Kind.CUSTOMER, expression)


def customers_on(digits: str) -> Select[int]:
    """Return the question for the rows of customers with these digits in their telephone number."""
    return _rows(LETTERS, Kind.CUSTOMER, f"plain : {words.quoted(digits)}")


def digits_of(text: str) -> str:
    """Return the digits of what may be part of a telephone number, or nothing if it is none.

    >>> digits_of("01632 960"), digits_of("960"), digits_of("14 Tarn Street")
    ('1632960', '960', '')
    """
    if number := words.telephone(text):
        return number
    digits = words.squeezed(text)
    is_part = digits.isascii() and digits.isdecimal() and len(digits) >= words.SHORTEST_PART
    return digits if is_part else ""


def jobs_with(typed: str) -> ColumnElement[bool] | None:
    """Return the condition for jobs that fit what was typed, or None where nothing was.

    Every word must begin a word of the job (title, site, notes) or of its customer (name, address,
    telephone, e-mail, notes). Digits of the telephone number and the first letters of the number
    of a paper find a job too.
    """
    cleaned = words.cleaned(typed)
    said = words.split(words.postcodes_joined(cleaned))
    if not said:
        return None
    ways = [and_(*(_has_word(words.expression((word,))) for word in said))]
    if digits := digits_of(cleaned):
        ways.append((Jobs.customer_id + 0).in_(customers_on(digits)))
    number = words.squeezed(cleaned)
    if len(number) >= FEWEST_OF_A_NUMBER and any(letter.isdigit() for letter in number):
        ways.append((Jobs.id + 0).in_(_jobs_of_papers(number)))
    return or_(*ways)


def _has_word(expression: str) -> ColumnElement[bool]:
    # The sums keep SQLite from looking up one by one what fits, which is slower than going through
    # the jobs in the order of the list until there are enough of them.
    return or_(
        (Jobs.id + 0).in_(_rows(WORDS, Kind.JOB, expression)),
        (Jobs.customer_id + 0).in_(customers_with(expression)),
    )


def _rows(index: TableClause, kind: Kind, expression: str) -> Select[int]:
    """Return the question for the rows of one kind that an index finds."""
    first = (ORDER[kind] + 1) * STRETCH
    return select(index.c.rowid - first).where(
        column(index.name).op("MATCH")(expression),
        index.c.rowid.between(first, first + STRETCH - 1),
    )


def _jobs_of_papers(number: str) -> Select[int]:
    """Return the question for the jobs with a paper whose number begins so."""
    papers = (
        select(ENTRIES.c.ref_id)
        .where(
            ENTRIES.c.kind == Kind.PAPER.value,
            ENTRIES.c.plain >= number,
            ENTRIES.c.plain < number + LAST_LETTER,
        )
        .limit(MOST_PAPERS)
    )
    return select(PaperLines.job_id).where(PaperLines.id.in_(papers))
