"""Tax on a price: which rate, on what, rounded how, and who pays it over.

Rates are dated data with sources, never code. Nothing here is tax advice: a rate that has changed
is changed in the data, and a case not known here is refused rather than guessed.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from functools import lru_cache
from typing import Any

from estimator import resources
from estimator.money import NOTHING, PENNY, Money, total
from estimator.notices import Notice, Severity, UserMistake
from estimator.pricing.offer import TaxLine
from estimator.pricing.tax_habits import Deduction, Rounding, SalesTax
from estimator.pricing.terms import Terms
from estimator.survey.survey import CustomerKind

HUNDRED = Decimal(100)
TENTH_OF_A_PENNY = Decimal("0.001")


@dataclass(frozen=True, slots=True)
class Supply:
    """What is sold, before tax, and what part of it is goods."""

    amounts: tuple[Money, ...]
    """The printed lines."""
    materials_sold: Money = NOTHING
    """Selling price of the lines for materials."""
    goods_cost: Money = NOTHING
    """What the goods cost the trader."""
    hire_cost: Money = NOTHING
    """What hired plant and access cost the trader."""

    @property
    def net(self) -> Money:
        """The price before tax."""
        return total(self.amounts)


@dataclass(frozen=True, slots=True)
class Taxed:
    """The tax on a supply, and what has to be said about it."""

    lines: tuple[TaxLine, ...]
    notices: tuple[Notice, ...] = ()


def _country(country: str) -> Mapping[str, Any]:
    known: Mapping[str, Any] = resources.data("tax.json")["countries"]
    if country not in known:
        raise UserMistake(
            f"no tax is known for '{country}'",
            do=f"write one of {', '.join(known)} as the country of the price book",
            field="tax",
        )
    entry: Mapping[str, Any] = known[country]
    return entry


@lru_cache(maxsize=64)
def rate(country: str, kind: str, date: datetime.date) -> Decimal:
    """Return a rate of tax on a day [per cent].

    Raises:
        UserMistake: for a country not known, or a day before the first rate in the data.

    >>> rate("GB", "standard", datetime.date(2026, 11, 25))
    Decimal('20')
    """
    entry = _country(country)
    dated = [row for row in entry["rates"].get(kind, ()) if row["from"] <= date.isoformat()]
    if not dated:
        raise UserMistake(
            f"no {kind} rate of {entry['title']} is known for {date.isoformat()}",
            do="write a later date",
            field="date",
        )
    return Decimal(max(dated, key=lambda row: row["from"])["percent"])


def tax_on(base: Money, percent: Decimal, rounding: Rounding = Rounding.NEAREST) -> Money:
    """Return the tax on an amount, rounded to the nearest penny or down to one.

    >>> base = Money.of("179.18")
    >>> str(tax_on(base, Decimal(20))), str(tax_on(base, Decimal(20), Rounding.DOWN))
    ('35.84', '35.83')
    """
    if rounding is Rounding.NEAREST:
        return base.times(percent / HUNDRED)
    return Money.of((base.pounds * percent / HUNDRED).quantize(PENNY, rounding=ROUND_DOWN))


def tax_by_lines(amounts: Sequence[Money], percent: Decimal) -> Money:
    """Return tax taken line by line: each down to a tenth of a penny, the sum down to a penny.

    >>> str(tax_by_lines([Money.of("33.33"), Money.of("47.19"), Money.of("8.05")], Decimal(5)))
    '4.42'
    """
    exact = sum(
        (
            (amount.pounds * percent / HUNDRED).quantize(TENTH_OF_A_PENNY, rounding=ROUND_DOWN)
            for amount in amounts
        ),
        Decimal(0),
    )
    return Money.of(exact.quantize(PENNY, rounding=ROUND_DOWN))


def tax_within(gross: Money, percent: Decimal) -> Money:
    """Return the tax that is in a gross price: a sixth at 20 %, a twenty-first at 5 %.

    >>> str(tax_within(Money.of(1500), Decimal(20)))
    '250.00'
    """
    return gross.times(percent / (HUNDRED + percent))


def tax_inclusive(net: Money, percent: Decimal) -> Money:
    """Return what something costs a trader who cannot reclaim the tax on it.

    >>> str(tax_inclusive(Money.of("186.40"), Decimal(20)))
    '223.68'
    """
    return net.times(1 + percent / HUNDRED)


def input_factor(terms: Terms) -> Decimal:
    """Return what bought-in things cost the trader for each pound before tax.

    A trader who is not registered pays the tax and keeps it as a cost; so does a contractor who
    pays sales tax on materials within a lump sum.

    >>> input_factor(Terms(datetime.date(2026, 11, 25), registered=False))
    Decimal('1.2')
    """
    # No rate of any state is known here: what applies is the trader's own setting.
    if terms.country == "US":
        is_lump = terms.sales_tax is SalesTax.LUMP
        return 1 + terms.sales_tax_percent / HUNDRED if is_lump else Decimal(1)
    if terms.registered:
        return Decimal(1)
    kind = _country(terms.country).get("goods_kind", "standard")
    return 1 + rate(terms.country, kind, terms.date) / HUNDRED


def charge(supply: Supply, terms: Terms) -> Taxed:
    """Return the tax on a supply.

    Raises:
        UserMistake: when a reverse charge is asked for that the law does not allow, or a rate is
            not known.

    >>> sold = Supply((Money.of("1192.84"),))
    >>> str(charge(sold, Terms(datetime.date(2026, 11, 25))).lines[0].amount)
    '238.57'
    """
    if terms.reverse_charge:
        _check_reverse_charge(terms)
    if terms.country == "US":
        return _sales_tax(supply, terms)
    entry = _country(terms.country)
    if not terms.registered:
        return Taxed(())
    percent, notices = _percent(supply, terms, entry)
    net = supply.net
    amount = (
        tax_by_lines(supply.amounts, percent)
        if terms.rounding is Rounding.LINES_DOWN
        else tax_on(net, percent, terms.rounding)
    )
    title = f"{entry['title']} at {percent:f} %"
    if terms.reverse_charge:
        title = f"Reverse charge: customer to account for {title}"
    line = TaxLine(title, percent, net, amount, charged=not terms.reverse_charge)
    return Taxed((line,), notices)


def _check_reverse_charge(terms: Terms) -> None:
    """Refuse a reverse charge that the law does not allow; source: gov.uk VATREVCON."""
    why = ""
    # The first reason is enough: it is the one a person would name.
    if terms.customer is CustomerKind.HOUSEHOLD:
        why = "a householder never accounts for a trader's tax"
    elif terms.country != "GB":
        why = "only the one for construction work in the United Kingdom is known here"
    elif not terms.registered:
        why = "the trader is not registered for VAT"
    elif not terms.customer_tax_number:
        why = "the customer has given no VAT number"
    elif terms.is_end_user:
        why = "the customer is the end user of the work"
    if why:
        raise UserMistake(
            "the reverse charge cannot be used here",
            why=why,
            do="charge tax as usual, or correct the customer's particulars",
            field="reverse_charge",
        )


def _percent(
    supply: Supply, terms: Terms, entry: Mapping[str, Any]
) -> tuple[Decimal, tuple[Notice, ...]]:
    """Return the rate for a supply, and what is to be said about it."""
    standard = rate(terms.country, "standard", terms.date)
    if "goods_kind" in entry:
        return _by_two_thirds(supply, terms, entry, standard)
    least = entry.get("empty_months", 0)
    if least and terms.empty_months >= least and terms.customer is CustomerKind.HOUSEHOLD:
        if terms.empty_evidence:
            return rate(terms.country, "reduced", terms.date), ()
        return standard, (_notice("empty_home", entry["empty_words"], entry["empty_source"]),)
    relief = entry.get("household_relief")
    if relief and terms.customer is CustomerKind.HOUSEHOLD:
        labour = tax_inclusive(supply.net - supply.materials_sold, standard)
        text = relief["words"].replace("{base}", str(labour))
        text = text.replace("{relief}", str(household_relief(labour)))
        return standard, (_notice("household_relief", text, relief["source"]),)
    return standard, ()


def _by_two_thirds(
    supply: Supply, terms: Terms, entry: Mapping[str, Any], standard: Decimal
) -> tuple[Decimal, tuple[Notice, ...]]:
    """Tax the whole as goods when goods cost more than two thirds of the price."""
    # Compared in whole pence, so that exactly two thirds is told from a penny over.
    if 3 * supply.goods_cost.pence <= 2 * supply.net.pence:
        return standard, ()
    note = _notice("two_thirds", entry["two_thirds_words"], entry["two_thirds_source"])
    return rate(terms.country, entry["goods_kind"], terms.date), (note,)


def _notice(code: str, text: str, source: str) -> Notice:
    return Notice(code, Severity.NOTE, text, source)


def household_relief(labour_gross: Money) -> Money:
    """Return what a German household may take off its income tax for labour, tax in.

    A fifth of labour, travel and machines, at most so much a year; source: § 35a EStG.

    >>> str(household_relief(Money.of("1261.40"))), str(household_relief(Money.of(8330)))
    ('252.28', '1200.00')
    """
    relief = _country("DE")["household_relief"]
    return min(labour_gross.times(Decimal(relief["percent"]) / HUNDRED), Money.of(relief["most"]))


def _sales_tax(supply: Supply, terms: Terms) -> Taxed:
    """Return the sales tax the trader has set; nothing is assumed about a state."""
    bases = {SalesTax.SEPARATED: supply.materials_sold, SalesTax.WHOLE: supply.net}
    base = bases.get(terms.sales_tax)
    if base is None:
        return Taxed(())
    percent = terms.sales_tax_percent
    what = " on materials" if terms.sales_tax is SalesTax.SEPARATED else ""
    title = f"Sales tax at {percent:f} %{what}"
    return Taxed((TaxLine(title, percent, base, tax_on(base, percent, terms.rounding)),))


def deduction(supply: Supply, terms: Terms) -> Money:
    """Return what a contractor keeps back from a subcontractor and pays over for it.

    On the price before tax less what materials and hired plant cost, not what they are sold at.
    Source: gov.uk on the construction industry scheme; the cost basis from a tax adviser's note.

    Raises:
        UserMistake: for a country whose scheme is not known here.

    >>> from dataclasses import replace
    >>> sold = Supply((Money.of(2000),), goods_cost=Money.of(480), hire_cost=Money.of(120))
    >>> terms = Terms(datetime.date(2026, 11, 25), customer=CustomerKind.TRADE,
    ...     deduction=Deduction.REGISTERED)
    >>> str(deduction(sold, terms)), str(deduction(sold, replace(terms,
    ...     deduction=Deduction.UNVERIFIED)))
    ('280.00', '420.00')
    """
    percent = deduction_percent(terms)
    labour = supply.net - supply.goods_cost - supply.hire_cost
    return max(labour, NOTHING).times(percent / HUNDRED)


def deduction_percent(terms: Terms) -> Decimal:
    """Return the share of labour that a contractor keeps back, 0 where none does [%].

    Raises:
        UserMistake: for a country whose scheme is not known here.

    >>> deduction_percent(Terms(datetime.date(2026, 11, 25)))
    Decimal('0')
    """
    if terms.deduction is Deduction.NONE or terms.customer is not CustomerKind.TRADE:
        return Decimal(0)
    rates = _country(terms.country).get("deduction")
    if rates is None:
        raise UserMistake(
            f"no deduction by a contractor is known for '{terms.country}'",
            do="leave the deduction out",
            field="deduction",
        )
    return Decimal(rates[terms.deduction.value])


def labour_of(deducted: Money, terms: Terms) -> Money:
    """Return the labour of which so much was kept back, to a few pence; nothing where none is.

    >>> trade = Terms(datetime.date(2026, 11, 25), customer=CustomerKind.TRADE,
    ...     deduction=Deduction.REGISTERED)
    >>> str(labour_of(Money.of(280), trade)), str(labour_of(NOTHING, trade))
    ('1400.00', '0.00')
    """
    percent = deduction_percent(terms)
    return deducted.times(HUNDRED / percent) if percent else NOTHING


def charged(taxes: Sequence[TaxLine]) -> Money:
    """Return the tax the customer pays to the trader; a reverse charge is none of it.

    >>> vat = TaxLine("VAT", Decimal(20), Money.of(10), Money.of(2))
    >>> reverse = TaxLine("Reverse charge", Decimal(20), Money.of(10), Money.of(2), charged=False)
    >>> str(charged([vat, reverse]))
    '2.00'
    """
    return total(line.amount for line in taxes if line.charged)
