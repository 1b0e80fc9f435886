"""The tables of the triage, read from ``resources/triage.json`` and typed.

What the rows say, in which order, which limits part the damage categories and which distances make
a pattern are data with sources. When a row fires is in ``triggers``, how a pattern is seen in
``patterns``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.notices import Notice, Severity


@dataclass(frozen=True, slots=True)
class Category:
    """One class of visible damage."""

    name: str
    width_mm: float | None
    """Greatest width of the class, None for the last [mm]."""
    at_limit: bool
    """Whether a crack of just that width is still in it."""
    seen: str
    work: str
    source: str

    def holds(self, width_mm: float) -> bool:
        """Whether a crack this wide is in this class or a lower one.

        >>> Category("Slight", 5, True, "", "", "").holds(5.0)
        True
        """
        if self.width_mm is None:
            return True
        return width_mm <= self.width_mm if self.at_limit else width_mm < self.width_mm


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the decision table."""

    id: str
    trigger: str
    """Name of the condition in ``triggers``."""
    severity: Severity
    title: str
    words: str
    source: str
    routes: Mapping[str, str]
    """Name of the route by case; without a case that holds, the route is left to later rows."""
    lifted_by_report: bool
    """Whether an engineer's report leaves the route to later rows."""
    prints_statements: bool
    """Whether the two statements on cause and design are printed when it fires."""


@dataclass(frozen=True, slots=True)
class Raise:
    """What lifts the damage category beyond what the width alone gives; house rules."""

    many_count: int
    many_width_mm: float
    many_to: int
    both_over_mm: float
    both_by: int
    signs: Mapping[str, int]
    """Least category by danger sign."""
    many_words: str
    both_words: str


@dataclass(frozen=True, slots=True)
class Distances:
    """How near is near, for patterns seen in the survey; house rules [mm, courses]."""

    corner_mm: float
    below_sill_mm: float
    above_opening_mm: float
    near_end_mm: float
    long_wall_mm: float
    tie_lines: int
    tie_courses_least: int
    tie_courses_most: int


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and the words that go with it."""

    when: str
    notice: Notice


@dataclass(frozen=True, slots=True)
class Heights:
    """Above which heights of work the cautions on height are said; house rules [mm]."""

    above_reach_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class Table:
    """Everything the triage goes by."""

    categories: tuple[Category, ...]
    raises: Raise
    not_sure_spread_mm: float
    signs: Mapping[str, str]
    """Each danger sign in words."""
    rows: tuple[Row, ...]
    route_words: Mapping[str, str]
    notices: Mapping[str, Notice]
    patterns: Mapping[str, Notice]
    distances: Distances
    cautions: tuple[Caution, ...]
    heights: Heights
    asbestos_before: int
    """Year before which a building may hold asbestos."""


def _notice(code: str, entry: Mapping[str, Any]) -> Notice:
    return Notice(code, Severity[entry["severity"]], entry["text"], entry["source"])


def _notices(entries: Mapping[str, Any]) -> Mapping[str, Notice]:
    return MappingProxyType({code: _notice(code, entry) for code, entry in entries.items()})


def _row(entry: Mapping[str, Any]) -> Row:
    routes = MappingProxyType(dict(entry["routes"]))
    return Row(**{**entry, "severity": Severity[entry["severity"]], "routes": routes})


def _raise(entry: Mapping[str, Any]) -> Raise:
    many, both = entry["many"], entry["both_faces"]
    return Raise(
        many_count=many["count"],
        many_width_mm=many["width_mm"],
        many_to=many["raise_to"],
        both_over_mm=both["over_mm"],
        both_by=both["raise_by"],
        signs=MappingProxyType({sign: one["raise_to"] for sign, one in entry["signs"].items()}),
        many_words=many["words"].format(count=many["count"], width=many["width_mm"]),
        both_words=both["words"].format(width=both["over_mm"]),
    )


def _without_source(entry: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in entry.items() if name != "source"}


@cache
def table() -> Table:
    """Return the tables, read once.

    >>> [row.id for row in table().rows][:3], table().categories[2].name
    (['R1', 'R2', 'R3'], 'Slight')
    """
    data = resources.data("triage.json")
    return Table(
        categories=tuple(Category(**entry) for entry in data["categories"]),
        raises=_raise(data["category_rules"]),
        not_sure_spread_mm=data["not_sure"]["width_spread_mm"],
        signs=MappingProxyType(dict(data["signs"])),
        rows=tuple(_row(entry) for entry in data["rows"]),
        route_words=MappingProxyType(
            {name: entry["text"] for name, entry in data["words_by_route"].items()}
        ),
        notices=_notices(data["notices"]),
        patterns=_notices(data["patterns"]),
        distances=Distances(**_without_source(data["pattern_distances"])),
        cautions=tuple(
            Caution(entry["when"], _notice(entry["id"], entry)) for entry in data["cautions"]
        ),
        heights=Heights(**_without_source(data["caution_heights"])),
        asbestos_before=data["asbestos_year"]["before"],
    )
