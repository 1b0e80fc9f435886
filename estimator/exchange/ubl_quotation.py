"""A quotation as UBL 2.3: one document for each choice, as the standard knows of one price each."""

from __future__ import annotations

import datetime
from string import ascii_uppercase

from estimator.exchange import ubl
from estimator.exchange.ubl import Paper
from estimator.notices import UserMistake
from estimator.pricing.offer import Offer
from estimator.quoting.quotation import Paper as Kind
from estimator.quoting.quotation import Quotation


def quotation(offered: Quotation, option: int) -> bytes:
    """Return one choice of a quotation, by the letter it has on paper where there are several.

    Raises:
        UserMistake: for an estimate, which is a range and no price, where there is no such choice,
            and in a country without VAT.
    """
    if offered.paper is not Kind.QUOTATION:
        raise UserMistake(
            "an estimate is not sent as a quotation",
            why="it gives a range and no price",
            do="measure the wall, and issue a quotation",
        )
    if not 0 <= option < len(offered.options):
        raise UserMistake("the quotation has no such choice", do="choose one that is on it")
    ubl.check_country(offered.country)
    offer = offered.options[option].offer
    paper = Paper("Quotation", offered.currency)
    letter = f"/{ascii_uppercase[option]}" if len(offered.options) > 1 else ""
    _head(paper, offered, offer, offered.number + letter)
    taxed, customer = bool(offer.taxes), offered.survey.customer
    ubl.add_trader(paper, "SellerSupplierParty", offered.trader, offered.country, registered=taxed)
    ubl.add_customer(paper, "BuyerCustomerParty", customer, offered.country, taxed=taxed)
    ubl.add_site(paper, customer, offered.country)
    ubl.add_tax(paper, offer.taxes, offer.net)
    sums = (
        ("LineExtensionAmount", offer.net),
        ("TaxExclusiveAmount", offer.net),
        ("TaxInclusiveAmount", offer.total),
        ("PayableAmount", offer.total),
    )
    ubl.add_totals(paper, "QuotedMonetaryTotal", sums)
    _lines(paper, offer)
    return paper.bytes()


def _head(paper: Paper, offered: Quotation, offer: Offer, number: str) -> None:
    root = paper.root
    paper.say(root, "UBLVersionID", ubl.VERSION)
    paper.say(root, "ID", number)
    paper.say(root, "IssueDate", ubl.day(datetime.date.fromisoformat(offered.date)))
    for sentence in (offer.scope.title, *offer.visible, *ubl.accounted(offer.taxes)):
        paper.say(root, "Note", sentence)
    if offer.further_brick:
        rate = f"Each further cracked brick: {offer.further_brick} before tax"
        paper.say(root, "Note", rate)
    paper.say(root, "PricingCurrencyCode", offered.currency)
    paper.say(root, "LineCountNumeric", str(len(offer.lines)))
    paper.say(paper.group(root, "ValidityPeriod"), "EndDate", offered.valid_until)


def _lines(paper: Paper, offer: Offer) -> None:
    kind = ubl.category_of(offer.taxes)
    for place, one in enumerate(offer.lines, start=1):
        line = paper.group(paper.group(paper.root, "QuotationLine"), "LineItem")
        paper.say(line, "ID", str(place))
        unit = one.quantity.unit
        paper.say(line, "Quantity", f"{one.quantity.amount:f}", unitCode=unit.code)
        paper.amount(line, "LineExtensionAmount", one.amount)
        paper.price(line, one.rate)
        ubl.add_item(paper, line, one.description, kind)
