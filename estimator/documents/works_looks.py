"""What is looked at before going on: a box for each thing, and initials for each place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from estimator.contract.works import Feature
from estimator.documents.agreed_content import Part
from estimator.documents.wording import say
from estimator.documents.works_content import (
    Box,
    Cell,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
)
from estimator.documents.works_words import initials
from estimator.takeoff.lines import Mark
from estimator.works.hold_points import HoldPoint
from estimator.works.marks import elevation_of
from estimator.works.site_sheet import SiteSheet

LOOK, INITIALS = 52.0, 52.0


@dataclass(frozen=True, slots=True)
class Look:
    """A thing to look at: what stands over its column, and what must be so."""

    head: str
    texts: tuple[str, ...]


Heads = Mapping[Feature, Look]
"""What is looked at, in order."""


def by_mark(sheet: SiteSheet) -> dict[Mark, list[HoldPoint]]:
    """Return the hold points of each place, in the order they are looked at."""
    found: dict[Mark, list[HoldPoint]] = {}
    for point in sheet.hold_points:
        found.setdefault(point.mark, []).append(point)
    return found


def looked_at(
    held: Iterable[Sequence[HoldPoint]], *, is_short: bool = False
) -> dict[Feature, Look]:
    """Return what some places are looked at for, in order.

    Args:
        held: The hold points of each place.
        is_short: Whether there is little room over the columns.

    >>> looked_at([])
    {}
    """
    found: dict[Feature, dict[str, None]] = {}
    for points in held:
        for point in points:
            found.setdefault(point.feature, {})[point.text] = None
    key = "short" if is_short else "feature"
    return {
        feature: Look(say(f"works.{key}_{feature.name.lower()}"), tuple(texts))
        for feature, texts in found.items()
    }


def columns_of(heads: Heads, width: float, wide: float) -> tuple[GridColumn, ...]:
    """Return a column for each thing that is looked at, and one for initials."""
    if not heads:
        return ()
    looks = (GridColumn(one.head, width) for one in heads.values())
    return (*looks, GridColumn(say("works.initials"), wide))


def meant(heads: Heads) -> str:
    """Return what each column means, in one line.

    >>> meant({Feature.DAMPED: Look("Damped", ("Slot damped",))})
    'Damped: Slot damped.'
    """
    return " ".join(f"{one.head}: {'; '.join(one.texts)}." for one in heads.values())


def boxes_of(points: Sequence[HoldPoint], heads: Heads) -> tuple[Cell, ...]:
    """Return a box for each thing a place has to be looked at for, and one for initials."""
    if not heads:
        return ()
    own = {one.feature: Box(initials(one.signed_by), of=one.text) for one in points}
    last: Cell = Box(is_wide=True) if own else ""
    return (*(own.get(one, "") for one in heads), last)


def looks(sheet: SiteSheet, told: Iterable[Mark]) -> Iterator[Part]:
    """Yield a row for each joint, area and side that is looked at before going on.

    Args:
        sheet: What the gang is told.
        told: Places that have their boxes elsewhere.
    """
    held = by_mark(sheet)
    for mark in (*told, *(bar.mark for side in sheet.sides for bar in side.bars)):
        held.pop(mark, None)
    if not held:
        return
    heads = looked_at(held.values())
    names = {side.elevation: side.name for side in sheet.sides}
    by_side: dict[str, list[GridRow]] = {}
    for mark, points in held.items():
        side = names.get(elevation_of(mark), "")
        # A mark that is a whole side goes by the name of it.
        what = side if side and mark == elevation_of(mark) else points[0].what
        by_side.setdefault(side, []).append(GridRow((what, *boxes_of(points, heads))))
    yield Grid(
        "holds",
        say("works.holds"),
        (GridColumn(say("works.hold_place"), 0), *columns_of(heads, LOOK, INITIALS)),
        tuple(
            GridGroup(side if len(names) > 1 else "", tuple(rows)) for side, rows in by_side.items()
        ),
        lead=f"{meant(heads)} {say('works.holds_lead')}",
        is_large=True,
    )
