"""Small walls by chance, contracts for them, and what came of them; with prices worked out apart.

``priced_now`` says what a wall as found comes to by the rules of a contract, by a way of its own:
it takes marked bricks off the wall and prices the rest, and knows nothing of valuations.
"""

from __future__ import annotations

import datetime
import random
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator import resources
from estimator.contract.contract import Contract, Manner, Sold
from estimator.contract.deeds import Accepted, Answered, Deed, Drafted, Happening, Sent
from estimator.contract.frozen import rules_text
from estimator.contract.so_far import SoFar, so_far
from estimator.contract.variation import Standing, Variation
from estimator.money import Money, total
from estimator.pricing import price_book
from estimator.pricing.offer import Offer, OfferLine
from estimator.pricing.pricing import price
from estimator.pricing.terms import Terms
from estimator.survey import survey_file
from estimator.survey.survey import (
    Area,
    Basis,
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    Mortar,
    Party,
    Site,
    SteppedRun,
    StraightRun,
    Survey,
    ThinBed,
    Treatment,
)
from estimator.takeoff.lines import Item, Measure
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import changed, shipped
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT, Scope

BOOK = resources.path("price_book.json").read_text(encoding="utf-8")
DAY = datetime.date(2026, 11, 25)
NOON = datetime.datetime(2026, 12, 1, 12, tzinfo=datetime.UTC)
RATES = price_book.read(BOOK)
RULES = changed(shipped(), stock_lengths_mm=RATES.bar_lengths_mm)
SCOPES = (LOCAL, PANEL, REPOINT)
WIDTH_MM, COURSES = 2250, 16
FURTHER = Item.ALLOWED_BRICK.value


# -- walls


def crack(chance: random.Random, name: str) -> Crack:
    """A short crack of any kind."""
    x, course = chance.randrange(225, WIDTH_MM - 450, 45), chance.randint(2, 8)
    runs = (
        SteppedRun(x, course, chance.randint(2, 6)),
        StraightRun(x, course, chance.randint(2, 7)),
        BedRun(course, x, x + chance.randrange(200, 700, 50)),
    )
    return Crack(name, chance.choice(runs), chance.choice((1.0, 2.0, 4.0)))


def brick(chance: random.Random) -> CrackedBrick:
    """A cracked brick, most often to be replaced."""
    treatment = chance.choice((*(Treatment.REPLACE,) * 4, *Treatment))
    half = treatment is Treatment.REPLACE and chance.random() < 0.1
    return CrackedBrick(chance.randint(2, 14), chance.randint(2, 8), treatment, half)


def thin_bed(chance: random.Random) -> ThinBed:
    """A stretch of bed thinner than the rest."""
    left = chance.randrange(0, 1500, 100)
    return ThinBed(chance.randint(2, 12), left, left + chance.choice((400, 700)), 6.0)


def bricks(chance: random.Random, most: int) -> tuple[CrackedBrick, ...]:
    """Some bricks, each marked once."""
    found = [brick(chance) for _one in range(chance.randint(0, most))]
    return tuple({(one.course, one.place): one for one in found}.values())


def side(chance: random.Random, name: str = "front") -> Elevation:
    """A small wall with whatever is on it."""
    cracks = tuple(crack(chance, f"c{n}") for n in range(chance.choice((0, 1, 1, 1, 2))))
    area = Area("panel", ((450, 300), (1350, 300), (1350, 900), (450, 900)))
    return Elevation(
        name,
        name.title(),
        ((0, 0), (WIDTH_MM, 0), (WIDTH_MM, COURSES * 75), (0, COURSES * 75)),
        Brickwork(mortar=chance.choice(tuple(Mortar))),
        cracks=cracks,
        bricks=bricks(chance, 3),
        hidden_bricks=float(chance.choice((0, 0, 1, 2, 5))),
        areas=(area,) if chance.random() < 0.3 else (),
        thin_beds=tuple(thin_bed(chance) for _one in range(chance.choice((0, 0, 1)))),
    )


def as_found(chance: random.Random, before: Elevation) -> Elevation:
    """The same wall once it is opened: a few things otherwise than they were told."""
    now = before
    if chance.random() < 0.6:
        known = {(one.course, one.place): one for one in before.bricks}
        more = {(one.course, one.place): one for one in bricks(chance, 5)}
        kept = {place: one for place, one in known.items() if chance.random() < 0.8}
        now = replace(now, bricks=tuple({**more, **kept}.values()))
    if chance.random() < 0.4:
        now = replace(now, thin_beds=(*now.thin_beds, thin_bed(chance)))
    if chance.random() < 0.4:
        kept_cracks = now.cracks[: chance.randint(0, len(now.cracks))]
        now = replace(
            now, cracks=(*kept_cracks, crack(chance, f"further{chance.randrange(10**9)}"))
        )
    if chance.random() < 0.1:
        now = replace(now, brickwork=replace(now.brickwork, mortar=chance.choice(tuple(Mortar))))
    return now


def survey(*sides: Elevation) -> Survey:
    """A survey of some sides."""
    return Survey("T-1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), sides)


# -- contracts


def priced(wall: Survey, scope: Scope) -> Offer:
    """A wall at the shipped rates and rules."""
    return price(measured(wall, scope), RATES, terms(wall))


def measured(wall: Survey, scope: Scope) -> Measure:
    """A wall by the shipped rules."""
    return measure(wall, scope, RULES)


def terms(wall: Survey) -> Terms:
    """The terms that follow from a wall."""
    return Terms.of(wall, RATES, date=DAY)


def sold(line: OfferLine) -> Sold:
    """A line of an offer as a contract keeps it."""
    return Sold(
        *(line.item, line.group, line.description, line.quantity.unit, line.rate),
        *(line.quantity.amount, line.amount, line.marks),
    )


def contract(wall: Survey, scope: Scope = LOCAL, others: Iterable[Scope] = ()) -> Contract:
    """A contract for one choice, others offered beside it."""
    offer = priced(wall, scope)
    return Contract(
        quotation="Q-0001",
        scope=scope,
        accepted_by="Ines Marlowe",
        how=Manner.SIGNED,
        accepted_on=DAY,
        revision=1,
        survey=survey_file.write(wall),
        book=BOOK,
        rules=rules_text(shipped()),
        terms=terms(wall),
        net=offer.net,
        total=offer.total,
        lines=tuple(map(sold, offer.lines)),
        offered=tuple(sold(line) for one in others for line in priced(wall, one).lines),
        further_brick=offer.further_brick,
        working_days=offer.working_days,
        materials_cost=Money(0),
    )


def answered(
    given: Contract, *told: tuple[Variation, Standing], order: Iterable[int] | None = None
) -> SoFar:
    """What a job has come to once all variations were drawn up and sent, and then answered."""
    deeds: list[Deed] = [Accepted(given)]
    for number, (variation, _standing) in enumerate(told, 1):
        deeds.append(Drafted(variation))
        deeds.append(Sent(variation.key, f"V-{number:04d}", DAY, Manner.EMAIL))
    for place in order if order is not None else range(len(told)):
        variation, standing = told[place]
        if standing not in (Standing.SENT, Standing.DRAFTED):
            at = NOON + datetime.timedelta(hours=len(deeds))
            deeds.append(Answered(variation.key, standing, "Ines Marlowe", Manner.EMAIL, at))
    return so_far(Happening(str(place), NOON, deed) for place, deed in enumerate(deeds))


# -- what a wall as found comes to, worked out apart


@dataclass(frozen=True, slots=True)
class PricedNow:
    """What one side as found comes to at the rates of a contract."""

    lines: tuple[Sold, ...]
    further: int
    """Bricks charged at the promised rate."""

    @property
    def net(self) -> Money:
        """Before tax."""
        return total(line.amount for line in self.lines)


def priced_now(given: Contract, then: Elevation, now: Elevation, scope: Scope) -> PricedNow:
    """What one side as found comes to, by the promise of a rate for each further brick."""
    known = {(one.course, one.place) for one in then.bricks if one.treatment is not Treatment.LEAVE}
    further = {
        (one.course, one.place)
        for one in now.bricks
        if one.treatment.value == "replace"
        and not one.half
        and (one.course, one.place) not in known
    }
    rest = tuple(one for one in now.bricks if (one.course, one.place) not in further)
    allowed = sum(int(line.quantity) for line in given.lines if line.item == FURTHER)
    number = max(len(further), int(then.hidden_bricks))

    def wall(hidden: int) -> Survey:
        return survey(replace(now, bricks=rest, hidden_bricks=float(hidden)))

    is_alone = not any(line.item == FURTHER for line in priced(wall(number), scope).lines)
    if further and is_alone:
        offer = priced(survey(replace(now, hidden_bricks=0.0)), scope)
        return PricedNow(tuple(map(sold, offer.lines)), 0)
    besides = priced(wall(min(number, allowed)), scope).lines
    lines = [sold(line) for line in besides if line.item != FURTHER]
    for line in priced(wall(number), scope).lines:
        if line.item == FURTHER:
            rate = min(line.rate, given.further_brick.pounds)
            amount = Money.of(rate * Decimal(number))
            lines.append(replace(sold(line), rate=rate, amount=amount))
    return PricedNow(tuple(lines), number)
