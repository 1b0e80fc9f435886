"""Hours against the US cost book of 2022, read: square feet or feet in a day of eight hours."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.pricing.outputs import hours_of, taken
from estimator.pricing.price_book import shipped
from estimator.pricing.pricing import price
from estimator.pricing.terms import Terms
from estimator.takeoff.lines import Conditions, Item, Line, Measure
from estimator.takeoff.scope import PANEL
from estimator.units import Quantity, Unit

DAY_HOURS = 8
M2_PER_FT2 = 0.3048**2
FT_PER_M = 1 / 0.3048
JOINT = {
    "stretcher": "17.185",
    "flemish": "18.469",
    "english": "19.111",
    "english_garden": "17.827",
}
"""Joint in a square metre of UK brick [m/m²]."""


def panel(mortar: str, bond: str, square_metres: int = 10) -> Measure:
    """A panel with no slots: every joint raked, the whole area pointed."""
    at = Conditions(mortar=mortar, bond=bond, depth_mm=20, joint_m_per_m2=JOINT[bond])
    joint = Decimal(JOINT[bond]) * square_metres
    lines = (
        Line(Item.RAKE_OUT, "front", Quantity(joint, Unit.METRE), "", (), at),
        Line(
            Item.REPOINT, "front", Quantity(Decimal(square_metres), Unit.SQUARE_METRE), "", (), at
        ),
    )
    return Measure(PANEL, lines, (), (), (), (), ())


@pytest.mark.parametrize(
    ("mortar", "bond", "square_feet"),
    # 04 01 20.20: hard mortar, then soft old mortar, read here as lime.
    [
        ("hard cement", "stretcher", 80),
        ("hard cement", "english_garden", 77),
        ("hard cement", "flemish", 70),
        ("hard cement", "english", 65),
        ("lime", "stretcher", 100),
        ("lime", "english_garden", 96),
        ("lime", "flemish", 90),
        ("lime", "english", 82),
    ],
)
def test_hours_of_a_panel(mortar: str, bond: str, square_feet: int) -> None:
    offer = price(panel(mortar, bond), shipped(), Terms(datetime.date(2026, 11, 25)))
    printed = DAY_HOURS / (square_feet * M2_PER_FT2) * 10
    assert float(offer.labour_hours) == pytest.approx(printed, abs=0.01)


@pytest.mark.parametrize(
    ("mortar", "bond", "hours"),
    [("hard cement", "stretcher", 10.76), ("lime", "flemish", 9.57)],
)
def test_ten_square_metres(mortar: str, bond: str, hours: float) -> None:
    offer = price(panel(mortar, bond), shipped(), Terms(datetime.date(2026, 11, 25)))
    assert float(offer.labour_hours) == pytest.approx(hours, abs=0.02)


def test_cutting_eight_metres_of_slot() -> None:
    # 04 01 20.41: 240 ft of bed joint cut in a day.
    book = shipped()
    first, *_rest = taken(book.output(Item.CUT_SLOT), book.repointing, Conditions(depth_mm=35))
    assert float(first.hours) * 8 == pytest.approx(DAY_HOURS / 240 * FT_PER_M * 8, abs=0.005)
    assert float(first.hours) * 8 == pytest.approx(0.875, abs=0.005)


def test_paste_and_rod() -> None:
    # 04 01 20.41: cut 0.109, clean and mask 0.0105, paste and ¼ in rod 0.109 h/m.
    book = shipped()
    cited = [
        step.hours
        for item in (Item.CUT_SLOT, Item.SET_BAR)
        for step in taken(book.output(item), book.repointing, Conditions())
        if step.source == "us_cost_book"
    ]
    assert float(sum(cited)) == pytest.approx(0.23, abs=0.005)


def test_a_stitch_on_a_small_job() -> None:
    # 0.4 to 0.6 h a stitch of a metre, before setting up and pointing: a guess of the trade.
    book = shipped()
    hours = sum(
        hours_of(book.output(item), book.repointing, Conditions(depth_mm=35))
        for item in (Item.CUT_SLOT, Item.SET_BAR)
    )
    assert Decimal("0.4") <= hours <= Decimal("0.6")


@pytest.mark.parametrize(
    ("mortar", "low", "high"),
    # Hours to replace a single brick: recalled or guessed, no printed source.
    [("lime", "0.5", "1.0"), ("hard cement", "0.75", "1.5")],
)
def test_hours_of_a_brick(mortar: str, low: str, high: str) -> None:
    book = shipped()
    at = Conditions(mortar=mortar)
    hours = hours_of(book.output(Item.REPLACE_BRICK), book.repointing, at)
    assert Decimal(low) <= hours <= Decimal(high)


def test_harder_mortar_never_goes_quicker() -> None:
    book = shipped()
    for item, output in book.outputs.items():
        at = Conditions(bond="flemish", depth_mm=25)
        hours = [
            hours_of(output, book.repointing, replace(at, mortar=mortar))
            for mortar in ("lime", "cement-lime", "hard cement")
        ]
        assert hours == sorted(hours), item
