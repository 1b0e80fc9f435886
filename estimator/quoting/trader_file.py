"""The firm's own file: who the contractor is, as they are named on paper.

A firm file is UTF-8 JSON, one group of fields. Only ``name`` must be written; the others are
``trade``, ``address`` (a list of lines), ``telephone``, ``email``, ``vat_number``,
``company_number``, ``waste_carrier``, ``insurance``, ``guarantee``, ``complaints`` and ``bank``. A
small one, complete::

    {"name": "Sample Masonry", "address": ["1 Oak Lane", "Anytown"], "telephone": "01632 960000"}
"""

from __future__ import annotations

import json
from pathlib import Path

from estimator.notices import UserMistake, WorldFault
from estimator.quoting.quotation import Trader
from estimator.survey.reading import Place, listed, shape, text

MOST_BYTES = 100_000
"""Largest firm file read. [byte]"""
MOST_ADDRESS_LINES = 10

_FILE = Place(("the firm file",))
_short = text(200)
_notes = text(2_000, lines=True)
_trader = shape(
    Trader,
    {
        "name": text(200, blank=False),
        "trade": _short,
        "address": listed(_short, "address line", (0, MOST_ADDRESS_LINES)),
        "telephone": _short,
        "email": _short,
        "vat_number": _short,
        "company_number": _short,
        "waste_carrier": _short,
        "insurance": _notes,
        "guarantee": _notes,
        "complaints": _notes,
        "bank": _notes,
    },
)


def read(written: str) -> Trader:
    """Return the trader written in the text of a firm file.

    Raises:
        UserMistake: for anything that cannot be used, naming the field and what would do.

    >>> read('{"name": "Sample Masonry"}').name
    'Sample Masonry'
    """
    if len(written) > MOST_BYTES:
        raise UserMistake("the firm file is too large", do="choose the file that holds your firm")
    try:
        value = json.loads(written.removeprefix("\ufeff"))
    except (json.JSONDecodeError, RecursionError) as error:
        line = f" at line {error.lineno}" if isinstance(error, json.JSONDecodeError) else ""
        raise UserMistake(
            f"the firm file cannot be read{line}",
            why="it is not JSON there",
            do="look for a missing comma, quote or bracket",
        ) from error
    return _trader(value, _FILE)


def load(path: Path) -> Trader:
    """Return the trader in a firm file.

    Raises:
        WorldFault: when the file cannot be opened.
        UserMistake: when it does not hold a firm.
    """
    try:
        with path.open("rb") as file:
            return read(file.read(MOST_BYTES + 1).decode("utf-8"))
    except UnicodeDecodeError as error:
        raise UserMistake("the firm file is not UTF-8 text", do="save it again as UTF-8") from error
    except (OSError, ValueError) as error:
        raise WorldFault(
            f"the firm file '{path.name}' could not be read", do="check its name and folder"
        ) from error
