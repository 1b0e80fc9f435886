"""Grout behind bars, mortar in joints, what goes into a mix, and how much of each to order.

Volumes are plain geometry in floating millimetres and come out in litres; constituents come out
as quantities a price book can sell. The mixes themselves are data with their sources.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.masonry.brick import BrickFormat
from estimator.notices import UserMistake
from estimator.units import Quantity, Unit, whole_up

MM_PER_M = 1000.0
MM3_PER_L = 1_000_000.0
MINUTES_PER_HOUR = 60.0
UNITS = {"kg": Unit.KILOGRAM, "L": Unit.LITRE}


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One part of a mix, batched by volume."""

    material: str
    """Key of the material in a price book."""
    parts: float
    """Parts by volume."""
    per_litre: float
    """What a litre of it, loose, counts for in the unit it is sold in [kg/L or L/L]."""
    unit: Unit
    source: str


@dataclass(frozen=True, slots=True)
class Mortar:
    """A mortar mix."""

    key: str
    title: str
    ingredients: tuple[Ingredient, ...]
    yield_factor: float
    """Loose volume that goes into one volume of wet mortar."""
    least_temperature_c: float
    """Not used below this, nor while it falls to it [°C]."""
    cure_days: int
    """Kept damp and covered for so long [day]."""
    source: str
    note: str = ""

    @property
    def parts(self) -> float:
        """All parts of the mix by volume."""
        return sum(one.parts for one in self.ingredients)


@dataclass(frozen=True, slots=True)
class Constituent:
    """How much of one material goes into a batch, with the reckoning."""

    material: str
    quantity: Quantity
    working: str


@dataclass(frozen=True, slots=True)
class Mixing:
    """Grout as it is bought and mixed."""

    tubs: int
    """Whole tubs to buy."""
    mixes: int
    """Mixes, each placed before it stiffens."""
    mix_litres: float
    """Most that is mixed at once [L]."""


@dataclass(frozen=True, slots=True)
class Suited:
    """The mortar for a wall as found, and why."""

    mortar: Mortar
    reason: str
    source: str


def grout_litres(
    slot_m: float,
    *,
    slot_depth_mm: float,
    pointing_depth_mm: float,
    bed_mm: float,
    bar_mm: float = 0.0,
    ignore_bar: bool = True,
) -> float:
    """Return the grout behind the pointing of a slot [L].

    Orders ignore the bar. Taking it off as a full circle understates the grout a little, since a
    helical bar fills less than the circle it turns in. Source: geometry.

    Raises:
        ValueError: when the pointing, or the bar, leaves no room for grout.

    >>> grout_litres(8, slot_depth_mm=35, pointing_depth_mm=10, bed_mm=10)
    2.0
    >>> round(grout_litres(8, slot_depth_mm=35, pointing_depth_mm=10, bed_mm=10, bar_mm=6,
    ...     ignore_bar=False), 3)
    1.774
    """
    void_mm2 = (slot_depth_mm - pointing_depth_mm) * bed_mm
    if not ignore_bar:
        void_mm2 -= math.pi * bar_mm**2 / 4
    if void_mm2 <= 0:
        raise ValueError("the slot has no room for grout")
    return slot_m * void_mm2 / MM_PER_M


def repointing_litres(joint_m: float, *, joint_mm: float, depth_mm: float) -> float:
    """Return the mortar that fills raked joints, no waste [L].

    A recessed finish takes its recess off the depth first. Source: geometry.

    >>> round(repointing_litres(17.1852, joint_mm=10, depth_mm=25), 3)
    4.296
    """
    return joint_m * joint_mm * depth_mm / MM_PER_M


def least_rake_depth_mm(joint_mm: float, *, widths: float, least_mm: float) -> float:
    """Return how deep a joint is raked: so many widths of it, and never less than the least [mm].

    >>> [least_rake_depth_mm(width, widths=2, least_mm=20) for width in (6, 10, 15)]
    [20, 20, 30]
    """
    return max(widths * joint_mm, least_mm)


def mixes(
    litres: float, *, tub_litres: float, working_minutes: float, placing_l_per_hour: float
) -> Mixing:
    """Return the tubs to buy and the mixes to make, no more mixed than is placed in time.

    One mixes a tub at a time, or less where a gang cannot place a tub within the working life.
    Common practice, no source; the working life stands on the bag.

    Raises:
        ValueError: when an amount is below nothing, or a tub, life or rate is not above it.

    >>> mixes(2.04, tub_litres=3, working_minutes=45, placing_l_per_hour=2)
    Mixing(tubs=1, mixes=2, mix_litres=1.5)
    """
    mix_litres = min(tub_litres, placing_l_per_hour * working_minutes / MINUTES_PER_HOUR)
    if litres < 0 or mix_litres <= 0:
        raise ValueError("grout, tub, working life and placing rate cannot be below nothing")
    return Mixing(whole_up(litres / tub_litres), whole_up(litres / mix_litres), mix_litres)


def laying_litres(brick: BrickFormat) -> float:
    """Return the mortar of one brick in half-brick work, bed and perpend and their crossing [L].

    With bed and perpend alike this is t(L + H + t)W. No frogs, no waste. Source: geometry.

    >>> from estimator.masonry.brick import brick_format
    >>> round(laying_litres(brick_format("uk_metric")), 5)
    0.29725
    """
    course = (brick.length_mm + brick.perpend_mm) * (brick.height_mm + brick.bed_mm)
    return (course - brick.length_mm * brick.height_mm) * brick.width_mm / MM3_PER_L


def textbook_laying_litres(brick: BrickFormat) -> float:
    """Return the mortar of one brick as a textbook adds it up, without the crossing [L].

    Kept to check against print; it falls short of ``laying_litres`` by bed × perpend × width.

    >>> from estimator.masonry.brick import brick_format
    >>> round(textbook_laying_litres(brick_format("uk_metric")), 5)
    0.287
    """
    faces = brick.length_mm * brick.bed_mm + brick.height_mm * brick.perpend_mm
    return faces * brick.width_mm / MM3_PER_L


def laying_litres_per_m2(brick: BrickFormat, *, half_bricks: int = 1) -> float:
    """Return the mortar in a square metre of solid wall so many half bricks thick [L/m²].

    What is not brick is mortar, the collar joints between leaves too. No waste. Source: geometry.

    >>> from estimator.masonry.brick import brick_format
    >>> uk = brick_format("uk_metric")
    >>> [round(laying_litres_per_m2(uk, half_bricks=n), 3) for n in (1, 2, 3)]
    [17.615, 45.23, 72.844]
    """
    thickness_mm = half_bricks * brick.width_mm + (half_bricks - 1) * brick.perpend_mm
    solid_mm3 = brick.length_mm * brick.width_mm * brick.height_mm
    return thickness_mm - half_bricks * brick.bricks_per_m2 * solid_mm3 / MM3_PER_L


def bricks_to_order(bricks: int, *, spare_one_in: int) -> int:
    """Return how many bricks to order: a spare for every so many, and one at the least.

    House rule: on a few bricks a percentage is worth nothing, and one always breaks.

    >>> [bricks_to_order(count, spare_one_in=5) for count in (0, 1, 5, 6, 12)]
    [0, 2, 6, 8, 15]
    """
    return bricks + max(whole_up(bricks / spare_one_in), 1) if bricks else 0


def _mortar(key: str, entry: Mapping[str, Any], data: Mapping[str, Any]) -> Mortar:
    kind = data["kinds"][entry["kind"]]
    ingredients = []
    for material, parts in entry["parts"].items():
        sold = data["materials"][material]
        unit = UNITS[sold["unit"]]
        ingredients.append(Ingredient(material, parts, sold["per_litre"], unit, sold["source"]))
    return Mortar(
        key,
        entry["title"],
        tuple(ingredients),
        data["yield"]["factor"],
        kind["least_temperature_c"],
        kind["cure_days"],
        entry["source"],
        entry.get("note", ""),
    )


@cache
def _mortars() -> Mapping[str, Mortar]:
    data = resources.data("mortars.json")
    table = {key: _mortar(key, entry, data) for key, entry in data["mortars"].items()}
    return MappingProxyType(table)


def mortar_keys() -> tuple[str, ...]:
    """Return the keys of all mortars, limes first.

    >>> mortar_keys()[0]
    'nhl35_1_3'
    """
    return tuple(_mortars())


def mortar(key: str) -> Mortar:
    """Return one mortar.

    Raises:
        UserMistake: when there is no such mortar.

    >>> mortar("cement_lime_1_1_6").title
    'Cement, lime and sand 1:1:6'
    """
    if key not in _mortars():
        raise UserMistake(
            f"there is no mortar called {key}",
            do=f"name one of {', '.join(mortar_keys())}",
            field="new_mortar",
        )
    return _mortars()[key]


def suited(existing: str) -> Suited:
    """Return the mortar for a wall by the mortar found in it, with the reason in words.

    Never one stronger than the brick: a joint can be raked and filled again, a brick cannot.

    Args:
        existing: ``lime``, ``cement-lime`` or ``hard cement``.

    Raises:
        KeyError: for any other mortar.

    >>> suited("hard cement").mortar.key
    'cement_lime_1_1_6'
    """
    entry = resources.data("mortars.json")["suits"][existing]
    return Suited(_mortars()[entry["mortar"]], entry["reason"], entry["source"])


def suits(existing: str) -> Mortar:
    """Return the mortar for a wall by the mortar found in it.

    Raises:
        KeyError: for a mortar other than ``lime``, ``cement-lime`` or ``hard cement``.

    >>> suits("lime").key
    'nhl35_1_3'
    """
    return suited(existing).mortar


def constituents(key: str, litres: float) -> tuple[Constituent, ...]:
    """Return what goes into so many litres of wet mortar, by mass but for putty [kg or L].

    Each part takes its share of the loose volume, which is the wet volume times the yield factor;
    mass is loose volume times loose density. Waste is the caller's.

    Raises:
        UserMistake: when there is no such mortar.

    >>> for part in constituents("nhl35_1_3", 63.72):
    ...     print(part.material, part.quantity, "|", part.working)
    nhl35 13.77 kg | 63.72 L × 1.33 × 1/4 × 0.65 kg/L
    sand 101.70 kg | 63.72 L × 1.33 × 3/4 × 1.6 kg/L
    """
    mix = mortar(key)
    return tuple(_constituent(mix, one, litres) for one in mix.ingredients)


def _constituent(mix: Mortar, one: Ingredient, litres: float) -> Constituent:
    loose_l = litres * mix.yield_factor * one.parts / mix.parts
    working = f"{litres:.2f} L × {mix.yield_factor:g} × {one.parts:g}/{mix.parts:g}"
    if one.unit is not Unit.LITRE:
        working += f" × {one.per_litre:g} kg/L"
    return Constituent(one.material, Quantity.of(loose_l * one.per_litre, one.unit), working)
