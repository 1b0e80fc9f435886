"""A price book taken apart into entries, each kept by itself, and put together again.

Pure text and values; nothing here knows of the file. For everything the engine prices with, the
``body`` is the truth: the entry word for word as a price book writes it, and the other fields are
read from it so that it can be found and listed. A supplier's article has no body.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from estimator.money import Money
from estimator.pricing.book_file import WRITTEN
from estimator.units import Unit, rounded

VERSION_FIELD = "perpend_price_book"
HUNDRED = Decimal(100)


class Kind(StrEnum):
    """What an entry of the catalogue is."""

    GRADE = "grade"
    OUTPUT = "output"
    MATERIAL = "material"
    BAR = "bar"
    PLANT = "plant"
    SETTING = "setting"
    ITEM = "item"
    """A supplier's article, which the engine does not price with."""


ENGINE = tuple(kind for kind in Kind if kind is not Kind.ITEM)
"""Kinds a price book is made of."""
SOLD = (Kind.MATERIAL, Kind.BAR, Kind.ITEM)
"""Kinds that stand in price lists, the first found being the one meant."""
OF_LABOUR = ("year", "on_costs", "gang", "hours_a_day")
OTHERS = (
    *("currency", "repointing", "access", "travel", "timing", "preliminaries", "additions"),
    *("minimum_charge", "tax", "ranges"),
)
GROUPS = MappingProxyType(
    {
        Kind.GRADE: "Labour",
        Kind.OUTPUT: "Work",
        Kind.MATERIAL: "Materials",
        Kind.BAR: "Bars",
        Kind.PLANT: "Plant",
        Kind.SETTING: "Settings",
        Kind.ITEM: "",
    }
)
"""Group an entry stands in until it is given another."""
SETTING_GROUPS = MappingProxyType(
    {
        "access": "Access",
        "travel": "Travel",
        "preliminaries": "Preliminaries",
        "minimum_charge": "Minimum charge",
    }
)
AMOUNTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        Kind.GRADE: ("basic", "tools"),
        Kind.MATERIAL: ("pack_price",),
        Kind.BAR: ("price",),
        Kind.PLANT: (
            *("owned.price", "owned.resale", "owned.upkeep", "owned.consumables_an_hour"),
            "hired.a_day",
        ),
        "access": ("hop_up", "tower", "tower_a_week", "scaffold_a_m2", "scaffold_a_week"),
        "travel": ("a_mile",),
        "preliminaries": ("a_job", "a_day"),
        "minimum_charge": ("",),
    }
)
"""Where money stands in a body, by kind or by setting; the first there is, is its price."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Whatever has a rate or a setting, as one price book has it."""

    kind: Kind
    code: str
    title: str
    supplier: str = ""
    group: str = ""
    unit: str = ""
    unit_code: str = ""
    """UN/ECE Recommendation 20 code of the unit."""
    pack: str = ""
    pack_size: str = ""
    price: Money | None = None
    dated: str = ""
    """ISO 8601 date from which it holds."""
    source: str = ""
    notes: str = ""
    body: str = ""
    """The entry as a price book file writes it, as JSON."""
    confirmed: bool = False
    """False while it is an illustration and not the contractor's own."""

    @property
    def key(self) -> tuple[str, str, str]:
        """What makes it the same entry in every price book."""
        return self.kind.value, self.supplier, self.code

    @property
    def amounts(self) -> Mapping[str, Decimal]:
        """Every sum of money in it by where it stands [£].

        >>> entry_of(Kind.BAR, {"length_mm": 1000, "price": "4.10"}).amounts
        {'price': Decimal('4.10')}
        """
        if self.kind is Kind.ITEM:
            return {} if self.price is None else {"price": self.price.pounds}
        return dict(_amounts(self, json.loads(self.body)))


@dataclass(frozen=True, slots=True)
class Parts:
    """A whole price book as its entries."""

    title: str
    dated: str
    confirmed: bool
    entries: tuple[Entry, ...]


def taken_apart(text: str) -> Parts:
    """Return the parts of a price book that is known to be readable.

    >>> from estimator import resources
    >>> parts = taken_apart(resources.path("price_book.json").read_text(encoding="utf-8"))
    >>> [entry.code for entry in parts.entries if entry.kind is Kind.BAR]
    ['bar_1000', 'bar_1500', 'bar_3000']
    """
    book: dict[str, Any] = json.loads(text.removeprefix("\ufeff"))
    confirmed = bool(book["confirmed"])
    entries = (
        replace(entry, dated=book["date"], confirmed=confirmed) for entry in _distinct(_each(book))
    )
    return Parts(book["title"], book["date"], confirmed, tuple(entries))


def put_together(parts: Parts, *, indent: int | None = 1) -> str:
    """Return the text of the price book that entries make up, in the order they are given.

    Without an indent it is quicker made, for a program to read.

    >>> from estimator import resources
    >>> text = resources.path("price_book.json").read_text(encoding="utf-8")
    >>> json.loads(put_together(taken_apart(text))) == json.loads(text)
    True
    """
    bodies: dict[Kind, dict[str, Any]] = {kind: {} for kind in ENGINE}
    for entry in parts.entries:
        bodies[entry.kind][entry.code] = json.loads(entry.body)
    settings = bodies[Kind.SETTING]
    labour = bodies[Kind.GRADE] | {name: settings[name] for name in OF_LABOUR if name in settings}
    book = {
        VERSION_FIELD: 1,
        "title": parts.title,
        "date": parts.dated,
        "confirmed": parts.confirmed,
        "labour": labour,
        "outputs": list(bodies[Kind.OUTPUT].values()),
        "materials": list(bodies[Kind.MATERIAL].values()),
        "bars": settings.get("bars", {}) | {"stocks": list(bodies[Kind.BAR].values())},
        "plant": list(bodies[Kind.PLANT].values()),
    }
    book |= {name: settings[name] for name in OTHERS if name in settings}
    return json.dumps(book, indent=indent, ensure_ascii=False)


def entry_of(kind: Kind, body: Any, *, code: str = "", bars: str = "Bar") -> Entry:
    """Return the entry for a body, its fields read from it.

    Args:
        kind: What it is.
        body: As a price book writes it.
        code: What it is called by, where the body does not say.
        bars: Title of the bars, of which one length is an entry.

    >>> entry_of(Kind.MATERIAL, {"key": "sand", "title": "Sand", "unit": "kg", "pack": "bag",
    ...     "pack_size": "25", "pack_price": "4.20", "source": "own"}).price
    Money(pence=420)
    """
    fields = body if isinstance(body, dict) else {}
    if kind is Kind.BAR:
        length = fields.get("length_mm")
        code, title = f"bar_{length}", f"{bars}, {length} mm"
    else:
        title = str(fields.get("title", code.replace("_", " ").capitalize()))
        code = code or str(fields.get("key") or fields.get("item") or _slug(title))
    unit = "nr" if kind is Kind.BAR else str(fields.get("unit", "h" if kind is Kind.GRADE else ""))
    bare = Entry(
        kind,
        code,
        title,
        group=SETTING_GROUPS.get(code, GROUPS[kind]) if kind is Kind.SETTING else GROUPS[kind],
        unit=unit,
        unit_code=code_of(unit),
        pack=str(fields.get("pack", "")),
        pack_size="1" if kind is Kind.BAR else str(fields.get("pack_size", "")),
        source=str(fields.get("source", "")),
        body=written(body),
    )
    price = next(iter(_amounts(bare, body)), None)
    return bare if price is None else replace(bare, price=Money.of(price[1]))


def with_body(entry: Entry, body: Any) -> Entry:
    """Return an entry with another body, keeping what only its owner can have said of it."""
    bars = entry.title.rpartition(",")[0] or "Bar"
    fresh = entry_of(entry.kind, body, code=entry.code, bars=bars)
    return replace(
        fresh,
        code=entry.code,
        supplier=entry.supplier,
        group=entry.group or fresh.group,
        notes=entry.notes,
        dated=entry.dated,
        confirmed=entry.confirmed,
    )


def multiplied(entry: Entry, percent: Decimal) -> Entry:
    """Return an entry with every sum in it so much per cent dearer, each rounded half up.

    Sums finer than a penny, such as a rate a mile, keep as many decimals as they were written with.

    >>> bar = entry_of(Kind.BAR, {"length_mm": 1000, "price": "4.10"})
    >>> multiplied(bar, Decimal("2.5")).price
    Money(pence=420)
    """
    factor = 1 + percent / HUNDRED
    if entry.kind is Kind.ITEM:
        return entry if entry.price is None else replace(entry, price=entry.price.times(factor))
    body: Any = json.loads(entry.body)
    for path, amount in entry.amounts.items():
        body = _with(body, path, f"{_raised(amount, factor):f}")
    return with_body(entry, body)


def written(body: Any) -> str:
    """Return a body as it is kept."""
    return json.dumps(body, ensure_ascii=False, separators=(",", ":"))


def code_of(unit: str) -> str:
    """Return the UN/ECE Recommendation 20 code of a unit by its symbol, or nothing.

    >>> code_of("kg"), code_of("m²"), code_of("furlong")
    ('KGM', 'MTK', '')
    """
    return next((known.code for known in Unit if known.symbol == unit), "")


def _each(book: Mapping[str, Any]) -> Iterator[Entry]:
    labour, bars = book["labour"], dict(book["bars"])
    stocks: Sequence[Any] = bars.pop("stocks")
    for grade in ("bricklayer", "labourer"):
        yield entry_of(Kind.GRADE, labour[grade], code=grade)
    for name in OF_LABOUR:
        yield entry_of(Kind.SETTING, labour[name], code=name)
    for kind, section in (
        (Kind.OUTPUT, "outputs"),
        (Kind.MATERIAL, "materials"),
        (Kind.PLANT, "plant"),
    ):
        yield from (entry_of(kind, body) for body in book[section])
    yield entry_of(Kind.SETTING, bars, code="bars")
    yield from (entry_of(Kind.BAR, stock, bars=bars["title"]) for stock in stocks)
    yield from (entry_of(Kind.SETTING, book[name], code=name) for name in OTHERS)


def _distinct(entries: Iterable[Entry]) -> Iterator[Entry]:
    """Give plant of one title, the only entries without a code, codes of their own."""
    seen: set[tuple[str, str, str]] = set()
    for entry in entries:
        one, number = entry, 2
        while one.key in seen:
            one, number = replace(entry, code=f"{entry.code}_{number}"), number + 1
        seen.add(one.key)
        yield one


def _amounts(entry: Entry, body: Any) -> Iterator[tuple[str, Decimal]]:
    """Find the sums of money in a body."""
    kind = entry.code if entry.kind is Kind.SETTING else entry.kind.value
    for path in AMOUNTS.get(kind, ()):
        found = body
        for name in filter(None, path.split(".")):
            found = found.get(name) if isinstance(found, dict) else None
        # What is no amount is left for the engine's own reader to refuse, in words.
        if WRITTEN.fullmatch(str(found)):
            yield path, Decimal(str(found))


def _with(body: Any, path: str, value: str) -> Any:
    """Return a body in which another value stands at a path."""
    name, _dot, rest = path.partition(".")
    return {**body, name: _with(body[name], rest, value)} if name else value


def _raised(amount: Decimal, factor: Decimal) -> Decimal:
    exponent = amount.as_tuple().exponent
    # Decimals read from a price book are finite, so their exponent is a number.
    places = max(2, -exponent if isinstance(exponent, int) else 0)
    return rounded(amount * factor, places)


def _slug(title: str) -> str:
    return re.sub(r"\W+", "_", title.lower()).strip("_")[:60] or "unnamed"
