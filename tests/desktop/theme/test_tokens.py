"""Contrast by WCAG 2.2, success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (borders, 3 to 1).

The formula of relative luminance is the one in the Recommendation's own definitions.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import estimator
from estimator.desktop.theme.tokens import DARK, LIGHT, SCHEMES, Scheme, Tokens

TEXT = (
    *(("ink", ground) for ground in ("paper", "panel", "act_tint")),
    *(("muted", ground) for ground in ("paper", "panel", "act_tint")),
    ("act", "panel"),
    ("act", "paper"),
    ("act", "act_tint"),
    ("on_act", "act"),
    ("caution", "caution_tint"),
    ("stop", "stop_tint"),
    ("done", "panel"),
    ("done", "paper"),
    ("crack", "panel"),
    ("crack", "paper"),
    ("bar", "panel"),
)
SHAPES = (
    ("edge", "panel"),
    ("edge", "paper"),
    ("act", "paper"),
    ("caution", "caution_tint"),
    ("stop", "stop_tint"),
    # Cracks and bars are drawn with a casing in the colour of the panel.
    ("crack", "panel"),
    ("bar", "panel"),
)
HEX = re.compile(r"#[0-9a-fA-F]{6}\b|#[0-9a-fA-F]{3}\b")


def luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_formula_gives_the_published_ends() -> None:
    """Black on white is 21 to 1, and #767676 on white the well-known 4.54 (WebAIM, from memory)."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("pair", TEXT, ids="-".join)
def test_text_can_be_read(tokens: Tokens, pair: tuple[str, str]) -> None:
    assert contrast(getattr(tokens, pair[0]), getattr(tokens, pair[1])) >= 4.5


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("pair", SHAPES, ids="-".join)
def test_shapes_can_be_seen(tokens: Tokens, pair: tuple[str, str]) -> None:
    assert contrast(getattr(tokens, pair[0]), getattr(tokens, pair[1])) >= 3


def test_both_schemes_are_there() -> None:
    assert set(SCHEMES) == set(Scheme)


def test_no_other_file_of_the_desk_holds_a_colour() -> None:
    folder = Path(estimator.__file__).parent / "desktop"
    held = {
        path.name
        for path in folder.rglob("*.py")
        if path.name != "tokens.py" and HEX.search(path.read_text(encoding="utf-8"))
    }
    assert not held
