"""Parts that only papers about the works have: what is read on site, ticked and initialled."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from estimator.documents.agreed_content import OwnPart
from estimator.documents.figure import Figure
from estimator.takeoff.lines import Mark


class Noted(Enum):
    """How far a mark has come, as its number is drawn; told apart by shape."""

    PLANNED = "planned"
    DONE = "done"
    OTHERWISE = "otherwise"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Box:
    """A box to tick or to put initials in, or the initials that stand in it already."""

    signed: str = ""
    is_wide: bool = False
    """Whether there is room for initials in it."""
    of: str = ""
    """What is looked at before it is ticked; empty where the work itself is."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number as it stands on the drawing."""

    number: str
    noted: Noted = Noted.PLANNED


Cell = str | Box | Number


@dataclass(frozen=True, slots=True)
class GridColumn:
    """A column of a grid."""

    title: str
    width: float
    """In points; 0 for all that is left."""
    is_right: bool = False
    is_quiet: bool = False


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of a grid, and what is said under it."""

    cells: tuple[Cell, ...]
    under: str = ""


@dataclass(frozen=True, slots=True)
class GridGroup:
    """Rows under a heading, which may be empty."""

    title: str
    rows: tuple[GridRow, ...]
    beside: str = ""
    """At the right of the heading."""


@dataclass(frozen=True, slots=True)
class Grid(OwnPart):
    """A table to work from."""

    key: str
    title: str
    columns: tuple[GridColumn, ...]
    groups: tuple[GridGroup, ...]
    lead: str = ""
    """Between title and table."""
    notes: tuple[str, ...] = ()
    """Under the table."""
    is_large: bool = False
    """Whether it is read at arm's length."""
    gap: float = 11.0
    """Between columns; less where there are many, in points."""

    @property
    def rows(self) -> Iterator[GridRow]:
        """Every row, in order."""
        return (row for group in self.groups for row in group.rows)


@dataclass(frozen=True, slots=True)
class Alert(OwnPart):
    """What stops the work, larger than all else on the paper."""

    text: str
    under: str = ""


@dataclass(frozen=True, slots=True)
class Framed(OwnPart):
    """What nobody on site may miss, in a frame: it stops a piece of the work, not all of it."""

    key: str
    title: str
    items: tuple[str, ...]
    under: str = ""


@dataclass(frozen=True, slots=True)
class Topic:
    """A few words, and sentences beside them."""

    title: str
    texts: tuple[str, ...]
    is_loud: bool = False


@dataclass(frozen=True, slots=True)
class Topics(OwnPart):
    """Topics one under another, each with its words at the left."""

    key: str
    title: str
    items: tuple[Topic, ...]
    is_large: bool = False
    width: float = 96.0
    """Of the words at the left, in points."""


@dataclass(frozen=True, slots=True)
class Steps(OwnPart):
    """Steps in their order, each with its number and a box to tick."""

    key: str
    title: str
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Blank(OwnPart):
    """Lines to write on."""

    key: str
    title: str
    lead: str
    lines: int


@dataclass(frozen=True, slots=True)
class Edge:
    """What places along a wall are measured from."""

    words: str
    at_mm: float
    is_leftward: bool = False
    """Whether one measures from it to the left."""
    is_inside: bool = False
    """Whether there is work on both sides of it."""


@dataclass(frozen=True, slots=True)
class Plate(OwnPart):
    """A wall drawn to work from: bars numbered, courses counted up its side."""

    key: str
    title: str
    figure: Figure
    numbers: tuple[tuple[Mark, Number], ...]
    """What stands at each bar."""
    edge: Edge | None
    caption: str
    keys: tuple[tuple[Noted, str], ...] = ()
    """What the shapes of numbers mean."""


@dataclass(frozen=True, slots=True)
class ChartTask:
    """A task drawn over the days."""

    title: str
    first: datetime.date
    last: datetime.date
    is_worked: bool
    is_half: bool = False
    """Whether its last day is a half one."""


@dataclass(frozen=True, slots=True)
class Chart(OwnPart):
    """Tasks over the days, and the days nobody works."""

    tasks: tuple[ChartTask, ...]
    working_week: tuple[int, ...]
    """Days worked, Monday is 0."""
    holidays: tuple[tuple[datetime.date, str], ...]
    """Days of the working week on which nobody works, and why."""
    finish: datetime.date | None
    finish_words: str
    keys: tuple[tuple[str, str], ...]
    """What the looks of days and tasks mean: ``worked``, ``wait``, ``week``, ``holiday``."""
