"""Whether the job is theirs to repair: damage category, and a route from the decision table."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from estimator.notices import Notice


class Route(Enum):
    """What may be done next."""

    PRICE = "price"
    RANGE = "range only"
    VISIT = "visit first"
    MONITOR = "monitor"
    REFER = "refer to a chartered structural engineer"
    STOP = "stop"

    @property
    def allows_price(self) -> bool:
        """Whether any price may be given at all."""
        return self not in (Route.REFER, Route.STOP)

    @property
    def allows_fixed_price(self) -> bool:
        """Whether a fixed price may be given."""
        return self is Route.PRICE


@dataclass(frozen=True, slots=True)
class Outcome:
    """One row of the decision table that fired."""

    id: str
    route: Route | None
    """None for a row that adds a caution and leaves the route to later rows."""
    title: str
    words: str
    """What to say to the customer."""
    because: str
    """Which signs made it fire, in words."""
    source: str


@dataclass(frozen=True, slots=True)
class Assessment:
    """What the triage found."""

    category: int
    category_name: str
    route: Route
    outcomes: tuple[Outcome, ...]
    """Rows that fired, in the table's order; the first with a route settled it."""
    notices: tuple[Notice, ...]
