"""The language of the screen: every sentence a person sees is looked up here.

Sentences are whole, with named gaps. The catalogues are gettext's; what the engine itself says
(triage, workings, papers) comes in the language of the paper and is shown as it is.
"""

from __future__ import annotations

from gettext import GNUTranslations, NullTranslations
from io import BytesIO

from estimator import resources

SOURCE = "en_GB"
"""The language the sentences are written in; it needs no catalogue."""


class Language:
    """The catalogue in use; one for the whole window, since words are wanted everywhere."""

    def __init__(self) -> None:
        """Begin with the sentences as they are written."""
        self.tag = SOURCE
        self.catalogue: NullTranslations = NullTranslations()

    def use(self, tag: str) -> None:
        """Take up the catalogue of a language; the sentences as written for one there is not."""
        self.tag, self.catalogue = tag, NullTranslations()
        name = f"locale/{tag}/LC_MESSAGES/perpend.mo"
        if name in resources.NAMES:
            self.catalogue = GNUTranslations(BytesIO(resources.path(name).read_bytes()))


LANGUAGE = Language()


def _(sentence: str) -> str:
    """Return a sentence in the language of the screen."""
    return LANGUAGE.catalogue.gettext(sentence)


def in_full(words: object) -> str:
    """Return words, or what a mistake says, with their first letter large.

    >>> in_full("there is no brickwork here")
    'There is no brickwork here'
    """
    said = str(words)
    return said[:1].upper() + said[1:]


def counted(one: str, many: str, number: int) -> str:
    """Return the form of a sentence that goes with a number; its gap is named ``n``."""
    return LANGUAGE.catalogue.ngettext(one, many, number).format(n=number)


def in_context(context: str, word: str) -> str:
    """Return a short word that means different things in different places."""
    return LANGUAGE.catalogue.pgettext(context, word)
