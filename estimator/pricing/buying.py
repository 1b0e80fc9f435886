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
    working_minutes: int = 0
    """How long a mix of it can be worked, 0 for what does not stiffen [min]."""

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
    """All that is needed of one material, by the work it goes into."""

    material: Material
    users: Mapping[Item, Decimal]
    needed: Decimal
    """All of it, in the unit the material has."""

    @classmethod
    def of(cls, material: Material, users: Mapping[Item, Decimal]) -> Pooled:
        """Add up what the work needs."""
        return cls(material, users, sum(users.values(), Decimal(0)))

    @property
    def quantity(self) -> Quantity:
        """All that is needed."""
        return Quantity(self.needed, self.material.unit)

    @property
    def whole_packs(self) -> int:
        """Whole packs to buy."""
        return packs(self.needed, self.material.pack_size)

    @property
    def main_use(self) -> Item:
        """The work most of it goes into."""
        return max(self.users, key=self.users.__getitem__)

    def without(self, item: Item) -> Pooled | None:
        """Return what is needed for all other work, or None where there is none."""
        if item not in self.users:
            return self
        rest = {user: amount for user, amount in self.users.items() if user is not item}
        return Pooled.of(self.material, rest) if rest else None


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

    >>> from estimator.pricing.price_book import shipped
    >>> needs = [Need("sand", Quantity.of(15, Unit.KILOGRAM), "", Item.REPOINT)] * 3
    >>> pooled(needs, shipped().materials)[0].whole_packs
    2
    """
    # By use as well as by material: what allowed-for bricks need is sold in their own rate.
    found: dict[str, dict[Item, Decimal]] = {}
    for need in needs:
        _check(need, materials)
        users = found.setdefault(need.material, {})
        users[need.item] = users.get(need.item, Decimal(0)) + need.quantity.amount
    return tuple(Pooled.of(materials[key], users) for key, users in found.items())


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
    """Return one pooled material as it stands on the buying list, at the merchant's price.

    >>> from estimator.pricing.price_book import shipped
    >>> pool = Pooled.of(shipped().materials["grout"], {Item.SET_BAR: Decimal("2.04")})
    >>> bought(pool).packs, str(bought(pool).cost)
    (1, '23.50')
    """
    material, count = pool.material, pool.whole_packs
    return Bought(
        material.key,
        material.words,
        pool.quantity,
        count,
        material.pack_size,
        material.pack_price,
        Money(material.pack_price.pence * count),
    )
