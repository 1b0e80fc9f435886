"""A quotation as UBL 2.3: one document for each choice, as the standard knows of one price each."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal
from string import ascii_uppercase

from estimator.exchange import ubl
from estimator.exchange.ubl import Paper
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Paper as Kind
from estimator.quoting.quotation import Quotation, Trader
from estimator.survey.survey import Party
from estimator.units import Quantity


@dataclass(frozen=True, slots=True)
class QuotedLine:
    """One line of a choice."""

    description: str
    quantity: Quantity
    rate: Decimal
    amount: Money


@dataclass(frozen=True, slots=True)
class Quoted:
    """One choice of a quotation, as it stands on the paper."""

    number: str
    """With the letter of the choice where there are several."""
    date: datetime.date
    valid_until: str
    currency: str
    country: str
    trader: Trader
    customer: Party
    title: str
    visible: tuple[str, ...]
    lines: tuple[QuotedLine, ...]
    net: Money
    taxes: tuple[TaxLine, ...]
    total: Money
    further_brick: Money


def quotation(offered: Quotation, option: int) -> bytes:
    """Return one choice of a quotation, by the letter it has on paper where there are several.

    Raises:
        UserMistake: for an estimate, which is a range and no price, where there is no such choice,
            and in a country without VAT.
    """
    check_kind(offered.paper)
    if not 0 <= option < len(offered.options):
        raise no_such_choice()
    offer = offered.options[option].offer
    return document(
        Quoted(
            number=numbered(offered.number, option, len(offered.options)),
            date=datetime.date.fromisoformat(offered.date),
            valid_until=offered.valid_until,
            currency=offered.currency,
            country=offered.country,
            trader=offered.trader,
            customer=offered.survey.customer,
            title=offer.scope.title,
            visible=offer.visible,
            lines=tuple(
                QuotedLine(one.description, one.quantity, one.rate, one.amount)
                for one in offer.lines
            ),
            net=offer.net,
            taxes=offer.taxes,
            total=offer.total,
            further_brick=offer.further_brick,
        )
    )


def check_kind(paper: Kind) -> None:
    """Refuse an estimate.

    Raises:
        UserMistake: for an estimate, which is a range and no price.
    """
    if paper is not Kind.QUOTATION:
        raise UserMistake(
            "an estimate is not sent as a quotation",
            why="it gives a range and no price",
            do="measure the wall, and issue a quotation",
        )


def no_such_choice() -> UserMistake:
    """Return what is wrong where a choice is asked for that is not on the paper."""
    return UserMistake("the quotation has no such choice", do="choose one that is on it")


def numbered(number: str, option: int, count: int) -> str:
    """Return the number of a choice, by the letter it has on paper where there are several.

    >>> numbered("Q-0001", 1, 2), numbered("Q-0001", 0, 1)
    ('Q-0001/B', 'Q-0001')
    """
    return f"{number}/{ascii_uppercase[option]}" if count > 1 else number


def document(quoted: Quoted) -> bytes:
    """Return a choice as a document.

    Raises:
        UserMistake: in a country without VAT.
    """
    ubl.check_country(quoted.country)
    paper = Paper("Quotation", quoted.currency)
    _head(paper, quoted)
    taxed, customer = bool(quoted.taxes), quoted.customer
    ubl.add_trader(paper, "SellerSupplierParty", quoted.trader, quoted.country, registered=taxed)
    ubl.add_customer(paper, "BuyerCustomerParty", customer, quoted.country, taxed=taxed)
    ubl.add_site(paper, customer, quoted.country)
    ubl.add_tax(paper, quoted.taxes, quoted.net)
    sums = (
        ("LineExtensionAmount", quoted.net),
        ("TaxExclusiveAmount", quoted.net),
        ("TaxInclusiveAmount", quoted.total),
        ("PayableAmount", quoted.total),
    )
    ubl.add_totals(paper, "QuotedMonetaryTotal", sums)
    _lines(paper, quoted)
    return paper.bytes()


def _head(paper: Paper, quoted: Quoted) -> None:
    root = paper.root
    paper.say(root, "UBLVersionID", ubl.VERSION)
    paper.say(root, "ID", quoted.number)
    paper.say(root, "IssueDate", ubl.day(quoted.date))
    for sentence in (quoted.title, *quoted.visible, *ubl.accounted(quoted.taxes)):
        paper.say(root, "Note", sentence)
    if quoted.further_brick:
        rate = f"Each further cracked brick: {quoted.further_brick} before tax"
        paper.say(root, "Note", rate)
    paper.say(root, "PricingCurrencyCode", quoted.currency)
    paper.say(root, "LineCountNumeric", str(len(quoted.lines)))
    paper.say(paper.group(root, "ValidityPeriod"), "EndDate", quoted.valid_until)


def _lines(paper: Paper, quoted: Quoted) -> None:
    kind = ubl.category_of(quoted.taxes)
    for place, one in enumerate(quoted.lines, start=1):
        line = paper.group(paper.group(paper.root, "QuotationLine"), "LineItem")
        paper.say(line, "ID", str(place))
        unit = one.quantity.unit
        paper.say(line, "Quantity", f"{one.quantity.amount:f}", unitCode=unit.code)
        paper.amount(line, "LineExtensionAmount", one.amount)
        paper.price(line, one.rate)
        ubl.add_item(paper, line, one.description, kind)
