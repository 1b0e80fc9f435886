"""How long a text may be that somebody types beside a deed: what no page could hold is refused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from estimator.contract.contract import Contract
from estimator.contract.deeds import Deed
from estimator.notices import UserMistake
from estimator.survey.json_text import shown
from estimator.survey.limits import LETTERS

LONGEST_NAME = 500
"""Of names, titles and what stands in a column; house rule, more fills a page by itself."""
LONGEST_TEXT = LETTERS["notes"]
"""Of words, reasons and notes, as on a survey."""
LONGEST_WHY = LONGEST_TEXT // 2
"""Of what a line rests on: it stands beside its code and is never broken over two pages."""
LONGEST = {
    **dict.fromkeys(("words", "reason", "deviation", "note", "notes", "found"), LONGEST_TEXT),
    "why": LONGEST_WHY,
}
"""Fields that hold sentences; all else are names."""
NOT_TYPED = frozenset({"survey", "scope"})
"""Fields the program fills by itself."""
SHOWN = 24


def check_lengths(deed: Deed) -> None:
    """Refuse a deed with a text in it that is too long for any paper.

    Raises:
        UserMistake: which text it is, and how long it may be.

    >>> from estimator.contract.deeds import Struck
    >>> check_lengths(Struck("a1", "typed twice"))
    """
    for name, text in _texts("", deed):
        longest = LONGEST.get(name, LONGEST_NAME)
        if len(text) > longest:
            raise UserMistake(
                f"the text {shown(text, letters=SHOWN)} has {len(text):,} letters",
                do=f"shorten it to {longest:,}",
            )


def _texts(name: str, value: object) -> Iterator[tuple[str, str]]:
    """Yield every text somebody may have typed, with the name of its field."""
    if isinstance(value, str):
        yield name, value
    elif isinstance(value, tuple):
        for one in value:
            yield from _texts(name, one)
    elif isinstance(value, Contract):
        # All else of a contract was issued before.
        yield from _texts("accepted_by", value.accepted_by)
        yield from _texts("stages", value.stages)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name not in NOT_TYPED:
                yield from _texts(field.name, getattr(value, field.name))
