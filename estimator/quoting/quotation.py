"""A quotation or an estimate: everything the paper says, frozen."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from estimator.money import Money
from estimator.pricing.offer import Offer
from estimator.survey.survey import Survey
from estimator.survey.triage import Assessment
from estimator.takeoff.lines import Measure


class Paper(Enum):
    """Which paper it is; never both."""

    QUOTATION = "quotation"
    ESTIMATE = "estimate"


@dataclass(frozen=True, slots=True)
class Trader:
    """The contractor whose name is on the paper."""

    name: str
    trade: str = ""
    address: tuple[str, ...] = ()
    telephone: str = ""
    email: str = ""
    vat_number: str = ""
    company_number: str = ""
    waste_carrier: str = ""
    insurance: str = ""
    guarantee: str = ""
    complaints: str = ""
    """How a complaint is handled, and the dispute body if the trader belongs to one."""
    bank: str = ""
    """Where an invoice is to be paid: name of the account, sort code, number."""


@dataclass(frozen=True, slots=True)
class Spread:
    """An honest range for one option, tax in, rounded outward; never pence."""

    low: Money
    likely: Money
    high: Money
    confidence: str
    """How sure, in words."""


@dataclass(frozen=True, slots=True)
class Option:
    """One scope: what would be done and what it would cost."""

    measure: Measure
    offer: Offer
    spread: Spread | None = None


@dataclass(frozen=True, slots=True)
class Quotation:
    """All that a quotation or estimate says."""

    paper: Paper
    number: str
    date: str
    valid_until: str
    """ISO 8601 dates."""
    trader: Trader
    survey: Survey
    assessment: Assessment
    options: tuple[Option, ...]
    rates_confirmed: bool
    """False while the price book still holds illustrative rates."""
    currency: str = "GBP"
    country: str = "GB"
    """Whose tax and currency the prices are in, as the price book says."""
