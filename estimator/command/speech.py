"""Speaking to a terminal that may not know every letter."""

from __future__ import annotations

import sys
from typing import Any


def say(words: str) -> None:
    """Print an answer."""
    _write(sys.stdout, words)


def complain(words: str) -> None:
    """Print what went wrong, or how far long work has come, apart from the answer."""
    _write(sys.stderr, words)


def _write(stream: Any, words: str) -> None:
    encoding = getattr(stream, "encoding", None) or "utf-8"
    stream.write(words.encode(encoding, "replace").decode(encoding) + "\n")
    stream.flush()
