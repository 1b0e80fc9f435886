"""The programme as often as it was planned anew: what a calendar that has the old one must hear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.contract.deeds import (
    Accepted,
    Answered,
    CalledOff,
    Happening,
    Planned,
    Struck,
)
from estimator.contract.so_far import so_far
from estimator.works.programme import DatedTask, programme


@dataclass(frozen=True, slots=True)
class Reissue:
    """The programme now, and what was in it once."""

    sequence: int
    """How often it may have changed; rises, and never falls."""
    tasks: tuple[DatedTask, ...]
    gone: tuple[DatedTask, ...]
    """Tasks of earlier programmes that are in it no more, as they were last."""


def reissue(happenings: Sequence[Happening]) -> Reissue:
    """Return the programme with all that it takes the place of.

    >>> reissue(()).tasks
    ()
    """
    known: dict[str, DatedTask] = {}
    changes = [place for place, one in enumerate(happenings) if _moves(one)]
    tasks: tuple[DatedTask, ...] = ()
    for place in changes:
        until = so_far(happenings[: place + 1])
        tasks = () if until.called_off is not None else programme(until)
        known |= {one.key: one for one in tasks}
    now = {one.key for one in tasks}
    gone = tuple(one for key, one in known.items() if key not in now)
    return Reissue(len(changes), tasks, gone)


def _moves(one: Happening) -> bool:
    """Whether a deed may move the programme; one that was struck counts, and so does striking it.

    What counted once is in somebody's calendar, so the count must never fall.
    """
    return isinstance(one.deed, Accepted | Answered | CalledOff | Planned | Struck)
