"""What no agreed paper covers, as the gang, the buyer and the customer are told of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.documents.agreed_content import Part, Prose
from estimator.documents.content import Points, Text
from estimator.documents.formats import quantity
from estimator.documents.wording import say
from estimator.documents.works_content import Framed
from estimator.works.withheld import Withheld, withheld


def framed(so_far: SoFar) -> Iterator[Part]:
    """Yield what the gang leaves alone until the office says that it is agreed."""
    found = withheld(so_far)
    more = [_words(one) for one in found if one.is_more]
    less = [say("works.withheld_less", what=one.words) for one in found if not one.is_more]
    sent = [
        say("works.withheld_open", number=one.number, title=one.variation.title)
        for one in so_far.variations
        if one.standing is Standing.SENT
    ]
    if more or less or sent:
        under = say("works.withheld_under") if more else ""
        yield Framed("withheld", say("works.withheld"), (*more, *less, *sent), under)


def counted_in(so_far: SoFar, key: str) -> Iterator[Part]:
    """Yield what packs or days are reckoned for though it is not agreed; the key says which."""
    found = withheld(so_far)
    more = tuple(_words(one) for one in found if one.is_more)
    less = tuple(say("works.not_counted", what=one.words) for one in found if not one.is_more)
    if more:
        yield Framed("withheld", say(f"works.{key}"), more, say(f"works.{key}_under"))
    if less:
        yield Prose("not_counted", "", (Points(less),))


def not_claimed(so_far: SoFar) -> Iterator[Part]:
    """Yield what the customer is not told was done, though the drawing shows it."""
    found = withheld(so_far)
    more = tuple(_words(one) for one in found if one.is_more)
    less = tuple(say("works.not_claimed_less", what=one.words) for one in found if not one.is_more)
    if more or less:
        lead = (Text(say("works.not_claimed_lead")), Points(more)) if more else ()
        rest = (Points(less),) if less else ()
        yield Prose("withheld", say("works.not_claimed"), (*lead, *rest))


def _words(one: Withheld) -> str:
    """Return work that is not agreed: what, how much, and where as far as anybody can tell."""
    much = quantity(replace(one.amount, amount=abs(one.amount.amount)))
    if not one.places:
        return say("works.withheld_one", what=one.words, amount=much)
    key = "works.withheld_some_of" if one.is_some_of else "works.withheld_at"
    return say(key, what=one.words, amount=much, places="; ".join(one.places))
