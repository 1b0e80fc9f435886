"""How the program ends."""

from __future__ import annotations

from enum import IntEnum


class Exit(IntEnum):
    """The exit codes, the same for every command."""

    DONE = 0
    FAULT = 1
    MISTAKE = 2
    NO_PRICE = 3
