"""A paper of an agreed job that was kept under its number."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kept:
    """One kept paper: its number, and its very bytes."""

    number: str
    """What it is called, where it has none."""
    pdf: bytes
    is_numbered: bool = True
