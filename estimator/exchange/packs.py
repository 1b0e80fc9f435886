"""What one price buys: the unit, the pack and the description read together."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from estimator.exchange import figures, trade_units
from estimator.exchange.figures import Reading
from estimator.exchange.trade_units import SINGLE, Pack

MOST_UNITS = Decimal(1_000_000)
"""Most units in one pack."""
MOST_PLACES = 6
"""Most decimals of a pack size."""


@dataclass(frozen=True, slots=True)
class Said:
    """What a row says about how it is sold."""

    unit: str
    pack: str
    title: str
    unit_in_heading: Pack | None = None
    """The unit the heading of the prices names."""


@dataclass(frozen=True, slots=True)
class Sold:
    """What one price buys, or what is wrong; a remark beside a pack stops nothing."""

    pack: Pack | None
    remark: str = ""
    about_unit: bool = False
    """True where the remark is about the unit, and not about the pack."""


def sold_as(said: Said, sign: str) -> Sold:
    """Return what one price buys.

    A pack said in the row's own cells comes first, then the unit, then the heading, then the one
    pack named in the description. Nothing is guessed where two of them disagree.

    >>> sold_as(Said("bag", "", "Lime 25kg"), ".").pack
    Pack(size=Decimal('25'), unit='kg')
    >>> sold_as(Said("furlong", "", "Bar"), ".").remark
    "'furlong' is no unit known here; write m, m², nr, kg, L or h"
    """
    if not said.unit and not said.pack:
        return _by_title(said, said.unit_in_heading)
    if said.pack:
        return _checked(_by_pack(said, sign))
    return _checked(_by_unit(said))


def plain(unit: str, size: str) -> Sold:
    """Return what a row of our own catalogue says, which leaves nothing to be guessed.

    >>> plain("kg", "25").pack
    Pack(size=Decimal('25'), unit='kg')
    """
    amount = figures.number(size, ".")
    if unit not in trade_units.CODES:
        return _unknown(unit)
    if isinstance(amount, Reading):
        return Sold(None, f"'{shown(size)}' is no pack size; write a number such as 25")
    return _checked(Sold(Pack(amount, unit)))


def shown(text: str) -> str:
    """Return so much of a text as a message has room for, without letters nobody can see.

    >>> shown("a" * 50)
    'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…'
    """
    short = " ".join(text[:1000].split())
    if not short.isprintable():
        short = "".join(letter if letter.isprintable() else "?" for letter in short)
    return short if len(short) <= 40 else short[:39] + "…"


def _unknown(unit: str) -> Sold:
    what = f"'{shown(unit)}' is no unit known here" if unit else "has no unit"
    return Sold(None, f"{what}; write m, m², nr, kg, L or h", about_unit=True)


def _checked(sold: Sold) -> Sold:
    pack = sold.pack
    if pack is None:
        return sold
    if not 0 < pack.size <= MOST_UNITS:
        return Sold(
            None, f"a pack of {pack.size:f} {pack.unit} is not possible; write 1 to {MOST_UNITS:,}"
        )
    exponent = pack.size.as_tuple().exponent
    if isinstance(exponent, int) and exponent < -MOST_PLACES and pack.size % Decimal("1e-6"):
        return Sold(None, f"a pack of {pack.size:f} {pack.unit} is finer than can be kept")
    return sold


def _by_title(said: Said, otherwise: Pack | None) -> Sold:
    """Return the pack the description names, unless the heading prices something measured."""
    if otherwise is not None and otherwise != SINGLE:
        return Sold(otherwise)
    return Sold(trade_units.pack_in_title(said.title) or SINGLE)


def _by_unit(said: Said) -> Sold:
    """Return the pack where the row has a unit and no pack size."""
    if trade_units.is_container(said.unit):
        return _container(said)
    pack = trade_units.unit_of(said.unit)
    if pack == SINGLE:
        return _by_title(said, None)
    pack = pack or trade_units.pack_in_cell(said.unit)
    return Sold(pack) if pack else _unknown(said.unit)


def _container(said: Said) -> Sold:
    """Return what a container holds, by the description; else it counts as one."""
    pack = trade_units.pack_in_title(said.title)
    if pack is not None:
        return Sold(pack)
    if trade_units.unit_of(said.unit) is not None:
        return Sold(trade_units.unit_of(said.unit))
    word = trade_units.plain(said.unit)
    return Sold(
        SINGLE, f"what a {word} holds is not said, so it counts as 1 nr; add it, as in 25kg {word}"
    )


def _by_pack(said: Said, sign: str) -> Sold:
    """Return the pack where the row has a pack size."""
    size = figures.number(said.pack, sign)
    if size is Reading.UNSURE:
        return Sold(None, f"'{shown(said.pack)}' can be read in two ways; write it without a comma")
    if isinstance(size, Decimal):
        return _by_size(said, size)
    if trade_units.is_container(said.pack):
        return _by_unit(Said(said.unit or said.pack, "", said.title))
    return _by_words(said)


def _by_words(said: Said) -> Sold:
    """Return the pack where its size is said in words."""
    pack = trade_units.pack_in_cell(said.pack) or trade_units.unit_of(said.pack)
    if pack is None:
        return Sold(None, f"'{shown(said.pack)}' is no pack; write it as 25 kg, or box of 100")
    unit = trade_units.unit_of(said.unit)
    if not said.unit or trade_units.is_container(said.unit) or (unit and unit.unit == pack.unit):
        return Sold(pack)
    if unit is None and trade_units.pack_in_cell(said.unit) in {None, pack}:
        return Sold(pack)
    return _two_ways(said)


def _by_size(said: Said, size: Decimal) -> Sold:
    """Return the pack where its size is a bare number."""
    loose = not said.unit or trade_units.is_container(said.unit)
    if size == 1 and loose:
        return _by_unit(said) if said.unit else _by_title(said, said.unit_in_heading)
    if loose:
        return _of_container(said, size)
    unit = trade_units.unit_of(said.unit)
    if unit is not None:
        return Sold(unit.times(size))
    pack = trade_units.pack_in_cell(said.unit)
    if pack is None:
        return _unknown(said.unit)
    return Sold(pack) if size in {Decimal(1), pack.size} else _two_ways(said)


def _of_container(said: Said, size: Decimal) -> Sold:
    """Return the pack of a container with a bare number beside it."""
    hint = trade_units.pack_in_title(said.title)
    if hint is not None:
        return Sold(hint) if hint.size == size else _two_ways(said)
    if said.unit_in_heading not in {None, SINGLE}:
        return _two_ways(said)
    word = trade_units.plain(said.unit)
    if not said.unit or trade_units.holds_things(word) or trade_units.unit_of(word):
        return Sold(SINGLE.times(size))
    return Sold(None, f"a {word} of {size:f} of what is not said; write it as {size:f} kg")


def _two_ways(said: Said) -> Sold:
    named = [shown(text) for text in (said.unit, said.pack, said.title) if text]
    return Sold(
        None, f"what the price is for can be read in two ways ({', '.join(named)}); write one pack"
    )
