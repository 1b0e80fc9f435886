"""A quotation as UBL 2.3: one document for each choice, as the standard knows of one price each."""

from __future__ import annotations

import datetime

from estimator.exchange import ubl
from estimator.exchange.ubl import Paper
from estimator.notices import UserMistake
from estimator.quoting.quotation import Paper as Kind
from estimator.quoting.quotation import Quotation


def quotation(offered: Quotation, option: int) -> bytes:
    """Return one choice of a quotation.

    Raises:
        UserMistake: for an estimate, which is a range and no price, and where there is no such
            choice.
    """
    if offered.paper is not Kind.QUOTATION:
        raise UserMistake(
            "an estimate is not sent as a quotation",
            why="it gives a range and no price",
            do="measure the wall, and issue a quotation",
        )
    if not 0 <= option < len(offered.options):
        raise UserMistake("the quotation has no such choice", do="choose one that is on it")
    offer = offered.options[option].offer
    paper = Paper("Quotation", offered.currency)
    root = paper.root
    paper.say(root, "UBLVersionID", ubl.VERSION)
    paper.say(root, "ID", offered.number)
    paper.say(root, "IssueDate", ubl.day(datetime.date.fromisoformat(offered.date)))
    paper.say(root, "Note", offer.scope.title)
    for sentence in offer.visible:
        paper.say(root, "Note", sentence)
    paper.say(root, "PricingCurrencyCode", offered.currency)
    paper.say(root, "LineCountNumeric", str(len(offer.lines)))
    paper.say(paper.group(root, "ValidityPeriod"), "EndDate", offered.valid_until)
    is_registered = bool(offer.taxes)
    trader, customer = offered.trader, offered.survey.customer
    ubl.add_trader(paper, "SellerSupplierParty", trader, offered.country, registered=is_registered)
    ubl.add_customer(paper, "BuyerCustomerParty", customer, offered.country)
    ubl.add_tax(paper, offer.taxes, offer.net)
    sums = (
        ("LineExtensionAmount", offer.net),
        ("TaxExclusiveAmount", offer.net),
        ("TaxInclusiveAmount", offer.total),
        ("PayableAmount", offer.total),
    )
    ubl.add_totals(paper, "QuotedMonetaryTotal", sums)
    kind = ubl.category_of(offer.taxes)
    for place, one in enumerate(offer.lines, start=1):
        line = paper.group(root, "QuotationLine")
        item = paper.group(line, "LineItem")
        paper.say(item, "ID", str(place))
        unit = one.quantity.unit
        paper.say(item, "Quantity", f"{one.quantity.amount:f}", unitCode=unit.code)
        paper.amount(item, "LineExtensionAmount", one.amount)
        paper.price(item, one.rate)
        ubl.add_item(paper, item, one.description, kind)
    return paper.bytes()
