"""The hours of the work, by kind, and laid out over the days of its visits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.pricing.price_book import PriceBook
from estimator.pricing.programme import Stage, stages_of
from estimator.pricing.work_lines import work_of
from estimator.takeoff.lines import Item, Measure

ORDER = (
    Item.PROTECT,
    Item.CUT_SLOT,
    Item.SKIM_ARRIS,
    Item.TURN_BAR,
    Item.REPLACE_BRICK,
    Item.REPLACE_HALF_BRICK,
    Item.TURN_BRICK,
    Item.ALLOWED_BRICK,
    Item.TOOTH_IN,
    Item.LAP_BAR,
    Item.SET_BAR,
    Item.RAKE_OUT,
    Item.POINT_CRACK_BED,
    Item.POINT_PERPEND,
    Item.PATCH_BRICK,
    Item.POINT_SLOT,
    Item.REPOINT,
    Item.MAKE_GOOD,
    Item.CLEAR_WASTE,
)
"""In which the kinds of work follow one another on a visit; common practice, no source."""


@dataclass(frozen=True, slots=True)
class DayWork:
    """What is done on one day of a visit."""

    visit: int
    """From 1."""
    day: int
    """Of that visit, from 1."""
    hours: Mapping[Item, Decimal]
    """Of bricklayers, by kind of work. [h]"""


def hours_of(measure: Measure, book: PriceBook) -> Mapping[Item, Decimal]:
    """Return the hours of bricklayers that measured work is priced at, by kind [h].

    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.lines import Line
    >>> from estimator.takeoff.scope import LOCAL
    >>> from estimator.units import Quantity, Unit
    >>> slot = Line(Item.CUT_SLOT, "front", Quantity.of(10, Unit.METRE), "", ())
    >>> hours_of(Measure(LOCAL, (slot,), (), (), (), (), ()), shipped())[Item.CUT_SLOT]
    Decimal('1.799000')
    """
    # What bought-in things cost has no part in how long work takes.
    return work_of(measure.lines, book, Decimal(1)).hours


def stages(measure: Measure, book: PriceBook) -> tuple[Stage, ...]:
    """Return the visits measured work falls into, none where there is no work.

    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> stages(Measure(LOCAL, (), (), (), (), (), ()), shipped())
    ()
    """
    items = frozenset(line.item for line in measure.lines)
    return stages_of(items, book.timing) if items else ()


def by_days(measure: Measure, book: PriceBook) -> tuple[DayWork, ...]:
    """Return the work by days, each filled in the order of work before the next is begun.

    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.scope import LOCAL
    >>> by_days(Measure(LOCAL, (), (), (), (), (), ()), shipped())
    ()
    """
    hours = hours_of(measure, book)
    capacity = book.labour.day_capacity
    found: list[DayWork] = []
    for visit, stage in enumerate(stages(measure, book), start=1):
        wanted = [(item, hours[item]) for item in ORDER if item in stage.items and item in hours]
        spread = _spread(wanted, capacity, capacity - book.timing.setting_up_hours)
        found += [DayWork(visit, day, work) for day, work in enumerate(spread, start=1)]
    return tuple(found)


def _spread(
    wanted: Sequence[tuple[Item, Decimal]], capacity: Decimal, first: Decimal
) -> list[dict[Item, Decimal]]:
    """Lay work out over days, the first of them shorter by the setting up."""
    days: list[dict[Item, Decimal]] = [{}]
    # A day shorter than the setting up still gets a start made on it.
    left = max(first, Decimal(0))
    for item, hours in wanted:
        rest = hours
        while rest > 0:
            if left <= 0:
                days.append({})
                left = capacity
            taken = min(rest, left)
            days[-1][item] = days[-1].get(item, Decimal(0)) + taken
            rest, left = rest - taken, left - taken
    return days
