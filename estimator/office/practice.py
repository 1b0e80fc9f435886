"""The firm's rates, rules and name as the file has them, and the rules of one job."""

from __future__ import annotations

import json

from estimator.pricing.price_book import PriceBook
from estimator.quoting import trader_file
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Trader
from estimator.store import jobs, price_books, settings
from estimator.store.database import Database
from estimator.store.within import Place
from estimator.takeoff import rules
from estimator.takeoff.rules import Rules

FIRM, RULES, VALIDITY = "firm", "rules", "validity_days"
"""Names of settings."""


def practice(database: Database) -> Practice:
    """Return the firm's rates, rules and name."""
    book: PriceBook = price_books.load(database)
    days = json.loads(settings.load(database, VALIDITY) or "30")
    return Practice(book, firm_rules(database), trader(database), int(days))


def trader(place: Place) -> Trader:
    """Return the name on the papers; one without a name while the firm has not written it."""
    firm = settings.load(place, FIRM)
    return trader_file.read(firm) if firm else Trader("")


def firm_rules(place: Place) -> Rules:
    """Return the firm's rules."""
    changes = json.loads(settings.load(place, RULES) or "{}")
    return rules.changed(rules.shipped(), **changes)


def rules_of(place: Place, job: str) -> Rules:
    """Return the rules of a job: the firm's, and what was changed for it alone.

    Raises:
        UserMistake: when there is no such job.
    """
    choices = json.loads(jobs.find(place, job).choices or "{}")
    return rules.changed(firm_rules(place), **choices.get("rules", {}))
