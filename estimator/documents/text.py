"""The one place where text becomes a paragraph: made printable, then escaped.

A paragraph of the PDF library reads its text as markup, where ``<`` and ``&`` swallow words and a
picture tag opens files. So nothing else makes paragraphs.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Paragraph

from estimator.documents.styles import register_fonts

SUBSTITUTE = "☐"
"""Stands where the font has no sign for a character, so that nothing is lost unseen."""
ELLIPSIS = "…"
LINE_ENDS = re.compile("\r\n|[\r\v\f\x1c-\x1e\x85\u2028\u2029]")
EMPTY_LINES = re.compile("\n{3,}")
LINE = 40
"""Letters a line end counts for when a text is cut into pieces."""
UNSEEN = {"Cc", "Cf"}
"""Kinds of character that show nothing: controls, and marks of direction and joining."""


@lru_cache(maxsize=4096)
def clean(text: str) -> str:
    r"""Return a text of characters that print, its lines ended by a line feed.

    >>> clean("Ines\x07 Marlowe\r\nłódź 🧱")
    'Ines Marlowe\nłódź ☐'
    """
    if text.isascii() and text.isprintable():
        return text
    known = register_fonts()
    shown = []
    for one in _even_lines(unicodedata.normalize("NFC", text)):
        if one == "\n" or (ord(one) in known and one.isprintable()):
            shown.append(one)
        elif one == "\t" or unicodedata.category(one) == "Zs":
            shown.append("\u00a0" if one in "\u00a0\u202f\u2007" else " ")
        elif unicodedata.category(one) not in UNSEEN:
            shown.append(SUBSTITUTE)
    return "".join(shown)


def _even_lines(text: str) -> str:
    """Return a text whose lines end in line feeds, with at most one line left empty between."""
    return EMPTY_LINES.sub("\n\n", LINE_ENDS.sub("\n", text))


def paragraph(text: str, style: ParagraphStyle, *, bullet: str | None = None) -> Paragraph:
    """Return a paragraph that prints a text as it stands."""
    return Paragraph(escape(clean(text)).replace("\n", "<br/>"), style, bulletText=bullet)


def one_line(text: str) -> str:
    """Return a text without line ends, for a single line and for what the file says of itself."""
    return " ".join(clean(text).split())


def fitted(text: str, font: str, size: float, width: float) -> str:
    """Return a text on one line, cut short with an ellipsis where it is too wide.

    Used only for what stands in full elsewhere.
    """
    line = one_line(text)[:400]
    if stringWidth(line, font, size) <= width:
        return line
    while line and stringWidth(line + ELLIPSIS, font, size) > width:
        line = line[:-1]
    return line.rstrip() + ELLIPSIS


def pieces(text: str, most: int) -> list[str]:
    """Return a text in pieces that each fit a table row on one page, cut between words.

    >>> pieces("three short words", 11)
    ['three short', 'words']
    """
    cut = []
    while (at := _cut_at(text, most)) < len(text):
        cut.append(text[:at])
        text = text[at:].lstrip(" \n")
    return [*cut, text]


def _cut_at(text: str, most: int) -> int:
    """Return where a piece ends: after so many letters, a line end counting as a whole line."""
    for lines, match in enumerate(re.finditer("\n", text[: most + 1]), 1):
        if lines * LINE > most:
            return max(match.start(), 1)
    if len(text) <= most:
        return len(text)
    at = text.rfind(" ", 1, most + 1)
    return at if at > 0 else most
