"""What a wall as found changes of what was agreed, line by line, at the rates of the contract.

What is there now is measured and priced anew with the rates, rules and terms of the contract; what
is covered already is taken off it line by line. So what was agreed and every variation add up to
the price of the work as it is, to the penny. Omissions are valued at the very rates of additions.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.contract import found as finding
from estimator.contract.bases import Bases, reviewed_before
from estimator.contract.contract import Contract, Sold
from estimator.contract.frozen import frozen, survey_of
from estimator.contract.further_bricks import REVIEW_FROM_PERCENT, Further, measured
from estimator.contract.position import Key, is_measured, joined, position, sold
from estimator.contract.so_far import SoFar
from estimator.contract.taken_off import covered_last, is_counted_down, last_of, taken_off
from estimator.contract.variation import Valued
from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing.offer import Group, Offer
from estimator.pricing.price_book import PriceBook
from estimator.pricing.pricing import price
from estimator.survey.survey import Survey
from estimator.takeoff.difference import Difference, difference
from estimator.takeoff.lines import Item, Mark, Measure
from estimator.takeoff.scope import Scope

FURTHER = Item.ALLOWED_BRICK.value
ORDER = {group: place for place, group in enumerate(Group)}

__all__ = ["REVIEW_FROM_PERCENT", "Valuation", "value"]


@dataclass(frozen=True, slots=True)
class Valuation:
    """What the wall as found changes, before anybody has drawn it up."""

    lines: tuple[Valued, ...]
    extra_days: Decimal
    """Working days more, or less where negative. [day]"""
    found: tuple[str, ...]
    """What was found, in plain sentences."""
    notes: tuple[str, ...]
    """What has to be said on paper besides."""
    title: str
    """In a few words."""
    offer: Offer
    """The work as it is now, priced with the rates of the contract."""
    survey: Survey
    """As found."""
    scope: Scope
    """The work from now on."""
    is_open_to_review: bool = False
    """Whether the rate of further bricks may be agreed anew."""
    all_found: bool = False
    """Whether nothing more will be found, so that an allowance is counted down."""
    warnings: tuple[str, ...] = ()
    """What the contractor should look at before it goes out; no paper prints it."""


def value(
    so_far: SoFar,
    found: Survey,
    scope: Scope,
    *,
    all_found: bool = False,
    today: PriceBook | None = None,
    reviewed_rate: Decimal | None = None,
) -> Valuation:
    """Return what the wall as found changes of what was agreed.

    Args:
        so_far: What the job has come to.
        found: The survey as found.
        scope: The work to be done from now on.
        all_found: Whether nothing more will be found, so that an allowance is counted down too;
            once a variation has counted it down, it stays so.
        today: Rates to take single outputs or materials from that the contract's book lacks.
        reviewed_rate: For further bricks; taken only while their rate is open to review, and kept
            by later variations. [£]

    Raises:
        ValueError: before anything was accepted.
        UserMistake: when some work has no rate in either book.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> from estimator.takeoff.scope import LOCAL
    >>> value(SoFar(), Survey("1", "", "2026-11-25", Basis.MEASURED, Party(), Site(), ()), LOCAL)
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    covered = [one for one in so_far.variations if one.standing.is_covered]
    all_found = all_found or is_counted_down(covered)
    work = taken_off(contract, found, scope, all_found=all_found)
    offer, borrowed = priced(work.measure, contract, today)
    charged = offer
    # The rate promised for a further brick is all there is to pay for it: what they need besides
    # shows in the days, and in no other line.
    if work.further.charged != work.further.counted:
        besides = measured(work.further.charged, scope, work.rules)
        charged, _borrowed = priced(besides, contract, today)
    rate = reviewed_rate or reviewed_before(covered) if work.further.is_open_to_review else None
    now = joined(_as_sold(charged, offer, work.further, contract, rate))
    before = joined(line for line in position(so_far) if is_measured(line))
    gained = _gained(difference(covered_last(contract, covered).measure, work.measure))
    bases = Bases(contract, covered, borrowed=borrowed, reviewed=rate)
    lines = sorted(_changes(before, now, bases, gained), key=lambda line: ORDER[line.group])
    told = _told(so_far, found, scope)
    if any(line.item == FURTHER and line.change < 0 for line in lines) and all_found:
        told = finding.with_fewer(told, work.further.allowed, work.further.total)
    return Valuation(
        tuple(lines),
        offer.working_days - _days_before(so_far),
        told.sentences,
        (*_notes(work.further, lines), *bases.notes()),
        told.title,
        offer,
        found,
        scope,
        work.further.is_open_to_review,
        all_found,
        (*_drift(contract), *_rests_on_what_is_not_agreed(so_far)),
    )


def _notes(further: Further, lines: Iterable[Valued]) -> Iterator[str]:
    """Yield what is said of further bricks, on the paper that counts them and on no other."""
    if any(line.item == FURTHER for line in lines):
        yield from further.notes()


def _told(so_far: SoFar, now: Survey, scope: Scope) -> finding.Found:
    """Return what was found, or chosen, since the last variation that covers anything."""
    contract = so_far.contract
    assert contract is not None
    last = last_of([one for one in so_far.variations if one.standing.is_covered])
    before, chosen = (
        (last.variation.survey, last.variation.scope) if last else (contract.survey, contract.scope)
    )
    told = finding.found(survey_of(before), now)
    return told if scope.works == chosen.works else finding.with_scope(told, chosen, scope)


def _days_before(so_far: SoFar) -> Decimal:
    """Return the working days reckoned with so far [day]."""
    contract = so_far.contract
    covered = [one.variation for one in so_far.variations if one.standing.is_covered]
    days = contract.working_days if contract else Decimal(0)
    return days + sum((one.extra_days for one in covered), Decimal(0))


def _as_sold(
    charged: Offer, offer: Offer, further: Further, contract: Contract, reviewed: Decimal | None
) -> Iterator[Sold]:
    """Yield the lines as they are now; further bricks point at the bricks that were found."""
    promised = contract.further_brick.pounds
    yield from (sold(line) for line in charged.lines if line.item != FURTHER)
    for line in (sold(line) for line in offer.lines if line.item == FURTHER):
        # A harder mortar than was reckoned with does not undo what was promised.
        rate = min(line.rate, promised) if reviewed is None else reviewed
        amount = Money.of(rate * line.quantity)
        yield replace(line, rate=rate, amount=amount, marks=further.marks or line.marks)


def _changes(
    before: Mapping[Key, Sold],
    now: Mapping[Key, Sold],
    bases: Bases,
    gained: Mapping[str, frozenset[Mark]],
) -> Iterator[Valued]:
    """Yield what differs: what is there now, then what is left out."""
    for key, line in now.items():
        was = before.get(key)
        quantity, amount = (was.quantity, was.amount) if was else (Decimal(0), NOTHING)
        if line.quantity != quantity or line.amount != amount:
            new = gained.get(line.item, frozenset())
            if line.item == FURTHER and was:
                new = frozenset(line.marks) - frozenset(was.marks)
            marks = tuple(mark for mark in line.marks if mark in new) or line.marks
            change = line.amount - amount
            yield _valued(replace(line, marks=marks), quantity, line.quantity, change, bases)
    for key, line in before.items():
        if key not in now:
            yield _valued(line, line.quantity, Decimal(0), -line.amount, bases)


def _valued(line: Sold, was: Decimal, now: Decimal, amount: Money, bases: Bases) -> Valued:
    basis, why = bases.of(line)
    return Valued(
        item=line.item,
        group=line.group,
        description=line.description,
        unit=line.unit,
        rate=line.rate,
        was=was,
        now=now,
        amount=amount,
        basis=basis,
        why=why,
        marks=line.marks,
    )


def _gained(differs: Difference) -> dict[str, frozenset[Mark]]:
    """Return the marks that each kind of work has and had not before."""
    found: dict[str, frozenset[Mark]] = {}
    for line in differs.lines:
        before = found.get(line.item.value, frozenset())
        found[line.item.value] = before | frozenset(line.marks_gained)
    return found


def priced(
    work: Measure, contract: Contract, today: PriceBook | None
) -> tuple[Offer, frozenset[str]]:
    """Return work priced at the rates of a contract, and what had to be taken from today's.

    Args:
        work: The work, measured.
        contract: Whose rates and terms.
        today: Rates to take single outputs or materials from that the contract's book lacks.

    Raises:
        UserMistake: when some work has no rate in either book.
    """
    book = frozen(contract).book
    try:
        return price(work, book, contract.terms), frozenset()
    except UserMistake:
        if today is None:
            raise
    outputs = {**today.outputs, **book.outputs}
    materials = {**today.materials, **book.materials}
    borrowed = frozenset(item.value for item in outputs if item not in book.outputs)
    borrowed |= frozenset(key for key in materials if key not in book.materials)
    filled = replace(book, outputs=outputs, materials=materials)
    return price(work, filled, contract.terms), borrowed


def _drift(contract: Contract) -> Iterator[str]:
    if contract.drift:
        yield (
            "Rules or rates have changed since the quotation was made; some lines change for that "
            "reason alone. Look through them before this goes out."
        )


def _rests_on_what_is_not_agreed(so_far: SoFar) -> Iterator[str]:
    if any(line.quantity < 0 and is_measured(line) for line in position(so_far)):
        yield (
            "A variation was agreed that takes off work of another one, which was not agreed. This "
            "one puts that right: some lines begin below nothing. Look through them before it "
            "goes out."
        )
