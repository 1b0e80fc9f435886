"""Names of suppliers, as people type them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.works.suppliers import distinct, folded, tidy


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Bars & Co", "Bars & Co"),
        ("<b>Bars</b>", "<b>Bars</b>"),
        ("\tBars\r\n&\u00a0Co ", "Bars & Co"),
        ("Bars\x00\x1b[31m", "Bars[31m"),
        ("\u202eoC\u202c & \u200bBars\ufeff", "oC & Bars"),
        ("\ud83d half a letter", "half a letter"),
        ("Ba\u0301rs", "B\u00e1rs"),
        ("\u200b \u2066", ""),
    ],
)
def test_what_nobody_can_see_is_left_out_and_the_rest_kept(typed: str, kept: str) -> None:
    assert tidy(typed) == kept


@pytest.mark.parametrize(
    ("one", "other"),
    [("Straße & Söhne", "STRASSE & SÖHNE"), ("Bars & Co", "bars & co"), ("ÇELIK", "çelik")],
)
def test_capitals_make_no_other_name(one: str, other: str) -> None:
    # Unicode Standard, section 3.13, default caseless matching.
    assert folded(one) == folded(other)
    assert distinct([one, other]) == (one,)


def test_names_that_differ_stay_apart() -> None:
    assert distinct(["Bars & Co", "Bars and Co", " "]) == ("Bars & Co", "Bars and Co")


@given(st.text())
def test_tidying_twice_is_tidying_once(typed: str) -> None:
    once = tidy(typed)
    assert tidy(once) == once
    assert once.isprintable()
    assert folded(once) == folded(typed)
