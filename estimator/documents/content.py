"""All that a quotation or estimate says, as plain text in the order it is read.

Every string is as it will be printed: sums, dates and quantities are already written out. Nothing
here knows a page, a font or a colour, so a test can read the paper without making it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from estimator.documents.figure import Figure
from estimator.quoting.quotation import Paper


class Tone(Enum):
    """How loudly a paragraph speaks."""

    PLAIN = "plain"
    QUIET = "quiet"
    STRONG = "strong"


@dataclass(frozen=True, slots=True)
class Text:
    """One paragraph."""

    text: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Points:
    """A list, one sentence to a point."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """A programme: what happens, how long it takes, and why."""

    title: str
    rows: tuple[tuple[str, str, str], ...]


Block = Text | Points | Steps


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with what stands under it."""

    key: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Letterhead:
    """Whose paper it is."""

    name: str
    under: str
    contact: tuple[str, ...]
    draft: str
    """Said in place of the name while there is none."""


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and what belongs to it."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Choice:
    """One option as the customer weighs it."""

    letter: str
    title: str
    price: str
    beside_price: str
    under_price: str
    visible: tuple[str, ...]
    time: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the work: a figure, or a dash, for each option."""

    title: str
    quantity: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """One row struck under a table."""

    title: str
    figures: tuple[str, ...]
    is_final: bool = False


@dataclass(frozen=True, slots=True)
class Work:
    """The work in one table, the options side by side."""

    title: str
    columns: tuple[str, ...]
    """Headings after the first: quantity (empty where the columns hold it), then the options."""
    rows: tuple[Row, ...]
    sums: tuple[Sum, ...]
    promise: str
    """What a further cracked brick costs."""


@dataclass(frozen=True, slots=True)
class ScheduleLine:
    """One measured line at its rate."""

    description: str
    surety: str
    quantity: str
    rate: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ScheduleGroup:
    """The lines behind one row of the work, and what they come to."""

    title: str
    lines: tuple[ScheduleLine, ...]
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Schedule:
    """Every line of every option."""

    title: str
    note: str
    rate_title: str
    columns: tuple[str, ...]
    groups: tuple[ScheduleGroup, ...]
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Acceptance:
    """What is signed to take the offer."""

    title: str
    lead: str
    options: tuple[tuple[str, str], ...]
    """Option and its price, with a box to tick before each."""
    ticks: tuple[str, ...]
    fields: tuple[str, ...]
    closing: str


@dataclass(frozen=True, slots=True)
class CancelForm:
    """The form that a household may cancel with."""

    title: str
    lead: str
    to: Fact
    statement: str
    fields: tuple[Fact, ...]
    """Label and what is already filled in."""
    star: str


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands at the foot of every page."""

    name: str
    warnings: tuple[str, ...]
    pointer: tuple[tuple[str, str], ...]
    """Sections the first page points to: key and title."""


@dataclass(frozen=True, slots=True)
class Metadata:
    """What the file says about itself."""

    title: str
    author: str
    subject: str


@dataclass(frozen=True, slots=True)
class Content:
    """A whole paper, in reading order."""

    paper: Paper
    letterhead: Letterhead
    heading: str
    under_heading: str
    facts: tuple[Fact, ...]
    saw: Section
    choices: tuple[Choice, ...]
    work: Work
    figures: tuple[Figure, ...]
    figures_title: str
    schedule: Schedule
    sections: tuple[Section, ...]
    acceptance: Acceptance | None
    form: CancelForm | None
    foot: Foot
    metadata: Metadata
