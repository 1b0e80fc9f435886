"""What an hour of work costs: the all-in rate of one operative, and the rate of a gang.

An hour on the wall carries more than its wage: leave, sickness, training and lost weather are paid
for and produce nothing, and the employer pays on top. Yearly cost over hours really productive is
the all-in rate. Method: CIOB Code of Estimating Practice, and the price books.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from estimator.money import PENNY

HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class Grade:
    """One grade of operative."""

    title: str
    basic: Decimal
    """Basic pay [£/h]."""
    tools: Decimal
    """Tools and protective clothing [£/year]."""
    source: str


@dataclass(frozen=True, slots=True)
class WorkingYear:
    """The hours paid in a year, and those of them that produce nothing."""

    weeks: Decimal
    hours_a_week: Decimal
    leave_hours: Decimal
    """Holidays, bank holidays included [h]."""
    sick_hours: Decimal
    training_hours: Decimal
    weather_percent: Decimal
    source: str

    @property
    def paid_hours(self) -> Decimal:
        """Hours paid in a year [h]."""
        return self.weeks * self.hours_a_week

    @property
    def productive_hours(self) -> Decimal:
        """Hours at work in a year, less what the weather takes [h]."""
        present = self.paid_hours - self.leave_hours - self.sick_hours - self.training_hours
        return present * (1 - self.weather_percent / HUNDRED)


@dataclass(frozen=True, slots=True)
class OnCosts:
    """What an employer pays on top of wages."""

    contribution_percent: Decimal
    """National insurance, on pay above a threshold."""
    contribution_above: Decimal
    pension_percent: Decimal
    pension_above: Decimal
    training: Decimal
    """Courses and cards [£/year]."""
    severance_percent: Decimal
    liability_percent: Decimal
    """Employer's and public liability insurance, on all that goes before it."""
    source: str


@dataclass(frozen=True, slots=True)
class YearCost:
    """One yearly cost of an operative."""

    title: str
    amount: Decimal
    """Pounds a year."""


@dataclass(frozen=True, slots=True)
class AllIn:
    """What one operative costs in a year, line by line, and in an hour."""

    costs: tuple[YearCost, ...]
    productive_hours: Decimal

    @property
    def year(self) -> Decimal:
        """Cost of a year [£]."""
        return sum((cost.amount for cost in self.costs), Decimal(0))

    @property
    def rate(self) -> Decimal:
        """The all-in rate, to the penny [£/h]."""
        return penny(self.year / self.productive_hours)


def penny(amount: Decimal) -> Decimal:
    """Round an amount in pounds half up to the penny.

    >>> penny(Decimal("24.375"))
    Decimal('24.38')
    """
    return amount.quantize(PENNY, rounding=ROUND_HALF_UP)


def with_oncosts(
    costs: Iterable[YearCost],
    productive_hours: Decimal,
    *,
    severance_percent: Decimal,
    liability_percent: Decimal,
) -> AllIn:
    """Return yearly costs with severance, then insurance on all of it, over productive hours.

    Each line is rounded to the penny as a price book prints it.

    >>> built = with_oncosts([YearCost("Pay and contributions", Decimal("25946.09"))],
    ...     Decimal("1727.7"), severance_percent=Decimal("1.5"), liability_percent=Decimal(2))
    >>> built.year, built.rate
    (Decimal('26861.99'), Decimal('15.55'))
    """
    lines = list(costs)
    before = sum((line.amount for line in lines), Decimal(0))
    severance = penny(before * severance_percent / HUNDRED)
    liability = penny((before + severance) * liability_percent / HUNDRED)
    lines += [YearCost("Severance and sundries", severance), YearCost("Insurance", liability)]
    return AllIn(tuple(lines), productive_hours)


def all_in(grade: Grade, year: WorkingYear, on: OnCosts) -> AllIn:
    """Return the all-in build-up of one grade.

    >>> from estimator.pricing.price_book import shipped
    >>> labour = shipped().labour
    >>> all_in(labour.bricklayer, labour.year, labour.on_costs).rate
    Decimal('24.38')
    """
    pay = penny(year.paid_hours * grade.basic)
    contribution = max(pay - on.contribution_above, Decimal(0)) * on.contribution_percent
    pension = max(pay - on.pension_above, Decimal(0)) * on.pension_percent
    # Rounded line by line, as such a build-up is printed and added up by hand.
    costs = (
        YearCost("Pay", pay),
        YearCost("National insurance", penny(contribution / HUNDRED)),
        YearCost("Pension", penny(pension / HUNDRED)),
        YearCost("Training", on.training),
        YearCost("Tools and protective clothing", grade.tools),
    )
    return with_oncosts(
        costs,
        year.productive_hours,
        severance_percent=on.severance_percent,
        liability_percent=on.liability_percent,
    )


@dataclass(frozen=True, slots=True)
class Gang:
    """Who works together."""

    bricklayers: Decimal
    labourers: Decimal
    source: str


def gang_rate(bricklayer: Decimal, labourer: Decimal, gang: Gang) -> Decimal:
    """Return the cost of a gang for each hour of one of its bricklayers, to the penny [£/h].

    >>> gang = Gang(Decimal(2), Decimal(1), "house")
    >>> gang_rate(Decimal("24.38"), Decimal("18.52"), gang)
    Decimal('33.64')
    """
    return penny(bricklayer + labourer * gang.labourers / gang.bricklayers)


@dataclass(frozen=True, slots=True)
class Labour:
    """Who is employed, how, and how they work together."""

    bricklayer: Grade
    labourer: Grade
    year: WorkingYear
    on_costs: OnCosts
    gang: Gang
    hours_a_day: Decimal
    """Hours on the wall in a day, travel and breaks out [h]."""

    @property
    def hour(self) -> Decimal:
        """Cost of the gang for each hour of one bricklayer [£/h]."""
        bricklayer, labourer = (
            all_in(grade, self.year, self.on_costs).rate
            for grade in (self.bricklayer, self.labourer)
        )
        return gang_rate(bricklayer, labourer, self.gang)

    @property
    def day_capacity(self) -> Decimal:
        """Bricklayer-hours the gang puts in in a day [h]."""
        return self.gang.bricklayers * self.hours_a_day
