"""What the program says to people: advice, the user's mistakes, and faults of the world.

A notice stops nothing by itself. A ``UserMistake`` carries the three parts every message needs
(what happened, why, what to do). A ``WorldFault`` is a full disk or a missing file. Anything else
that is raised is a fault in the program.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How loudly a notice is said; higher is louder."""

    NOTE = 1
    CAUTION = 2
    REFER = 3
    STOP = 4


@dataclass(frozen=True, slots=True)
class Notice:
    """One piece of advice, with the key of the source that says so."""

    code: str
    severity: Severity
    text: str
    source: str = ""


class UserMistake(Exception):
    """Something typed or given that cannot be used, said in one plain sentence."""

    def __init__(self, what: str, *, why: str = "", do: str = "", field: str = "") -> None:
        """Keep the three parts of the sentence, and the field it is about."""
        super().__init__(what)
        self.what, self.why, self.do, self.field = what, why, do, field

    def __str__(self) -> str:
        parts = [self.what]
        if self.why:
            parts.append(f"because {self.why}")
        sentence = " ".join(parts).rstrip(".")
        return f"{sentence}; {self.do.rstrip('.')}." if self.do else f"{sentence}."


class WorldFault(UserMistake):
    """The disk, the folder or the file would not do what was asked."""
