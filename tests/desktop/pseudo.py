"""A language nobody speaks: every letter accented, a third longer, in brackets.

Pseudo-localisation: a letter without an accent on the screen was never looked up, and a word cut
off shows where a longer language would not fit.
"""

from __future__ import annotations

import re
import sys
from gettext import NullTranslations

PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
ACCENTED = "àƀçðéƒǵĥíĵķłɱñöþǫŕšţúνŵ×ýžÀßÇÐÉÞǴĤÍĴĶŁṀÑÖÞǪŔŠŢÚṾŴ×ÝŽ"
ACCENTS = str.maketrans(PLAIN, ACCENTED)
OPEN, CLOSE = "⟦", "⟧"
LONGER = 0.35
"""Growth of a sentence; GNOME's guide reckons with up to 30 %, others with 30 to 40."""
GAP = re.compile(r"(\{[^{}]*\})")


def pseudo(sentence: str) -> str:
    """Return a sentence in the language; its gaps stay as they are.

    >>> pseudo("{n} bars")
    '⟦{n} ƀàŕš ··⟧'
    """
    if not sentence:
        return ""
    parts = GAP.split(sentence)
    said = "".join(part if GAP.fullmatch(part) else part.translate(ACCENTS) for part in parts)
    letters = sum(len(part) for part in parts if not GAP.fullmatch(part))
    more = max(1, round(letters * LONGER))
    # In short words, so that the padding breaks into lines as words do.
    padding = " ".join("·" * min(6, more - at) for at in range(0, more, 7))
    return f"{OPEN}{said} {padding}{CLOSE}"


class Pseudo(NullTranslations):
    """A catalogue that has every sentence, and notes which were asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[str] = set()

    def gettext(self, message: str) -> str:
        self.asked.add(message)
        return pseudo(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:
        return self.gettext(message)


def forget_words() -> None:
    """Have the desk look every sentence up anew; it keeps what it looked up by language.

    In life a language is taken up once, at the start; here it takes another's place.
    """
    ours = [one for name, one in list(sys.modules.items()) if name.startswith("estimator.desktop")]
    for kept in (value for module in ours for value in vars(module).values()):
        if hasattr(kept, "cache_clear"):
            kept.cache_clear()
