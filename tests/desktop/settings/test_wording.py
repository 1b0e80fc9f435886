"""How tax, languages and backups are told."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest

from estimator.desktop.settings import wording
from estimator.pricing.tax_habits import SalesTax, TaxHabits

TODAY = datetime.date(2026, 11, 25)


@pytest.mark.parametrize(
    ("habits", "said"),
    [
        (
            TaxHabits(),
            "Registered for VAT (United Kingdom): usually 20 % is added to a price.",
        ),
        (
            TaxHabits(registered=False),
            "Not registered for VAT (United Kingdom): none is added to a price.",
        ),
        (TaxHabits("IE"), "Registered for VAT (Ireland): usually 13.5 % is added to a price."),
        (TaxHabits("US"), "United States: no sales tax is added."),
        (
            TaxHabits("US", sales_tax=SalesTax.LUMP, sales_tax_percent=Decimal("6.5")),
            "United States: sales tax at 6.5 % is paid on materials, inside the price.",
        ),
    ],
)
def test_tax_is_told_in_a_sentence(habits: TaxHabits, said: str) -> None:
    assert wording.tax_sentence(habits, TODAY) == said


def test_backups_are_told_with_the_day_of_the_newest() -> None:
    assert wording.backups_sentence(0, None, TODAY).startswith("No backup yet.")
    noon = datetime.datetime(2026, 11, 25, 12, 5).astimezone()
    assert wording.backups_sentence(2, noon, TODAY) == "2 backups, the newest of today at 12:05."
    later = datetime.date(2026, 12, 1)
    told = wording.backups_sentence(1, noon, later)
    assert told == "1 backup, the newest of 25 November 2026 at 12:05."


def test_english_needs_no_catalogue() -> None:
    assert wording.languages()[0] == "English"
