"""The rules work is measured by: spacing, anchorage, depths, wastes, limits; data, and editable.

Every figure ships in ``resources/rules.json`` with its label, unit, bounds, source and note. None
is written in code. A firm that works differently changes a value; what was changed is a plain
``Rules`` like any other, and is frozen with the quotation it made.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from enum import Enum
from functools import cache
from types import MappingProxyType
from typing import Any

from estimator import resources
from estimator.notices import UserMistake
from estimator.sources import Source, source
from estimator.takeoff.grout_and_mortar import least_rake_depth_mm


class VoidMethod(Enum):
    """A published rule for what comes off a measured area, or the firm's own."""

    NRM2 = "nrm2"
    SMM7 = "smm7"
    IS_1200 = "is1200"
    OWN = "own"


@dataclass(frozen=True, slots=True)
class RuleInfo:
    """What a rule is called, counted in and rests on."""

    key: str
    label: str
    unit: str
    value: Any
    """As shipped."""
    low: Any
    """Least value that makes sense, or the list of choices."""
    high: Any
    source: Source
    note: str

    @property
    def bounds(self) -> str:
        """What may be typed, for the end of a message.

        >>> rule_info("anchorage_mm").bounds
        'a number from 50 to 3,000 mm'
        """
        if self.high is None:
            return " or ".join(self.low)
        return f"a number from {self.low:,} to {self.high:,} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Rules:
    """All figures of the takeoff; what each means stands in ``rule_info``."""

    spacing_courses: int
    long_spacing_courses: int
    long_crack_mm: float
    anchorage_mm: float
    least_anchorage_mm: float
    slot_depth_leaf_mm: int
    slot_depth_solid_mm: int
    pointing_over_slot_mm: int
    bar_mm: float
    least_bed_mm: float
    stock_lengths_mm: tuple[int, ...]
    lap_mm: int
    least_piece_mm: int
    least_bar_mm: float
    return_leg_mm: float
    turn_from_missing_mm: float
    end_distance_mm: float
    opening_distance_mm: float
    movement_joint_distance_mm: float
    beside_joint_mm: float
    bar_rounding_mm: int
    least_gap_mm: float
    cover_mm: float
    bed_over_bar_mm: float
    rake_widths: float
    least_rake_mm: float
    pointing_waste: float
    grout_waste: float
    laying_factor: float
    spare_one_in: int
    half_depth_share: float
    patch_depth_mm: float
    patch_share: float
    toothing_from_bricks: int
    most_bricks_at_once: int
    void_method: VoidMethod
    nrm2_void_m2: float
    smm7_void_m2: float
    own_void_m2: float
    is1200_small_m2: float
    is1200_large_m2: float
    reveal_mm: float
    panel_margin_mm: float
    panel_margin_courses: int
    panel_reach_mm: float
    whole_wall_from: float
    protect_margin_mm: float
    protect_depth_mm: float
    make_good_band_mm: float
    mortar_kg_m3: float
    brick_kg_m3: float
    hop_up_above_mm: float
    tower_above_mm: float
    scaffold_above_mm: float

    def rake_depth_mm(self, joint_mm: float) -> float:
        """Return how deep a joint is raked: so many times its width, and never less than the least.

        >>> [shipped().rake_depth_mm(width) for width in (6, 10, 15)]
        [20.0, 20.0, 30.0]
        """
        return least_rake_depth_mm(joint_mm, widths=self.rake_widths, least_mm=self.least_rake_mm)


@cache
def _table() -> Mapping[str, RuleInfo]:
    table = {
        key: RuleInfo(
            key,
            entry["label"],
            entry["unit"],
            entry["value"],
            entry["low"],
            entry["high"],
            source(entry["source"]),
            entry["note"],
        )
        for key, entry in resources.data("rules.json").items()
    }
    return MappingProxyType(table)


def rule_keys() -> tuple[str, ...]:
    """Return the keys of all rules, in the order they are shown.

    >>> rule_keys()[0]
    'spacing_courses'
    """
    return tuple(_table())


def rule_info(key: str) -> RuleInfo:
    """Return what is known of a rule.

    Raises:
        UserMistake: when there is no such rule.

    >>> rule_info("anchorage_mm").source.trust.name
    'COMMON_PRACTICE'
    """
    if key not in _table():
        raise UserMistake(f"there is no rule called {key}", do="look in the list of rules")
    return _table()[key]


@cache
def shipped() -> Rules:
    """Return the rules as they ship.

    >>> shipped().spacing_courses, shipped().anchorage_mm
    (3, 500.0)
    """
    return Rules(
        **{entry.name: _fitted(entry.name, _table()[entry.name].value) for entry in fields(Rules)}
    )


def changed(rules: Rules, **values: object) -> Rules:
    """Return rules with some values changed.

    Raises:
        UserMistake: for a rule that is not there, or a value that makes no sense.

    >>> changed(shipped(), spacing_courses=4).spacing_courses
    4
    """
    new = replace(rules, **{key: _fitted(key, value) for key, value in values.items()})
    if new.long_spacing_courses < new.spacing_courses:
        # One wish was typed, not two: the wider spacing follows the usual one.
        new = replace(new, long_spacing_courses=new.spacing_courses)
    depth = min(new.slot_depth_leaf_mm, new.slot_depth_solid_mm)
    if new.pointing_over_slot_mm + new.bar_mm > depth:
        raise UserMistake(
            f"a slot {depth} mm deep does not hold the bar and the pointing in front of it",
            do="make the slot deeper, or the bar or the pointing smaller",
            field="pointing_over_slot_mm",
        )
    if max(new.stock_lengths_mm) <= new.lap_mm:
        raise UserMistake(
            "the longest bar bought is too short to be lapped",
            do="add a longer stock length, or make the lap shorter",
            field="stock_lengths_mm",
        )
    return new


def _fitted(key: str, value: object) -> Any:
    """Return a value as its field holds it, or say what would do."""
    info = rule_info(key)
    if key == "void_method":
        return _method(info, value)
    if key == "stock_lengths_mm":
        lengths = value if isinstance(value, list | tuple) else (value,)
        if not lengths:
            raise _mistake(info, value)
        return tuple(sorted({int(_number(info, length, whole=True)) for length in lengths}))
    kind = Rules.__dataclass_fields__[key].type
    number = _number(info, value, whole=kind == "int")
    return int(number) if kind == "int" else float(number)


def _method(info: RuleInfo, value: object) -> VoidMethod:
    found = value.value if isinstance(value, VoidMethod) else value
    if found not in info.low:
        raise _mistake(info, value)
    return VoidMethod(found)


def _number(info: RuleInfo, value: object, *, whole: bool) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _mistake(info, value)
    if not info.low <= value <= info.high or (whole and value != int(value)):
        raise _mistake(info, value)
    return value


def _mistake(info: RuleInfo, value: object) -> UserMistake:
    return UserMistake(f"{info.label} cannot be {value}", do=f"type {info.bounds}", field=info.key)
