"""One note of what was done: alike at every place that is ticked, each with its signatures."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from estimator.contract.deeds import BuiltThere, Deed, HeldThere
from estimator.contract.works import Built, Held
from estimator.desktop.works.signed_points import Point
from estimator.takeoff.lines import Item
from estimator.works.as_built import BuiltMark

MAIN_WORK = (Item.SET_BAR, Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.REPOINT)
"""What a place is called by where several kinds of work meet there; the first that is there."""


def deeds(
    places: Iterable[BuiltMark],
    alike: Built,
    titles: Mapping[Item, str],
    *,
    signed: Collection[Point],
    by: str,
) -> tuple[Deed, ...]:
    """Return what is noted at each place, and after it what was signed for there.

    Args:
        places: Where it was done.
        alike: What holds for all of them; the place and what was done are filled in.
        titles: What each kind of work is called in the price book of the contract.
        signed: The hold points that are ticked.
        by: Who signs for them.
    """
    found: list[Deed] = []
    for one in places:
        found.append(BuiltThere(replace(alike, mark=one.mark, what=_title(one, titles))))
        found += [
            HeldThere(Held(point.feature, one.mark, alike.on, by))
            for point in one.missing
            if (point.feature, point.text) in signed
        ]
    return tuple(found)


def _title(one: BuiltMark, titles: Mapping[Item, str]) -> str:
    """Return what is noted as done at a place: its main work, by its title in the price book."""
    main = next((item for item in MAIN_WORK if item in one.items), None)
    item = main or next(iter(one.items), None)
    return titles.get(item, one.words) if item else one.words
