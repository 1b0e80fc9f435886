"""Which drawings a variation has, and what of them stands out."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from estimator.documents.agreed_content import Drawn
from estimator.documents.figure import Key, Sign, bar_keys, drawn, explained, framed
from estimator.documents.wording import say
from estimator.drawing.shapes import (
    AreaShape,
    BarShape,
    BrickShape,
    CrackShape,
    Picture,
    ThinBedShape,
)
from estimator.survey.ranges import settled
from estimator.survey.survey import Survey, Treatment
from estimator.takeoff.lines import Mark
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import Rules
from estimator.takeoff.scope import Scope

Shaped = TypeVar("Shaped", AreaShape, BarShape, BrickShape, CrackShape, ThinBedShape)


@dataclass(frozen=True, slots=True)
class Done:
    """A wall with what is done on it."""

    survey: Survey
    scope: Scope


def drawings_of(
    before: Done, after: Done, rules: Rules, marks: frozenset[Mark]
) -> tuple[Drawn, ...]:
    """Return the drawings of every elevation on which something changed.

    One where work was only added; two, before and after, where something is left out or another
    choice was made.

    Args:
        before: The wall and the work agreed until now.
        after: The wall as found and the work as it would be.
        rules: The rules of the takeoff, frozen with the contract.
        marks: What the lines of the variation are about, for changes no drawing shows.
    """
    old, new = (measure(settled(one.survey), one.scope, rules) for one in (before, after))
    were = {one.id: number for number, one in enumerate(before.survey.elevations)}
    found: list[Drawn] = []
    for number, elevation in enumerate(after.survey.elevations):
        picture = drawn(after.survey, number, new)
        was = None
        if elevation.id in were:
            was = drawn(before.survey, were[elevation.id], old)
        gone = _only_in(was, picture) if was is not None else None
        come = _only_in(picture, was)
        is_other = before.scope.works != after.scope.works and _shows(come)
        if gone is not None and was is not None and (_shows(gone) or is_other):
            # Beside the other even a drawing on which nothing stands out is faint.
            shown = _drawn(before.survey, was, gone, say("variation.before"))
            found.append(replace(shown, strong=gone))
            shown = _drawn(after.survey, picture, come, say("variation.after"))
            found.append(replace(shown, strong=come))
        elif _shows(come):
            found.append(_drawn(after.survey, picture, come, ""))
        elif any(mark.split("/", 1)[0] == elevation.id for mark in marks):
            found.append(_drawn(after.survey, picture, _marked(picture, marks), ""))
    return tuple(found)


def _drawn(survey: Survey, picture: Picture, strong: Picture, title: str) -> Drawn:
    elevation = next(one for one in survey.elevations if one.id == picture.elevation)
    figure = framed(elevation, picture)
    figure = replace(figure, legend=explained(tuple(_keys(strong))))
    caption = figure.caption
    if _shows(strong):
        caption = f"{caption} {say('variation.stressed')}"
    return Drawn(title, figure, strong if _shows(strong) else None, caption)


def _keys(strong: Picture) -> Iterator[Key]:
    """Yield what has to be explained of what stands out."""
    marked = [one.marked for one in strong.bricks]
    yield from (one for one in Treatment if one in marked)
    yield from bar_keys(strong.bars)
    if strong.thin_beds:
        yield Sign.THIN_BED
    if strong.areas:
        yield Sign.AREA


def _only_in(picture: Picture, other: Picture | None) -> Picture:
    """Return what a picture has that the other has not, by what is seen of it."""
    return replace(
        picture,
        cracks=_new(picture.cracks, other.cracks if other else (), lambda one: one.points),
        bars=_new(
            picture.bars,
            other.bars if other else (),
            lambda one: (round(one.left), round(one.right), round(one.y), one.turns),
        ),
        bricks=_new(
            (one for one in picture.bricks if one.marked is not None),
            other.bricks if other else (),
            lambda one: (one.course, one.place, one.marked),
        ),
        areas=_new(picture.areas, other.areas if other else (), lambda one: one.corners),
        thin_beds=_new(
            picture.thin_beds,
            other.thin_beds if other else (),
            lambda one: (one.course, one.left, one.right, one.thickness_mm),
        ),
    )


def _new(
    these: Iterable[Shaped], others: Iterable[Shaped], seen: Callable[[Any], Hashable]
) -> tuple[Shaped, ...]:
    known = {seen(one) for one in others}
    return tuple(one for one in these if seen(one) not in known)


def _marked(picture: Picture, marks: frozenset[Mark]) -> Picture:
    """Return what carries one of these marks."""

    def kept(shapes: Sequence[Shaped]) -> tuple[Shaped, ...]:
        return tuple(one for one in shapes if one.mark in marks)

    return replace(
        picture,
        cracks=kept(picture.cracks),
        bars=kept(picture.bars),
        bricks=kept(picture.bricks),
        areas=kept(picture.areas),
        thin_beds=kept(picture.thin_beds),
    )


def _shows(picture: Picture) -> bool:
    return bool(
        picture.cracks or picture.bars or picture.bricks or picture.areas or picture.thin_beds
    )
