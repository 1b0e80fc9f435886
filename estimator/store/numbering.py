"""Numbers of papers: each given once, in rising order, whatever the clock says.

A number comes from a counter in the file, inside the transaction that issues its paper: a paper
that fails gives its number back before anybody saw it. One that was taken is never given again. A
number without a paper carries the reason why.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import datetime
from enum import Enum
from pathlib import Path

from sqlalchemy import Connection, insert, select, update

from estimator.notices import UserMistake
from estimator.store import clock
from estimator.store.clock import Clock
from estimator.store.tables import Numbers, NumberSeries
from estimator.store.typed import kept
from estimator.store.within import Place, reading, writing

DIGITS = 4
MOST_LEFT_OUT = 100_000
"""Numbers that may be left out at once; more is a slip of the finger."""


GIVEN_ELSEWHERE = "given in the file that a restored backup took the place of"


class Series(Enum):
    """A run of numbers, by the paper it is for."""

    QUOTATION = "quotation"
    ESTIMATE = "estimate"
    VARIATION = "variation"
    INVOICE = "invoice"
    CREDIT_NOTE = "credit note"
    SHEET = "sheet"

    @property
    def prefix(self) -> str:
        """What stands before the digits."""
        return PREFIXES[self]


PREFIXES = {
    Series.QUOTATION: "Q-",
    Series.ESTIMATE: "E-",
    Series.VARIATION: "V-",
    Series.INVOICE: "I-",
    Series.CREDIT_NOTE: "C-",
    Series.SHEET: "S-",
}


class Fate(Enum):
    """What became of a number."""

    ISSUED = "issued"
    LEFT_OUT = "left out"
    MISSING = "missing"
    """Below the counter and never noted: the file was changed by something else."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number taken from its series."""

    series: Series
    value: int

    def __str__(self) -> str:
        """Return it as it is printed.

        >>> str(Number(Series.QUOTATION, 7)), str(Number(Series.ESTIMATE, 12345))
        ('Q-0007', 'E-12345')
        """
        return f"{self.series.prefix}{self.value:0{DIGITS}}"


@dataclass(frozen=True, slots=True)
class Explained:
    """One number, or a run of them, and what became of it."""

    first: str
    last: str
    """The same as the first for a single number."""
    fate: Fate
    why: str
    """The reason where it was left out, else nothing."""
    taken_at: datetime | None


def read(text: str) -> Number:
    """Return the number a text is.

    Raises:
        UserMistake: when it is none of ours.

    >>> read(" q-148 ")
    Number(series=<Series.QUOTATION: 'quotation'>, value=148)
    """
    typed = text.strip().upper()
    for series in Series:
        digits = typed.removeprefix(series.prefix)
        if digits != typed and digits.isascii() and digits.isdecimal() and len(digits) <= 9:
            return Number(series, int(digits))
    first = Number(Series.QUOTATION, 148)
    raise UserMistake(f"'{text[:40]}' is not a number of ours", do=f"write it such as {first}")


def take(connection: Connection, series: Series) -> Number:
    """Take the next number, for whoever notes its paper in the same transaction."""
    value = connection.scalar(
        update(NumberSeries)
        .where(NumberSeries.series == series.value)
        .values(next_value=NumberSeries.next_value + 1)
        .returning(NumberSeries.next_value - 1)
    )
    if value is None:
        value = 1
        connection.execute(
            insert(NumberSeries).values(series=series.value, prefix=series.prefix, next_value=2)
        )
    return Number(series, value)


def note_paper(
    connection: Connection, number: Number, paper: int, *, now: Clock = clock.now
) -> None:
    """Note the row of the paper that has a number."""
    connection.execute(insert(Numbers).values(paper_id=paper, reason="", **_row(number, now())))


def leave_out(
    connection: Connection, series: Series, *, why: str, now: Clock = clock.now
) -> Number:
    """Take the next number for no paper and note why.

    Raises:
        UserMistake: without a reason.
    """
    number = take(connection, series)
    _note_reason(connection, [number], why, now())
    return number


def go_on_from(
    connection: Connection, series: Series, value: int, *, why: str, now: Clock = clock.now
) -> None:
    """Make a value the next one given, and note why those before it are left out.

    For numbers given before this file was there, or after the backup it was restored from.

    Raises:
        UserMistake: for a value that is behind, or without a reason.
    """
    first = next_value(connection, series)
    if not first <= value <= first + MOST_LEFT_OUT:
        raise UserMistake(
            f"{series.value} numbers cannot go on from {value:,}",
            why=f"the next one is {first:,}",
            do=f"choose a number from {first:,} to {first + MOST_LEFT_OUT:,}",
        )
    if value == first:
        return
    take(connection, series)
    connection.execute(
        update(NumberSeries).where(NumberSeries.series == series.value).values(next_value=value)
    )
    _note_reason(connection, [Number(series, left) for left in range(first, value)], why, now())


def go_on_after(
    place: Place, replaced: Iterable[Path], *, now: Clock = clock.now
) -> tuple[Number, ...]:
    """Give no number again that a file now put aside has given.

    A restored backup knows nothing of papers issued after it was made, but customers have them.

    Args:
        place: The restored file.
        replaced: What was there before, whatever it is.
        now: The time.

    Returns:
        The next number of each series that had to go on.
    """
    reached = [next_values_in(path) for path in replaced]
    gone_on = []
    with writing(place) as connection:
        for series in Series:
            value = max([one.get(series, 1) for one in reached], default=1)
            if next_value(connection, series) < value:
                go_on_from(connection, series, value, why=GIVEN_ELSEWHERE, now=now)
                gone_on.append(Number(series, value))
    return tuple(gone_on)


def next_values_in(path: Path) -> dict[Series, int]:
    """Return the next value of each series in some file, as far as it can be read."""
    names = {series.value: series for series in Series}
    question = "SELECT series, next_value FROM number_series"
    try:
        uri = f"{path.resolve().as_uri()}?mode=ro"
        with closing(sqlite3.connect(uri, uri=True)) as connection:
            rows = connection.execute(question).fetchall()
    except sqlite3.Error:
        return {}
    return {names[series]: value for series, value in rows if series in names}


def next_value(place: Place, series: Series) -> int:
    """Return the value that will be given next."""
    wanted = select(NumberSeries.next_value).where(NumberSeries.series == series.value)
    with reading(place) as connection:
        return connection.scalar(wanted) or 1


def explain(place: Place, series: Series) -> tuple[Explained, ...]:
    """Return what became of every number below the next one.

    Numbers side by side that were left out for one reason, or are missing, are told as one run.
    """
    wanted = select(Numbers.__table__).where(Numbers.series == series.value)
    with reading(place) as connection:
        end = next_value(connection, series)
        rows = connection.execute(wanted.order_by(Numbers.value)).all()
    told: list[Explained] = []
    expected = 1
    for row in rows:
        told += _missing(series, expected, row.value)
        fate = Fate.LEFT_OUT if row.paper_id is None else Fate.ISSUED
        one = Explained(row.number, row.number, fate, row.reason, row.taken_at)
        goes_on = told and expected == row.value and fate is Fate.LEFT_OUT
        if goes_on and (told[-1].fate, told[-1].why) == (fate, row.reason):
            one = replace(told.pop(), last=row.number)
        told.append(one)
        expected = row.value + 1
    return (*told, *_missing(series, expected, end))


def _missing(series: Series, first: int, end: int) -> list[Explained]:
    """Return the run of numbers from the first up to the end, if there are any."""
    if first >= end:
        return []
    last = Number(series, end - 1)
    return [Explained(str(Number(series, first)), str(last), Fate.MISSING, "", None)]


def _note_reason(connection: Connection, numbers: list[Number], why: str, at: datetime) -> None:
    if not why.strip():
        raise UserMistake("a number is left out without a reason", do="say why")
    reason = kept(why, "the reason")
    connection.execute(
        insert(Numbers),
        [{"paper_id": None, "reason": reason, **_row(number, at)} for number in numbers],
    )


def _row(number: Number, at: datetime) -> dict[str, object]:
    return {
        "series": number.series.value,
        "value": number.value,
        "number": str(number),
        "taken_at": at,
    }
