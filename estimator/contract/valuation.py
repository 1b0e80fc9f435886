"""What a wall as found changes of what was agreed, line by line, at the rates of the contract.

What is there now is measured and priced anew with the rates, rules and terms of the contract; what
is covered already is taken off it line by line. So what was agreed and every variation add up to
the price of the work as it is, to the penny. Omissions are valued at the very rates of additions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.contract import found as finding
from estimator.contract.contract import Contract, Sold
from estimator.contract.frozen import Frozen, frozen, survey_of
from estimator.contract.position import Key, joined, key_of, position, sold
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Valued, ValuedBy
from estimator.money import NOTHING, Money
from estimator.notices import UserMistake
from estimator.pricing.offer import Offer
from estimator.pricing.price_book import PriceBook
from estimator.pricing.pricing import price
from estimator.pricing.provisional import rate_stands
from estimator.survey.ranges import likely, settled
from estimator.survey.survey import CrackedBrick, Elevation, Survey, Treatment
from estimator.takeoff.lines import Item, Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import changed
from estimator.takeoff.scope import Scope
from estimator.takeoff.work import counted

REVIEW_FROM_PERCENT = Decimal(20)
"""Source: NRM2, by way of designingbuildings.co.uk."""


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
        all_found: Whether nothing more will be found, so that an allowance is counted down too.
        today: Rates to take single outputs or materials from that the contract's book lacks.
        reviewed_rate: For further bricks, where their rate is open to review. [£]

    Raises:
        ValueError: before anything was accepted.
        UserMistake: when some work has no rate in either book.
    """
    contract = so_far.contract
    if contract is None:
        raise ValueError("nothing has been accepted yet")
    then = frozen(contract)
    seen = _Seen(contract, then, settled(found), all_found=all_found)
    rules = changed(then.rules, stock_lengths_mm=then.book.bar_lengths_mm)
    whole, borrowed = _priced(measure(seen.survey, scope, rules), contract, then.book, today)
    # The rate promised for a further brick is all there is to pay for it: what they need besides
    # shows in the days, and in no other line.
    charged = whole
    if seen.survey != seen.promised:
        charged, _ = _priced(measure(seen.promised, scope, rules), contract, then.book, today)
    now = joined(_as_sold(charged, whole, seen, reviewed_rate))
    rates = _Rates(contract, borrowed)
    lines = tuple(_changes(joined(position(so_far)), now, rates))
    told = _told(so_far, found, scope)
    return Valuation(
        lines,
        whole.working_days - _days_before(so_far),
        told.sentences,
        (*seen.notes(), *rates.notes(), *_drift(contract)),
        told.title,
        whole,
        found,
        scope,
    )


def _told(so_far: SoFar, now: Survey, scope: Scope) -> finding.Found:
    """Return what was found, or chosen, since the last variation that covers anything."""
    contract = so_far.contract
    assert contract is not None
    covered = [one.variation for one in so_far.variations if one.standing.is_covered]
    last = covered[-1] if covered else None
    before, chosen = (last.survey, last.scope) if last else (contract.survey, contract.scope)
    told = finding.found(survey_of(before), now)
    return told if scope.works == chosen.works else finding.with_scope(told, chosen, scope)


def _days_before(so_far: SoFar) -> Decimal:
    """Return the working days reckoned with so far [day]."""
    contract = so_far.contract
    covered = [one.variation for one in so_far.variations if one.standing.is_covered]
    days = contract.working_days if contract else Decimal(0)
    return days + sum((one.extra_days for one in covered), Decimal(0))


@dataclass(frozen=True, slots=True)
class _Seen:
    """The wall as found, its further bricks counted and not measured one by one."""

    contract: Contract
    then: Frozen
    whole: Survey
    all_found: bool

    @property
    def further(self) -> dict[str, tuple[str, ...]]:
        """The marks of further bricks to be replaced, by elevation."""
        if not self.contract.further_brick:
            return {}
        return {now.id: _further_marks(self._then(now.id), now) for now in self.whole.elevations}

    @property
    def survey(self) -> Survey:
        """The survey with every further brick counted, for the time it takes."""
        return self._counting({key: len(marks) for key, marks in self.further.items()})

    @property
    def promised(self) -> Survey:
        """The survey with no more further bricks than were allowed for, for what they bring."""
        further = self.further
        return self._counting({key: min(len(further[key]), self._allowed(key)) for key in further})

    def _counting(self, number: Mapping[str, int]) -> Survey:
        """Return the survey with so many further bricks on each side, none measured singly."""
        if not number:
            return self.whole
        # What was allowed for on one side may be used up on another.
        spare = 0 if self.all_found else max(self.allowed - self.number, 0)
        sides = []
        for now in self.whole.elevations:
            left = min(max(self._allowed(now.id) - number[now.id], 0), spare)
            spare -= left
            marks = set(self.further[now.id])
            kept = tuple(one for one in now.bricks if _mark(now.id, one) not in marks)
            sides.append(replace(now, bricks=kept, hidden_bricks=number[now.id] + left))
        return replace(self.whole, elevations=tuple(sides))

    def _allowed(self, elevation: str) -> int:
        before = self._then(elevation)
        return 0 if before is None else round(likely(before.hidden_bricks))

    @property
    def allowed(self) -> int:
        """How many further bricks the contract allows for."""
        lines = (one for one in self.contract.lines if one.item == Item.ALLOWED_BRICK.value)
        return sum(int(line.quantity) for line in lines)

    @property
    def number(self) -> int:
        """How many further bricks were found."""
        return sum(len(marks) for marks in self.further.values())

    def notes(self) -> Iterator[str]:
        """Say what becomes of the allowance."""
        if not self.allowed or not self.number:
            return
        stands = rate_stands(
            Decimal(self.allowed), Decimal(self.number), review_from_percent=REVIEW_FROM_PERCENT
        )
        if not stands and (self.number > self.allowed or self.all_found):
            allowed = counted(self.allowed, "further brick")
            were = "was" if self.allowed == 1 else "were"
            found = f"{self.number} {'was' if self.number == 1 else 'were'} found"
            yield (
                f"{allowed} {were} allowed for and {found}: a fifth or more apart, so the rate is "
                "open to review by either side."
            )

    def _then(self, elevation: str) -> Elevation | None:
        return next((one for one in self.then.survey.elevations if one.id == elevation), None)


def _further_marks(before: Elevation | None, now: Elevation) -> tuple[str, ...]:
    told = before.bricks if before is not None else ()
    known = {(one.course, one.place) for one in told if one.treatment is not Treatment.LEAVE}
    return tuple(
        _mark(now.id, one)
        for one in now.bricks
        if one.treatment is Treatment.REPLACE and (one.course, one.place) not in known
    )


def _mark(elevation: str, brick: CrackedBrick) -> str:
    return f"{elevation}/brick/{brick.course}/{brick.place}"


def _as_sold(
    charged: Offer, whole: Offer, seen: _Seen, reviewed_rate: Decimal | None
) -> Iterator[Sold]:
    """Yield the lines as they are now; further bricks point at the bricks that were found."""
    further = Item.ALLOWED_BRICK.value
    yield from (sold(line) for line in charged.lines if line.item != further)
    found = tuple(mark for marks in seen.further.values() for mark in marks)
    for line in (sold(line) for line in whole.lines if line.item == further):
        rate = line.rate if reviewed_rate is None else reviewed_rate
        amount = Money.of(rate * line.quantity)
        yield replace(line, rate=rate, amount=amount, marks=found or line.marks)


def _changes(
    before: Mapping[Key, Sold], now: Mapping[Key, Sold], rates: _Rates
) -> Iterator[Valued]:
    """Yield what differs: what is there now in its order, then what is left out."""
    for key, line in now.items():
        was = before.get(key)
        quantity, amount = (was.quantity, was.amount) if was else (Decimal(0), NOTHING)
        if line.quantity != quantity or line.amount != amount:
            yield rates.valued(line, was=quantity, now=line.quantity, amount=line.amount - amount)
    for key, line in before.items():
        if key not in now:
            yield rates.valued(line, was=line.quantity, now=Decimal(0), amount=-line.amount)


class _Rates:
    """On what footing each line is valued."""

    def __init__(self, contract: Contract, borrowed: frozenset[str]) -> None:
        self._contract, self._borrowed = contract, borrowed
        self._accepted = {key_of(line) for line in contract.lines}
        self._offered = {key_of(line) for line in contract.offered}
        self._items = {line.item for line in (*contract.lines, *contract.offered)}

    def valued(self, line: Sold, *, was: Decimal, now: Decimal, amount: Money) -> Valued:
        """Return a change of one line with its basis."""
        basis, why = self._basis(line)
        return Valued(
            line.item,
            line.group,
            line.description,
            line.unit,
            line.rate,
            was,
            now,
            amount,
            basis,
            why,
            line.marks,
        )

    def notes(self) -> Iterator[str]:
        """Say what is taken from rates of today."""
        if self._borrowed:
            yield "Work the quotation had no rate for is priced at our rates of today."

    def _basis(self, line: Sold) -> tuple[ValuedBy, str]:
        number, key = self._contract.quotation, key_of(line)
        if line.item == Item.ALLOWED_BRICK.value:
            is_promised = key in self._accepted or line.rate <= self._contract.further_brick.pounds
            why = (
                f"the rate for further bricks in {number}"
                if is_promised
                else "the rate as reviewed"
            )
            return ValuedBy.PROVISIONAL_QUANTITY, why
        if key in self._accepted:
            return ValuedBy.CONTRACT_RATE, f"the rate in {number}"
        if key in self._offered:
            return ValuedBy.CONTRACT_RATE, f"the rate of another choice in {number}"
        if line.item in self._items - self._borrowed:
            return ValuedBy.PRO_RATA, f"built up as the rate in {number}, for other conditions"
        is_old = line.item not in self._borrowed
        why = f"from the price list behind {number}" if is_old else "our rate of today"
        return ValuedBy.FAIR_RATE, why


def _priced(
    work: Measure, contract: Contract, book: PriceBook, today: PriceBook | None
) -> tuple[Offer, frozenset[str]]:
    """Return the work priced, and what had to be taken from rates of today."""
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
