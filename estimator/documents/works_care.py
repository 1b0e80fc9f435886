"""What the gang minds: mixes, the order of work, what can hurt somebody, whom to ring."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from estimator.contract.works import Plan
from estimator.documents import agreed_words
from estimator.documents.agreed_content import Part
from estimator.documents.formats import metres, plain, quantity, short_day
from estimator.documents.wording import capital, say
from estimator.documents.works_content import (
    Box,
    Grid,
    GridColumn,
    GridGroup,
    GridRow,
    Steps,
    Topic,
    Topics,
)
from estimator.documents.works_words import mix_words
from estimator.notices import Notice, Severity
from estimator.works.programme_notes import visit_days
from estimator.works.settings import Call
from estimator.works.site_sheet import SheetMortar, SiteSheet
from estimator.works.vibration import DayExposure, Level

COUNT, BOX, NAMED = 38.0, 30.0, 74.0
CALLED = 112.0
VAN_ROW, VAN_HEAD = 18.5, 40.0
MOST_NAMED, MOST_DAYS, LETTERS = 4, 20, 16
ABOUT = {
    "silica": "dust",
    "silica_limit": "dust",
    "vibration": "vibration",
    "vibration_day": "vibration",
    "services": "services",
    "on_the_wall": "services",
    "height": "height",
    "scaffold": "height",
    "over_roof": "height",
    "bats": "wildlife",
    "birds": "wildlife",
    "neighbour": "neighbours",
    "burns": "wet",
    "noise": "noise",
    "asbestos": "asbestos",
}
"""Which topic a caution belongs to; what stops the work is a topic of its own."""
TOPICS = (
    "stop",
    "services",
    "dust",
    "vibration",
    "height",
    "wet",
    "noise",
    "asbestos",
    "wildlife",
    "neighbours",
    "rest",
)
"""The order they are read in."""


def mixes(sheet: SiteSheet) -> Iterator[Part]:
    """Yield what is mixed of what."""
    topics = [*(Topic(one.title, tuple(_mortar(one))) for one in sheet.mortars)]
    topics += [
        Topic(
            one.title,
            (
                say(
                    "works.mix",
                    count=str(one.mixes),
                    amount=quantity(one.at_once),
                    minutes=str(one.working_minutes),
                ),
                say("works.mix_water"),
            ),
        )
        for one in sheet.mixing
    ]
    if topics:
        yield Topics("mixes", say("works.mixes"), tuple(topics), is_large=True)


def van(sheet: SiteSheet) -> Iterator[Part]:
    """Yield what goes on the van, packs side by side."""
    if sheet.packs:
        cells = [
            (say("works.take_packs", count=str(one.packs)), one.title, Box()) for one in sheet.packs
        ]
        half = (len(cells) + 1) // 2
        rows = tuple(
            GridRow((*left, *right))
            for left, right in zip_longest(cells[:half], cells[half:], fillvalue=("", "", ""))
        )
        columns = (GridColumn("", COUNT), GridColumn("", 0), GridColumn("", BOX))
        yield Grid("take", say("works.take"), columns * 2, (GridGroup("", rows),))


def van_height(sheet: SiteSheet) -> float:
    """Return about how high the list of the van is [pt]."""
    return (len(sheet.packs) + 1) // 2 * VAN_ROW + VAN_HEAD if sheet.packs else 0.0


def order(sheet: SiteSheet) -> Iterator[Part]:
    """Yield the order of work, a box for each step."""
    if sheet.order_of_work:
        yield Steps("order", say("works.order"), sheet.order_of_work)


def cautions(sheet: SiteSheet) -> Iterator[Part]:
    """Yield what can hurt somebody, by what it is about, and whom to ring."""
    said: dict[str, list[str]] = {key: [] for key in TOPICS}
    for note in sheet.cautions:
        said[_about(note)].append(note.text)
    if sheet.exposures:
        said["vibration"].append(" ".join(map(_exposure, sheet.exposures)))
    said["height"] += _reaches(sheet)
    said["neighbours"].append(say("works.neighbours_told"))
    yield Topics(
        "cautions",
        say("works.cautions"),
        tuple(
            Topic(say(f"works.about_{key}"), tuple(dict.fromkeys(texts)), is_loud=key == "stop")
            for key, texts in said.items()
            if texts
        ),
        is_large=True,
    )
    calls = tuple(
        Topic(
            one.who,
            (_call(one),),
        )
        for one in sheet.calls
    )
    if calls:
        yield Topics("calls", say("works.calls"), calls, is_large=True, width=CALLED)


def on_site(sheet: SiteSheet, plan: Plan | None) -> Iterator[Part]:
    """Yield a row for each day of a visit: who is there, and how cold the wall is."""
    days = visit_days(sheet.tasks, plan) if plan is not None else ()
    who = sheet.gang or (say("works.on_site_who"),)
    if len(who) > MOST_NAMED:
        who = (*who[: MOST_NAMED - 1], say("works.on_site_others"))
    rows = tuple(
        GridRow((short_day(on), *(Box(is_wide=True) for _name in who), Box(is_wide=True)))
        for on in days[:MOST_DAYS]
    )
    if rows:
        yield Grid(
            "on_site",
            say("works.on_site"),
            (
                GridColumn(say("works.on_site_day"), 0),
                *(GridColumn(short(name), NAMED) for name in who),
                GridColumn(say("works.on_site_cold"), NAMED),
            ),
            (GridGroup("", rows),),
            lead=say("works.on_site_lead"),
            is_large=True,
        )


def short(name: str) -> str:
    """Return a name that fits the head of a column: the first of a long one.

    >>> short("Ada Pike"), short("Bartholomew Featherstonehaugh")
    ('Ada Pike', 'Bartholomew')
    """
    line = " ".join(name.split())
    return line if len(line) <= LETTERS else line.split(" ")[0][:LETTERS]


def _call(one: Call) -> str:
    if one.number:
        return say("works.call_number", number=one.number, why=one.why)
    return capital(one.why)


def _about(note: Notice) -> str:
    if note.severity is Severity.STOP and note.code not in ABOUT:
        return "stop"
    return ABOUT.get(note.code, "rest")


def _mortar(one: SheetMortar) -> Iterator[str]:
    yield say("works.mortar", parts=mix_words(one.parts))
    limit, days = f"{one.least_temperature_c:g}", str(one.cure_days)
    yield say("works.mortar_care", limit=limit, days=days)


def _exposure(one: DayExposure) -> str:
    tools = agreed_words.listed(
        tuple(
            say(
                "works.vibration_tool",
                title=shaken.tool.title.lower(),
                hours=plain(round(shaken.hours, 1)),
            )
            for shaken in one.tools
            if round(shaken.hours, 1)
        )
    )
    said = say(
        "works.vibration",
        visit=str(one.visit),
        day=str(one.day),
        points=f"{one.points:.0f}",
        tools=tools,
    )
    # The hardest day is warned of above; of the others only those that nobody may do alone.
    return f"{said} {one.words}" if one.level is Level.OVER else said


def _reaches(sheet: SiteSheet) -> Iterator[str]:
    for side in sheet.sides:
        if side.reached_by:
            yield say(
                "works.reach",
                name=side.name,
                means=say(f"works.means_{side.reached_by}"),
                height=metres(side.top_mm),
            )
