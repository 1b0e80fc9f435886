"""What may turn out a slip: each note by what the file calls it, and what was noted with it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimator.contract.deeds import Booked, BuiltThere, Happening, HeldThere, counting
from estimator.contract.so_far import so_far
from estimator.desktop.works.state import BookedThere, Noted
from estimator.works.as_built import BuiltMark
from estimator.works.noted import built_now


def noted(happenings: Sequence[Happening], marks: Iterable[BuiltMark]) -> tuple[Noted, ...]:
    """Return what was done at each place, oldest first.

    Args:
        happenings: All that happened to a job.
        marks: The places of the work as agreed now.

    >>> noted((), ())
    ()
    """
    places = {one.mark: one for one in marks}
    told = counting(happenings)
    built = [place for place, one in enumerate(told) if isinstance(one.deed, BuiltThere)]
    found = []
    for place, there in zip(built, built_now(so_far(happenings)), strict=True):
        known = places.get(there.mark)
        is_last = known is not None and known.done[-1:] == (there,)
        found.append(
            Noted(
                told[place].uid,
                known.words if known else there.what,
                there,
                _signed_with(told, place),
                known.shallow_mm if known and is_last else 0,
                len(known.missing) if known and is_last else 0,
            )
        )
    return tuple(found)


def booked(happenings: Sequence[Happening]) -> tuple[BookedThere, ...]:
    """Return what was booked, oldest first.

    >>> booked(())
    ()
    """
    return tuple(
        BookedThere(one.uid, one.deed.booking)
        for one in counting(happenings)
        if isinstance(one.deed, Booked)
    )


def _signed_with(told: Sequence[Happening], place: int) -> tuple[str, ...]:
    """Return the signatures that came right after a note, for the same place."""
    there = told[place].deed
    assert isinstance(there, BuiltThere)
    found = []
    for one in told[place + 1 :]:
        if not isinstance(one.deed, HeldThere) or one.deed.held.mark != there.built.mark:
            break
        found.append(one.uid)
    return tuple(found)
