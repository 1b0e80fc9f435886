"""Deeds come back as they were kept."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest

from estimator.contract import keeping
from estimator.contract.account import Paying, Payment
from estimator.contract.contract import Manner
from estimator.contract.deeds import Answered, Deed, HeldThere, Paid, Planned, Struck
from estimator.contract.variation import Standing
from estimator.contract.works import Feature, Held, Plan
from estimator.money import Money
from estimator.notices import UserMistake

DAY = datetime.date(2026, 11, 25)
DEEDS: tuple[Deed, ...] = (
    Answered(
        "a",
        Standing.AGREED,
        "Ines Marlowe",
        Manner.TELEPHONE,
        datetime.datetime(2026, 11, 25, 18, 5, tzinfo=datetime.UTC),
    ),
    Planned(Plan(DAY, ("Ada",), not_before=(("point", DAY),))),
    Paid(Payment(DAY, Money.of("12.05"), Paying.TRANSFER)),
    HeldThere(Held(Feature.DEPTH, "front/bar/1", DAY, "Ada")),
    Struck("a1", "typed twice"),
)


@pytest.mark.parametrize("deed", DEEDS, ids=lambda deed: type(deed).__name__)
def test_a_deed_comes_back_as_it_was_kept(deed: Deed) -> None:
    text = keeping.written(deed)
    assert keeping.read(text) == deed
    assert keeping.written(keeping.read(text)) == text


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        '{"kind":"Unheard"}',
        '{"kind":"Struck","happening":"a1","why":"x","more":1}',
        '{"kind":"Struck","happening":"a1"}',
        '{"kind":"Paid","payment":{"on":"2026-11-25","amount":12.5,"how":"cash"}}',
    ],
)
def test_what_is_no_deed_is_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(UserMistake, match="cannot be read"):
        keeping.read(text)


def test_money_is_kept_as_text() -> None:
    text = keeping.written(Paid(Payment(DAY, Money.of("0.1"), Paying.CASH)))
    assert '"amount":"0.10"' in text
    assert keeping.plain(Decimal("1.50")) == "1.50"
