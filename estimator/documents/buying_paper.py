"""The buying list on paper: what to ask for at each counter, with a box to tick."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words, works_words
from estimator.documents.agreed_content import Column, Ledger, Line, Lines, Part
from estimator.documents.agreed_words import Named, figure
from estimator.documents.content import Sum
from estimator.documents.formats import quantity
from estimator.documents.wording import say
from estimator.documents.works_words import BOX
from estimator.quoting.quotation import Trader
from estimator.works.buying_list import MERCHANT, BuyingList, FromSupplier, ToBuy, buying_list

PACKS, AMOUNT, MONEY, BOXED = 44.0, 66.0, 56.0, 28.0


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
    listed = buying_list(so_far, suppliers)
    named = Named(
        heading=say("works.buying_heading"),
        under=say("works.buying_under"),
        number=number,
        facts=tuple(works_words.facts(so_far, number, date)),
    )
    parts: list[Part] = [_table(listed)]
    return agreed_pages.lay_out(agreed_words.paper(so_far, trader, named, parts))


def _table(listed: BuyingList) -> Ledger:
    columns = (
        Column(say("works.buy_packs"), PACKS),
        Column(say("works.buy_needed"), AMOUNT, is_quiet=True),
        Column(say("works.buy_left"), AMOUNT, is_quiet=True),
        Column(say("works.buy_each"), MONEY, is_quiet=True),
        Column(say("works.buy_cost"), MONEY),
        Column("", BOXED),
    )
    return Ledger(
        "buying",
        say("works.buying_heading"),
        columns,
        tuple(map(_supplier, listed.groups)),
        (Sum(say("works.buy_total"), (figure(listed.cost), ""), is_final=True),),
        note=say("works.buy_note"),
    )


def _supplier(group: FromSupplier) -> Lines:
    name = say("works.merchant") if group.supplier == MERCHANT else group.supplier
    return Lines(name, tuple(map(_thing, group.things)), (figure(group.cost), ""))


def _thing(one: ToBuy) -> Line:
    return Line(
        one.title,
        (
            str(one.packs),
            quantity(one.needed),
            quantity(one.left),
            figure(one.pack_price),
            figure(one.cost),
            BOX,
        ),
    )
