"""What people type, on its way into the file and out of it, letter for letter."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable

from estimator.notices import UserMistake

HALF_LETTER = re.compile("[\ud800-\udfff]")
UID = re.compile("[0-9a-f]{32}")
LINE_END = "\n"


def new_uid() -> str:
    """Return a name for something in the file that nothing else ever has.

    >>> len(new_uid()), new_uid() == new_uid()
    (32, False)
    """
    return uuid.uuid4().hex


def is_uid(text: str) -> bool:
    """Tell whether a text is a name as the file gives them.

    >>> is_uid(new_uid()), is_uid("front wall")
    (True, False)
    """
    return UID.fullmatch(text) is not None


def kept(text: str, what: str) -> str:
    """Return a text that may be written to the file, just as it was typed.

    Raises:
        UserMistake: for half a letter, which no file can hold.

    >>> kept(" 01632 960112 (Ines) ", "the telephone number")
    ' 01632 960112 (Ines) '
    """
    if HALF_LETTER.search(text):
        raise UserMistake(f"{what} holds half a letter", do="type it again without that letter")
    return text


def kept_lines(lines: Iterable[str], what: str) -> str:
    """Return lines as one text that ``lines_of`` takes apart again.

    Raises:
        UserMistake: for a line with a line end in it, or half a letter.

    >>> lines_of(kept_lines(["14 Tarn Street", "Eastmere Vale"], "the address"))
    ('14 Tarn Street', 'Eastmere Vale')
    """
    given = tuple(lines)
    if any(LINE_END in line for line in given):
        raise UserMistake(f"a line of {what} holds a line end", do="give each line by itself")
    return kept(LINE_END.join(given), what)


def lines_of(text: str) -> tuple[str, ...]:
    """Return the lines of a text; an empty one has none."""
    # Only our own line end: splitlines would also split at letters that people may have typed.
    return tuple(text.split(LINE_END)) if text else ()
