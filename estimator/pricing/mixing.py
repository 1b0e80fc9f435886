"""Mixes of grout: no more at once than the gang places before it stiffens."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from estimator.pricing.buying import Pooled
from estimator.pricing.offer import Mixed
from estimator.takeoff.grout_and_mortar import mixes
from estimator.takeoff.lines import Item
from estimator.units import Quantity, Unit


def mixing_list(pools: Iterable[Pooled], hours: Mapping[Item, Decimal]) -> tuple[Mixed, ...]:
    """Return how often each material that stiffens is mixed, at the pace the work is priced at.

    >>> from estimator.pricing.price_book import shipped
    >>> grout = Pooled.of(shipped().materials["grout"], {Item.SET_BAR: Decimal("4.6")})
    >>> [mixed] = mixing_list([grout], {Item.SET_BAR: Decimal("2.3")})
    >>> mixed.mixes, str(mixed.at_once)
    (4, '1.50 L')
    """
    found = []
    for pool in pools:
        minutes = pool.material.working_minutes
        worked = sum((hours.get(item, Decimal(0)) for item in pool.users), Decimal(0))
        if not minutes or not worked or not pool.needed:
            continue
        made = mixes(
            float(pool.needed),
            tub_litres=float(pool.material.pack_size),
            working_minutes=float(minutes),
            placing_l_per_hour=float(pool.needed / worked),
        )
        at_once = Quantity.of(made.mix_litres, Unit.LITRE)
        found.append(Mixed(pool.material.title, made.mixes, at_once, minutes))
    return tuple(found)
