"""What each mark on the wall carries of a price, to the penny.

A line's amount is shared over its marks by what each of them measures: bars and slots by length,
areas by their joints or brickwork, bricks and perpends by number. Materials go where they are
needed. What no mark measures, such as travel, plant and risk, is carried by the sides worked on,
by what the rest comes to on each. So all shares of an option add up to its price before tax. How
a price is shared over a wall is a house rule: nothing is paid by it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from estimator.money import Money, total
from estimator.pricing.offer import Offer, OfferLine
from estimator.quoting.mark_sizes import MarkSizes
from estimator.survey.survey import Survey
from estimator.takeoff.lines import Item, Line, Mark, Measure

ITEMS = {item.value: item for item in Item}
BAR_PREFIX, SCAFFOLD = "bar_", "scaffold"
"""What the key of a bar bought begins with, and that of a scaffold."""
Weights = Mapping[Mark, Decimal]


@dataclass(frozen=True, slots=True)
class Shares:
    """What marks carry of one option."""

    lines: tuple[Mapping[Mark, Money], ...]
    """For each line of the offer, in its order, what each mark carries of its amount."""

    def of(self, marks: Collection[Mark]) -> tuple[Money, ...]:
        """Return what some marks carry of each line, nothing where they are not on it.

        >>> Shares(({"a": Money(60), "b": Money(40)}, {"b": Money(5)})).of({"b"})
        (Money(pence=40), Money(pence=5))
        """
        return tuple(
            total(line[mark] for mark in marks if mark in line) if line else Money(0)
            for line in self.lines
        )

    def marks(self, place: int) -> frozenset[Mark]:
        """Return the marks that carry a line.

        >>> sorted(Shares(({"a": Money(60), "b": Money(40)},)).marks(0))
        ['a', 'b']
        """
        return frozenset(self.lines[place])


def shares_of(survey: Survey, measure: Measure, offer: Offer) -> Shares:
    """Return what each mark carries of each line of an option.

    >>> from datetime import date
    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.pricing.pricing import price
    >>> from estimator.pricing.terms import Terms
    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
    >>> from estimator.takeoff import rules
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.scope import LOCAL
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> front = Elevation("front", "Front", outline, cracks=(crack,))
    >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> work = measure(seen, LOCAL, rules.shipped())
    >>> offer = price(work, shipped(), Terms(date(2026, 11, 25)))
    >>> shares = shares_of(seen, work, offer)
    >>> total(one for line in shares.lines for one in line.values()) == offer.net
    True
    """
    work = _Weighed(survey, measure)
    marked = [_shared(line, work.weights(line)) if line.marks else {} for line in offer.lines]
    sides = _by_side(marked, measure)
    return Shares(
        tuple(
            found if line.marks else _shared(line, sides)
            for line, found in zip(offer.lines, marked, strict=True)
        )
    )


def parted(amount: Money, weights: Sequence[Decimal]) -> tuple[Money, ...]:
    """Split a sum by weights to the penny, each part less than a penny from its exact one.

    The running sum is rounded, so that many small parts leave no heap of pennies to the last one,
    as ``share_out`` would. Weights that are all nothing count alike.

    >>> [part.pence for part in parted(Money(100), [Decimal(1)] * 3)]
    [33, 34, 33]
    """
    base = sum(weights, Decimal(0))
    if base <= 0:
        weights, base = [Decimal(1)] * len(weights), Decimal(len(weights))
    parts, upto, struck = [], Decimal(0), 0
    for weight in weights:
        upto += weight
        so_far = amount.pence
        if upto != base:
            exact = amount.pence * upto / base
            so_far = int(exact.to_integral_value(rounding=ROUND_HALF_UP))
        parts.append(Money(so_far - struck))
        struck = so_far
    return tuple(parts)


class _Weighed:
    """The measured lines of a scope, with what each mark weighs in them."""

    def __init__(self, survey: Survey, measure: Measure) -> None:
        self._measure = measure
        self._sizes = MarkSizes(survey, measure)
        self._lines: dict[Item, list[Line]] = defaultdict(list)
        for line in measure.lines:
            self._lines[line.item].append(line)
        self._needs: dict[str, dict[Item, Decimal]] = defaultdict(dict)
        for need in measure.needs:
            users = self._needs[need.material]
            users[need.item] = users.get(need.item, Decimal(0)) + need.quantity.amount
        self._known: dict[Item, Weights] = {}

    def weights(self, line: OfferLine) -> Weights:
        """Return what each mark weighs in a priced line."""
        if line.item in ITEMS:
            return self._of(ITEMS[line.item])
        if line.item.startswith(BAR_PREFIX):
            return self._of(Item.SET_BAR)
        if line.item.startswith(SCAFFOLD):
            return {
                one.elevation: Decimal(round(one.top_mm)) * round(one.width_mm)
                for one in self._measure.reaches
            }
        return self._needed(line.item)

    def _needed(self, material: str) -> Weights:
        """Return what each mark needs of a material; bricks allowed for bring their own."""
        found: dict[Mark, Decimal] = {}
        for item, amount in self._needs.get(material, {}).items():
            users = self._of(item) if item is not Item.ALLOWED_BRICK else {}
            whole = sum(users.values(), Decimal(0))
            for mark, size in users.items():
                if whole:
                    found[mark] = found.get(mark, Decimal(0)) + amount * size / whole
        return found

    def _of(self, item: Item) -> Weights:
        """Return how much of one kind of work each mark is, in the unit of its lines."""
        if item not in self._known:
            found: dict[Mark, Decimal] = {}
            for line in self._lines[item]:
                sizes = [Decimal(round(size * 1000)) for size in self._sizes.of(line)]
                if not any(sizes):
                    sizes = [Decimal(1)] * len(sizes)
                whole = sum(sizes, Decimal(0))
                for mark, size in zip(line.marks, sizes, strict=True):
                    part = line.quantity.amount * size / whole
                    found[mark] = found.get(mark, Decimal(0)) + part
            self._known[item] = found
        return self._known[item]


def _shared(line: OfferLine, weights: Weights) -> dict[Mark, Money]:
    """Return what each mark carries of a line; where none weighs anything, all weigh alike."""
    marks = dict.fromkeys(line.marks or weights)
    if not marks:
        return {}
    parts = parted(line.amount, [weights.get(mark, Decimal(0)) for mark in marks])
    return dict(zip(marks, parts, strict=True))


def _by_side(marked: Iterable[Mapping[Mark, Money]], measure: Measure) -> Weights:
    """Return what the lines that have marks come to on each side that is worked on."""
    sides = dict.fromkeys((line.elevation for line in measure.lines), Decimal(0))
    side_of = {mark: line.elevation for line in measure.lines for mark in line.marks}
    for shares in marked:
        for mark, amount in shares.items():
            side = side_of.get(mark, mark)
            if side in sides:
                sides[side] += amount.pence
    return sides
