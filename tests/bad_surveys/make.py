"""Make the kept bad survey files, each wrong in one way that its name says.

Run ``python -m tests.bad_surveys.make`` to write them again. ``index.json`` beside them holds, for
each, a part of the sentence that reading it must give. The files are kept so that a change of the
reader is tried on what people really get wrong, not on whatever this script makes today.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.bad_surveys.fields import CHANGED, CHOICES, LEFT_OUT, NUMBERS, TEXTS
from tests.bad_surveys.good import good
from tests.bad_surveys.raw import RAW, RAW_VALUES

FOLDER = Path(__file__).parent
INDEX = FOLDER / "index.json"

Bad = tuple[str, bytes, str]
"""A name, the bytes of the file, and a part of the sentence it must give."""


def inside(survey: Any, path: str) -> tuple[Any, Any]:
    """Return the holder of what a dotted path leads to, and its key or position there."""
    steps = [int(step) if step.isdigit() else step for step in path.split(".")]
    for step in steps[:-1]:
        survey = survey[step]
    return survey, steps[-1]


def with_value(path: str, value: Any) -> dict[str, Any]:
    """Return the good survey with one value changed, or added."""
    survey = good()
    holder, key = inside(survey, path)
    holder[key] = value
    return survey


def without(path: str) -> dict[str, Any]:
    """Return the good survey with one value left out."""
    survey = good()
    holder, key = inside(survey, path)
    del holder[key]
    return survey


def as_bytes(survey: Any) -> bytes:
    """Return a survey as the bytes of a file; a lone surrogate is written as its escape."""
    return json.dumps(survey, separators=(",", ":")).encode()


def numbers() -> Iterator[Bad]:
    """Every number as text, as true, as no number, and too large."""
    for slug, path, place in NUMBERS:
        yield f"{slug}-is-text", as_bytes(with_value(path, "ten")), f"{place} is 'ten'; write a"
        yield f"{slug}-is-true", as_bytes(with_value(path, True)), f"{place} is true; write a"
        yield f"{slug}-is-nan", as_bytes(with_value(path, float("nan"))), f"{place} is NaN; write a"
        yield (
            f"{slug}-is-far-too-large",
            as_bytes(with_value(path, 10**9)),
            f"{place} is 1,000,000,",
        )


def choices() -> Iterator[Bad]:
    """Every word from a list misspelt, and as a number."""
    for slug, path, place, wrong, hint in CHOICES:
        yield f"{slug}-is-unknown", as_bytes(with_value(path, wrong)), hint
        yield f"{slug}-is-a-number", as_bytes(with_value(path, 7)), f"{place} is 7, which is not"


def texts() -> Iterator[Bad]:
    """Every kind of text as a number, too long, and with letters that cannot be printed."""
    for slug, path, place, most in TEXTS:
        unprintable = f"{place} has a character in it"
        yield f"{slug}-is-a-number", as_bytes(with_value(path, 12)), f"{place} is 12; write text"
        yield (
            f"{slug}-is-too-long",
            as_bytes(with_value(path, "a" * (most + 1))),
            f"has {most + 1:,} letters; shorten it to {most:,}",
        )
        yield f"{slug}-has-a-bell", as_bytes(with_value(path, "ring\a")), unprintable
        yield f"{slug}-has-half-a-letter", as_bytes(with_value(path, "odd\ud83d")), unprintable


def left_out() -> Iterator[Bad]:
    """Every field that must be there, left out."""
    for slug, path, place in LEFT_OUT:
        yield f"{slug}-is-missing", as_bytes(without(path)), f"{place} is missing"


def changed() -> Iterator[Bad]:
    """Single changes made by hand."""
    for slug, path, value, fragment in CHANGED:
        yield slug, as_bytes(with_value(path, value)), fragment


def raw() -> Iterator[Bad]:
    """Files that are not JSON, or JSON no ordinary writer makes."""
    text = as_bytes(good()).decode()
    for slug, make, fragment in RAW:
        yield slug, make(text), fragment
    for slug, path, written, fragment in RAW_VALUES:
        marked = as_bytes(with_value(path, "@@@")).decode()
        yield slug, marked.replace('"@@@"', written).encode(), fragment


def every() -> Iterator[Bad]:
    """Every bad survey file there is to make."""
    for group in (numbers, choices, texts, left_out, changed, raw):
        yield from group()


def write_all() -> None:
    """Write the files and their index, and remove those no longer made."""
    made = list(every())
    names = [name for name, _raw, _fragment in made]
    assert len(set(names)) == len(names), "two bad surveys of one name"
    for old in FOLDER.glob("*.json"):
        old.unlink()
    for name, content, _fragment in made:
        (FOLDER / f"{name}.json").write_bytes(content)
    index = {name: fragment for name, _raw, fragment in sorted(made)}
    INDEX.write_text(json.dumps(index, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write_all()
