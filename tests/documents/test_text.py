"""Text from outside prints as it was typed, whatever it is, and opens nothing."""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Iterator
from dataclasses import replace

import pytest

from estimator.documents import tables
from estimator.documents.quotation import render
from estimator.documents.styles import register_fonts
from estimator.documents.text import SUBSTITUTE, clean, fitted, one_line, pieces
from estimator.pricing.offer import Group
from estimator.quoting.quotation import Quotation
from estimator.units import Quantity, Unit
from tests.documents import made_up
from tests.documents.reading import flat, pages

KEPT = (
    "R&D; A&B", "a <foo> b", "John <john@example.com>", "<!-- c -->z", "5 x 6 <br> next",
    "an unclosed <b>", "</para>", "&amp; &lt; &#65;", "<img src='/etc/passwd'/>",
    "<img src=\"http://example.com/a.png\"/>", "<a href='javascript:x'>y</a>", "{braces} {0}",
    "%s %d %%", "back\\slash \\n", "quote \" and '", "a\ttab", "two\nlines", "three\r\nlines",
    "no\u00a0break", "soft\u00adhyphen", "łódź, Ærø, ŻÓŁĆ, Ελλάδα, Москва",
    "½ ¼ ¾ × ÷ ± ≤ ≥ ° µ £ € ²",
    "e\u0301 is é", "\u202eright to left\u202c", "\u2066isolate\u2069", "שלום", "مرحبا", "日本語",
    "🧱🏠👷🏽‍♀️", "\x00\x07\x1b[31m", "\ud800", "\ufffe\uffff", "\U0010ffff", "=1+1", "@SUM(A1)",
    "' OR 1=1 --", "<font size=100000>big</font>", "<b>" * 40, "]]>", "<?xml version='1.0'?>",
    "a" * 300, "-" * 300, " " * 50 + "x", ".", "…", "fi fl ffi", "x\u2028y\u2029z",
    "\u200bzero\u200b",
)  # fmt: skip
"""Forty-eight strings that have broken somebody's paper."""
ALPHABET = "abc XYZ 0189 <>&\"'/\\{}%;:#!?éñøß£€½²–—…“”\n\t\u00a0\u202e\u200fשم日🧱\x07\x1b\ud800"


def nasty() -> list[str]:
    """Five hundred strings: the kept ones, random ones, and some up to 20,000 letters."""
    luck = random.Random(7)
    made = ["".join(luck.choices(ALPHABET, k=luck.randint(1, 90))) for _ in range(446)]
    long = ["W" * 20_000, "word " * 800, "<b>&" * 900, "é" * 4_000, "a-b/" * 900, "\n" * 99]
    return [*KEPT, *made, *long]


def telling(text: str) -> Quotation:
    """A quotation with a text everywhere somebody may have typed it."""
    quotation = made_up.quotation()
    seen = quotation.survey
    (wall,) = seen.elevations
    customer = replace(seen.customer, name=text, address=(text,), site=(text,))
    survey = replace(
        seen,
        title=text,
        said=text,
        not_seen=text,
        customer=customer,
        elevations=(replace(wall, name=text, ornament=text),),
    )
    firm = replace(quotation.trader, name=text, guarantee=text, complaints=text, email=text)
    return replace(quotation, survey=survey, trader=firm, number=text)


def with_lines(texts: list[str]) -> Quotation:
    """A quotation whose lines, customer and notes are these texts."""
    quotation = made_up.quotation()
    lines = [
        made_up.extra(f"own{n}", Group.BEDS, text, "1.00", Quantity.of(1, Unit.METRE))
        for n, text in enumerate(texts)
    ]
    offer = made_up.offer_of(lines, quotation.options[0].offer.scope)
    return replace(quotation, options=(replace(quotation.options[0], offer=offer),))


def body(paper: bytes) -> str:
    """The text of all pages without head and foot, and without white space."""
    shown = []
    for number, text in enumerate(pages(paper), 1):
        flattened = flat(text)
        if number > 1:
            flattened = flattened.split(flat("fixed for the work described"), 1)[1]
        shown.append(re.split(rf"page{number}of\d+Quotation", flattened)[0])
    return "".join(shown)


@pytest.mark.parametrize("start", range(0, 500, 100))
def test_five_hundred_nasty_strings_print_what_the_font_has(start: int) -> None:
    texts = nasty()[start : start + 100]
    whole = body(render(with_lines(texts)))
    for text in texts:
        for piece in pieces(clean(text), tables.LONGEST_CELL):
            assert flat(piece) in whole, text[:60]


@pytest.mark.parametrize("text", [*KEPT[:12], KEPT[28], "W" * 2_000, "word " * 600, "x\n" * 99])
def test_a_nasty_string_everywhere_makes_a_paper(text: str) -> None:
    assert render(telling(text)).startswith(b"%PDF-")


@pytest.mark.parametrize("text", ["W" * 20_000, "é <b> & " * 2_500])
def test_notes_of_20000_letters_print_whole(text: str) -> None:
    quotation = made_up.quotation()
    survey = replace(quotation.survey, said=text)
    assert flat(clean(text)) in body(render(replace(quotation, survey=survey)))


@pytest.fixture
def opened() -> Iterator[list[str]]:
    """What is opened on disk or network while the test runs."""
    watched: list[str] = []
    watching = [True]

    def watch(event: str, values: tuple[object, ...]) -> None:
        if watching[0] and event in ("open", "socket.connect", "socket.getaddrinfo"):
            watched.append(f"{event} {values[0]}")

    sys.addaudithook(watch)
    yield watched
    watching[0] = False


def test_nothing_is_opened_because_of_data(opened: list[str]) -> None:
    render(made_up.quotation())
    opened.clear()
    render(telling("<img src='/etc/hostname'/><a href='http://example.com'>x</a>"))
    assert not [one for one in opened if "/etc" in one or "socket" in one]
    assert len(opened) == 0


def test_every_text_is_made_of_signs_the_font_has() -> None:
    known = register_fonts() | {ord("\n")}
    for text in nasty():
        assert {ord(one) for one in clean(text)} <= known


def test_what_the_font_lacks_is_seen_to_be_missing() -> None:
    assert clean("日本") == SUBSTITUTE * 2
    assert clean("a\u202eb\x07c") == "abc"
    assert clean("e\u0301") == "é"


def test_a_line_is_cut_short_only_where_it_must() -> None:
    assert fitted("Tarn & Pike", "SourceSansPro-Regular", 10, 200) == "Tarn & Pike"
    assert fitted("W" * 300, "SourceSansPro-Regular", 10, 100).endswith("…")
    assert one_line(" a \n b ") == "a b"


def test_pieces_lose_nothing() -> None:
    for text in nasty():
        parts = pieces(clean(text), 50)
        assert all(len(part) <= 50 for part in parts)
        assert flat("".join(parts)) == flat(clean(text))
