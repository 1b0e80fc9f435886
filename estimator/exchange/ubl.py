"""What all our UBL 2.3 documents have in common: parties, amounts, tax, lines.

OASIS, *Universal Business Language 2.3*. Invoices and credit notes keep to EN 16931 as well;
elements stand in the order the schemas ask for. Escaping is the library's. Only elements that 2.1
has already are used, so any later version reads them.
"""

from __future__ import annotations

import datetime
import xml.etree.ElementTree as Tree
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.offer import TaxLine
from estimator.quoting.quotation import Trader
from estimator.survey.survey import Party

VERSION, EN_VERSION = "2.3", "2.1"
"""EN 16931 is bound to 2.1, and warns of a paper that names another (its rule UBL-CR-002); the
standard asks for the earliest version that has all the elements, which 2.1 is."""
EN_16931 = "urn:cen.eu:en16931:2017"
CAC = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
CBC = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"
MAIN = "urn:oasis:names:specification:ubl:schema:xsd:{name}-2"
PLACES = Decimal("0.01")
LONGEST_VAT = 20
NO_VAT = frozenset({"US"})
"""Countries known here whose tax on sales is no VAT."""


@dataclass(frozen=True, slots=True)
class Category:
    """A category of tax as UN/ECE 5305 names it, and why none is charged."""

    code: str
    percent: Decimal | None
    reason: str = ""
    reason_code: str = ""


STANDARD, REVERSE, OUTSIDE = "S", "AE", "O"
REVERSE_REASON = "Reverse charge: customer to account for the VAT (VAT Act 1994, section 55A)"
OUTSIDE_REASON = "The trader is not registered for VAT"


def category_of(taxes: Sequence[TaxLine]) -> Category:
    """Return the category of a whole paper.

    Raises:
        UserMistake: for tax at more than one rate, as no line says which is its own.

    >>> category_of(()).code
    'O'
    """
    if not taxes:
        return Category(OUTSIDE, None, OUTSIDE_REASON, "VATEX-EU-O")
    if len(taxes) > 1:
        raise UserMistake(
            "this paper has tax at more than one rate",
            why="its lines do not say which is whose",
            do="send the paper itself",
        )
    line = taxes[0]
    if not line.charged:
        return Category(REVERSE, Decimal(0), REVERSE_REASON, "VATEX-EU-AE")
    return Category(STANDARD, line.rate)


class Paper:
    """One document under way."""

    def __init__(self, name: str, currency: str) -> None:
        """Begin a document by the name of its root."""
        # Written as they are to be read: the library's own table of prefixes is one for all.
        spaces = {"xmlns": MAIN.format(name=name), "xmlns:cac": CAC, "xmlns:cbc": CBC}
        self.root = Tree.Element(name, spaces)
        self.currency = currency

    def say(self, parent: Tree.Element, name: str, text: str, **attributes: str) -> None:
        """Add a basic element, unless it says nothing."""
        if text.strip():
            Tree.SubElement(parent, f"cbc:{name}", attributes).text = legible(text)

    def group(self, parent: Tree.Element, name: str) -> Tree.Element:
        """Add an aggregate element."""
        return Tree.SubElement(parent, f"cac:{name}")

    def amount(self, parent: Tree.Element, name: str, amount: Money) -> None:
        """Add an amount of money."""
        self.say(parent, name, str(amount), currencyID=self.currency)

    def price(self, parent: Tree.Element, amount: Decimal) -> None:
        """Add the price of one unit."""
        inner = self.group(parent, "Price")
        self.say(inner, "PriceAmount", f"{amount:f}", currencyID=self.currency)

    def bytes(self) -> bytes:
        """Return the document as UTF-8."""
        Tree.indent(self.root, " ")
        written: bytes = Tree.tostring(self.root, encoding="UTF-8", xml_declaration=True)
        return written + b"\n"


def legible(text: str) -> str:
    r"""Return a text without what XML cannot hold at all.

    >>> legible("a\x00b")
    'a\ufffdb'
    """
    return "".join(one if _may_stand(one) else "\ufffd" for one in text)


def _may_stand(one: str) -> bool:
    code = ord(one)
    is_bare = code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF
    return is_bare or 0xE000 <= code <= 0xFFFD or code >= 0x10000


def day(date: datetime.date) -> str:
    """Return a day as ISO 8601 writes it.

    >>> day(datetime.date(2026, 11, 25))
    '2026-11-25'
    """
    return date.isoformat()


def vat_id(number: str, country: str) -> str:
    """Return a VAT number with its country before it and no blanks; nothing for none.

    >>> vat_id("GB 000 0000 00", "GB"), vat_id("000 0000 00", "GB"), vat_id("", "GB")
    ('GB000000000', 'GB000000000', '')
    >>> vat_id("XI 000 0000 00", "GB")
    'XI000000000'
    """
    bare = "".join(one for one in number.upper() if one.isascii() and one.isalnum())[:LONGEST_VAT]
    return bare if not bare or bare[:2].isalpha() else country + bare


def check_country(country: str) -> None:
    """Refuse a country whose tax on sales is no VAT.

    Raises:
        UserMistake: for such a country.

    >>> check_country("GB")
    """
    if country in NO_VAT:
        raise UserMistake(
            "this kind of file is for countries with VAT",
            why="no other tax on sales is written in it here",
            do="send the paper itself",
        )


def check_vat(taxes: Sequence[TaxLine], trader: Trader, country: str) -> None:
    """Refuse what EN 16931 cannot say.

    Raises:
        UserMistake: in a country without VAT, and where VAT is charged under no number.

    >>> check_vat((), Trader("Tarn & Pike"), "GB")
    """
    check_country(country)
    if taxes and not vat_id(trader.vat_number, country):
        raise UserMistake(
            "the firm has no VAT number, and this paper charges VAT",
            do="write the number with the particulars of the firm",
            field="vat_number",
        )


def add_trader(
    paper: Paper, wrapper: str, trader: Trader, country: str, *, registered: bool
) -> None:
    """Add ourselves."""
    party = paper.group(paper.group(paper.root, wrapper), "Party")
    number = vat_id(trader.vat_number, country) if registered else ""
    if not number and not trader.company_number.strip():
        # A seller must be known by some number or name (BR-CO-26); house rule: by name then.
        paper.say(paper.group(party, "PartyIdentification"), "ID", trader.name)
    _name_and_place(paper, party, trader.name, trader.address, country)
    _tax_scheme(paper, party, number)
    entity = paper.group(party, "PartyLegalEntity")
    paper.say(entity, "RegistrationName", _named(trader.name))
    paper.say(entity, "CompanyID", trader.company_number)
    _contact(paper, party, trader.telephone, trader.email)


def add_customer(paper: Paper, wrapper: str, customer: Party, country: str, *, taxed: bool) -> None:
    """Add the customer; on a paper outside VAT without its number (BR-O-02)."""
    party = paper.group(paper.group(paper.root, wrapper), "Party")
    _name_and_place(paper, party, customer.name, customer.address, country)
    _tax_scheme(paper, party, vat_id(customer.vat_number, country) if taxed else "")
    entity = paper.group(party, "PartyLegalEntity")
    paper.say(entity, "RegistrationName", _named(customer.name))
    _contact(paper, party, customer.telephone, customer.email)


def add_site(paper: Paper, customer: Party, country: str) -> None:
    """Add where the work is, where that is not the customer's own address."""
    if any(line.strip() for line in customer.site):
        delivery = paper.group(paper.root, "Delivery")
        _place(paper, paper.group(delivery, "DeliveryLocation"), "Address", customer.site, country)


def _named(name: str) -> str:
    return name if name.strip() else "-"


def _name_and_place(
    paper: Paper, party: Tree.Element, name: str, address: Sequence[str], country: str
) -> None:
    paper.say(paper.group(party, "PartyName"), "Name", _named(name))
    _place(paper, party, "PostalAddress", address, country)


def _place(
    paper: Paper, parent: Tree.Element, name: str, address: Sequence[str], country: str
) -> None:
    place = paper.group(parent, name)
    street, *rest = address or ("",)
    *between, city = rest or ("",)
    paper.say(place, "StreetName", street)
    paper.say(place, "AdditionalStreetName", between[0] if between else "")
    paper.say(place, "CityName", city)
    if len(between) > 1:
        paper.say(paper.group(place, "AddressLine"), "Line", ", ".join(between[1:]))
    paper.say(paper.group(place, "Country"), "IdentificationCode", country)


def _tax_scheme(paper: Paper, party: Tree.Element, number: str) -> None:
    if number:
        scheme = paper.group(party, "PartyTaxScheme")
        paper.say(scheme, "CompanyID", number)
        paper.say(paper.group(scheme, "TaxScheme"), "ID", "VAT")


def _contact(paper: Paper, party: Tree.Element, telephone: str, email: str) -> None:
    if telephone or email:
        contact = paper.group(party, "Contact")
        paper.say(contact, "Telephone", telephone)
        paper.say(contact, "ElectronicMail", email)


def add_tax(paper: Paper, taxes: Sequence[TaxLine], net: Money) -> None:
    """Add the tax in all, and by category."""
    kind = category_of(taxes)
    charged = sum((one.amount.pence for one in taxes if one.charged), 0)
    whole = paper.group(paper.root, "TaxTotal")
    paper.amount(whole, "TaxAmount", Money(charged))
    part = paper.group(whole, "TaxSubtotal")
    paper.amount(part, "TaxableAmount", net)
    paper.amount(part, "TaxAmount", Money(charged))
    _category(paper, part, "TaxCategory", kind, with_reason=True)


def add_item(paper: Paper, line: Tree.Element, name: str, kind: Category) -> None:
    """Add what a line is about, with its category of tax."""
    item = paper.group(line, "Item")
    paper.say(item, "Name", _named(name))
    _category(paper, item, "ClassifiedTaxCategory", kind, with_reason=False)


def _category(
    paper: Paper, parent: Tree.Element, name: str, kind: Category, *, with_reason: bool
) -> None:
    category = paper.group(parent, name)
    paper.say(category, "ID", kind.code)
    if kind.percent is not None:
        paper.say(category, "Percent", f"{kind.percent:f}")
    if with_reason:
        paper.say(category, "TaxExemptionReasonCode", kind.reason_code)
        paper.say(category, "TaxExemptionReason", kind.reason)
    paper.say(paper.group(category, "TaxScheme"), "ID", "VAT")


def accounted(taxes: Sequence[TaxLine]) -> Iterator[str]:
    """Yield the tax the customer accounts for, which the sums leave out and the law wants said.

    >>> list(accounted(()))
    []
    """
    yield from (f"{one.title}: {one.amount}" for one in taxes if not one.charged)


def add_totals(paper: Paper, name: str, amounts: Iterable[tuple[str, Money]]) -> None:
    """Add the sums of a document."""
    totals = paper.group(paper.root, name)
    for element, amount in amounts:
        paper.amount(totals, element, amount)
