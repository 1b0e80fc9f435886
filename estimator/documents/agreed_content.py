"""All that a paper on money says, as plain text in the order it is read.

Every string is as it will be printed. One set of parts serves confirmations, variations, invoices
and accounts, so that they look alike and a customer learns to read them once.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.documents.content import (
    Acceptance,
    Block,
    CancelForm,
    Fact,
    Foot,
    Letterhead,
    Metadata,
    Section,
    Sum,
)
from estimator.documents.figure import Figure
from estimator.drawing.shapes import Picture
from estimator.survey.survey import Photo


class OwnPart:
    """A part that a paper brings its own way of laying out for."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Prose:
    """Paragraphs across the whole page under a heading, which may be empty."""

    key: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Big:
    """One figure that leads: what it is, the figure, what belongs to it."""

    label: str
    figure: str
    beside: str = ""
    under: str = ""


@dataclass(frozen=True, slots=True)
class Bigs:
    """One to three figures that lead, side by side."""

    items: tuple[Big, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of figures, set right."""

    title: str
    width: float
    """In points."""
    is_quiet: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a ledger: a text, what it rests on, and its figures."""

    text: str
    figures: tuple[str, ...]
    under: str = ""


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines under a heading, which may be empty, and what they come to."""

    title: str
    lines: tuple[Line, ...]
    figures: tuple[str, ...] = ()
    """From the right, as many as there are; beside the heading."""


@dataclass(frozen=True, slots=True)
class Ledger:
    """Lines with figures, and the sums struck under them."""

    key: str
    title: str
    columns: tuple[Column, ...]
    """After the first, which holds the texts."""
    groups: tuple[Lines, ...]
    sums: tuple[Sum, ...] = ()
    note: str = ""
    below: tuple[str, ...] = ()
    is_fine: bool = False
    """Whether it is set in the smaller type, for many columns."""

    @property
    def lines(self) -> Iterator[Line]:
        """Every line, in order."""
        return (line for group in self.groups for line in group.lines)


@dataclass(frozen=True, slots=True)
class Terms:
    """Short words and what they mean, side by side."""

    key: str
    rows: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """One drawing: what is strong in it stands on the rest, which is faint."""

    title: str
    """Empty where there is only one."""
    figure: Figure
    strong: Picture | None
    """What stands out; None where nothing does."""
    caption: str


@dataclass(frozen=True, slots=True)
class Drawings:
    """Drawings, two to a row."""

    key: str
    title: str
    items: tuple[Drawn, ...]
    is_wide: bool = False
    """Whether each takes the width of the page."""


@dataclass(frozen=True, slots=True)
class Beside:
    """One drawing with the figures that lead beside it, as on the first page of a quotation."""

    drawn: Drawn
    bigs: Bigs


@dataclass(frozen=True, slots=True)
class Pictured:
    """A photograph to print, or what is said where it cannot be."""

    photo: Photo
    data: bytes | None
    caption: str


@dataclass(frozen=True, slots=True)
class Photographs:
    """Photographs, two to a row."""

    key: str
    title: str
    items: tuple[Pictured, ...]


Part = (
    Prose
    | Section
    | Bigs
    | Beside
    | Ledger
    | Terms
    | Drawings
    | Photographs
    | Acceptance
    | CancelForm
    | OwnPart
)


@dataclass(frozen=True, slots=True)
class AgreedPaper:
    """A whole paper, in reading order."""

    letterhead: Letterhead
    heading: str
    under_heading: str
    facts: tuple[Fact, ...]
    parts: tuple[Part, ...]
    foot: Foot
    metadata: Metadata
