"""Sizes as people say them, read strictly: the size that was meant, or none.

The words are English; figures with mm, cm and m are read in every language, with its own decimal
sign. A number without a unit comes back as a plain number: what it counts is for its question.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from estimator.survey.enquiry import questions

MOST_LETTERS = 80
SPREAD = Fraction(17, 10)
"""Two ends further apart than this are no one size."""
DECIMALS = 3

SIGNS = str.maketrans(
    {
        "’": "'", "‘": "'", "′": "'", "`": "'", "“": '"', "”": '"', "″": '"', "–": "-", "—": "-",
        "‑": "-", "½": " 1/2 ", "¼": " 1/4 ", "¾": " 3/4 ", "⅓": " 1/3 ", "⅔": " 2/3 ",
        "⅛": " 1/8 ", "⅜": " 3/8 ", "⅝": " 5/8 ", "⅞": " 7/8 ", "\u00a0": " ", "\u202f": " ",
        "\u2009": " ", "≈": "~",
    }
)  # fmt: skip
ABOUT = re.compile(
    r"\b(?:about|around|roughly|approximately|approx\.?|maybe|perhaps|probably|say|nearly|almost"
    r"|i (?:think|guess|suppose)|just (?:over|under)|a (?:bit|little|touch) (?:over|under)"
    r"|or so|give or take|a good)\b|~|-?ish\b"
)
FILLERS = re.compile(
    r"\b(?:it is|it's|its|that's|there are|there is|there's|long|wide|tall|high|thick|across|deep"
    r"|as (?:wide|thick) as|the (?:width|thickness) of|only|the)\b"
)
TOKEN = re.compile(r"(\d+/\d+|\d[\d.,]*|[a-z]+|'{2}|['\"])")
BETWEEN = re.compile(r"\s+(?:to|or)\s+|(?<=[\d\w'\"])\s*-\s*(?=\d)")

ONES = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
fifteen sixteen seventeen eighteen nineteen"""
SMALL = {word: number for number, word in enumerate(ONES.split())} | {
    "a": 1,
    "an": 1,
    "no": 0,
    "none": 0,
    "couple": 2,
    "pair": 2,
    "dozen": 12,
}
NAMES_OF_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
TENS = {word: 10 * number for number, word in enumerate(NAMES_OF_TENS.split(), 2)}
PARTS = {"half": Fraction(1, 2), "quarter": Fraction(1, 4), "third": Fraction(1, 3)}
LENGTHS = {
    Fraction(1): "mm mil mill mils millimetre millimetres millimeter millimeters",
    Fraction(10): "cm centimetre centimetres centimeter centimeters",
    Fraction(1000): "m mtr mtrs metre metres meter meters",
    Fraction(254, 10): "in inch inches \" ''",
    Fraction(3048, 10): "ft foot feet '",
    Fraction(9144, 10): "yd yds yard yards",
}
"""Units of length and their names; an inch is 25.4 mm by international agreement of 1959. [mm]"""
UNITS = {name: ("mm", size) for size, names in LENGTHS.items() for name in names.split()} | {
    name: (unit, Fraction(1))
    for unit, names in {
        "course": "c course courses row rows",
        "brick": "b brick bricks",
        "nr": "nr crack cracks",
    }.items()
    for name in names.split()
}
FOOT, INCH = Fraction(3048, 10), Fraction(254, 10)
THINGS = {
    "card": ("card", "bank card", "credit card"),
    "coin": ("coin", "pound coin", "pound"),
    "pencil": ("pencil",),
    "finger": ("finger", "fingertip", "finger tip"),
}
"""Things held against a crack, by the choice of the width that ends at them."""
HAIRLINES = ("hairline", "hair line", "hair", "hairline crack")
HAIRLINE = Fraction(1, 10)
"""BRE Digest 251, category 0: hairline cracks of less than about 0.1 mm. [mm]"""


@dataclass(frozen=True, slots=True)
class Size:
    """A size or a number as it was said."""

    amount: float
    unit: str
    """``mm``, ``course``, ``brick``, or ``nr`` for a number of nothing named."""
    about: bool = False
    """Whether it was said as a rough figure."""


def understood(text: str, *, decimal: str = ".") -> Size | None:
    """Return the size somebody said, or None where it is not beyond doubt.

    Args:
        text: What was typed.
        decimal: The decimal sign of the language, a point or a comma.

    >>> understood("about a metre and a half")
    Size(amount=1500.0, unit='mm', about=True)
    >>> understood("18 courses").unit, understood("1,5 m")
    ('course', None)
    """
    said = text.translate(SIGNS).lower().replace("£1 coin", "pound coin").strip(" !")
    said = re.sub(r"(?<=[a-z])\.$", "", said)
    if not said or len(said) > MOST_LETTERS:
        return None
    plain, rough = ABOUT.subn(" ", said)
    plain = FILLERS.sub(" ", plain)
    plain = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", plain).strip()
    found = _one_or_between(plain, decimal)
    if found is None:
        return None
    amount, unit, is_rough = found
    return Size(round(float(amount), DECIMALS), unit, bool(rough) or is_rough)


def is_other_decimal(text: str, *, decimal: str = ".") -> bool:
    """Return whether a number is written with the decimal sign of another language.

    >>> is_other_decimal("1,5 m"), is_other_decimal("1.5 m"), is_other_decimal("1,500")
    (True, False, False)
    """
    other = "," if decimal == "." else "."
    numbers = re.findall(r"\d[\d.,]*", text)
    return any(other in one.rstrip(".,") and _figure(one, decimal) is None for one in numbers)


Found = tuple[Fraction, str, bool]
"""Amount, unit, and whether it is rough by what was said."""


def _one_or_between(said: str, decimal: str) -> Found | None:
    ends = BETWEEN.split(said)
    if len(ends) == 1:
        return _one(said, decimal)
    if len(ends) != 2:
        return None
    low, high = _one(ends[0], decimal), _one(ends[1], decimal)
    if low is None or high is None:
        return None
    # "2 to 3 mm": the first number takes the unit of the second.
    if low[1] == "nr" and high[1] != "nr":
        unit = _tokens(ends[1])
        low = _one(f"{ends[0]} {unit[-1]}", decimal) if unit else None
    if low is None or low[1] != high[1] or not 0 < low[0] < high[0] <= low[0] * SPREAD:
        return None
    return (low[0] + high[0]) / 2, low[1], True


def _one(said: str, decimal: str) -> Found | None:
    tokens = _tokens(said)
    if not tokens:
        return None
    return _thing(tokens) or _Reader(tokens, decimal).measure()


def _tokens(said: str) -> list[str]:
    """Return numbers, words and marks, or nothing where a sign is left that means nothing here."""
    return [] if TOKEN.sub("", said).strip() else TOKEN.findall(said)


def _thing(tokens: list[str]) -> Found | None:
    name = " ".join(tokens[1:] if tokens[0] in ("a", "an", "one", "my") else tokens)
    if name in HAIRLINES:
        return HAIRLINE, "mm", True
    for key, names in THINGS.items():
        if name in names:
            return Fraction(str(_thickness(key))), "mm", True
    return None


def _thickness(key: str) -> float:
    width = next(one for one in questions() if one.key == "width")
    amount = width.choice(key).amount
    return amount.high if amount is not None else 0.0


def _figure(token: str, decimal: str) -> Fraction | None:
    """Return a number written in figures, thousands in threes, or None."""
    other = "," if decimal == "." else "."
    point, comma = re.escape(decimal), re.escape(other)
    if not re.fullmatch(rf"(?:\d+|\d{{1,3}}(?:{comma}\d{{3}})+)(?:{point}\d+)?", token, re.ASCII):
        return None
    return Fraction(token.replace(other, "").replace(decimal, "."))


class _Reader:
    """Reads tokens from left to right; every one has to have a meaning."""

    def __init__(self, tokens: list[str], decimal: str) -> None:
        self._tokens, self._decimal, self._at = tokens, decimal, 0

    def measure(self) -> Found | None:
        """Return the amount and unit of all tokens together."""
        is_couple = any(token in ("couple", "dozen") for token in self._tokens)
        # "brick and a half" has its one left out.
        number = Fraction(1) if self._next() in UNITS else self._number()
        if number is None:
            return None
        self._take("of", "a", "an")
        unit, size = UNITS.get(self._next(), ("nr", Fraction(1)))
        if unit != "nr" or self._next() in UNITS:
            self._at += 1
        number += self._and_part() or 0
        amount = number * size
        if self._next():
            smaller = self._smaller(size) if unit == "mm" else None
            if smaller is None:
                return None
            amount += smaller
        return None if self._next() else (amount, unit, is_couple)

    def _smaller(self, size: Fraction) -> Fraction | None:
        """Return what comes after feet or metres, as in four foot six [mm]."""
        self._take("and")
        number = self._number()
        if number is None:
            return None
        if not self._next():
            return number * INCH if size == FOOT and number < 12 else None
        unit, step = UNITS.get(self._next(), ("", Fraction(0)))
        self._at += 1
        part = number * step
        return part if unit == "mm" and step < size and part < size else None

    def _number(self) -> Fraction | None:
        token = self._next()
        if token[:1].isdigit():
            self._at += 1
            return self._with_fraction(token)
        part = self._part()
        return part if part is not None else self._spelt()

    def _with_fraction(self, token: str) -> Fraction | None:
        if "/" in token:
            return _ratio(token)
        number = _figure(token, self._decimal)
        if number is not None and number.denominator == 1 and "/" in self._next():
            part = _ratio(self._tokens[self._at])
            self._at += 1
            return None if part is None or part >= 1 else number + part
        return number if number is None else number + (self._and_part() or 0)

    def _part(self) -> Fraction | None:
        """Return half a, a quarter of a, or three quarters of a."""
        start = self._at
        count = 1
        if self._next() in ("a", "one", "three"):
            count = SMALL[self._next()]
            self._at += 1
        name = self._next()
        part = PARTS.get(name.removesuffix("s") if count > 1 else name)
        if part is None:
            self._at = start
            return None
        self._at += 1
        self._take("of")
        if self._take("a", "an") and self._next() == "dozen":
            self._at += 1
            part *= 12
        return part * count

    def _spelt(self) -> Fraction | None:
        """Return a number in words up to a few hundreds."""
        word = self._next()
        if word in TENS:
            self._at += 1
            number = TENS[word]
            if 0 < SMALL.get(self._next(), 0) < 10 and self._next() not in ("a", "an"):
                number += SMALL[self._next()]
                self._at += 1
        elif word in SMALL:
            self._at += 1
            number = SMALL[word]
            if word in ("a", "an", "one") and self._next() in ("couple", "pair", "dozen"):
                number = SMALL[self._next()]
                self._at += 1
        else:
            return None
        if self._take("hundred"):
            number *= 100
        return number + (self._and_part() or Fraction(0))

    def _and_part(self) -> Fraction | None:
        start = self._at
        if self._take("and"):
            part = self._part()
            if part is not None:
                return part
            if "/" in self._next():
                self._at += 1
                return _ratio(self._tokens[self._at - 1])
        self._at = start
        return None

    def _next(self) -> str:
        return self._tokens[self._at] if self._at < len(self._tokens) else ""

    def _take(self, *words: str) -> bool:
        is_there = self._next() in words
        self._at += is_there
        return is_there


def _ratio(token: str) -> Fraction | None:
    above, below = token.split("/")
    return Fraction(int(above), int(below)) if 0 < int(above) < int(below) <= 64 else None
