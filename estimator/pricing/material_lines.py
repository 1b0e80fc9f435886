"""Lines for materials: whole packs pooled over the job, and bars from stock lengths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache

from estimator.money import Money
from estimator.pricing.buying import Pooled, bought
from estimator.pricing.offer import Bought, Group, OfferLine, Part
from estimator.pricing.price_book import PriceBook
from estimator.pricing.rates import MATERIALS, Costed, UnitRate, part, scaled, sold, times
from estimator.pricing.work_lines import GROUPS
from estimator.takeoff.cutting import CuttingList, Stock, cut
from estimator.takeoff.lines import Bar, Item, Mark
from estimator.units import Quantity, Unit

MM_PER_M = Decimal(1000)
Marks = Mapping[Item, tuple[Mark, ...]]


def material_lines(
    pools: Iterable[Pooled], book: PriceBook, bought_in: Decimal, marks: Marks
) -> Iterator[Costed]:
    """Yield a line for each material, in whole packs.

    Bricks allowed for carry their materials in their own rate and are left out here, so that each
    further brick costs the same whether it was allowed for or not.

    >>> from estimator.pricing.buying import pooled
    >>> from estimator.pricing.price_book import shipped
    >>> from estimator.takeoff.lines import Need
    >>> need = Need("grout", Quantity.of(4, Unit.LITRE), "", Item.SET_BAR)
    >>> pools = pooled([need], shipped().materials)
    >>> [str(one.line.quantity) for one in material_lines(pools, shipped(), Decimal(1), {})]
    ['2 nr']
    """
    for pool in pools:
        rest = pool.without(Item.ALLOWED_BRICK)
        if rest is not None:
            yield _line(rest, book, bought_in, marks)


def buying_list(
    pools: Iterable[Pooled], cutting: CuttingList, book: PriceBook
) -> tuple[Bought, ...]:
    """Return all there is to buy, at the merchant's prices before tax."""
    return (*(bought(pool) for pool in pools), *_bars_bought(cutting, book))


@lru_cache(maxsize=1024)
def _pack(book: PriceBook, key: str, bought_in: Decimal) -> tuple[str, UnitRate]:
    """Return a pack of a material in words, and what it sells for."""
    material = book.materials[key]
    cost = material.pack_price.pounds * bought_in
    what = f"one {material.pack}" if material.pack else "one"
    rate = sold(book, ((MATERIALS, cost),), (part(material.title, what, cost),))
    return material.words, rate


def _line(pool: Pooled, book: PriceBook, bought_in: Decimal, marks: Marks) -> Costed:
    words, rate = _pack(book, pool.material.key, bought_in)
    count = Decimal(pool.whole_packs)
    needed = Part("Needed for the job", f"{pool.quantity}, waste in", Decimal(0))
    line = OfferLine(
        pool.material.key,
        GROUPS[pool.main_use],
        words,
        Quantity(count, Unit.NUMBER),
        rate.rate,
        times(count, rate.rate),
        tuple(dict.fromkeys(mark for item in pool.users for mark in marks.get(item, ()))),
        (needed, *rate.parts),
    )
    return Costed(line, scaled(rate.costs, count), is_goods=True)


@lru_cache(maxsize=1024)
def _bar_rate(book: PriceBook, length_mm: int, bought_in: Decimal) -> UnitRate:
    """Return what a stock bar sells for."""
    price = next(one.price_pence for one in book.bars.stocks if one.length_mm == length_mm)
    cost = Money(price).pounds * bought_in
    return sold(book, ((MATERIALS, cost),), (part(book.bars.title, _metres(length_mm), cost),))


@lru_cache(maxsize=64)
def _sold_stocks(book: PriceBook, bought_in: Decimal) -> tuple[Stock, ...]:
    return tuple(
        Stock(length, int(_bar_rate(book, length, bought_in).rate.scaleb(2)))
        for length in book.bar_lengths_mm
    )


def cut_bars(bars: Sequence[Bar], book: PriceBook, bought_in: Decimal) -> CuttingList:
    """Return the cutting list that costs the customer least.

    Cut at selling prices: what is printed is then itself the least, so that one more piece never
    brings the printed sum down by a rounding.
    """
    pieces = tuple(piece for bar in bars for piece in bar.pieces_mm)
    return cut(pieces, _sold_stocks(book, bought_in), kerf_mm=book.bars.kerf_mm)


def bar_lines(
    cutting: CuttingList, book: PriceBook, bought_in: Decimal, marks: tuple[Mark, ...]
) -> tuple[Costed, ...]:
    """Return a line for each length of bar bought."""
    counts = Counter(bar.stock_mm for bar in cutting.bars)
    lines = []
    for length, number in sorted(counts.items()):
        rate, count = _bar_rate(book, length, bought_in), Decimal(number)
        line = OfferLine(
            f"bar_{length}",
            Group.BARS,
            f"{book.bars.title}, {_metres(length)}",
            Quantity(count, Unit.NUMBER),
            rate.rate,
            times(count, rate.rate),
            marks,
            rate.parts,
        )
        lines.append(Costed(line, scaled(rate.costs, count), is_goods=True))
    return tuple(lines)


def _bars_bought(cutting: CuttingList, book: PriceBook) -> tuple[Bought, ...]:
    prices = {stock.length_mm: Money(stock.price_pence) for stock in book.bars.stocks}
    counts = Counter(bar.stock_mm for bar in cutting.bars)
    return tuple(
        Bought(
            f"bar_{length}",
            f"{book.bars.title}, {_metres(length)}",
            Quantity(Decimal(number), Unit.NUMBER),
            number,
            Decimal(1),
            prices[length],
            Money(prices[length].pence * number),
        )
        for length, number in sorted(counts.items())
    )


def _metres(length_mm: int) -> str:
    return f"{length_mm / MM_PER_M:.2f} m"
