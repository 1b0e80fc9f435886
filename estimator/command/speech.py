"""Speaking to a terminal that may not know every letter."""

from __future__ import annotations

import sys
from typing import Any

SPELLED = {
    "£": "GBP ",
    "€": "EUR ",
    "×": "x",
    "²": "2",
    "³": "3",
    "½": "1/2",
    "°": " degrees ",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
    "–": "-",
    "—": "-",
    "…": "...",
}
"""What is written for letters an old terminal lacks; a sum of money must stay one."""


def say(words: str) -> None:
    """Print an answer."""
    _write(sys.stdout, words)


def complain(words: str) -> None:
    """Print what went wrong, or how far long work has come, apart from the answer."""
    _write(sys.stderr, words)


def knows_every_letter() -> bool:
    """Whether the answer may be printed as it is."""
    return _encoding(sys.stdout).lower().replace("-", "").startswith("utf")


def spelled(words: str, encoding: str) -> str:
    """Return words as an encoding can hold them, spelled out where it lacks a letter.

    >>> spelled("£12.50 for 2 × 1 m²", "ascii")
    'GBP 12.50 for 2 x 1 m2'
    """
    try:
        words.encode(encoding)
    except UnicodeEncodeError:
        words = "".join(_held(letter, encoding) for letter in words)
    return words.encode(encoding, "replace").decode(encoding)


def _held(letter: str, encoding: str) -> str:
    try:
        letter.encode(encoding)
    except UnicodeEncodeError:
        return SPELLED.get(letter, letter)
    return letter


def _encoding(stream: Any) -> str:
    return getattr(stream, "encoding", None) or "utf-8"


def _write(stream: Any, words: str) -> None:
    stream.write(spelled(words, _encoding(stream)) + "\n")
    stream.flush()
