"""The price book: everything a contractor's prices rest on, as versioned JSON.

A price book is UTF-8 text of at most 1 MB holding one group of fields, the first its version
(``"perpend_price_book": 1``). The shipped one in ``resources/price_book.json`` is complete and is
the pattern for one's own: copy it, put in one's own figures, and set ``confirmed`` to true. Amounts
and hours are written in quotes, so that no figure is changed by binary rounding. Every figure has a
``source``: the key of a document, or any words of one's own in a book of one's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType

from estimator import resources
from estimator.money import Money
from estimator.notices import UserMistake, WorldFault
from estimator.pricing import book_file
from estimator.pricing.build_up import Additions
from estimator.pricing.buying import Material
from estimator.pricing.labour import Labour
from estimator.pricing.outputs import Output, Repointing, output_for
from estimator.pricing.plant import Access, Plant
from estimator.pricing.programme import Timing
from estimator.pricing.tax_habits import TaxHabits
from estimator.survey.json_text import parsed
from estimator.survey.limits import Limit
from estimator.survey.reading import Place, Read, flag, iso_date, key, shape, whole
from estimator.takeoff.cutting import Stock
from estimator.takeoff.lines import Item
from estimator.units import Unit

MOST_BYTES = 1_000_000
"""Largest price book read [byte]."""
VERSION = 1
SYMBOLS = MappingProxyType({"GBP": "£", "EUR": "€", "USD": "$"})
"""Currencies a book may be in."""
HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Bars:
    """Bars as they are sold."""

    title: str
    stocks: tuple[Stock, ...]
    kerf_mm: int
    """Lost at each cut [mm]."""
    source: str


@dataclass(frozen=True, slots=True)
class Travel:
    """Getting there."""

    a_mile: Decimal
    """Van and fuel [£/mile]."""
    minutes_a_mile: Decimal
    """Time of the whole gang, paid [min/mile]."""
    source: str


@dataclass(frozen=True, slots=True)
class Preliminaries:
    """What a job costs beside the work itself."""

    a_job: Decimal
    """Plan, samples, deliveries, paperwork [£]."""
    a_day: Decimal
    """Parking, welfare, looking after the site [£/day]."""
    source: str


@dataclass(frozen=True, slots=True)
class Ranges:
    """How wide a price told on the telephone may be off, and how that is worked out."""

    courses_percent: Decimal
    """A crack told as a plain number may be so much shorter or longer."""
    further_bricks: Decimal
    """Cracked bricks more or fewer than allowed for [nr]."""
    rates_low_percent: Decimal
    rates_high_percent: Decimal
    """How far all prices of a job may lie off together: one wall has one mortar and one access."""
    fine_below: Money
    """Totals below it are rounded outward to the fine step, the others to the coarse one."""
    fine_step: Money
    coarse_step: Money
    draws: int
    seed: int
    source: str


@dataclass(frozen=True, slots=True, eq=False)
class PriceBook:
    """One contractor's rates, outputs, materials and habits.

    Two books are the same only when they are one object: rates worked out from a book are kept by
    it, and comparing every figure each time would cost more than working them out.
    """

    title: str
    date: str
    """ISO 8601 date the prices are of."""
    confirmed: bool
    """False while any figure is an illustration and not the contractor's own."""
    currency: str
    labour: Labour
    outputs: Mapping[Item, Output]
    repointing: Repointing
    materials: Mapping[str, Material]
    bars: Bars
    plant: tuple[Plant, ...]
    access: Access
    travel: Travel
    timing: Timing
    preliminaries: Preliminaries
    additions: Additions
    minimum_charge: Money
    tax: TaxHabits
    ranges: Ranges

    @property
    def bar_lengths_mm(self) -> tuple[int, ...]:
        """Lengths bars are sold in, shortest first [mm]."""
        return tuple(sorted(stock.length_mm for stock in self.bars.stocks))

    @property
    def symbol(self) -> str:
        """The sign of its currency."""
        return SYMBOLS[self.currency]

    def output(self, item: Item, unit: Unit | None = None) -> Output:
        """Return the output of a kind of work.

        Raises:
            UserMistake: when the book has none, or has it in another unit.
        """
        known = self.outputs.get(item)
        return output_for(self.outputs, item, unit or (known.unit if known else Unit.ITEM))


def _bars(value: object, place: Place) -> Bars:
    found = _bars_as_written(value, place)
    lengths = [stock.length_mm for stock in found.stocks]
    if len(set(lengths)) < len(lengths):
        raise place.at("stocks").mistake("has one length twice", "keep one of them")
    return found


_bars_as_written = shape(
    Bars,
    {
        "title": book_file.name,
        "stocks": book_file.stocks,
        "kerf_mm": whole(Limit(0, 20, "mm")),
        "source": book_file.name,
    },
)
_travel = shape(
    Travel,
    {
        "a_mile": book_file.pounds,
        "minutes_a_mile": book_file.minutes,
        "source": book_file.name,
    },
)
_preliminaries = shape(
    Preliminaries,
    {"a_job": book_file.pounds, "a_day": book_file.pounds, "source": book_file.name},
)
_ranges = shape(
    Ranges,
    {
        "courses_percent": book_file.below_all,
        "further_bricks": book_file.figure("0", "1000", "bricks"),
        "rates_low_percent": book_file.below_all,
        "rates_high_percent": book_file.figure("0", "500", "per cent"),
        "fine_below": book_file.price,
        "fine_step": book_file.whole_pounds,
        "coarse_step": book_file.whole_pounds,
        "draws": whole(Limit(20, 10_000, "draws")),
        "seed": whole(Limit(0, 1_000_000, "seeds")),
        "source": book_file.name,
    },
)
_FIELDS: dict[str, Read[object]] = {
    "title": book_file.name,
    "date": iso_date,
    "confirmed": flag,
    "currency": key(lambda: tuple(SYMBOLS)),
    "labour": book_file.labour,
    "outputs": book_file.outputs,
    "repointing": book_file.repointing,
    "materials": book_file.materials,
    "bars": _bars,
    "plant": book_file.plants,
    "access": book_file.access,
    "travel": _travel,
    "timing": book_file.timing,
    "preliminaries": _preliminaries,
    "additions": book_file.additions,
    "minimum_charge": book_file.price,
    "tax": book_file.tax,
    "ranges": _ranges,
}
_book = shape(PriceBook, _FIELDS)
_PLACE = Place(("the price book",))


def read(written: str) -> PriceBook:
    """Return the price book written in a text.

    Raises:
        UserMistake: for anything that cannot be used, naming the field and what would do.

    >>> read(resources.path("price_book.json").read_text(encoding="utf-8")).confirmed
    False
    """
    if len(written) > MOST_BYTES:
        raise UserMistake("the price book is too large", do="choose the file that holds your rates")
    value = parsed(written.removeprefix("\ufeff"), called="the price book")
    if not isinstance(value, dict) or "perpend_price_book" not in value:
        raise UserMistake(
            "this file is no price book",
            why="it does not say perpend_price_book at its start",
            do="copy the price book that ships with the program and change its figures",
        )
    version = value.pop("perpend_price_book")
    if version != VERSION or isinstance(version, bool):
        raise _PLACE.at("perpend_price_book").mistake(
            "is a version this program cannot read", f"write {VERSION}, or use a newer program"
        )
    return _checked(_book(value, _PLACE))


def _checked(book: PriceBook) -> PriceBook:
    """Return a book whose parts fit each other."""
    for output in book.outputs.values():
        for material in output.materials or {}:
            if material not in book.materials:
                raise _PLACE.at(f"output '{output.item.value}'").mistake(
                    f"uses the material '{material}', which is not in the book",
                    "add it to its materials",
                )
    return book


def load(path: Path | None) -> PriceBook:
    """Return the price book in a file, or the shipped one where none is named.

    Raises:
        WorldFault: when the file cannot be opened.
        UserMistake: when it does not hold a price book.

    >>> load(None) is shipped()
    True
    """
    if path is None:
        return shipped()
    try:
        with path.open("rb") as file:
            return read(file.read(MOST_BYTES + 1).decode("utf-8"))
    except UnicodeDecodeError as error:
        raise UserMistake(
            "the price book is not UTF-8 text", do="save it again as UTF-8"
        ) from error
    except (OSError, ValueError) as error:
        raise WorldFault(
            f"the price book '{path.name}' could not be read", do="check its name and folder"
        ) from error


@cache
def shipped() -> PriceBook:
    """Return the price book that ships with the program: illustrations, nobody's own rates.

    >>> shipped().bar_lengths_mm
    (1000, 1500, 3000)
    """
    return read(resources.path("price_book.json").read_text(encoding="utf-8"))
