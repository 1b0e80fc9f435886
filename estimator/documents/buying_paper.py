"""The buying list on paper: what to ask for at each counter, with a box to tick."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_words, works_pages, works_withheld, works_words
from estimator.documents.agreed_content import AgreedPaper, Big, Bigs, Part
from estimator.documents.agreed_words import Named, figure, money
from estimator.documents.formats import quantity, short_day
from estimator.documents.wording import say
from estimator.documents.works_content import Box, Grid, GridColumn, GridGroup, GridRow
from estimator.quoting.quotation import Trader
from estimator.works.buying_list import BAR, FromSupplier, ToBuy, buying_list, more_to_buy
from estimator.works.programme import programme
from estimator.works.site_work import site_work
from estimator.works.suppliers import MERCHANT

BOX, COUNT, AMOUNT, MONEY = 30.0, 40.0, 68.0, 60.0
BRICK = "facing_brick"
DATED = frozenset({"grout", "cement", "hydrated_lime", "nhl35", "patch_mortar"})
"""Materials that go off."""


def render(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    suppliers: Mapping[str, str] | None = None,
) -> bytes:
    """Return the buying list as an A4 PDF; the same input always gives the same bytes.

    Args:
        so_far: What the job has come to.
        trader: Whose name is on the paper.
        number: Of the paper, empty for none.
        date: Of the paper.
        suppliers: Who sells a material, by its key; the merchant where nobody is named.

    Raises:
        ValueError: before anything was accepted.
    """
    return works_pages.lay_out(
        content_of(so_far, trader=trader, number=number, date=date, suppliers=suppliers)
    )


def content_of(
    so_far: SoFar,
    *,
    trader: Trader,
    number: str,
    date: datetime.date,
    suppliers: Mapping[str, str] | None = None,
) -> AgreedPaper:
    """Return all that the list says."""
    listed = buying_list(so_far, suppliers)
    bigs = [Big(say("works.buy_total"), money(listed.cost))]
    visits = [one.first for one in programme(so_far) if one.is_worked]
    if visits:
        by = min(visits)
        bigs.insert(0, Big(say("works.buy_by"), short_day(by), under=str(by.year)))
    parts: list[Part] = [Bigs(tuple(bigs)), *works_withheld.counted_in(so_far, "bought_for")]
    if listed.groups:
        parts.append(_table("buying", say("works.buy_counter"), listed.groups))
    parts += _more(so_far, suppliers)
    named = Named(
        heading=say("works.buying_heading"),
        under=say("works.buying_under"),
        number=number,
        facts=(
            *agreed_words.numbered(number, date),
            (say("works.where"), works_words.where(site_work(so_far).survey)),
        ),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _table(
    key: str, title: str, groups: tuple[FromSupplier, ...], *, lead: str = "", is_more: bool = False
) -> Grid:
    return Grid(
        key,
        title,
        (
            GridColumn("", BOX),
            GridColumn(say("works.buy_packs"), COUNT, is_right=True),
            GridColumn(say("works.buy_thing"), 0),
            GridColumn(say("works.buy_needed"), AMOUNT, is_right=True, is_quiet=True),
            GridColumn(say("works.buy_left"), AMOUNT, is_right=True, is_quiet=True),
            GridColumn(say("works.buy_cost"), MONEY, is_right=True),
        ),
        tuple(_group(one) for one in groups),
        lead=lead,
        notes=() if is_more else (say("works.buy_note"), *_advice(groups)),
    )


def _more(so_far: SoFar, suppliers: Mapping[str, str] | None) -> Iterator[Part]:
    """Yield what each variation added, for those who went to the counter before it."""
    for one in so_far.agreed:
        more = more_to_buy(so_far, one.variation.key, suppliers)
        if more.groups:
            yield _table(
                f"more-{one.variation.key}",
                say("works.buy_more", number=one.number),
                more.groups,
                lead=say("works.buy_more_lead", title=one.variation.title),
                is_more=True,
            )


def _group(group: FromSupplier) -> GridGroup:
    name = say("works.merchant") if group.supplier == MERCHANT else group.supplier
    return GridGroup(name, tuple(map(_thing, group.things)), beside=figure(group.cost))


def _thing(one: ToBuy) -> GridRow:
    return GridRow(
        (
            Box(),
            say("works.buy_count", count=str(one.packs)),
            one.title,
            quantity(one.needed),
            quantity(one.left),
            figure(one.cost),
        )
    )


def _advice(groups: tuple[FromSupplier, ...]) -> Iterator[str]:
    """Yield what is looked at before it is paid for."""
    keys = {one.material for group in groups for one in group.things}
    if BRICK in keys:
        yield say("works.buy_brick")
    if keys & DATED:
        yield say("works.buy_dated")
    if any(key.startswith(BAR) for key in keys):
        yield say("works.buy_bar")
