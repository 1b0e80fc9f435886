"""The options side by side: what each costs and leaves, the work in one table, every line.

Nothing is added up here but what is printed above it: a group is the sum of its printed lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import MappingProxyType

from estimator.documents import formats
from estimator.documents.content import (
    Choice,
    Row,
    Schedule,
    ScheduleGroup,
    ScheduleLine,
    Sum,
    Work,
)
from estimator.documents.wording import capital, counted, in_words, say
from estimator.money import total
from estimator.pricing.offer import Group, Offer, OfferLine, Step
from estimator.quoting.quotation import Option, Paper, Quotation
from estimator.takeoff.lines import Item
from estimator.units import Quantity, Unit

LEADING: Mapping[Group, frozenset[str]] = MappingProxyType(
    {
        Group.BEDS: frozenset({Item.CUT_SLOT.value}),
        Group.BARS: frozenset({Item.SET_BAR.value}),
        Group.CRACK: frozenset({Item.POINT_SLOT.value, Item.POINT_CRACK_BED.value}),
        Group.PANEL: frozenset({Item.REPOINT.value}),
        Group.BRICKS: frozenset(
            {
                Item.REPLACE_BRICK.value,
                Item.REPLACE_HALF_BRICK.value,
                Item.TURN_BRICK.value,
                Item.PATCH_BRICK.value,
                Item.ALLOWED_BRICK.value,
            }
        ),
    }
)
"""The items whose quantity stands for a group; other groups of several items are one item."""
MEASURED_WORK = frozenset(item.value for item in Item)
"""Items measured on the wall; all else is bought, hired or reckoned from them."""
HALF_DAY = Decimal("0.5")
LONG_VISIBLE = 600
"""Letters on what will be seen that stand under a price; more go to a later page."""


def letter(number: int) -> str:
    """Return the letter an option goes by.

    >>> letter(0), letter(1)
    ('A', 'B')
    """
    return chr(ord("A") + number)


def choices(quotation: Quotation) -> tuple[Choice, ...]:
    """Return each option as a customer weighs it: price, what will be seen, time."""
    return tuple(
        _choice(letter(number), option, quotation.paper)
        for number, option in enumerate(quotation.options)
    )


def work(quotation: Quotation) -> Work:
    """Return the work in one table, with a column for each option."""
    offers = [option.offer for option in quotation.options]
    is_estimate = quotation.paper is Paper.ESTIMATE
    rows = _estimate_rows(offers) if is_estimate else _rows(offers)
    return Work(
        title=say("headings.work"),
        columns=_columns(offers, is_estimate),
        rows=tuple(rows),
        sums=_sums(quotation),
        promise=_promise(quotation),
    )


def schedule(quotation: Quotation) -> Schedule:
    """Return every line of every option, grouped as the work is."""
    offers = [option.offer for option in quotation.options]
    is_estimate = quotation.paper is Paper.ESTIMATE
    groups = tuple(
        _schedule_group(group, offers, is_estimate) for group in Group if _is_in(group, offers)
    )
    return Schedule(
        title=say("headings.schedule"),
        note=say("work.schedule_estimate" if is_estimate else "work.schedule"),
        rate_title=say("work.rate"),
        columns=_columns(offers, is_estimate),
        groups=groups,
        sums=() if is_estimate else _sums(quotation),
    )


def headline(option: Option, paper: Paper) -> str:
    """Return the price of an option in figures: exact, or a range without pence."""
    if paper is Paper.QUOTATION:
        return formats.money(option.offer.total)
    if option.spread is None:
        return say("options.about", likely=formats.whole_money(option.offer.total))
    low, high = formats.whole_money(option.spread.low), formats.whole_money(option.spread.high)
    return say("options.range", low=low, high=high)


def visible(option: Option) -> tuple[str, ...]:
    """Return what an option leaves to be seen on the wall."""
    return option.offer.visible or option.measure.visible


def leaves_visible(option: Option) -> bool:
    """Whether what is left to be seen is too long to stand under the price."""
    return sum(map(len, visible(option))) > LONG_VISIBLE


def _choice(mark: str, option: Option, paper: Paper) -> Choice:
    likely = ""
    if paper is Paper.ESTIMATE and option.spread is not None:
        likely = say("options.likely", likely=formats.whole_money(option.spread.likely))
    return Choice(
        letter=mark,
        title=option.offer.scope.title,
        price=headline(option, paper),
        beside_price=_tax_words(option.offer),
        under_price=likely,
        visible=(say("options.visible_later"),) if leaves_visible(option) else visible(option),
        time=_time(option.offer),
    )


def _tax_words(offer: Offer) -> str:
    """Say beside a price whether tax is in it."""
    if not offer.taxes:
        return say("options.no_tax")
    charged = all(tax.charged for tax in offer.taxes)
    return say("options.with_tax" if charged else "options.reverse")


def _time(offer: Offer) -> str:
    """Say how many visits, how many days, and what is waited for between."""
    visits = sum(not step.is_wait for step in offer.programme)
    count, days = capital(in_words(visits)), offer.working_days
    gaps = {
        "visits": counted("options.visits", visits, visits=count),
        "days": counted("options.days", float(days), days=_days_in_words(days)),
    }
    if days <= HALF_DAY:
        gaps["days"] = say("options.half_day")
    waits = _waits_between(offer.programme)
    if not waits:
        return say("options.time", **gaps)
    return say("options.time_wait", waits=", ".join(map(_wait_words, waits)), **gaps)


def _waits_between(programme: Sequence[Step]) -> list[Step]:
    """Return the waits that a visit comes after; what follows the last visit delays nobody."""
    last = max((n for n, step in enumerate(programme) if not step.is_wait), default=0)
    return [step for step in programme[:last] if step.is_wait]


def _wait_words(step: Step) -> str:
    days = _days_in_words(step.days)
    waited = counted("options.wait", float(step.days), days=days)
    return f"{step.title[:1].lower()}{step.title[1:]} ({waited})"


def _days_in_words(days: Decimal) -> str:
    return in_words(int(days)) if days == days.to_integral_value() else formats.plain(days)


def _columns(offers: Sequence[Offer], is_estimate: bool) -> tuple[str, ...]:  # noqa: FBT001
    key = "work.letter" if is_estimate else "work.money"
    letters = [say(key, letter=letter(number)) for number in range(len(offers))]
    return ("" if is_estimate else say("work.quantity"), *letters)


def _is_in(group: Group, offers: Sequence[Offer]) -> bool:
    return any(line.group is group for offer in offers for line in offer.lines)


def _of(offer: Offer, group: Group) -> list[OfferLine]:
    return [line for line in offer.lines if line.group is group]


def _amount(offer: Offer, group: Group) -> str:
    lines = _of(offer, group)
    return formats.figure(total(line.amount for line in lines)) if lines else formats.NONE


def _rows(offers: Sequence[Offer]) -> list[Row]:
    """One row a group: its quantity, and its sum in each option."""
    rows = []
    for group in Group:
        if not _is_in(group, offers):
            rows += _no_bricks(group, offers)
            continue
        said = [_quantity(offer, group) for offer in offers]
        figures = tuple(_amount(offer, group) for offer in offers)
        rows.append(Row(group.value, _joined([one for one in said if one]), figures))
    return rows


def _estimate_rows(offers: Sequence[Offer]) -> list[Row]:
    """One row a group with its quantity in each option; an estimate has no prices by the line."""
    rows = []
    for group in Group:
        if not _is_in(group, offers):
            rows += _no_bricks(group, offers)
            continue
        said = tuple(_quantity(offer, group) or formats.NONE for offer in offers)
        rows.append(Row(group.value, "", said))
    return rows


def _no_bricks(group: Group, offers: Sequence[Offer]) -> list[Row]:
    """Return the row that says no cracked brick was seen, so that nobody has to ask."""
    if group is not Group.BRICKS:
        return []
    return [Row(say("work.none_seen"), "", (formats.NONE,) * len(offers))]


def _quantity(offer: Offer, group: Group) -> str:
    """Return the quantity that stands for a group, or nothing where it has no lines."""
    lines = _of(offer, group)
    if not lines:
        return ""
    visits = sum(not step.is_wait for step in offer.programme)
    if group is Group.VISITS and visits:
        return formats.quantity(Quantity(Decimal(visits), Unit.VISIT))
    leading = LEADING.get(group, frozenset({lines[0].item}))
    if group not in LEADING and any(line.item not in leading for line in lines):
        return formats.quantity(Quantity(Decimal(1), Unit.ITEM))
    kept = [line.quantity for line in lines if line.item in leading] or [lines[0].quantity]
    alike = [quantity for quantity in kept if quantity.unit is kept[0].unit]
    summed = sum((quantity.amount for quantity in alike), Decimal(0))
    if kept[0].unit is Unit.ITEM:
        summed = Decimal(1)
    return formats.quantity(Quantity(summed, kept[0].unit))


def _joined(said: Sequence[str]) -> str:
    """Return the quantities of the options as one text: once where they are the same.

    >>> _joined(["1 visit", "2 visits"]), _joined(["6 nr", "6 nr"])
    ('1 / 2 visits', '6 nr')
    """
    different = list(dict.fromkeys(said))
    if len(different) <= 1:
        return "".join(different)
    last_unit = different[-1].partition(" ")[2]
    if all(one.partition(" ")[2].rstrip("s") == last_unit.rstrip("s") for one in different):
        return " / ".join([*(one.partition(" ")[0] for one in different[:-1]), different[-1]])
    return " / ".join(different)


def _sums(quotation: Quotation) -> tuple[Sum, ...]:
    """Return what is struck under the work: before tax, tax by rate, total; or the range."""
    offers = [option.offer for option in quotation.options]
    if quotation.paper is Paper.ESTIMATE:
        return _range_sums(quotation.options)
    finals = tuple(formats.figure(offer.total) for offer in offers)
    if not any(offer.taxes for offer in offers):
        return (Sum(say("work.net_only"), finals, is_final=True), *_kept_back(offers))
    charged = all(tax.charged for offer in offers for tax in offer.taxes)
    rows = [Sum(say("work.before_tax"), tuple(formats.figure(offer.net) for offer in offers))]
    rows += _tax_sums(offers)
    rows.append(Sum(say("work.total_tax" if charged else "work.total"), finals, is_final=True))
    return (*rows, *_kept_back(offers))


def _kept_back(offers: Sequence[Offer]) -> Iterator[Sum]:
    """Yield what a contractor keeps back for the tax office, where one does."""
    if any(offer.deduction for offer in offers):
        yield Sum(say("work.deduction"), tuple(formats.figure(offer.deduction) for offer in offers))


def _tax_sums(offers: Sequence[Offer]) -> Iterator[Sum]:
    """One row a rate of tax; one that is not charged says who accounts for it."""
    rates = dict.fromkeys((tax.title, tax.charged) for offer in offers for tax in offer.taxes)
    for title, charged in rates:
        amounts = [
            [tax.amount for tax in offer.taxes if (tax.title, tax.charged) == (title, charged)]
            for offer in offers
        ]
        figures = tuple(
            formats.figure(total(found)) if found else formats.NONE for found in amounts
        )
        if charged:
            yield Sum(title, figures)
        else:
            owed = " / ".join(dict.fromkeys(formats.money(total(one)) for one in amounts if one))
            said = say("work.reverse", title=title, amount=owed)
            yield Sum(said, (formats.NONE,) * len(offers))


def _range_sums(options: Sequence[Option]) -> tuple[Sum, ...]:
    spreads = [option.spread for option in options]
    likely = [
        one.likely if one else option.offer.total
        for one, option in zip(spreads, options, strict=True)
    ]
    ranges = tuple(headline(option, Paper.ESTIMATE) for option in options)
    return (
        Sum(say("work.range_likely"), tuple(map(formats.whole_money, likely))),
        Sum(say("work.range"), ranges, is_final=True),
    )


def _promise(quotation: Quotation) -> str:
    """Say what each further cracked brick costs; nothing where no rate was worked out."""
    offers = [option.offer for option in quotation.options]
    rates = [rate for rate in dict.fromkeys(offer.further_brick for offer in offers) if rate]
    if not rates:
        return ""
    if quotation.paper is Paper.ESTIMATE:
        shown = " / ".join(dict.fromkeys(map(formats.whole_money, rates)))
        return say("work.further_estimate", rate=shown)
    taxed = any(offer.taxes for offer in offers)
    shown = " / ".join(map(formats.money, rates))
    return say("work.further" if taxed else "work.further_no_tax", rate=shown)


@dataclass(frozen=True, slots=True)
class _Like:
    """What makes lines of two options one row of the schedule."""

    item: str
    description: str
    quantity: Quantity
    rate: Decimal | None
    surety: str
    turn: int
    """Counts lines of one option that are alike in all else, so that none is lost."""


def _schedule_group(group: Group, offers: Sequence[Offer], is_estimate: bool) -> ScheduleGroup:  # noqa: FBT001
    rows: dict[_Like, list[str]] = {}
    for number, offer in enumerate(offers):
        seen: dict[_Like, int] = {}
        for line in _of(offer, group):
            rate = None if is_estimate else line.rate
            # An estimate shows quantities in the columns, so they do not tell rows apart.
            like = _Like(
                line.item,
                line.description,
                Quantity(Decimal(0), line.quantity.unit) if is_estimate else line.quantity,
                rate,
                _surety(line),
                0,
            )
            seen[like] = seen.get(like, -1) + 1
            key = replace(like, turn=seen[like])
            figures = rows.setdefault(key, [formats.NONE] * len(offers))
            shown = formats.quantity(line.quantity) if is_estimate else formats.figure(line.amount)
            figures[number] = shown
    lines = tuple(_schedule_line(like, tuple(figures)) for like, figures in rows.items())
    sums = () if is_estimate else tuple(_amount(offer, group) for offer in offers)
    return ScheduleGroup(group.value, lines, sums)


def _surety(line: OfferLine) -> str:
    """Return how a quantity was arrived at; nothing for what is bought or hired, not measured."""
    return line.surety.value if line.item in MEASURED_WORK else ""


def _schedule_line(like: _Like, figures: tuple[str, ...]) -> ScheduleLine:
    if like.rate is None:
        return ScheduleLine(like.description, like.surety, "", "", figures)
    return ScheduleLine(
        description=like.description,
        surety=like.surety,
        quantity=formats.quantity(like.quantity),
        rate=formats.rate(like.rate),
        figures=figures,
    )
