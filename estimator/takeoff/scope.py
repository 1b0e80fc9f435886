"""Scopes: the choices offered to a customer, each a set of kinds of work."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum


class Work(Enum):
    """A kind of work a scope may include."""

    STITCH = "stitch cracks with bars in cut beds"
    POINT_CRACK = "rake and point along the cracks"
    REPOINT_PANEL = "rake out and repoint the panel"
    BRICKS = "replace, turn or patch cracked bricks"


@dataclass(frozen=True, slots=True)
class Scope:
    """One choice offered: a name, and what is done in it."""

    key: str
    title: str
    works: frozenset[Work]

    def __contains__(self, work: Work) -> bool:
        return work in self.works


LOCAL = Scope(
    "local",
    "Stitch, and point where we cut",
    frozenset({Work.STITCH, Work.POINT_CRACK, Work.BRICKS}),
)
PANEL = Scope(
    "panel",
    "Stitch, and repoint the whole panel",
    frozenset({Work.STITCH, Work.POINT_CRACK, Work.BRICKS, Work.REPOINT_PANEL}),
)
REPOINT = Scope(
    "repoint",
    "Repoint only",
    frozenset({Work.REPOINT_PANEL, Work.POINT_CRACK, Work.BRICKS}),
)
USUAL = (LOCAL, PANEL)
"""The two choices of a usual offer."""

UNSTITCHED = {
    LOCAL.title: ("Repair only what is cracked", "Repair only what is cracked"),
    PANEL.title: ("Repair bricks, and repoint the whole panel", "Repoint the whole panel"),
}
"""What a choice is called where no bar is set: with bricks to repair, and without."""

ALL = {scope.key: scope for scope in (LOCAL, PANEL, REPOINT)}


def as_done(scope: Scope, *, has_bars: bool, has_bricks: bool) -> Scope:
    """Return a scope under a title that promises no bars where none are set.

    >>> as_done(PANEL, has_bars=False, has_bricks=False).title
    'Repoint the whole panel'
    """
    if has_bars or scope.title not in UNSTITCHED:
        return scope
    with_bricks, without = UNSTITCHED[scope.title]
    return replace(scope, title=with_bricks if has_bricks else without)


def own(title: str, works: frozenset[Work], *, key: str = "own") -> Scope:
    """Make the user's own scope.

    Raises:
        ValueError: when it holds no work at all.

    >>> Work.STITCH in own("Stitch only", frozenset({Work.STITCH}))
    True
    """
    if not works:
        raise ValueError("a scope needs at least one kind of work")
    return Scope(key, title, works)
