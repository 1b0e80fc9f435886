"""What the page of settings asks of the file; every function here runs in the file's own thread."""

from __future__ import annotations

import base64
import json
from dataclasses import asdict, dataclass, replace
from datetime import datetime

from estimator.desktop import kept
from estimator.notices import UserMistake
from estimator.quoting import trader_file
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Trader
from estimator.store import catalogue, manifest, settings
from estimator.store.book_parts import Kind
from estimator.store.database import Database
from estimator.takeoff import rules

BEGUN = "firm begun"
"""What is known of the firm before it has a name, for no paper goes out without one."""
LOGO = "logo"
TAX = "tax"
"""What the tax habits are called in the price book."""
USUAL_VALIDITY = 30
LONGEST_VALIDITY = 365
"""Days; a house rule."""


@dataclass(frozen=True, slots=True)
class Seen:
    """All that the page shows from the file."""

    firm: Trader
    changes: dict[str, object]
    """Rules that are not as they ship."""
    validity: int
    logo: bytes
    backups: int
    newest: datetime | None


def seen(database: Database) -> Seen:
    """Return what is set now."""
    every = settings.every(database)
    backups = manifest.backups_in(manifest.folder_beside(database.path))
    return Seen(
        firm=_firm(every.get(kept.FIRM), every.get(BEGUN)),
        changes=json.loads(every.get(kept.RULES, "{}")),
        validity=int(json.loads(every.get(kept.VALIDITY, str(USUAL_VALIDITY)))),
        logo=_logo(every.get(LOGO)),
        backups=len(backups),
        newest=backups[-1].made_at if backups else None,
    )


def keep_firm(database: Database, firm: Trader) -> Practice:
    """Keep who the firm is; without a name it is kept aside, and papers stay drafts.

    Raises:
        UserMistake: for a text that could not be read again.
    """
    told = json.dumps(asdict(firm), ensure_ascii=False)
    is_named = bool(firm.name.strip())
    if is_named:
        trader_file.read(told)
    with database.writing() as connection:
        settings.keep(connection, kept.FIRM if is_named else BEGUN, told)
        settings.drop(connection, BEGUN if is_named else kept.FIRM)
    return kept.practice(database)


def keep_registered(database: Database, *, registered: bool) -> Practice:
    """Keep whether the firm is registered for VAT, as a new dated price book."""
    (tax,) = (one for one in catalogue.named(database, TAX) if one.kind is Kind.SETTING)
    habits = json.loads(tax.body)
    if habits["registered"] != registered:
        body = json.dumps(habits | {"registered": registered}, separators=(",", ":"))
        why = "registered for VAT" if registered else "not registered for VAT"
        catalogue.change(database, [replace(tax, body=body)], why)
    return kept.practice(database)


def keep_rule(database: Database, key: str, value: object) -> Practice:
    """Keep a rule of the firm's own; one that is as it ships is forgotten.

    Raises:
        UserMistake: for a value that makes no sense, alone or beside the other rules.
    """
    with database.writing() as connection:
        told = json.loads(settings.load(connection, kept.RULES) or "{}")
        told[key] = value
        if is_shipped(key, value):
            del told[key]
        rules.changed(rules.shipped(), **told)
        settings.keep(connection, kept.RULES, json.dumps(told))
    return kept.practice(database)


def keep_validity(database: Database, days: int) -> Practice:
    """Keep how long offers stand [day].

    Raises:
        UserMistake: for a number of days no offer stands.
    """
    if not 1 <= days <= LONGEST_VALIDITY:
        raise UserMistake(
            f"an offer cannot stand {days} days", do=f"type a number from 1 to {LONGEST_VALIDITY}"
        )
    settings.keep(database, kept.VALIDITY, json.dumps(days))
    return kept.practice(database)


def keep_logo(database: Database, picture: bytes) -> bytes:
    """Keep the logo, or none, and return what was there."""
    before = _logo(settings.load(database, LOGO))
    if picture:
        told = json.dumps({"png": base64.b64encode(picture).decode("ascii")})
        settings.keep(database, LOGO, told)
    else:
        settings.drop(database, LOGO)
    return before


def is_shipped(key: str, value: object) -> bool:
    """Whether a rule with this value is as it ships.

    Raises:
        UserMistake: for a value that makes no sense.
    """
    return rules.changed(rules.shipped(), **{key: value}) == rules.shipped()


def _firm(named: str | None, begun: str | None) -> Trader:
    if named:
        return trader_file.read(named)
    told = json.loads(begun) if begun else {}
    address = tuple(told.pop("address", ()))
    return Trader(**{"name": "", **told, "address": address})


def _logo(told: str | None) -> bytes:
    return base64.b64decode(json.loads(told)["png"]) if told else b""
