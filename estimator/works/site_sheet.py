"""The site sheet: all the gang needs to know of the agreed work, on paper.

It says what was measured and agreed, in the order it is done. It designs nothing: where a wall
moves, or is not as it was surveyed, the work stops and the engineer is rung.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from estimator.contract.so_far import SoFar
from estimator.contract.works import Held
from estimator.notices import Notice, Severity
from estimator.pricing.offer import Bought, Mixed
from estimator.pricing.price_book import PriceBook
from estimator.survey.hazards import hazards
from estimator.survey.survey import Survey
from estimator.takeoff.grout_and_mortar import Mortar
from estimator.takeoff.lines import Bar, Mark, Measure, Reach, SetBy
from estimator.works import marks
from estimator.works.cutting_order import StockBar, in_cutting_order
from estimator.works.day_work import by_days
from estimator.works.hold_points import HoldPoint, hold_points
from estimator.works.noted import held_now
from estimator.works.programme import DatedTask, programme
from estimator.works.settings import Call, Settings, shipped
from estimator.works.site_work import SiteWork, site_work
from estimator.works.vibration import DayExposure, Level, exposures
from estimator.works.weather import mortars_of


@dataclass(frozen=True, slots=True)
class SheetBar:
    """One bar as the gang sets it."""

    mark: Mark
    words: str
    """Bar 3, bed under course 8."""
    course: int
    """The bed under this course."""
    left_mm: float
    right_mm: float
    """From the left end of the drawn wall. [mm]"""
    pieces_mm: tuple[int, ...]
    slot_depth_mm: int
    bed_mm: float
    leg_left_mm: float
    leg_right_mm: float
    skim_mm: float
    """Length of arris skimmed where the bed is thin, 0 for none. [mm]"""
    by_hand: bool
    """Whether somebody set it by hand, in place of the rule."""

    @property
    def slot_mm(self) -> float:
        """Length of slot on this side [mm]."""
        return self.right_mm - self.left_mm


@dataclass(frozen=True, slots=True)
class SheetBed:
    """A stretch of bed found thin."""

    course: int
    from_mm: float
    to_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class SheetSide:
    """What is done on one side of the building."""

    elevation: str
    name: str
    bars: tuple[SheetBar, ...]
    """Lowest first."""
    thin_beds: tuple[SheetBed, ...]
    works: tuple[tuple[str, str], ...]
    """Each kind of work and how much of it."""
    reached_by: str
    """``ground``, ``hop_up``, ``tower`` or ``scaffold``; empty where nothing says so."""
    top_mm: float
    """Highest work above the ground one stands on. [mm]"""
    on_the_wall: str
    """Pipes, meters, climbers."""


@dataclass(frozen=True, slots=True)
class SheetMortar:
    """A mortar in the gang's words."""

    key: str
    title: str
    parts: tuple[tuple[str, str], ...]
    """Material and its parts by volume."""
    least_temperature_c: float
    cure_days: int
    note: str


@dataclass(frozen=True, slots=True)
class SiteSheet:
    """All of it."""

    title: str
    reference: str
    address: tuple[str, ...]
    scope_title: str
    sides: tuple[SheetSide, ...]
    stock_bars: tuple[StockBar, ...]
    mortars: tuple[SheetMortar, ...]
    mixing: tuple[Mixed, ...]
    packs: tuple[Bought, ...]
    order_of_work: tuple[str, ...]
    hold_points: tuple[HoldPoint, ...]
    exposures: tuple[DayExposure, ...]
    cautions: tuple[Notice, ...]
    """Loudest first."""
    calls: tuple[Call, ...]
    tasks: tuple[DatedTask, ...]
    gang: tuple[str, ...] = ()


def site_sheet(so_far: SoFar, *, settings: Settings | None = None) -> SiteSheet:
    """Return the site sheet of the work agreed.

    Raises:
        ValueError: before anything was accepted.

    >>> site_sheet(SoFar())
    Traceback (most recent call last):
    ...
    ValueError: nothing has been accepted yet
    """
    return sheet_of(
        site_work(so_far),
        held=held_now(so_far),
        tasks=programme(so_far, settings=settings),
        gang=so_far.plan.gang if so_far.plan else (),
        settings=settings,
    )


def sheet_of(
    work: SiteWork,
    *,
    held: Iterable[Held] = (),
    tasks: Sequence[DatedTask] = (),
    gang: tuple[str, ...] = (),
    settings: Settings | None = None,
) -> SiteSheet:
    """Return the site sheet of measured and priced work.

    Args:
        work: What was agreed.
        held: Hold points signed so far.
        tasks: The programme, where the works are planned.
        gang: Who comes.
        settings: What the works go by; as shipped when not said.

    >>> from estimator.pricing.price_book import shipped as book
    >>> from estimator.pricing.pricing import price
    >>> from estimator.pricing.terms import Terms
    >>> from estimator.survey.survey import Basis, Crack, Elevation, Party, Site, StraightRun
    >>> from estimator.takeoff.measure import measure
    >>> from estimator.takeoff.rules import shipped as rules
    >>> from estimator.takeoff.scope import LOCAL
    >>> import datetime
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> front = Elevation("front", "Front", outline, cracks=(crack,))
    >>> seen = Survey("1", "Front wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> taken = measure(seen, LOCAL, rules())
    >>> offer = price(taken, book(), Terms(datetime.date(2026, 11, 25)))
    >>> sheet = sheet_of(SiteWork(seen, taken, offer, rules(), book()))
    >>> len(sheet.sides[0].bars), [bar.length_mm for bar in sheet.stock_bars]
    (8, [3000, 3000, 1000, 1000])
    >>> sheet.hold_points[0].what, sheet.hold_points[0].text
    ('Bar 1, bed under course 2', 'Slot 25 mm deep all along')
    """
    known = settings or shipped()
    survey, measure = work.survey, work.measure
    hands = work.book.labour.gang.bricklayers
    shaken = exposures(by_days(measure, work.book), hands=hands, settings=known)
    party = survey.customer
    return SiteSheet(
        title=survey.title,
        reference=survey.reference,
        address=party.site or party.address,
        scope_title=work.offer.scope.title,
        sides=_sides(survey, measure),
        stock_bars=in_cutting_order(
            work.offer.cutting, measure.bars, kerf_mm=work.book.bars.kerf_mm
        ),
        mortars=tuple(_mortar(one, work.book) for one in mortars_of(measure)),
        mixing=work.offer.mixing,
        packs=work.offer.buying,
        order_of_work=order_of_work(measure, settings=known),
        hold_points=hold_points(measure, work.rules, held=held, settings=known),
        exposures=shaken,
        cautions=_cautions(survey, measure, shaken, known),
        calls=_calls(survey, known),
        tasks=tuple(tasks),
        gang=gang,
    )


def order_of_work(measure: Measure, *, settings: Settings | None = None) -> tuple[str, ...]:
    """Return the order of work in sentences: the steps that this work has.

    >>> from estimator.takeoff.scope import LOCAL
    >>> order_of_work(Measure(LOCAL, (), (), (), (), (), ()))
    ()
    """
    items = {line.item for line in measure.lines}
    steps = (settings or shipped()).order_of_work
    return tuple(step.text for step in steps if not items.isdisjoint(step.items))


def _sides(survey: Survey, measure: Measure) -> tuple[SheetSide, ...]:
    worked = {line.elevation for line in measure.lines}
    reaches = {reach.elevation: reach for reach in measure.reaches}
    found = []
    for elevation in survey.elevations:
        if elevation.id not in worked:
            continue
        bars = [bar for bar in measure.bars if bar.elevation == elevation.id]
        reach: Reach | None = reaches.get(elevation.id)
        found.append(
            SheetSide(
                elevation.id,
                elevation.name,
                tuple(_bar(bar) for bar in sorted(bars, key=lambda bar: (bar.course, bar.left_mm))),
                tuple(
                    SheetBed(bed.course, bed.from_mm, bed.to_mm, bed.thickness_mm)
                    for bed in elevation.thin_beds
                ),
                tuple(
                    (line.item.value, str(line.quantity))
                    for line in measure.lines
                    if line.elevation == elevation.id
                ),
                reach.means if reach else "",
                reach.top_mm if reach else 0.0,
                elevation.ornament,
            )
        )
    return tuple(found)


def _bar(bar: Bar) -> SheetBar:
    return SheetBar(
        bar.id,
        marks.bar_words(bar),
        bar.course,
        bar.left_mm,
        bar.right_mm,
        bar.pieces_mm,
        bar.slot_depth_mm,
        bar.bed_mm,
        bar.turn_left_mm,
        bar.turn_right_mm,
        bar.skim_mm,
        bar.set_by is SetBy.HAND,
    )


def _mortar(mix: Mortar, book: PriceBook) -> SheetMortar:
    parts = tuple(
        (
            book.materials[one.material].title if one.material in book.materials else one.material,
            f"{one.parts:g}",
        )
        for one in mix.ingredients
    )
    return SheetMortar(mix.key, mix.title, parts, mix.least_temperature_c, mix.cure_days, mix.note)


def _cautions(
    survey: Survey, measure: Measure, shaken: Sequence[DayExposure], settings: Settings
) -> tuple[Notice, ...]:
    """Return all that can hurt somebody or the wall, the loudest first, none of it twice."""
    said = [
        *settings.cautions,
        *(note for note in measure.notices if note.severity >= Severity.CAUTION),
        *_about_vibration(shaken, settings),
        *hazards(survey),
        *_on_the_wall(survey, measure),
    ]
    alone = {note.text: note for note in reversed(said)}
    kept = [note for note in said if alone.get(note.text) is note]
    return tuple(sorted(kept, key=lambda note: -note.severity))


def _about_vibration(shaken: Sequence[DayExposure], settings: Settings) -> tuple[Notice, ...]:
    worst = max(shaken, key=lambda day: day.points, default=None)
    if worst is None or worst.level is Level.BELOW:
        return ()
    text = (
        f"Vibration: {worst.points:.0f} points for one person on the hardest day, action value "
        f"{settings.vibration.action_points:f}, limit {settings.vibration.limit_points:f}. "
        f"{worst.words}"
    )
    if worst.operatives > 1:
        text += f" Shared by {worst.operatives} it stays within the limit."
    severity = Severity.STOP if worst.level is Level.OVER else Severity.CAUTION
    return (Notice("vibration_day", severity, text, settings.vibration.limits_source),)


def _on_the_wall(survey: Survey, measure: Measure) -> tuple[Notice, ...]:
    worked = {line.elevation for line in measure.lines}
    return tuple(
        Notice(
            "on_the_wall",
            Severity.CAUTION,
            f"{elevation.name}: {elevation.ornament.strip().rstrip('.')}. Find and keep clear of "
            "what belongs to it before cutting.",
            "hse_services",
        )
        for elevation in survey.elevations
        if elevation.id in worked and elevation.ornament.strip()
    )


def _calls(survey: Survey, settings: Settings) -> tuple[Call, ...]:
    """Return whom to ring; the engineer by name where there is one."""
    report = survey.engineers_report
    if report is None:
        return settings.calls
    first, *rest = settings.calls
    return (Call(f"{first.who}: {report.engineer}", first.why, first.number, first.source), *rest)
