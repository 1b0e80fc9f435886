"""The site sheet on paper: read at arm's length with dusty gloves, signed as the work goes on."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words, works_words
from estimator.documents.agreed_content import (
    AgreedPaper,
    Column,
    Ledger,
    Line,
    Lines,
    Part,
    Prose,
    Tint,
)
from estimator.documents.agreed_words import Named
from estimator.documents.content import Acceptance, Points, Text, Tone
from estimator.documents.formats import metres, plain, quantity
from estimator.documents.wording import say
from estimator.documents.works_words import BOX, item_words, millimetres
from estimator.quoting.quotation import Trader
from estimator.takeoff.lines import Item
from estimator.works import marks
from estimator.works.hold_points import HoldPoint
from estimator.works.site_sheet import SheetBar, SheetSide, SiteSheet, site_sheet
from estimator.works.site_work import site_work

NARROW, WIDE, BOXED = 46.0, 74.0, 30.0
MM_PER_M = 1000


def render(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    pictures: Mapping[str, bytes] | None = None,  # noqa: ARG001 - none stand on this sheet
) -> bytes:
    """Return the site sheet as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return agreed_pages.lay_out(content_of(so_far, trader=trader, number=number, date=date))


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the sheet says."""
    sheet, work = site_sheet(so_far), site_work(so_far)
    parts: list[Part] = [Tint(say("works.stop")), works_words.walls(work.survey, work.measure)]
    parts += [*_bars(sheet), *_cutting(sheet), *_beds(sheet), _amounts(sheet)]
    parts += [*_mixes(sheet), *_points("order", "works.order", sheet.order_of_work)]
    parts += [*_holds(sheet), *_cautions(sheet), _signed()]
    named = Named(
        heading=say("works.sheet_heading"),
        under=say("works.sheet_under"),
        number=number,
        facts=(
            *works_words.facts(so_far, number, date),
            (say("works.days"), works_words.days_of(sheet.tasks)),
            (say("works.gang"), agreed_words.listed(sheet.gang)),
            (say("works.scope"), sheet.scope_title),
        ),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _bars(sheet: SiteSheet) -> Iterator[Part]:
    sides = [side for side in sheet.sides if side.bars]
    if not sides:
        return
    titles = ("bar_from", "bar_to", "bar_cut", "bar_depth", "bar_bed")
    widths = (NARROW, NARROW, WIDE, NARROW, NARROW)
    yield Ledger(
        "bars",
        say("works.bars"),
        tuple(
            Column(say(f"works.{title}"), width)
            for title, width in zip(titles, widths, strict=True)
        ),
        tuple(Lines(side.name, tuple(map(_bar, side.bars))) for side in sides),
    )


def _bar(bar: SheetBar) -> Line:
    beside = []
    if bar.leg_left_mm:
        beside.append(say("works.leg_left", length=millimetres(bar.leg_left_mm)))
    if bar.leg_right_mm:
        beside.append(say("works.leg_right", length=millimetres(bar.leg_right_mm)))
    if bar.skim_mm:
        beside.append(say("works.skim", length=millimetres(bar.skim_mm)))
    if bar.by_hand:
        beside.append(say("works.by_hand"))
    figures = (
        millimetres(bar.left_mm),
        millimetres(bar.right_mm),
        " + ".join(map(str, bar.pieces_mm)),
        str(bar.slot_depth_mm),
        plain(bar.bed_mm),
    )
    return Line(bar.words, figures, agreed_words.listed(beside))


def _cutting(sheet: SiteSheet) -> Iterator[Part]:
    if not sheet.stock_bars:
        return
    lines = []
    for bar in sheet.stock_bars:
        title = say("works.cut_stock", number=str(bar.number), length=metres(bar.length_mm))
        cuts = "; ".join(
            say("works.cut_piece", length=str(piece.length_mm), bar=marks.words(piece.bar))
            for piece in bar.pieces
        )
        lines.append(Line(title, (str(bar.offcut_mm), BOX), cuts))
    columns = (Column(say("works.cut_left"), WIDE, is_quiet=True), Column("", BOXED))
    yield Ledger("cutting", say("works.cutting"), columns, (Lines("", tuple(lines)),))


def _beds(sheet: SiteSheet) -> Iterator[Part]:
    groups = tuple(
        Lines(
            side.name,
            tuple(
                Line(
                    say("works.bed", course=str(bed.course)),
                    (millimetres(bed.from_mm), millimetres(bed.to_mm), plain(bed.thickness_mm)),
                )
                for bed in side.thin_beds
            ),
        )
        for side in sheet.sides
        if side.thin_beds
    )
    if groups:
        titles = ("bar_from", "bar_to", "bed_mm")
        columns = tuple(Column(say(f"works.{title}"), WIDE) for title in titles)
        yield Ledger("beds", say("works.beds"), columns, groups)


def _amounts(sheet: SiteSheet) -> Ledger:
    columns = (Column(say("works.quantity"), WIDE),)
    return Ledger("work", say("works.work"), columns, tuple(map(_side, sheet.sides)))


def _side(side: SheetSide) -> Lines:
    titles = {item.value: item for item in Item}
    return Lines(
        side.name,
        tuple(Line(item_words(titles[item]), (amount,)) for item, amount in side.works),
    )


def _mixes(sheet: SiteSheet) -> Iterator[Part]:
    said = []
    for one in sheet.mortars:
        parts = agreed_words.listed(
            tuple(
                say("works.mortar_part", number=number, material=material)
                for material, number in one.parts
            )
        )
        said.append(say("works.mortar", title=one.title, parts=parts))
        limit, days = f"{one.least_temperature_c:g}", str(one.cure_days)
        said.append(say("works.mortar_care", limit=limit, days=days))
    said += [
        say(
            "works.mix",
            title=one.title,
            count=str(one.mixes),
            amount=quantity(one.at_once),
            minutes=str(one.working_minutes),
        )
        for one in sheet.mixing
    ]
    said += [say("works.packs", count=str(one.packs), title=one.title) for one in sheet.packs]
    yield from _points("mixes", "works.mixes", said)


def _holds(sheet: SiteSheet) -> Iterator[Part]:
    """Yield what is looked at before going on: a row for each place, a box for each point."""
    by_what: dict[str, list[HoldPoint]] = {}
    for point in sheet.hold_points:
        by_what.setdefault(point.what, []).append(point)
    by_kind: dict[tuple[str, ...], list[Line]] = {}
    for what, points in by_what.items():
        boxes = tuple(one.signed_by if one.is_signed else BOX for one in points)
        by_kind.setdefault(tuple(one.text for one in points), []).append(Line(what, boxes))
    title = say("works.holds")
    for place, (texts, lines) in enumerate(by_kind.items()):
        yield Ledger(
            f"holds_{place}",
            title if not place else "",
            tuple(Column(str(number), NARROW) for number, _text in enumerate(texts, 1)),
            (Lines("", tuple(lines)),),
            note=" · ".join(f"{number} {text}" for number, text in enumerate(texts, 1)),
        )
    if by_kind:
        yield Prose("holds_note", "", (Text(say("works.holds_note"), Tone.QUIET),))


def _cautions(sheet: SiteSheet) -> Iterator[Part]:
    said = [note.text for note in sheet.cautions]
    said += [
        say("works.vibration", visit=str(one.visit), day=str(one.day), words=one.words)
        for one in sheet.exposures
    ]
    yield from _points("cautions", "works.cautions", list(dict.fromkeys(said)))
    calls = [
        say("works.call", who=agreed_words.listed((one.who, one.number)), why=one.why)
        for one in sheet.calls
    ]
    yield from _points("calls", "works.calls", calls)


def _points(key: str, title: str, items: list[str] | tuple[str, ...]) -> Iterator[Part]:
    if items:
        yield Prose(key, say(title), (Points(tuple(items)),))


def _signed() -> Acceptance:
    return Acceptance(
        title=say("works.sign"),
        lead=say("works.sign_lead"),
        options=(),
        ticks=(),
        fields=(say("works.sign_name"), say("acceptance.signature"), say("works.sign_date")),
        closing="",
    )
