"""What to buy for the agreed work, by supplier, and what more a variation asks for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.money import Money, total
from estimator.pricing.offer import Bought
from estimator.pricing.price_book import PriceBook
from estimator.takeoff.cutting import cut
from estimator.takeoff.lines import Bar
from estimator.units import Quantity, Unit
from estimator.works.site_work import site_work
from estimator.works.suppliers import MERCHANT, folded, tidy

BAR = "bar_"
"""Bars are bought under this and their length in millimetres."""


@dataclass(frozen=True, slots=True)
class ToBuy:
    """One thing to buy."""

    material: str
    """Key in the price book; ``bar_3000`` for bars of that length."""
    title: str
    """With its pack, as it is asked for at the counter."""
    packs: int
    needed: Quantity
    """What the job needs of it, waste in."""
    left: Quantity
    """What the packs hold beyond that."""
    pack_price: Money
    cost: Money
    """At the merchant's price before tax."""


@dataclass(frozen=True, slots=True)
class FromSupplier:
    """What comes from one supplier."""

    supplier: str
    things: tuple[ToBuy, ...]

    @property
    def cost(self) -> Money:
        """All of it, before tax."""
        return total(thing.cost for thing in self.things)


@dataclass(frozen=True, slots=True)
class BuyingList:
    """What to buy."""

    groups: tuple[FromSupplier, ...]

    @property
    def cost(self) -> Money:
        """All of it, before tax."""
        return total(group.cost for group in self.groups)


def buying_list(so_far: SoFar, suppliers: Mapping[str, str] | None = None) -> BuyingList:
    """Return all there is to buy for the work agreed.

    Raises:
        ValueError: before anything was accepted.

    >>> buying_list(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    return list_of(site_work(so_far).offer.buying, suppliers)


def more_to_buy(so_far: SoFar, key: str, suppliers: Mapping[str, str] | None = None) -> BuyingList:
    """Return what a variation asks for beyond what all that was agreed before it does.

    It may be agreed or still open: it is looked at as if it were agreed.

    Raises:
        KeyError: when there is no variation of that key.
        ValueError: before anything was accepted.

    >>> more_to_buy(SoFar(), "a")
    Traceback (most recent call last):
    ...
    KeyError: 'a'
    """
    varied = so_far.varied(key)
    place = so_far.variations.index(varied)
    earlier = so_far.variations[:place]
    as_if = replace(varied, standing=Standing.AGREED)
    before = site_work(replace(so_far, variations=earlier))
    now = site_work(replace(so_far, variations=(*earlier, as_if)))
    return more_of(
        before.offer.buying,
        now.offer.buying,
        book=now.book,
        bars_before=before.measure.bars,
        bars_now=now.measure.bars,
        suppliers=suppliers,
    )


def list_of(buying: Iterable[Bought], suppliers: Mapping[str, str] | None = None) -> BuyingList:
    """Return a buying list grouped by supplier, in the order things first come.

    Args:
        buying: What the job needs, in whole packs.
        suppliers: Who sells a material, by its key; the merchant where nobody is named.

    >>> from estimator.pricing.buying import bought, pooled
    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.lines import Item, Need
    >>> need = Need("grout", Quantity.of(4, Unit.LITRE), "", Item.SET_BAR)
    >>> [pool] = pooled([need], shipped().materials)
    >>> [group] = list_of([bought(pool)], {"grout": "Bar shop"}).groups
    >>> group.supplier, group.things[0].packs, str(group.things[0].left)
    ('Bar shop', 2, '2.00 L')
    """
    return _grouped([_to_buy(one, one.packs, one.needed) for one in buying], suppliers)


def more_of(
    before: Sequence[Bought],
    now: Sequence[Bought],
    *,
    book: PriceBook,
    bars_before: Sequence[Bar] = (),
    bars_now: Sequence[Bar] = (),
    suppliers: Mapping[str, str] | None = None,
) -> BuyingList:
    """Return only what is to be bought beyond what was bought before; less is never taken back.

    Packs already bought are used up first. Bars may be cut already, so the pieces that came to it
    are cut from new stock; pieces no longer needed are not counted on.

    >>> from estimator.pricing.buying import bought, pooled
    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.lines import Item, Need
    >>> def needs(litres):
    ...     need = Need("grout", Quantity.of(litres, Unit.LITRE), "", Item.SET_BAR)
    ...     return [bought(pool) for pool in pooled([need], shipped().materials)]
    >>> more_of(needs(2), needs(3), book=shipped()).groups
    ()
    >>> more_of(needs(2), needs(4), book=shipped()).groups[0].things[0].packs
    1
    """
    had = {one.material: one for one in before}
    found = []
    for one in now:
        if one.material.startswith(BAR):
            continue
        old = had.get(one.material)
        more = one.packs - (old.packs if old else 0)
        if more > 0:
            held = old.packs * old.pack_size if old else Decimal(0)
            short = Quantity(one.needed.amount - held, one.needed.unit)
            found.append(_to_buy(one, more, short))
    found += _more_bars(bars_before, bars_now, book)
    return _grouped(found, suppliers)


def _to_buy(one: Bought, count: int, needed: Quantity) -> ToBuy:
    left = Quantity(count * one.pack_size - needed.amount, needed.unit)
    cost = Money(one.pack_price.pence * count)
    return ToBuy(one.material, one.title, count, needed, left, one.pack_price, cost)


def _more_bars(before: Sequence[Bar], now: Sequence[Bar], book: PriceBook) -> list[ToBuy]:
    extra = _pieces(now) - _pieces(before)
    cutting = cut(sorted(extra.elements()), book.bars.stocks, kerf_mm=book.bars.kerf_mm)
    prices = {stock.length_mm: Money(stock.price_pence) for stock in book.bars.stocks}
    counts = Counter(bar.stock_mm for bar in cutting.bars)
    return [
        ToBuy(
            f"{BAR}{length}",
            f"{book.bars.title}, {Decimal(length) / 1000:.2f} m",
            number,
            Quantity(Decimal(number), Unit.NUMBER),
            Quantity(Decimal(0), Unit.NUMBER),
            prices[length],
            Money(prices[length].pence * number),
        )
        for length, number in sorted(counts.items())
    ]


def _pieces(bars: Iterable[Bar]) -> Counter[int]:
    return Counter(piece for bar in bars for piece in bar.pieces_mm)


def _grouped(things: Iterable[ToBuy], suppliers: Mapping[str, str] | None) -> BuyingList:
    """Group things; a name in other capitals is the same counter, as it is first written."""
    known = suppliers or {}
    names: dict[str, str] = {folded(MERCHANT): MERCHANT}
    by_supplier: dict[str, list[ToBuy]] = {}
    for thing in things:
        name = tidy(known.get(thing.material, "")) or MERCHANT
        by_supplier.setdefault(names.setdefault(folded(name), name), []).append(thing)
    return BuyingList(
        tuple(FromSupplier(name, tuple(found)) for name, found in by_supplier.items())
    )
