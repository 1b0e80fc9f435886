"""What no drawing of a told wall shows: the mortar in it, and the ground in front of it.

Somebody who draws a wall while the caller talks settles its sizes. What it was laid in, and what
one stands on, stays as little known as before until a question is answered, or the wall itself is
told another mortar or ground than the likeliest.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from estimator.survey import questions as table
from estimator.survey.asked_wall import GROUNDS, MORTARS
from estimator.survey.questions import NOT_SURE
from estimator.survey.survey import Basis, Elevation, Ground, Mortar, Survey

MORTAR, BELOW = "mortar", "below"
UNDRAWN = (MORTAR, BELOW)
"""Questions whose answers are on the wall and in no drawing of it."""
MEANT: Mapping[str, Mapping[str, Mortar | Ground]] = MappingProxyType(
    {MORTAR: MORTARS, BELOW: GROUNDS}
)
Choose = Callable[[str, tuple[float, ...]], int]
"""Picks the place of one choice of a question from how often each is so."""


def asked_of_drawings(survey: Survey) -> tuple[str, ...]:
    """Return the questions that still move a wall though it was drawn; none of a measured one.

    >>> from estimator.survey.survey import Party, Site
    >>> asked_of_drawings(
    ...     Survey("7", "W", "2026-11-25", Basis.TOLD, Party(), Site(), (), drawn=True)
    ... )
    ('mortar', 'below')
    """
    return UNDRAWN if survey.basis is Basis.TOLD and survey.drawn else ()


def unseen(survey: Survey) -> tuple[str, ...]:
    """Return those of them that nobody has answered, nor set on a wall by hand.

    >>> from estimator.survey.survey import Asked, Party, Site
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> drawn = Survey("7", "W", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,), drawn=True)
    >>> unseen(drawn), unseen(replace(drawn, asked=(Asked("below", ("firm",)),)))
    (('mortar', 'below'), ('mortar',))
    """
    return tuple(
        key
        for key in asked_of_drawings(survey)
        if not _answer(survey, key) and _all_are(survey, key, _likeliest(survey, key))
    )


def answered_on(survey: Survey, before: Survey) -> tuple[Elevation, ...]:
    """Return drawn walls with the mortar and ground that an answer newly says.

    >>> from estimator.survey.survey import Asked, Party, Site
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> drawn = Survey("7", "W", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,), drawn=True)
    >>> answered_on(replace(drawn, asked=(Asked("below", ("soft",)),)), drawn)[0].ground
    <Ground.SOFT: 'soft or sloping'>
    """
    walls = survey.elevations
    for key in asked_of_drawings(survey):
        choice = _answer(survey, key)
        if choice and choice != _answer(before, key):
            walls = tuple(_with(one, MEANT[key][choice]) for one in walls)
    return walls


def chosen(survey: Survey, choose: Choose) -> Survey:
    """Return a drawn wall with what no drawing shows picked from what it may be.

    >>> from estimator.survey.survey import Party, Site
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> drawn = Survey("7", "W", "2026-11-25", Basis.TOLD, Party(), Site(), (wall,), drawn=True)
    >>> chosen(drawn, lambda key, shares: len(shares) - 1).elevations[0].ground
    <Ground.OVER_ROOF: 'over a roof or conservatory'>
    """
    walls = survey.elevations
    for key in unseen(survey):
        choices = table.question(key).choices
        value = MEANT[key][choices[choose(key, _shares(survey, key))].key]
        walls = tuple(_with(one, value) for one in walls)
    return survey if walls is survey.elevations else replace(survey, elevations=walls)


def _answer(survey: Survey, key: str) -> str:
    """Return the choice taken of a question, or nothing where it is not known."""
    taken = next((one.choices for one in survey.asked if one.question == key), ())
    return taken[0] if taken and taken[0] != NOT_SURE else ""


def _shares(survey: Survey, key: str) -> tuple[float, ...]:
    on = table.hangs_on(key)
    return table.shares(key, _answer(survey, on) if on else "")


def _likeliest(survey: Survey, key: str) -> Mortar | Ground:
    shares = _shares(survey, key)
    return MEANT[key][table.question(key).choices[shares.index(max(shares))].key]


def _all_are(survey: Survey, key: str, value: Mortar | Ground) -> bool:
    return all(
        (one.brickwork.mortar if key == MORTAR else one.ground) is value
        for one in survey.elevations
    )


def _with(wall: Elevation, value: Mortar | Ground) -> Elevation:
    if isinstance(value, Ground):
        return replace(wall, ground=value)
    return replace(wall, brickwork=replace(wall.brickwork, mortar=value))
