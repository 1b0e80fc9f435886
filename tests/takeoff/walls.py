"""Walls of UK metric brick in stretcher bond, 75 mm courses: simple enough to work out by hand."""

from __future__ import annotations

from typing import Any

from estimator.masonry.region import Point
from estimator.survey.survey import (
    Basis,
    Crack,
    Elevation,
    Opening,
    Party,
    Site,
    StraightRun,
    Survey,
)
from estimator.takeoff.lines import Item, Line, Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import Rules, shipped
from estimator.takeoff.scope import LOCAL, Scope
from estimator.takeoff.side import Side, side_of


def rectangle(width: float, height: float) -> tuple[Point, ...]:
    """An outline from the datum."""
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def wall(*cracks: Crack, width: float = 4500, height: float = 2700, **more: Any) -> Elevation:
    """A wall 4.5 by 2.7 m that runs on at both sides."""
    return Elevation(
        more.pop("id", "front"),
        more.pop("name", "Front"),
        more.pop("outline", rectangle(width, height)),
        cracks=cracks,
        **more,
    )


def upright(name: str, x: float, course: int = 1, courses: int = 24) -> Crack:
    """A straight crack; at 220, 445, 670… it meets a perpend and a brick in turn."""
    return Crack(name, StraightRun(x, course, courses), 2.0)


def window(left: float, bottom: float, width: float, height: float, sill: float = 0) -> Opening:
    """A window."""
    return Opening("w", left, bottom, width, height, sill_mm=sill)


def survey(*elevations: Elevation, **more: Any) -> Survey:
    """A survey of some sides."""
    return Survey("T-1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), elevations, **more)


def side(elevation: Elevation, rules: Rules | None = None) -> Side:
    """A side ready to be measured."""
    return side_of(elevation, rules or shipped(), "nhl35_1_3")


def measured(*elevations: Elevation, scope: Scope = LOCAL, rules: Rules | None = None) -> Measure:
    """The work of one scope."""
    return measure(survey(*elevations), scope, rules or shipped())


def line(found: Measure, item: Item) -> Line:
    """The only line of a kind."""
    (one,) = [line for line in found.lines if line.item is item]
    return one


def amount(found: Measure, item: Item) -> float:
    """The quantity of a kind over all sides, 0 where there is none."""
    return float(sum(line.quantity.amount for line in found.lines if line.item is item))


def needed(found: Measure, material: str) -> float:
    """How much of a material is needed over all sides."""
    return float(sum(need.quantity.amount for need in found.needs if need.material == material))
