"""What was typed into the search, made safe and turned into what the indexes are asked.

Anything may be typed. Every word goes into quotes, so that nothing in it is taken for the language
of the index; that sizes and fractions are written in several ways is settled here and not in what
is kept, so that a title stays as it was written.
"""

from __future__ import annotations

import re
import unicodedata

LONGEST = 200
MOST_WORDS = 8
SHORTEST_PART = 3
"""The second index holds every three letters in a row, so it can answer nothing shorter."""
FRACTIONS = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
POWERS = {"²": "2", "³": "3"}
LETTERS = r"[^\W\d_]"
SIZE = re.compile(rf"([\d./,{''.join(FRACTIONS)}]*[\d{''.join(FRACTIONS)}])({LETTERS}+)")
"""A figure and its unit written as one: 10mm."""
POWER = re.compile(rf"({LETTERS}+)([23²³])")
POSTCODE = re.compile(r"\b([a-z]{1,2}[0-9][a-z0-9]?) ([0-9][a-z]{2})\b", re.IGNORECASE)
"""A United Kingdom postcode as it is written; its form is from memory."""
POSTCODE_JOINED = re.compile(r"([a-z]{1,2}[0-9][a-z0-9]?)([0-9][a-z]{2})", re.IGNORECASE)
TELEPHONE = re.compile(r"[\d\s()+./-]*")
COUNTRY = re.compile(r"^(?:\+44|0044|0)(?:\(0\))?")
FEWEST_DIGITS = 5
MARKS = str.maketrans("", "", " -/.()+_,")
"""What is left out of codes and telephone numbers; the file leaves out the same."""
LOWER = str.maketrans({letter: letter.lower() for letter in map(chr, range(65, 91))})


def cleaned(typed: str) -> str:
    r"""Return what was typed as one line without anything the file or the index could choke on.

    >>> cleaned("  lime\x00  putty\n")
    'lime putty'
    """
    text = typed[: LONGEST * 4].encode("utf-8", "replace").decode("utf-8")
    seen = "".join(" " if unicodedata.category(one) in {"Cc", "Cs"} else one for one in text)
    return unicodedata.normalize("NFC", " ".join(seen.split()))[:LONGEST].strip()


def split(text: str) -> tuple[str, ...]:
    """Return the words of a cleaned text that have a letter or figure in them.

    >>> split("lime - 10 kg")
    ('lime', '10', 'kg')
    """
    words = (word for word in text.split() if any(one.isalnum() for one in word))
    return tuple(words)[:MOST_WORDS]


def postcodes_joined(text: str) -> str:
    """Return a cleaned text with each postcode as one word, which is looked for in both ways.

    >>> postcodes_joined("14 Tarn Street ZZ1 4XX")
    '14 Tarn Street ZZ14XX'
    """
    return POSTCODE.sub(r"\1\2", text)


def quoted(word: str) -> str:
    """Return a word as a phrase of the index, whatever is in it.

    >>> quoted('6" NEAR')
    '"6"" NEAR"'
    """
    return '"' + word.replace('"', '""') + '"'


def ways(word: str) -> tuple[str, ...]:
    """Return the ways a word may have been written, its own first.

    >>> ways("10mm"), ways("1/2"), ways("m2")
    (('10mm', '10 mm'), ('1/2', '½'), ('m2', 'm²'))
    >>> ways("ZZ14XX")
    ('ZZ14XX', 'ZZ1 4XX')
    """
    found = [word]
    for sign, written in FRACTIONS.items():
        if sign in word:
            found.append(word.replace(sign, f" {written}").strip())
        elif re.search(rf"(?<!\d){written}(?!\d)", word):
            found.append(word.replace(written, sign))
    sizes = filter(None, map(SIZE.fullmatch, found))
    found += [" ".join(size.groups()) for size in tuple(sizes)]
    if power := POWER.fullmatch(word):
        letters, raised = power.groups()
        others = {high: low for low, high in POWERS.items()} | POWERS
        found.append(letters + others[raised])
    if postcode := POSTCODE_JOINED.fullmatch(word):
        found.append(" ".join(postcode.groups()))
    return tuple(dict.fromkeys(found))


def expression(words: tuple[str, ...]) -> str:
    """Return what the index of words is asked: every word, or the beginning of one.

    A figure with more behind it is whole already: 10 mm is not 100 mm.

    >>> expression(("bed", "bar"))
    '("bed"*) AND ("bar"*)'
    """
    parts, at = [], 0
    while at < len(words):
        word, after = words[at], words[at + 1] if at + 1 < len(words) else ""
        if word.isdigit() and after and _belongs(after):
            apart = f"({quoted(word)}) AND {_any_way(after)}"
            together = " OR ".join(f"{quoted(word + way)}*" for way in ways(after))
            parts.append(f"(({apart}) OR {together})")
            at += 2
            continue
        parts.append(f"({quoted(word)})" if word.isdigit() and after else _any_way(word))
        at += 1
    return " AND ".join(parts)


def parts_expression(words: tuple[str, ...]) -> str:
    """Return what the index of letters is asked, or nothing where a word is too short for it.

    >>> parts_expression(("titch", "AB-12"))
    '(title : "titch" OR plain : "titch") AND (title : "AB-12" OR plain : "ab12")'
    """
    asked = []
    for word in words:
        plain = squeezed(word)
        either = [f"title : {quoted(word)}"] if len(word) >= SHORTEST_PART else []
        either += [f"plain : {quoted(plain)}"] if len(plain) >= SHORTEST_PART else []
        if not either:
            return ""
        asked.append(f"({' OR '.join(either)})")
    return " AND ".join(asked)


def squeezed(text: str) -> str:
    """Return a code or number as the file keeps it for finding: small, no spaces, no marks.

    >>> squeezed("HB-6 / 1000")
    'hb61000'
    """
    return text.translate(MARKS).translate(LOWER)


def telephone(text: str) -> str:
    """Return the part of a telephone number by which it is found, or nothing if it is none.

    With or without the code of the country, the rest is the same.

    >>> telephone("+44 (0)1632 960 123"), telephone("01632960123"), telephone("10 mm")
    ('1632960123', '1632960123', '')
    """
    if not TELEPHONE.fullmatch(text):
        return ""
    digits = squeezed(COUNTRY.sub("", "".join(text.split())))
    return digits if digits.isascii() and len(digits) >= FEWEST_DIGITS else ""


def folded(word: str) -> str:
    """Return a word as the index spells it: small, without accents.

    >>> folded("Café")
    'cafe'
    """
    apart = unicodedata.normalize("NFD", word.lower())
    return "".join(one for one in apart if not unicodedata.combining(one))


def around(body: str, words: tuple[str, ...], *, width: int = 80) -> str:
    r"""Return the line of a text where the first of the words stands, cut to a width.

    >>> around("12 Mill Lane\nlime putty", ("putty",))
    'lime putty'
    """
    lines = [" ".join(line.split()) for line in body.splitlines() if line.strip()]
    small = tuple(folded(word) for word in words)
    for line in lines:
        places = [folded(line).find(word) for word in small]
        if (at := max(places, default=-1)) >= 0:
            start = 0 if at < width - 20 else at - width // 2
            return _cut(line[start:], width, more_before=start > 0)
    return _cut(lines[0], width) if lines else ""


def _belongs(after: str) -> bool:
    """Say whether a word may be written onto the figure before it: mm, ½."""
    return after.isalpha() or after in FRACTIONS or after in FRACTIONS.values()


def _any_way(word: str) -> str:
    """Return the phrases for all ways a word may have been written."""
    return "(" + " OR ".join(f"{quoted(way)}*" for way in ways(word)) + ")"


def _cut(line: str, width: int, *, more_before: bool = False) -> str:
    """Return the beginning of a line, with dots where something is left out."""
    end = line if len(line) <= width else line[: width - 1].rstrip() + "…"
    return f"…{end.lstrip()}" if more_before else end
