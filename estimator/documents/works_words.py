"""What papers about the works have in common: whose job, which days, the walls, lengths."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_words
from estimator.documents.agreed_content import (
    AgreedPaper,
    Part,
    Photographs,
    Pictured,
)
from estimator.documents.agreed_words import day
from estimator.documents.formats import short_day
from estimator.documents.wording import capital, say
from estimator.survey.survey import Photo, Survey
from estimator.takeoff.lines import Item
from estimator.works.programme import DatedTask

BOX = "\u2610"
"""An empty box, to be ticked or initialled."""

OWN_WORDS = frozenset(Item) - {
    *(Item.CUT_SLOT, Item.SET_BAR, Item.TURN_BAR, Item.LAP_BAR),
    *(Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK),
}
"""Kinds of work that are not said as they are written in files."""


def facts(so_far: SoFar, number: str, date: datetime.date) -> Iterator[tuple[str, str]]:
    """Yield what stands beside the heading of every paper about the works."""
    yield from agreed_words.numbered(number, date)
    yield from agreed_words.whom(so_far)


def where(survey: Survey) -> str:
    """Return whose wall it is, and where it stands."""
    party = survey.customer
    return agreed_words.listed((party.name, *(party.site or party.address)))


def days_of(tasks: Sequence[DatedTask]) -> str:
    """Return the first and last day somebody is there; nothing where no day is set."""
    worked = [one for one in tasks if one.is_worked]
    if not worked:
        return ""
    first, last = worked[0].first, max(one.last for one in worked)
    return day(first) if first == last else from_to(first, last)


def from_to(first: datetime.date, last: datetime.date) -> str:
    """Return a day, or the first and the last of several.

    >>> from_to(datetime.date(2026, 12, 14), datetime.date(2026, 12, 15))
    'Mon 14 Dec – Tue 15 Dec'
    """
    if first == last:
        return short_day(first)
    return say("works.range_of_days", first=short_day(first), last=short_day(last))


def millimetres(length: float) -> str:
    """Return a length as whole millimetres.

    >>> millimetres(1149.6)
    '1150'
    """
    return f"{length:.0f}"


def mix_words(parts: Sequence[tuple[str, str]]) -> str:
    """Return what goes into a mix, each material with its parts by volume.

    >>> mix_words((("Cement", "1"), ("Sharp sand, washed", "6")))
    '1 cement; 6 sharp sand, washed'
    """
    return "; ".join(
        say("works.mortar_part", number=number, material=f"{material[:1].lower()}{material[1:]}")
        for material, number in parts
    )


def signed(length: float) -> str:
    """Return a place as whole millimetres from an edge, with a true minus where it is before it.

    >>> signed(1149.6), signed(-320.2) == "\u2212320"
    ('1150', True)
    """
    return agreed_words.true_minus(millimetres(length + 0.0)) if round(length) else "0"


def initials(name: str) -> str:
    """Return the initials of whoever signed.

    >>> initials("Ada Pike"), initials(" ")
    ('AP', '')
    """
    return "".join(word[0] for word in name.split())[:4].upper()


def item_words(item: Item) -> str:
    """Return a kind of work as the gang calls it.

    >>> item_words(Item.CUT_SLOT), item_words(Item.REPOINT)
    ('Cut slot', 'Repoint')
    """
    if item in OWN_WORDS:
        return say(f"works.item_{item.value}")
    return capital(item.value.replace("_", " "))


def photographs(
    survey: Survey, captions: Mapping[str, str], pictures: Mapping[str, bytes]
) -> Iterator[Part]:
    """Yield the photographs that show what was built, two to a row."""
    known = {one.picture: one for one in survey.photos}
    items = []
    for number, name in enumerate(captions, 1):
        photo = known.get(name, Photo(f"built-{number}", "", name, 1, 1))
        caption = say(
            "works.photograph", number=str(number), caption=captions[name] or photo.caption
        ).strip()
        data = pictures.get(name)
        if data is None:
            caption = f"{caption} {say('survey.missing')}"
        items.append(Pictured(photo, data, caption))
    if items:
        yield Photographs("photographs", say("works.photographs"), tuple(items))


def pointing(paper: AgreedPaper, keys: Sequence[str]) -> AgreedPaper:
    """Return a paper whose first page points to parts by their keys, where they are."""
    titles = {getattr(one, "key", ""): getattr(one, "title", "") for one in paper.parts}
    pointer = tuple((key, titles[key]) for key in keys if titles.get(key))
    return replace(paper, foot=replace(paper.foot, pointer=pointer))
