"""From what a wall as found changes to a variation that can be sent."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterator
from decimal import Decimal
from itertools import count

from estimator.contract.contract import Contract
from estimator.contract.daywork import DayworkSheet
from estimator.contract.position import DAYWORK, PRIME_COST, PROVISIONAL_ACTUAL, PROVISIONAL_SUM
from estimator.contract.so_far import SoFar
from estimator.contract.valuation import Valuation
from estimator.contract.variation import Valued, ValuedBy, Variation
from estimator.money import NOTHING, Money, total
from estimator.notices import UserMistake
from estimator.pricing import provisional
from estimator.pricing.offer import Group
from estimator.pricing.provisional import Daywork
from estimator.survey import survey_file
from estimator.units import Unit

LETTERS = "abcdefghijklmnopqrstuvwxyz"
ONE, NONE = Decimal(1), Decimal(0)
SITE_DAYS = "site_days"
ON_THE_WALL = (Group.BEDS, Group.BARS, Group.CRACK, Group.PANEL, Group.BRICKS)


def next_key(so_far: SoFar) -> str:
    """Return what the next variation of a job is called until it has a number: a, b, … z, aa.

    >>> next_key(SoFar())
    'a'
    """
    known = {one.variation.key for one in so_far.variations}
    # A draft that was struck out leaves a gap before others.
    return next(key for key in map(_lettered, count(len(known))) if key not in known)


def _lettered(place: int) -> str:
    key = ""
    while place >= 0:
        place, letter = divmod(place, len(LETTERS))
        key, place = LETTERS[letter] + key, place - 1
    return key


def drawn_up(  # noqa: PLR0913 - each is a field of the form it is written with
    so_far: SoFar,
    valuation: Valuation,
    *,
    date: datetime.date,
    asked_by: str,
    reason: str,
    revision: int,
    key: str = "",
    title: str = "",
    left_out: Collection[int] = (),
    added: tuple[Valued, ...] = (),
    photos: tuple[str, ...] = (),
) -> Variation:
    """Return a variation complete on its face.

    Args:
        so_far: What the job has come to.
        valuation: What the wall as found changes.
        date: The day it is drawn up.
        asked_by: Who asked for it.
        reason: Why it is needed.
        revision: Of the job's survey as found.
        key: Of the draft it takes the place of; empty for a new one.
        title: In a few words; that of the valuation where empty.
        left_out: Places of lines that are not in it, from 0.
        added: Lines that were not measured: daywork, sums, adjustments.
        photos: Hashes of photographs that show it.

    Raises:
        UserMistake: when nothing is left in it.
    """
    lines = tuple(line for place, line in enumerate(valuation.lines) if place not in left_out)
    without = tuple(line for place, line in enumerate(valuation.lines) if place in left_out)
    if not lines and not added:
        raise UserMistake(
            "there is nothing to vary",
            why="the work is the same as was agreed",
            do="mark what was found on the wall, or add a line",
        )
    return Variation(
        key=key or next_key(so_far),
        date=date,
        title=title or _title(valuation, lines, added),
        asked_by=asked_by,
        # Where nothing measured is in it, what was found is none of its business, nor its days.
        found=valuation.found if lines or not without else (),
        reason=reason,
        lines=(*lines, *added),
        extra_days=_days(valuation, lines, without),
        scope=valuation.scope,
        revision=revision,
        survey=survey_file.write(valuation.survey),
        photos=photos,
        notes=(*valuation.notes, *_said_of_left_out(without)) if lines else (),
        all_found=valuation.all_found,
    )


def _title(valuation: Valuation, lines: tuple[Valued, ...], added: tuple[Valued, ...]) -> str:
    usual = "Change to the work"
    if lines or not added:
        return valuation.title or usual
    return added[0].description if len(added) == 1 else usual


def _days(valuation: Valuation, lines: tuple[Valued, ...], without: tuple[Valued, ...]) -> Decimal:
    """Return the days in it: none where the work is left out that takes them."""
    is_less = any(line.group in ON_THE_WALL for line in without)
    # Days alone may be left out of the price and still be needed.
    is_without = is_less and any(line.item == SITE_DAYS for line in without)
    return NONE if is_without or (without and not lines) else valuation.extra_days


def _said_of_left_out(without: tuple[Valued, ...]) -> Iterator[str]:
    """Say what of the change is not in a variation: its price is not for that."""
    told = dict.fromkeys(line.description for line in without if line.group in ON_THE_WALL)
    if told:
        yield f"Not in this variation, nor in its price: {'; '.join(told)}."


def one_sum(item: str, title: str, amount: Money, basis: ValuedBy, why: str) -> Valued:
    """Return a line that is one sum, added where positive and taken off where negative.

    Its item is one that no measuring gives (``position.NOT_MEASURED``, or a daywork sheet's).

    >>> one_sum("x", "Skip", Money.of(40), ValuedBy.FAIR_RATE, "").change
    Decimal('1')
    """
    is_less = amount < NOTHING
    return Valued(
        item=item,
        group=Group.PRELIMINARIES,
        description=title,
        unit=Unit.ITEM,
        rate=abs(amount.pounds),
        was=ONE if is_less else NONE,
        now=NONE if is_less else ONE,
        amount=amount,
        basis=basis,
        why=why,
    )


def provisional_sum(title: str, *, allowed: Money, actual: Money) -> tuple[Valued, Valued]:
    """Return a provisional sum taken out, and what the work came to put in its place.

    Source: JCT practice: omit the sum, add the actual value.

    >>> lines = provisional_sum("Drain", allowed=Money.of(600), actual=Money.of("538.40"))
    >>> [str(line.amount) for line in lines]
    ['-600.00', '538.40']
    """
    why = "a provisional sum, settled at what the work came to"
    basis = ValuedBy.PROVISIONAL_SUM
    return (
        one_sum(PROVISIONAL_SUM, f"{title}, provisional sum", -allowed, basis, why),
        one_sum(PROVISIONAL_ACTUAL, f"{title}, as it came to", actual, basis, why),
    )


def daywork_line(sheet: DayworkSheet) -> Valued:
    """Return the line that charges a daywork sheet.

    >>> sheet = DayworkSheet("d", "a", "Prop", (), (), (), NONE, NONE, NONE)
    >>> daywork_line(sheet).basis
    <ValuedBy.DAYWORK: 'DW'>
    """
    percents = Daywork(sheet.labour_percent, sheet.materials_percent, sheet.plant_percent)
    amount = provisional.daywork(
        total(one.a_hour.times(one.hours) for one in sheet.hours),
        total(one.cost for one in sheet.materials),
        total(one.cost for one in sheet.plant),
        percents,
    )
    why = "could not be measured; hours, materials and plant by the sheet"
    return one_sum(f"{DAYWORK}{sheet.key}", sheet.what, amount, ValuedBy.DAYWORK, why)


def prime_cost_line(  # noqa: PLR0913 - each is a figure of the invoice it rests on
    contract: Contract,
    title: str,
    number: int,
    *,
    allowed: Money,
    invoiced: Money,
    waste_percent: Decimal = NONE,
    added_percent: Decimal = NONE,
) -> Valued:
    """Return the line for materials allowed at so much a thousand that cost something else.

    Args:
        contract: What they were allowed in.
        title: What they are.
        number: How many were needed.
        allowed: For a thousand.
        invoiced: For a thousand.
        waste_percent: Bought beyond the number. [%]
        added_percent: Overhead and profit on the change; nothing where they stay as they are. [%]
    """
    change = provisional.prime_cost_change(
        number, allowed=allowed, invoiced=invoiced, waste_percent=waste_percent
    )
    why = f"{number} at {invoiced} a thousand where {contract.quotation} allowed {allowed}"
    if added_percent:
        why += f", with {added_percent:f} % overhead and profit"
    amount = change.times(1 + added_percent / provisional.HUNDRED)
    return one_sum(PRIME_COST, title, amount, ValuedBy.PROVISIONAL_SUM, why)
