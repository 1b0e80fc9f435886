"""Variations, provisional sums, daywork and contract sums against worked figures."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract import drafting
from estimator.contract.contract import Contract
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.so_far import SoFar
from estimator.contract.sums import price_of, running
from estimator.contract.valuation import value
from estimator.contract.variation import Standing, Valued, ValuedBy, Variation
from estimator.money import Money
from estimator.pricing.offer import Group
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.takeoff.scope import LOCAL
from estimator.units import Unit
from tests.contract import made_up
from tests.takeoff.walls import upright, wall


def contract(net: str = "3480.00") -> Contract:
    """A contract over a round sum, VAT at 20 %."""
    given = made_up.contract(made_up.survey(wall()))
    amount = Money.of(net)
    return replace(given, net=amount, total=amount + amount.times(Decimal("0.2")), lines=())


def variation(key: str, title: str, *lines: Valued) -> Variation:
    day = datetime.date(2026, 12, 1)
    return Variation(
        *(key, day, title, "found on site", (), "", lines, Decimal(0), LOCAL, 1, ""),
    )


def extra(title: str, amount: str) -> Valued:
    return drafting.one_sum("own_line", title, Money.of(amount), ValuedBy.FAIR_RATE, "")


def test_the_running_sum() -> None:
    # Worked by hand: 3,480.00 + 412.50 − 150.00 − 600.00 + 538.40 = 3,680.90, 5.77 % more; VAT at
    # 20 % 736.18; 4,417.08 in all. The shape is JCT's: omit the provisional sum, add the actual.
    given = contract()
    drain = drafting.provisional_sum("Drain", allowed=Money.of(600), actual=Money.of("538.40"))
    told = (
        variation("a", "More stitching", extra("Stitching", "412.50")),
        variation("b", "No gate pier", extra("Gate pier", "-150.00")),
        variation("c", "The drain as it came to", *drain),
        variation("d", "Not wanted", extra("Coping", "999.00")),
    )
    standings = (Standing.AGREED, Standing.AGREED, Standing.AGREED, Standing.DECLINED)
    done = made_up.answered(given, *zip(told, standings, strict=True))
    assert str(done.net) == "3680.90"
    assert round((done.net.pence / given.net.pence - 1) * 100, 2) == 5.77
    price = price_of(given, done.net)
    assert (str(price.tax), str(price.total)) == ("736.18", "4417.08")
    sums = running(done, "c")
    assert (str(sums.before.net), str(sums.change.net), str(sums.after.net)) == (
        "3742.50",
        "-61.60",
        "3680.90",
    )
    assert str(sums.change.tax) == "-12.32"
    assert sums.after == price


# Worked by hand: 11 bricks at 18.50; 2.4 m more at 46.00.
@pytest.mark.parametrize(
    ("rate", "more", "amount"), [("18.50", "11", "203.50"), ("46.00", "2.4", "110.40")]
)
def test_more_of_a_line_at_its_rate(rate: str, more: str, amount: str) -> None:
    line = Valued(
        *("x", Group.BRICKS, "Bricks", Unit.NUMBER, Decimal(rate)),
        *(Decimal(0), Decimal(more), Money.of(Decimal(rate) * Decimal(more))),
        ValuedBy.CONTRACT_RATE,
    )
    done = made_up.answered(contract(), (variation("a", "More", line), Standing.AGREED))
    assert str(done.net - contract().net) == amount


def test_eleven_further_bricks_at_a_promised_rate() -> None:
    # Worked by hand: 11 × 18.50 = 203.50, and nothing else is charged for them.
    crack = upright("a", 1120)
    before = wall(crack)
    given = replace(made_up.contract(made_up.survey(before)), further_brick=Money.of("18.50"))
    bricks = tuple(CrackedBrick(course, 12, Treatment.REPLACE) for course in range(5, 16))

    (line,) = value(
        SoFar(contract=given), made_up.survey(replace(before, bricks=bricks)), LOCAL
    ).lines
    assert (line.now, str(line.rate), str(line.amount)) == (11, "18.50", "203.50")


# Worked by hand: 240 bricks allowed at 480 a thousand and invoiced at 620; with 5 % waste; with
# 15 % overhead and profit on top of that.
@pytest.mark.parametrize(
    ("waste", "added", "amount"), [("0", "0", "33.60"), ("5", "0", "35.28"), ("5", "15", "40.57")]
)
def test_bricks_at_another_prime_cost(waste: str, added: str, amount: str) -> None:
    line = drafting.prime_cost_line(
        *(contract(), "Facing bricks", 240),
        allowed=Money.of(480),
        invoiced=Money.of(620),
        waste_percent=Decimal(waste),
        added_percent=Decimal(added),
    )
    assert (str(line.amount), line.basis) == (amount, ValuedBy.PROVISIONAL_SUM)
    assert "480.00" in line.why
    assert "620.00" in line.why
    assert ("overhead" in line.why) == (added != "0")


def test_a_daywork_sheet_is_charged_as_the_definition_has_it() -> None:
    # Definition of Prime Cost of Daywork, option A, percentages illustrative: 6.5 h at 18.00 and
    # 110 %, materials 84.00 and 15 %, plant 40.00 and 15 %.
    day = datetime.date(2026, 12, 1)
    sheet = DayworkSheet(
        *("d1", "", "Took out an iron cramp"),
        (Hours(day, "Ned Ashby", "bricklayer", Decimal("6.5"), Money.of(18)),),
        (Spent("Dowel and mortar", "", Money.of(84)),),
        (Spent("Core drill", "1 day", Money.of(40)),),
        *map(Decimal, (110, 15, 15)),
    )
    line = drafting.daywork_line(sheet)
    assert (str(line.amount), line.basis, line.change) == ("388.30", ValuedBy.DAYWORK, 1)
