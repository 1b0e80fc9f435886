"""Buying for the whole job: needs pooled first, then rounded up to whole packs once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.offer import Bought
from estimator.takeoff.lines import Item, Need
from estimator.units import Quantity, Unit, whole_up

HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Material:
    """One material as it is sold."""

    key: str
    title: str
    unit: Unit
    pack: str
    """What a pack is called: bag, tub, roll; empty where it is sold singly."""
    pack_size: Decimal
    pack_price: Money
    source: str

    @property
    def unit_price(self) -> Decimal:
        """What one unit costs in full packs [£/unit]."""
        return self.pack_price.pounds / self.pack_size

    @property
    def words(self) -> str:
        """The material with its pack, as it stands on paper."""
        if not self.pack:
            return self.title
        return f"{self.title}, {self.pack} of {self.pack_size:f} {self.unit.symbol}"


@dataclass(frozen=True, slots=True)
class Pooled:
    """All that is needed of one material, and what most of it is for."""

    material: Material
    quantity: Quantity
    items: tuple[Item, ...]
    """The work it goes into, the greatest user first."""
    workings: tuple[str, ...]

    @property
    def packs(self) -> int:
        """Whole packs to buy."""
        return packs(self.quantity.amount, self.material.pack_size)


def packs(needed: Decimal, pack_size: Decimal) -> int:
    """Return the whole packs that hold what is needed.

    >>> packs(Decimal("50.82"), Decimal(25)), packs(Decimal("1.8"), Decimal(1))
    (3, 2)
    """
    return whole_up(needed / pack_size)


def with_waste(net: Decimal, percent: Decimal) -> Decimal:
    """Return an amount with waste added on: q × (1 + w).

    >>> with_waste(Decimal(100), Decimal(5))
    Decimal('105.00')
    """
    return net * (1 + percent / HUNDRED)


def with_loss(net: Decimal, percent: Decimal) -> Decimal:
    """Return what must be bought so that so much is left after a loss: q ÷ (1 − w).

    Some books give waste as a share of what is bought; it is never the same figure as added on.

    >>> round(with_loss(Decimal(100), Decimal(5)), 2)
    Decimal('105.26')
    """
    return net / (1 - percent / HUNDRED)


def pooled(needs: Iterable[Need], materials: Mapping[str, Material]) -> tuple[Pooled, ...]:
    """Return the needs of a job by material, in the order they first come.

    Raises:
        UserMistake: when the price book lacks a material, or sells it in another unit.
    """
    amounts: dict[str, dict[Item, Decimal]] = {}
    workings: dict[str, list[str]] = {}
    for need in needs:
        _check(need, materials)
        users = amounts.setdefault(need.material, {})
        users[need.item] = users.get(need.item, Decimal(0)) + need.quantity.amount
        workings.setdefault(need.material, []).append(need.working)
    return tuple(
        Pooled(
            materials[key],
            Quantity(sum(users.values(), Decimal(0)), materials[key].unit),
            tuple(sorted(users, key=users.__getitem__, reverse=True)),
            tuple(workings[key]),
        )
        for key, users in amounts.items()
    )


def _check(need: Need, materials: Mapping[str, Material]) -> None:
    material = materials.get(need.material)
    if material is None:
        raise UserMistake(
            f"the price book has no material '{need.material}'",
            why="this work needs it",
            do="add it to its materials",
            field="materials",
        )
    if material.unit is not need.quantity.unit:
        raise UserMistake(
            f"the price book sells '{need.material}' in {material.unit.symbol}",
            why=f"it is measured in {need.quantity.unit.symbol}",
            do="change the unit and the pack of that material",
            field="materials",
        )


def bought(pool: Pooled) -> Bought:
    """Return one pooled material as it stands on the buying list, at the merchant's price."""
    material = pool.material
    return Bought(
        material.key,
        material.words,
        pool.quantity,
        pool.packs,
        material.pack_size,
        material.pack_price,
        material.pack_price.times(pool.packs),
    )
