"""Cracked bricks found since, offered another way: patched where they were to be replaced."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from estimator.contract.frozen import survey_of
from estimator.contract.so_far import SoFar
from estimator.survey.survey import Elevation, Survey, Treatment

OTHERWISE = {Treatment.REPLACE: Treatment.PATCH, Treatment.PATCH: Treatment.REPLACE}
"""What is offered instead; a turned brick stays one."""


@dataclass(frozen=True, slots=True)
class OtherRepair:
    """Bricks that nothing sent or agreed covers yet, and how else they can be repaired."""

    treatment: Treatment
    bricks: tuple[tuple[str, tuple[tuple[int, int], ...]], ...]
    """By side: its id, and its bricks by course and place."""

    def on(self, survey: Survey) -> Survey:
        """Return a survey with those bricks repaired so."""
        wanted = dict(self.bricks)
        sides = (
            _repaired(one, wanted.get(one.id, ()), self.treatment) for one in survey.elevations
        )
        return replace(survey, elevations=tuple(sides))


def other_repair(so_far: SoFar, found: Survey) -> OtherRepair | None:
    """Return how else the bricks found since can be repaired; None where it is not one for all.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> other_repair(SoFar(), Survey("1", "", "", Basis.MEASURED, Party(), Site(), ())) is None
    True
    """
    contract = so_far.contract
    if contract is None:
        return None
    covered = [one.variation.survey for one in so_far.variations if one.standing.is_covered]
    before = survey_of(covered[-1] if covered else contract.survey)
    known = {one.id: {(b.course, b.place) for b in one.bricks} for one in before.elevations}
    fresh = {one.id: tuple(_fresh(one, known.get(one.id, set()))) for one in found.elevations}
    kinds = {kind for bricks in fresh.values() for _place, kind in bricks}
    if len(kinds) != 1:
        return None
    (kind,) = kinds
    if kind not in OTHERWISE:
        return None
    places = tuple(
        (side, tuple(place for place, _kind in bricks)) for side, bricks in fresh.items() if bricks
    )
    return OtherRepair(OTHERWISE[kind], places)


def _fresh(
    side: Elevation, known: set[tuple[int, int]]
) -> Iterator[tuple[tuple[int, int], Treatment]]:
    for brick in side.bricks:
        place = (brick.course, brick.place)
        if place not in known and brick.treatment is not Treatment.LEAVE:
            yield place, brick.treatment


def _repaired(
    side: Elevation, places: tuple[tuple[int, int], ...], treatment: Treatment
) -> Elevation:
    if not places:
        return side
    bricks = tuple(
        replace(one, treatment=treatment, half=False) if (one.course, one.place) in places else one
        for one in side.bricks
    )
    return replace(side, bricks=bricks)
