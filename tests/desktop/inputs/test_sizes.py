"""What people say for a size, one saying a row, and what must never be guessed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.desktop.inputs.sizes import UNITS, Size, is_other_decimal, understood

SAYINGS = [
    # metres
    ("1.5m", 1500, "mm", False),
    ("1.5 m", 1500, "mm", False),
    ("2 metres", 2000, "mm", False),
    ("two metres", 2000, "mm", False),
    ("a metre", 1000, "mm", False),
    ("about a metre and a half", 1500, "mm", True),
    ("one and a half metres", 1500, "mm", False),
    ("two and a half metres", 2500, "mm", False),
    ("half a metre", 500, "mm", False),
    ("a quarter of a metre", 250, "mm", False),
    ("three quarters of a metre", 750, "mm", False),
    ("a metre and a quarter", 1250, "mm", False),
    ("½ m", 500, "mm", False),
    ("1½ m", 1500, "mm", False),
    ("1 1/2 metres", 1500, "mm", False),
    ("a couple of metres", 2000, "mm", True),
    ("nearly 2 m", 2000, "mm", True),
    ("just over a metre", 1000, "mm", True),
    ("roughly 1.2 metres long", 1200, "mm", True),
    ("a metre or so", 1000, "mm", True),
    ("1 m 20 cm", 1200, "mm", False),
    ("a good metre", 1000, "mm", True),
    # smaller
    ("2 mm", 2, "mm", False),
    ("2mm", 2, "mm", False),
    ("2.5 mm", 2.5, "mm", False),
    ("two mil", 2, "mm", False),
    ("half a millimetre", 0.5, "mm", False),
    ("1/2 mm", 0.5, "mm", False),
    ("30 cm", 300, "mm", False),
    ("thirty centimetres", 300, "mm", False),
    ("1500 mm", 1500, "mm", False),
    ("1,500 mm", 1500, "mm", False),
    ("2 to 3 mm", 2.5, "mm", True),
    ("2-3 mm", 2.5, "mm", True),
    ("2 or 3 mm", 2.5, "mm", True),
    ("2mm to 3mm", 2.5, "mm", True),
    ("it's about 2 mm", 2, "mm", True),
    ("~3mm", 3, "mm", True),
    # feet and inches
    ("six foot", 1828.8, "mm", False),
    ("6 ft", 1828.8, "mm", False),
    ("6 feet", 1828.8, "mm", False),
    ("4'6\"", 1371.6, "mm", False),
    ("4’6”", 1371.6, "mm", False),
    ("4 ft 6 in", 1371.6, "mm", False),
    ("four foot six", 1371.6, "mm", False),
    ("a foot and a half", 457.2, "mm", False),
    ("about six foot", 1828.8, "mm", True),
    ("half an inch", 12.7, "mm", False),
    ("half-inch", 12.7, "mm", False),
    ("quarter inch", 6.35, "mm", False),
    ("1/8 inch", 3.175, "mm", False),
    ("an eighth", None, "", False),
    ("a yard", 914.4, "mm", False),
    ('8"', 203.2, "mm", False),
    ("3'", 914.4, "mm", False),
    ("two and a half foot", 762, "mm", False),
    # courses and bricks
    ("18 courses", 18, "course", False),
    ("18 c", 18, "course", False),
    ("18c", 18, "course", False),
    ("about eighteen courses", 18, "course", True),
    ("12 bricks", 12, "brick", False),
    ("about twelve bricks", 12, "brick", True),
    ("a dozen bricks", 12, "brick", True),
    ("half a dozen bricks", 6, "brick", True),
    ("twenty-five courses", 25, "course", False),
    ("ten to twelve bricks", 11, "brick", True),
    ("a brick and a half", 1.5, "brick", False),
    ("brick and a half", 1.5, "brick", False),
    ("half a brick", 0.5, "brick", False),
    ("a couple of bricks", 2, "brick", True),
    ("no bricks", 0, "brick", False),
    ("12 rows", 12, "course", False),
    # things held against it
    ("a pound coin", 2.8, "mm", True),
    ("hairline", 0.1, "mm", True),
    ("a hair line", 0.1, "mm", True),
    ("£1 coin", 2.8, "mm", True),
    ("pound coin", 2.8, "mm", True),
    ("a bank card", 0.76, "mm", True),
    ("about as wide as a pencil", 7, "mm", True),
    ("the thickness of a coin", 2.8, "mm", True),
    ("a finger", 15, "mm", True),
    # plain numbers
    ("three", 3, "nr", False),
    ("1500", 1500, "nr", False),
    ("a couple", 2, "nr", True),
    ("two cracks", 2, "nr", False),
    ("1.5", 1.5, "nr", False),
    ("twelve", 12, "nr", False),
    ("a hundred", 100, "nr", False),
    ("none", 0, "nr", False),
]
REFUSED = [
    "", "   ", "1,5", "1,5 m", "1,50 m", "12,5 mm", "1.2.3 m", "1.", "1..5", "long", "big", "-5 mm",
    "2 - m", "5 parsecs", "metre of brick", "1 to 9 m", "3 to 2 mm", "2 mm 3 mm", "6 ft 14 in",
    "1 m 20", "2 + 2", "1e5", "NaN", "inf", "٣ mm", "<b>2 mm</b>", "2 mm 4 courses",
    "more than 2 m",
    "over 2 m", "less than 2 mm", "up to 3 mm", "at least a metre", "5/2 m", "1/0 m", "x" * 200,
    "1,00,000", "mm 2", "18 courses 6", "twelve twelve", "a pound coin won't go in", "2 % m",
]  # fmt: skip


@pytest.mark.parametrize(("said", "amount", "unit", "about"), SAYINGS)
def test_what_people_say_is_understood(said, amount, unit, about):
    expected = None if amount is None else Size(amount, unit, about)
    assert understood(said) == expected


@pytest.mark.parametrize("said", REFUSED)
def test_what_is_in_doubt_is_refused(said):
    assert understood(said) is None


@pytest.mark.parametrize(
    ("said", "decimal", "amount"),
    [
        ("1,5 m", ",", 1500),
        ("1.500 mm", ",", 1500),
        ("1.5 m", ",", None),
        ("12.5", ",", None),
        ("1,500 mm", ".", 1500),
        ("1,5 m", ".", None),
    ],
)
def test_a_number_follows_the_decimal_sign_of_its_language(said, decimal, amount):
    found = understood(said, decimal=decimal)
    assert (None if found is None else found.amount) == amount
    assert is_other_decimal(said, decimal=decimal) is (amount is None)


@given(st.text(max_size=120), st.sampled_from(".,"))
def test_nothing_typed_is_too_much(text, decimal):
    found = understood(text, decimal=decimal)
    assert found is None or (found.unit in {"mm", "course", "brick", "nr"} and found.amount >= 0)


LOOSE = "a an and half quarter of to or - about six 2 1.5 1,5 1/2 dozen hundred card"
SPOKEN = st.sampled_from([*UNITS, *LOOSE.split()])


@given(st.lists(SPOKEN, max_size=7).map(" ".join), st.sampled_from(".,"))
def test_no_order_of_words_is_too_much(text, decimal):
    found = understood(text, decimal=decimal)
    assert found is None or found.amount >= 0


@given(
    st.decimals(min_value=0, max_value=99999, places=2),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(["{n} {unit}", "about {n} {unit}", "{n}{unit}"]),
    st.sampled_from(".,"),
)
def test_a_figure_with_a_unit_is_that_figure_in_that_unit(number, unit, form, decimal):
    said = form.format(n=str(number).replace(".", decimal), unit=unit)
    name, size = UNITS[unit]
    expected = float(number) * float(size)
    assert understood(said, decimal=decimal) == Size(
        pytest.approx(expected, abs=0.00051), name, "about" in said
    )


@given(st.decimals(min_value=0, max_value=999, places=1), st.sampled_from(["m", "mm", "ft"]))
def test_the_other_decimal_sign_is_never_another_value(number, unit):
    assert understood(f"{str(number).replace('.', ',')} {unit}") is None
