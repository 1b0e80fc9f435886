"""One wrong cell in a list that is good otherwise, and a part of what must be said of it."""

from __future__ import annotations

COLUMNS = ("Code", "Description", "Unit", "Pack", "Price")
GOOD = (
    ("L1", "Lime mortar", "kg", "25", "9.50"),
    ("S1", "Sharp sand", "kg", "800", "48.00"),
    ("B1", "Facing bricks", "nr", "1000", "1234.50"),
)
"""The last two settle that decimals begin with a point."""

PRICES = (
    ("is-missing", "", "has no price"),
    ("is-blank", "  ", "has no price"),
    ("is-a-word", "POA", "'POA' is no price"),
    ("is-a-sentence", "call us for a price on this one", "is no price"),
    ("is-below-nothing", "-9.50", "a price below nothing"),
    ("has-a-minus-behind", "9.50-", "a price below nothing"),
    ("is-in-brackets", "(9.50)", "a price below nothing"),
    ("is-nothing", "0.00", "a price of nothing"),
    ("is-absurd", "9500000", "costs more than 100,000"),
    ("is-nan", "NaN", "'NaN' is no price"),
    ("is-infinite", "Infinity", "'Infinity' is no price"),
    ("has-an-exponent", "1e5", "'1e5' is no price"),
    ("has-an-underscore", "1_000", "'1_000' is no price"),
    ("is-in-arabic-digits", "٩٫٥٠", "is no price"),
    ("is-in-full-width-digits", "９.５０", "is no price"),
    ("has-two-points", "9.50.00", "is no price"),
    ("has-two-signs", "--9.50", "a price below nothing"),
    ("has-a-unit", "9.50/bag", "is no price"),
    ("is-a-range", "9.50 to 12", "is no price"),
    ("is-a-per-cent", "20%", "'20%' is no price"),
    ("is-too-fine", "0.004", "finer than a penny"),
    ("is-endless", "9" * 60, "is no price"),
    ("is-a-formula", "=9*2", "is no price"),
    ("is-an-error", "#REF!", "'#REF!' is no price"),
    ("is-hex", "0x10", "'0x10' is no price"),
    ("is-in-yen", "¥950", "is no price"),
)
PACKS = (
    ("is-nothing", "0", "a pack of 0 kg is not possible"),
    ("is-below-nothing", "-5", "a pack of -5 kg is not possible"),
    ("is-absurd", "90000000", "is not possible"),
    ("is-a-word", "lots", "'lots' is no pack"),
    ("is-too-fine", "0.00000001", "finer than can be kept"),
    ("is-another-measure", "10 litre", "can be read in two ways"),
    ("is-nan", "NaN", "'NaN' is no pack"),
    ("has-an-exponent", "1e3", "'1e3' is no pack"),
)
UNITS = (
    ("is-unknown", "furlong", "'furlong' is no unit known here"),
    ("is-a-number", "7", "'7' is no unit known here"),
    ("is-a-bag-of-nobody-knows-what", "bag", "of what is not said"),
    ("is-another-pack", "10kg tub", "can be read in two ways"),
    ("is-a-smiley", "☺", "is no unit known here"),
    ("is-very-long", "metre " * 30, "is no unit known here"),
)
TITLES = (
    ("is-missing", "", "has no description"),
    ("has-a-bell", "Lime\x07 mortar", "a letter that cannot be printed"),
    ("has-an-escape", "Lime\x1b[31m mortar", "a letter that cannot be printed"),
    ("is-too-long", "lime " * 120, "has more than 500 letters"),
)
CODES = (
    ("is-doubled", "S1", "has the code 'S1'"),
    ("is-doubled-in-small-letters", "s1", "has the code"),
    ("is-too-long", "L" * 101, "has more than 100 letters"),
    ("has-a-bell", "L\x071", "a letter that cannot be printed"),
)
CASES = {
    "price": (4, PRICES),
    "pack": (3, PACKS),
    "unit": (2, UNITS),
    "description": (1, TITLES),
    "code": (0, CODES),
}
"""Which column is wrong, and how."""
