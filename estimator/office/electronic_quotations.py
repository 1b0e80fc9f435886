"""A quotation that went out as a document for the customer's own books, as it was printed."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from estimator.exchange import ubl_quotation
from estimator.exchange.ubl_quotation import Quoted, QuotedLine
from estimator.money import Money
from estimator.office import frozen_offers
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Trader
from estimator.store import issued
from estimator.store.within import Place
from estimator.survey import survey_file
from estimator.units import Quantity, Unit


def document(place: Place, number: str, option: int) -> bytes:
    """Return one choice of an issued quotation as UBL; nothing of it is priced again.

    Args:
        place: The file, or a transaction under way.
        number: Of the quotation.
        option: Its place on the paper, from 0.

    Raises:
        UserMistake: for an estimate, a choice that is not there, a paper whose person was erased
            and in a country without VAT.
        DamagedFile: when it is no longer what was issued.
    """
    ubl_quotation.check_kind(issued.find(place, number).kind)
    told = frozen_offers.said_of(place, number)
    offers = [one["offer"] for one in told["quotation"]["options"]]
    if not 0 <= option < len(offers):
        raise ubl_quotation.no_such_choice()
    label = ubl_quotation.numbered(number, option, len(offers))
    return ubl_quotation.document(_quoted(told, label, offers[option]))


def _quoted(told: Mapping[str, Any], label: str, offer: Mapping[str, Any]) -> Quoted:
    paper = told["quotation"]
    return Quoted(
        number=label,
        date=datetime.date.fromisoformat(paper["date"]),
        valid_until=paper["valid_until"],
        currency=paper["currency"],
        country=paper["country"],
        trader=_trader(paper["trader"]),
        customer=survey_file.read(told["survey"]).customer,
        title=offer["scope"]["title"],
        visible=tuple(offer["visible"]),
        lines=tuple(_line(one) for one in offer["lines"]),
        net=Money.of(offer["net"]),
        taxes=tuple(_tax(one) for one in offer["taxes"]),
        total=Money.of(offer["total"]),
        further_brick=Money.of(offer["further_brick"]),
    )


def _trader(told: Mapping[str, Any]) -> Trader:
    return Trader(**{**told, "address": tuple(told["address"])})


def _line(told: Mapping[str, Any]) -> QuotedLine:
    quantity = Quantity(
        Decimal(told["quantity"]["amount"]), Unit.of_symbol(told["quantity"]["unit"])
    )
    return QuotedLine(
        told["description"], quantity, Decimal(told["rate"]), Money.of(told["amount"])
    )


def _tax(told: Mapping[str, Any]) -> TaxLine:
    return TaxLine(
        told["title"],
        Decimal(told["rate"]),
        Money.of(told["base"]),
        Money.of(told["amount"]),
        told["charged"],
    )
