"""Asking the file on behalf of a part of the window that may be gone when the answer comes."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject
from shiboken6 import isValid

from estimator.desktop.filing import Filing
from estimator.notices import UserMistake

if TYPE_CHECKING:
    from estimator.store.database import Database

T = TypeVar("T")


def ask(
    owner: QObject,
    filing: Filing,
    work: Callable[[Database], T],
    then: Callable[[T], object],
    *,
    on_mistake: Callable[[UserMistake], object] | None = None,
) -> None:
    """Have something done with the file, and be answered while the one who asks still lives."""

    def answer(found: T) -> None:
        if isValid(owner):
            then(found)

    def refuse(mistake: UserMistake) -> None:
        if isValid(owner) and on_mistake is not None:
            on_mistake(mistake)

    filing.ask(work, answer, on_mistake=None if on_mistake is None else refuse)
