"""The site sheet on paper: read at arm's length with dusty gloves, signed as the work goes on."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace

from estimator.contract.so_far import SoFar
from estimator.documents import (
    agreed_words,
    works_amounts,
    works_bars,
    works_care,
    works_figure,
    works_looks,
    works_pages,
    works_withheld,
    works_words,
)
from estimator.documents.agreed_content import AgreedPaper, Part
from estimator.documents.agreed_words import Named
from estimator.documents.content import Acceptance
from estimator.documents.wording import say
from estimator.documents.works_content import Alert, Blank, Edge, Plate
from estimator.quoting.quotation import Trader
from estimator.works.site_sheet import SiteSheet, site_sheet
from estimator.works.site_work import SiteWork, site_work
from estimator.works.withheld import withheld, withheld_marks

FIRST_HEIGHT = 346.0
"""Height there is for the wall and the list of the van on the first page, in points."""
FRAMED = 120.0
"""Height that is taken by what is not agreed."""
LEAST_HEIGHT = 190.0
"""Height the wall never goes below: its numbers could not be told apart."""
DIFFERS = 4
"""Lines to write on what was different."""
LONGEST_NUMBER = 60
POINTED = ("cautions", "order", "calls")
"""What the foot of the first page points to."""


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
    return works_pages.lay_out(content_of(so_far, trader=trader, number=number, date=date))


def content_of(so_far: SoFar, *, trader: Trader, number: str, date: datetime.date) -> AgreedPaper:
    """Return all that the sheet says."""
    sheet, work = site_sheet(so_far), site_work(so_far)
    framed = tuple(works_withheld.framed(so_far))
    height = max(FIRST_HEIGHT - works_care.van_height(sheet) - FRAMED * len(framed), LEAST_HEIGHT)
    plates = works_figure.plates(work.survey, work.measure, height=height)
    named = Named(
        heading=say("works.sheet_heading"),
        under=say("works.sheet_under"),
        number=number,
        facts=(
            *agreed_words.numbered(number, date),
            (say("works.where"), works_words.where(work.survey)),
            (say("works.days"), works_words.days_of(sheet.tasks)),
            (say("works.gang"), agreed_words.listed(sheet.gang)),
            (say("works.scope"), sheet.scope_title),
        ),
    )
    parts = [
        _alert(trader),
        *framed,
        *map(_with_edge, plates[:1]),
        *works_care.van(sheet),
        *map(_with_edge, plates[1:]),
        *_parts(so_far, sheet, work, _edges(plates)),
    ]
    paper = agreed_words.paper(so_far, trader, named, parts)
    return works_words.pointing(paper, POINTED)


def _parts(
    so_far: SoFar, sheet: SiteSheet, work: SiteWork, edges: Mapping[str, Edge]
) -> list[Part]:
    """Return all that stands after the drawings."""
    alone, held = withheld_marks(withheld(so_far)), works_looks.by_mark(sheet)
    bricks = tuple(works_amounts.bricks(work.survey, work.measure, edges, held, alone))
    told = works_amounts.told_at(work.survey, work.measure, edges)
    return [
        *works_bars.bars(sheet, edges, work.rules.lap_mm, alone),
        *bricks,
        *works_amounts.amounts(work.survey, work.measure),
        *works_looks.looks(sheet, told),
        *works_bars.cutting(sheet, work.book.bars.kerf_mm),
        *works_care.mixes(sheet),
        *works_care.order(sheet),
        *works_care.cautions(sheet),
        *works_care.on_site(sheet, so_far.plan),
        Blank("differs", say("works.differs"), say("works.differs_lead"), DIFFERS),
        _signed(),
    ]


def _alert(trader: Trader) -> Alert:
    telephone = trader.telephone.strip()
    # What stands on the alert is read at a glance, so nothing long is put there.
    is_short = 0 < len(telephone) <= LONGEST_NUMBER
    office = say("works.stop_office", telephone=telephone) if is_short else ""
    return Alert(say("works.stop"), say("works.stop_under", office=office).strip())


def _with_edge(plate: Plate) -> Plate:
    """Return a drawing whose caption says what places are measured from."""
    if plate.edge is None:
        return plate
    left, _bottom, right, _top = plate.figure.bounds
    is_drawn = left <= plate.edge.at_mm <= right
    key = "works.caption_edge" if is_drawn else "works.caption_edge_off"
    said = [plate.caption, say(key, edge=plate.edge.words)]
    if plate.edge.is_inside:
        said.append(say("works.caption_inside"))
    return replace(plate, caption=" ".join(said))


def _edges(plates: tuple[Plate, ...]) -> dict[str, Edge]:
    return {one.figure.picture.elevation: one.edge for one in plates if one.edge is not None}


def _signed() -> Acceptance:
    return Acceptance(
        title=say("works.sign"),
        lead=say("works.sign_lead"),
        options=(),
        ticks=(),
        fields=(say("works.sign_name"), say("acceptance.signature"), say("works.sign_date")),
        closing="",
    )
