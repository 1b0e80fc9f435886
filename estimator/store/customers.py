"""Customers: who they are and how to reach them, as typed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Row, insert, select, update

from estimator.notices import UserMistake
from estimator.store import clock, words
from estimator.store.clock import Clock
from estimator.store.matching import customers_on, customers_with, digits_of
from estimator.store.tables import Customers
from estimator.store.typed import kept, kept_lines, lines_of, new_uid
from estimator.store.within import Place, reading, writing
from estimator.survey.survey import CustomerKind, Party


@dataclass(frozen=True, slots=True)
class Customer:
    """One customer; telephone and e-mail just as they were typed."""

    name: str
    kind: CustomerKind = CustomerKind.HOUSEHOLD
    address: tuple[str, ...] = ()
    telephone: str = ""
    email: str = ""
    vat_number: str = ""
    notes: str = ""
    uid: str = ""
    """What the file calls them; given when they are added."""
    made_at: datetime | None = None
    changed_at: datetime | None = None
    erased_at: datetime | None = None


def from_party(party: Party) -> Customer:
    """Return the customer a survey tells of, not added yet.

    >>> from_party(Party("Ines Marlowe", telephone="01632 960112")).telephone
    '01632 960112'
    """
    return Customer(
        name=party.name,
        kind=party.kind,
        address=party.address,
        telephone=party.telephone,
        email=party.email,
        vat_number=party.vat_number,
    )


def add(place: Place, customer: Customer, *, now: Clock = clock.now) -> Customer:
    """Add a customer and return them with the name the file gave them.

    Raises:
        UserMistake: for a text that no file can hold.
    """
    at = now()
    added = replace(customer, uid=new_uid(), made_at=at, changed_at=at, erased_at=None)
    with writing(place) as connection:
        connection.execute(
            insert(Customers).values(uid=added.uid, made_at=at, changed_at=at, **_typed(added))
        )
    return added


def change(place: Place, customer: Customer, *, now: Clock = clock.now) -> Customer:
    """Write what a customer is now over what they were.

    Raises:
        UserMistake: when there is no such customer, or for a text that no file can hold.
    """
    changed = replace(customer, changed_at=now())
    with writing(place) as connection:
        done = connection.execute(
            update(Customers)
            .where(Customers.uid == customer.uid, Customers.erased_at.is_(None))
            .values(changed_at=changed.changed_at, **_typed(changed))
        )
        if done.rowcount != 1:
            raise _unknown(customer.uid)
    return changed


def find(place: Place, uid: str) -> Customer:
    """Return one customer.

    Raises:
        UserMistake: when there is none of that name.
    """
    with reading(place) as connection:
        row = connection.execute(select(*COLUMNS).where(Customers.uid == uid)).one_or_none()
    if row is None:
        raise _unknown(uid)
    return _customer(row)


def list_customers(place: Place, *, limit: int = 200, offset: int = 0) -> tuple[Customer, ...]:
    """Return customers by name; those erased are left out."""
    wanted = (
        select(*COLUMNS)
        .where(Customers.erased_at.is_(None))
        .order_by(Customers.name.collate("NOCASE"), Customers.id)
        .limit(limit)
        .offset(offset)
    )
    with reading(place) as connection:
        return tuple(_customer(row) for row in connection.execute(wanted))


def suggest(place: Place, typed: str, *, limit: int = 8) -> tuple[Customer, ...]:
    """Return the customers somebody may be about to name, the surest first.

    Those with the digits in their telephone number come first, then those whose name the words
    begin, then those with the words anywhere: in street, postcode or notes. Erased ones are not
    in the indexes.

    Args:
        place: The file, or a look under way.
        typed: As much as is typed: part of a name, telephone number, postcode or street.
        limit: The most to return.
    """
    text = words.cleaned(typed)
    said = words.split(words.postcodes_joined(text))
    if not said or limit < 1:
        return ()
    expression = words.expression(said)
    asked = [customers_with(f"title : ({expression})"), customers_with(expression)]
    if digits := digits_of(text):
        asked.insert(0, customers_on(digits))
    found: dict[int, None] = {}
    with reading(place) as connection:
        for one in asked:
            if len(found) < limit:
                found |= dict.fromkeys(connection.scalars(one.limit(limit)))
        keys = list(found)[:limit]
        wanted = select(Customers.id, *COLUMNS).where(Customers.id.in_(keys))
        rows = {row.id: row for row in connection.execute(wanted)}
    return tuple(_customer(rows[key]) for key in keys)


COLUMNS = tuple(column for column in Customers.__table__.c if column.name != "id")


def _customer(row: Row[Any]) -> Customer:
    return Customer(
        name=row.name,
        kind=CustomerKind(row.kind),
        address=lines_of(row.address),
        telephone=row.telephone,
        email=row.email,
        vat_number=row.vat_number,
        notes=row.notes,
        uid=row.uid,
        made_at=row.made_at,
        changed_at=row.changed_at,
        erased_at=row.erased_at,
    )


def _typed(customer: Customer) -> dict[str, str]:
    """Return what a person typed about a customer, by column."""
    return {
        "name": kept(customer.name, "the name"),
        "kind": customer.kind.value,
        "address": kept_lines(customer.address, "the address"),
        "telephone": kept(customer.telephone, "the telephone number"),
        "email": kept(customer.email, "the e-mail address"),
        "vat_number": kept(customer.vat_number, "the VAT number"),
        "notes": kept(customer.notes, "the notes"),
    }


def _unknown(uid: str) -> UserMistake:
    return UserMistake(
        f"there is no customer '{uid[:40]}' in the file", do="choose one from the list"
    )
