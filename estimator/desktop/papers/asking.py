"""Answers to a part of the window that may be gone by the time they come."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject
from shiboken6 import isValid

from estimator.desktop.courier import Courier
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


def carry(courier: Courier, call: Callable[[], None]) -> None:
    """Have a call made in the window's thread, or none if the part that wanted it is gone."""
    # Qt says so only when it is tried: the part may go between a question and the call.
    with suppress(RuntimeError):
        courier.carry(call)
