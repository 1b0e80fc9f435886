"""Accepted jobs made from the demo surveys, and variations of them."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from estimator.contract.contract import Cancelling, Contract, Manner
from estimator.contract.frozen import rules_text
from estimator.contract.position import sold
from estimator.contract.so_far import SoFar, Varied
from estimator.contract.valuation import value
from estimator.contract.variation import Standing, Variation
from estimator.contract.works import Plan
from estimator.money import Money
from estimator.pricing.price_book import read
from estimator.pricing.terms import Terms
from estimator.quoting.offering import Practice, prepare
from estimator.quoting.quotation import Option, Trader
from estimator.resources import path
from estimator.survey import survey_file
from estimator.survey.survey import CrackedBrick, SteppedRun, Survey, Treatment
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import Scope

ROOT = Path(__file__).resolve().parents[2]
BOOK = path("price_book.json").read_text(encoding="utf-8")
DAY = datetime.date(2026, 11, 25)
START = datetime.date(2026, 12, 22)
JOBS = ("terrace", "quoin_cavity", "window_lime")


@cache
def survey(name: str) -> Survey:
    """A demo survey."""
    return survey_file.load(ROOT / "demo" / f"{name}.json")


@cache
def option(name: str, scope: str, book: str = BOOK) -> Option:
    """One option of a demo job, priced."""
    quotation = prepare(survey(name), Practice(read(book), shipped(), Trader("Firm")))
    return next(one for one in quotation.options if one.measure.scope.key == scope)


def contract(name: str, scope: str = "local", book: str = BOOK) -> Contract:
    """A contract for one option of a demo job."""
    chosen = option(name, scope, book)
    seen = survey(name)
    return Contract(
        quotation="Q-0001",
        scope=chosen.offer.scope,
        accepted_by="Ines Marlowe",
        how=Manner.SIGNED,
        accepted_on=DAY,
        revision=1,
        survey=survey_file.write(seen),
        book=book,
        rules=rules_text(shipped()),
        terms=Terms.of(seen, read(book), date=DAY),
        net=chosen.offer.net,
        total=chosen.offer.total,
        lines=tuple(sold(line) for line in chosen.offer.lines),
        offered=(),
        further_brick=chosen.offer.further_brick,
        working_days=chosen.offer.working_days,
        materials_cost=Money(0),
        cancelling=Cancelling(notice_given=DAY),
    )


def accepted(name: str, scope: str = "local", book: str = BOOK, plan: Plan | None = None) -> SoFar:
    """A job accepted and planned."""
    return SoFar(contract=contract(name, scope, book), plan=plan or Plan(START, ("Ada", "Ben")))


def varied(
    key: str,
    found: Survey,
    scope: Scope,
    *,
    extra_days: str = "0",
    standing: Standing = Standing.AGREED,
) -> Varied:
    """A variation that changes the wall or the scope."""
    return Varied(
        Variation(
            key=key,
            date=DAY,
            title="Found on site",
            asked_by="found on site",
            found=(),
            reason="",
            lines=(),
            extra_days=Decimal(extra_days),
            scope=scope,
            revision=2,
            survey=survey_file.write(found),
        ),
        standing,
    )


def with_variation(so_far: SoFar, one: Varied) -> SoFar:
    """A job with one more variation."""
    return replace(so_far, variations=(*so_far.variations, one))


def valued(
    so_far: SoFar, seen: Survey, key: str = "a", standing: Standing = Standing.AGREED
) -> Varied:
    """A variation for the wall as found, with every line that changes."""
    assert so_far.contract is not None
    scope = so_far.contract.scope
    made = varied(key, seen, scope, extra_days="0.5", standing=standing)
    lines = value(so_far, seen, scope).lines
    revision = 2 + len(so_far.variations)
    changed = replace(made.variation, lines=lines, revision=revision)
    return replace(made, variation=changed, number=f"V-000{revision - 1}")


def with_a_crack_below() -> Survey:
    """Another crack in lower courses: its bars come first along the wall."""
    seen = survey("quoin_cavity")
    side, *others = seen.elevations
    more = replace(side.cracks[0], id="further", run=SteppedRun(1200, 3, 4))
    side = replace(side, cracks=(*side.cracks, more))
    return replace(seen, elevations=(side, *others))


def with_a_patch(seen: Survey) -> Survey:
    """One more face to patch, somewhere else."""
    side, *others = seen.elevations
    more = CrackedBrick(20, 3, Treatment.PATCH)
    return replace(seen, elevations=(replace(side, bricks=(*side.bricks, more)), *others))


def declined_then_agreed() -> SoFar:
    """A further crack is declined after a patch on the same wall was offered, and agreed."""
    so_far = accepted("quoin_cavity")
    crack = valued(so_far, with_a_crack_below(), "a", Standing.SENT)
    sent = replace(so_far, variations=(crack,))
    patch = valued(sent, with_a_patch(with_a_crack_below()), "b")
    return replace(so_far, variations=(replace(crack, standing=Standing.DECLINED), patch))
