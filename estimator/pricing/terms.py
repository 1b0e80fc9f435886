"""The terms of one price: who buys, where, when, and how tax is treated."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from decimal import Decimal

from estimator.pricing.price_book import PriceBook
from estimator.pricing.tax_habits import Deduction, Rounding, SalesTax
from estimator.survey.survey import CustomerKind, Survey


@dataclass(frozen=True, slots=True)
class Terms:
    """All that the price depends on besides the work and the price book."""

    date: datetime.date
    country: str = "GB"
    customer: CustomerKind = CustomerKind.HOUSEHOLD
    registered: bool = True
    rounding: Rounding = Rounding.NEAREST
    reverse_charge: bool = False
    """Whether the customer is to account for the tax."""
    customer_tax_number: str = ""
    is_end_user: bool = True
    deduction: Deduction = Deduction.NONE
    sales_tax: SalesTax = SalesTax.NONE
    sales_tax_percent: Decimal = Decimal(0)
    empty_months: int = 0
    """Months a dwelling has stood empty before the work starts [month]."""
    empty_evidence: bool = False
    """Whether there is a letter from the council to show it."""
    travel_miles: Decimal = Decimal(10)
    """One way [mile]."""

    @classmethod
    def of(cls, survey: Survey, book: PriceBook, *, date: datetime.date) -> Terms:
        """Return the terms that follow from a survey and a price book.

        Another contractor with a tax number, who has not said to be the end user, accounts for the
        tax itself. Nobody else is asked to.

        >>> from estimator.pricing.price_book import shipped
        >>> from estimator.survey.survey import Basis, Party, Site
        >>> seen = Survey("1", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), ())
        >>> Terms.of(seen, shipped(), date=datetime.date(2026, 11, 25)).reverse_charge
        False
        """
        party, tax = survey.customer, book.tax
        is_trade = party.kind is CustomerKind.TRADE and tax.country == "GB"
        return cls(
            date=date,
            country=tax.country,
            customer=party.kind,
            registered=tax.registered,
            rounding=tax.rounding,
            reverse_charge=bool(
                is_trade and tax.registered and party.vat_number and not party.is_end_user
            ),
            customer_tax_number=party.vat_number,
            is_end_user=party.is_end_user,
            deduction=tax.deduction if is_trade else Deduction.NONE,
            sales_tax=tax.sales_tax,
            sales_tax_percent=tax.sales_tax_percent,
            empty_months=survey.site.empty_months,
            empty_evidence=survey.site.empty_evidence,
            travel_miles=Decimal(repr(survey.site.travel_miles)),
        )
