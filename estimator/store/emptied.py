"""Taking a person out of a document while what was measured and charged stays.

Worked on the JSON itself, not on a survey read from it: an old document must be emptied even when
this version of the program reads it no more.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from datetime import date
from typing import Any

from estimator.store.paper_content import canonical

ERASED = "(erased)"
"""Stands where a text may not be empty."""
FEWEST_LETTERS = 4
"""Of a person's own words; shorter ones would be found all over a document."""
EMPTIED_TEXTS = ("said", "not_seen")
REPLACED_TEXTS = ("reference", "title")
SHORT_TEXTS = ("id", "built", "kind", "elevation", "crack", "left_return", "right_return")
"""Typed too, and kept unless they hold one of the person's own words."""
NAMING_TEXTS = ("accepted_by", "asked_by", "signed_by", "customer_tax_number")
"""Of a deed: who said or signed something, and by what number the tax office knows them."""
TYPED_TEXTS = ("words", "reason", "note", "deviation")
TYPED_LISTS = ("notes", "captions")
"""Of a deed: somebody's own words."""
SHARED_TEXTS = ("title", "found", "description", "what", "why", "refers", "mark", "marks", "batch")
"""Of a deed: short texts and names of places on the wall; only the person's own words go."""
KEPT_OF_PARTY = ("kind", "is_end_user")
"""What the tax on a paper depended on; no person can be told by it."""
OFFER = "quotation"
"""What a quotation or estimate says; other papers say what was done, as deeds do."""
KEPT_NOTE = "The person this paper was for has been erased. Its PDF is kept while tax needs it."
OLD_NOTE = "The person this paper was for has been erased. Its number, date and total are kept."


KEPT_OF_PAPER = (
    *("number", "kind", "total_pence", "issued_at", "job", "revision", "price_book"),
    "supersedes",
)
"""What an emptied paper still says: nobody can be told by it, and its row is checked by it."""


def survey(document: str, words: Iterable[str] = ()) -> str:
    """Return the text of a survey file without the person; what was measured stays.

    Args:
        document: The survey as it was accepted.
        words: The person's name, telephone and the like, taken out wherever else they stand.

    >>> survey('{"title": "Mr Marlowe", "said": "Call Ines", "customer": {"name": "I. Marlowe"}}')
    '{"title": "(erased)", "said": "", "customer": {}}'
    """
    told = _group(document)
    for name in EMPTIED_TEXTS:
        if name in told:
            told[name] = ""
    for name in REPLACED_TEXTS:
        if name in told:
            told[name] = ERASED
    party = told.pop("customer", None)
    report = told.get("engineers_report")
    if isinstance(report, dict):
        report.update({name: ERASED for name in ("engineer", "reference") if name in report})
    for place, elevation in enumerate(_groups(told.get("elevations")), start=1):
        if "name" in elevation:
            elevation["name"] = f"Elevation {place}"
        if "ornament" in elevation:
            elevation["ornament"] = ""
    for photo in _groups(told.get("photos")):
        photo.pop("caption", None)
    for reading in _groups(told.get("readings")):
        reading.pop("reader", None)
    left = _without(told, _finder(words))
    if isinstance(party, dict):
        left["customer"] = {name: party[name] for name in KEPT_OF_PARTY if name in party}
    return json.dumps(left, ensure_ascii=False)


def kept_paper(content: str, *, words: Iterable[str], emptied: date) -> str:
    """Return what a paper says without the person; its PDF is kept as it went out.

    >>> "Ines" in kept_paper('{"number": "Q-1", "x": "For Ines"}', words=["Ines"], emptied=date.min)
    False
    """
    said = _group(content)
    if OFFER not in said:
        _take_out(said, words)
    finder = _finder(words)
    left = {name: _everywhere(value, finder) for name, value in said.items() if name != "survey"}
    if isinstance(said.get("survey"), str):
        left["survey"] = survey(said["survey"], words)
    return canonical({**left, "emptied": emptied.isoformat(), "note": KEPT_NOTE})


def old_paper(content: str, *, number: str, emptied: date) -> str:
    """Return what stays of a paper that nobody may ask for any more.

    >>> "12" in old_paper('{"total_pence": 12, "survey": "Ines"}', number="Q-7", emptied=date.min)
    True
    """
    said = {"number": number, **_group(content)}
    left = {name: said[name] for name in KEPT_OF_PAPER if name in said}
    return canonical({**left, "emptied": emptied.isoformat(), "note": OLD_NOTE})


def deed(document: str, words: Iterable[str] = ()) -> str:
    """Return what happened to a job without the person; figures, days and measures stay.

    What names people or was typed in somebody's own words goes. In other short texts only the
    person's own words do, so that the text still reads back as the deed it is.

    >>> deed('{"how":"signed","kind":"Answered","who":"Ines Marlowe","words":"Yes, do."}')
    '{"how":"signed","kind":"Answered","who":"(erased)","words":""}'
    """
    told = _group(document)
    _take_out(told, words)
    return canonical(told)


def _take_out(told: dict[str, Any], words: Iterable[str]) -> None:
    """Take a person out of a deed, or of what a paper says of one."""
    finder = _finder(words)
    inside: list[dict[str, Any]] = [told]
    while inside:
        value = inside.pop()
        is_typed = "basis" not in value
        # Whoever gave an answer did so in some way; whoever worked, by the hour.
        if value.get("who") and "how" in value:
            value["who"] = ERASED
        for name, inner in value.items():
            if isinstance(inner, str):
                value[name] = _emptied_text(name, inner, words, is_typed=is_typed)
            elif name in TYPED_LISTS and isinstance(inner, list):
                value[name] = []
            if name in SHARED_TEXTS:
                value[name] = _everywhere(value[name], finder)
        inside += [one for inner in value.values() for one in _groups([inner])]
        inside += [one for inner in value.values() for one in _groups(inner)]


def _emptied_text(name: str, text: str, words: Iterable[str], *, is_typed: bool) -> str:
    """Return what stays of one text of a deed."""
    if name == "survey":
        return survey(text, words)
    if name in NAMING_TEXTS and text:
        return ERASED
    # A line that is valued has its reason from the program.
    return "" if name in TYPED_TEXTS or (name == "why" and is_typed) else text


def own_words(texts: Iterable[str]) -> tuple[str, ...]:
    """Return the lines that tell a person from others, the longest first.

    >>> own_words(["Ines Marlowe", "1 Oak Lane", "999", ""])
    ('Ines Marlowe', '1 Oak Lane')
    """
    told = {line.strip() for one in texts for line in one.split("\n")}
    fit = {line for line in told if len(line) >= FEWEST_LETTERS and line != ERASED}
    return tuple(sorted(fit, key=lambda line: (-len(line), line)))


def party_words(document: str) -> tuple[str, ...]:
    """Return what a survey says of who its customer is and where they live.

    >>> party_words('{"customer": {"name": "Ines", "kind": "household", "site": ["1 Oak Lane"]}}')
    ('Ines', '1 Oak Lane')
    """
    party = _group(document).get("customer")
    told = []
    for name, value in party.items() if isinstance(party, dict) else ():
        if name not in KEPT_OF_PARTY:
            told += value if isinstance(value, list) else [value]
    return tuple(word for word in told if isinstance(word, str))


def _group(document: str) -> dict[str, Any]:
    """Return the fields of a JSON document, none where it cannot be read."""
    try:
        told = json.loads(document)
    except ValueError:
        return {}
    return told if isinstance(told, dict) else {}


def _everywhere(value: Any, finder: re.Pattern[str] | None) -> Any:
    """Return a JSON value whose texts no longer hold the words; names of fields stay."""
    if isinstance(value, str) and finder is not None:
        return finder.sub(ERASED, value)
    if isinstance(value, dict):
        return {name: _everywhere(inner, finder) for name, inner in value.items()}
    if isinstance(value, list):
        return [_everywhere(inner, finder) for inner in value]
    return value


def _groups(value: Any) -> list[dict[str, Any]]:
    return [one for one in value if isinstance(one, dict)] if isinstance(value, list) else []


def _finder(words: Iterable[str]) -> re.Pattern[str] | None:
    found = [re.escape(word) for word in words]
    return re.compile("|".join(found), re.IGNORECASE) if found else None


def _without(told: dict[str, Any], finder: re.Pattern[str] | None) -> dict[str, Any]:
    """Replace the short texts that hold one of the words.

    Other texts are left alone: they are the program's own words, and a person may be called Lime.
    """
    if finder is None:
        return told
    renamed: dict[str, str] = {}
    inside: list[Any] = [told]
    while inside:
        value = inside.pop()
        inside += value.values() if isinstance(value, dict) else value
        inside = [inner for inner in inside if isinstance(inner, dict | list)]
        for name in SHORT_TEXTS if isinstance(value, dict) else ():
            if isinstance(value.get(name), str) and finder.search(value[name]):
                # Counted, because two things on a wall may not have the same name; and once for
                # each text, because other things call one by its name.
                value[name] = renamed.setdefault(value[name], f"erased {len(renamed) + 1}")
    return told
