"""Words and lengths in an SVG drawing: escaped in one place, and short.

The library that writes the elements puts text in as it stands, so nothing goes to it unescaped.
"""

from __future__ import annotations

import re
from html import escape
from typing import Any

import svg

from estimator.masonry.region import Point

TEXT_MM, SMALL_MM = 60.0, 36.0
"""Height of lettering on the wall, 3 mm at 1 : 20, and of the note under it; house rule [mm]."""
LETTER = 0.56
"""Width of a letter as a part of its height, a little more than usual type is."""
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Letters that XML 1.0 has no way to write."""


def escaped(text: str) -> str:
    r"""Return a text fit for an element or an attribute, without letters XML cannot hold.

    >>> escaped('Bay <1> & "2"\x07')
    'Bay &lt;1&gt; &amp; &quot;2&quot;'
    """
    return escape(_NO_XML.sub("", text), quote=True)


def words_mm(words: str) -> float:
    """Return how long words are in a drawing [mm].

    >>> words_mm("1200")
    134.4
    """
    return round(LETTER * TEXT_MM * len(words), 3)


def lettering(
    words: str, at: Point, *, anchor: Any = "start", high_mm: float = TEXT_MM
) -> svg.Text:
    """Return words, already escaped, at a place of the sheet.

    >>> lettering("900", (10, 20)).text
    '900'
    """
    return svg.Text(
        text=words,
        x=short(at[0]),
        y=short(at[1]),
        font_family="sans-serif",
        font_size=high_mm,
        text_anchor=anchor,
        fill="#22262B",
    )


def short(value: float) -> float:
    """Return a length to a hundredth of a millimetre, whole ones without a point.

    >>> short(75.0), short(10.128)
    (75, 10.13)
    """
    near = round(value, 2)
    return int(near) if near == int(near) else near
