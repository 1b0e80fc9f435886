"""Whether the job is theirs to repair: damage category, and a route from the decision table.

The category follows the width of the widest crack and is raised, never lowered, by other signs. A
width told as a range counts by its high end, for safety. The decision table is gone through in its
order, which is the order of danger: every row that fires is listed, the first with a route settles
it. Only the words that go with the size of a repair stay unsaid where no price is given. An
engineer's report leaves the route of the rows an engineer answers to the rows after them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from estimator.notices import Notice, Severity
from estimator.survey.hazards import hazards
from estimator.survey.patterns import patterns
from estimator.survey.ranges import Range, Told
from estimator.survey.survey import Answer, Crack, Survey
from estimator.survey.triage_table import Row, table
from estimator.survey.triggers import TRIGGERS, Facts


class Route(Enum):
    """What may be done next."""

    PRICE = "price"
    RANGE = "range only"
    VISIT = "visit first"
    MONITOR = "monitor"
    REFER = "refer to a chartered structural engineer"
    STOP = "stop"

    @property
    def allows_price(self) -> bool:
        """Whether any price may be given at all."""
        return self not in (Route.REFER, Route.STOP)

    @property
    def allows_fixed_price(self) -> bool:
        """Whether a fixed price may be given."""
        return self is Route.PRICE


@dataclass(frozen=True, slots=True)
class Outcome:
    """One row of the decision table that fired."""

    id: str
    route: Route | None
    """None for a row that adds a caution and leaves the route to later rows."""
    title: str
    words: str
    """What to say to the customer."""
    because: str
    """Which signs made it fire, in words."""
    source: str


@dataclass(frozen=True, slots=True)
class Assessment:
    """What the triage found."""

    category: int
    category_name: str
    route: Route
    outcomes: tuple[Outcome, ...]
    """Rows that fired, in the table's order; the first with a route settled it."""
    notices: tuple[Notice, ...]


def category_of_width(width_mm: float) -> int:
    """Return the damage category a crack of this width has by width alone.

    Source: BRE Digest 251; that a width on a limit is in the lower class is a house rule.

    >>> [category_of_width(width) for width in (0.05, 1.0, 5.0, 5.1, 26.0)]
    [0, 1, 2, 3, 5]
    """
    return next(number for number, one in enumerate(table().categories) if one.holds(width_mm))


def assess(survey: Survey) -> Assessment:
    """Return the damage category, the route and all there is to say about a survey.

    >>> from estimator.survey.survey import Basis, Elevation, Party, Signs, Site, StraightRun
    >>> wall = ((0.0, 0.0), (4500.0, 0.0), (4500.0, 2700.0), (0.0, 2700.0))
    >>> front = Elevation("f", "Front", wall, cracks=(Crack("a", StraightRun(2000, 1, 8), 2.0),))
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (front,))
    >>> found = assess(seen)
    >>> found.category_name, found.route, found.outcomes[0].title
    ('Slight', <Route.VISIT: 'visit first'>, 'Not known yet')
    """
    by_width, category, reasons = _category(survey)
    facts = Facts(survey, category)
    fired = [
        (row, _outcome(row, facts, ", ".join(because)))
        for row in table().rows
        if (because := TRIGGERS[row.trigger](facts))
    ]
    # The last two rows take every category that no row before them gives a route to.
    route = next(outcome.route for _row, outcome in fired if outcome.route is not None)
    if not route.allows_price:
        fired = [(row, outcome) for row, outcome in fired if not _is_about_size(row, outcome)]
    rows, outcomes = [row for row, _outcome in fired], tuple(outcome for _row, outcome in fired)
    notices = (
        *_row_notices(rows, outcomes),
        *_report_notice(facts, rows),
        *_statements(rows),
        *_category_notice(by_width, category, reasons),
        *_told_notices(survey),
        *patterns(survey),
    )
    return Assessment(category, table().categories[category].name, route, outcomes, notices)


def cautions(survey: Survey) -> tuple[Notice, ...]:
    """Return the cautions on the hazards of the work, to print with any paper.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> cautions(seen)[0].code
    'silica'
    """
    return hazards(survey)


def _widest(width: Told) -> float:
    """Return the width a crack counts by, the high end of a range [mm]."""
    return width.high if isinstance(width, Range) else width


def _crack_category(crack: Crack) -> tuple[int, int]:
    """Return the category of a crack by width, and with both faces taken into account."""
    raises = table().raises
    width = _widest(crack.width_mm)
    narrow = category_of_width(width)
    if crack.both_faces is Answer.YES and width > raises.both_over_mm:
        return narrow, min(narrow + raises.both_by, len(table().categories) - 1)
    return narrow, narrow


def _category(survey: Survey) -> tuple[int, int, tuple[str, ...]]:
    """Return the category by width alone, the category found, and what raised it."""
    raises = table().raises
    cracks = [crack for one in survey.elevations for crack in one.cracks]
    classed = [_crack_category(crack) for crack in cracks]
    # Counted over the whole survey: the published scale is of a building, not of one wall.
    by_width = max((narrow for narrow, _both in classed), default=0)
    lifts = [(max((both for _narrow, both in classed), default=0), raises.both_words)]
    wide = sum(_widest(crack.width_mm) >= raises.many_width_mm for crack in cracks)
    if wide >= raises.many_count:
        lifts.append((raises.many_to, raises.many_words))
    for sign, least in raises.signs.items():
        if getattr(survey.signs, sign) is Answer.YES:
            lifts.append((least, table().signs[sign]))
    category = max(by_width, *(least for least, _words in lifts))
    return by_width, category, tuple(words for least, words in lifts if least > by_width)


def _outcome(row: Row, facts: Facts, because: str) -> Outcome:
    """Return a row that fired, with the route it gives if it gives one."""
    name = next((row.routes[case] for case in facts.cases if case in row.routes), "")
    # A report answers for what an engineer judges; nothing answers for danger today.
    lifted = row.lifted_by_report and facts.has_report
    words = row.words
    if lifted:
        words = table().route_words["lifted"]
    elif name in table().route_words:
        words = f"{words} {table().route_words[name]}"
    route = None if lifted or not name else Route[name]
    return Outcome(row.id, route, row.title, words, because, row.source)


def _is_about_size(row: Row, outcome: Outcome) -> bool:
    """Whether a row only says how usual the repair is; beside danger that would mislead."""
    return row.severity is Severity.NOTE and outcome.route is not None


def _row_notices(rows: list[Row], outcomes: tuple[Outcome, ...]) -> list[Notice]:
    """Return what each row says; one that a report has lifted is a caution."""
    notices = []
    for row, outcome in zip(rows, outcomes, strict=True):
        quiet = Severity.CAUTION if outcome.route is None else row.severity
        notices.append(Notice(row.id, min(quiet, row.severity), outcome.words, row.source))
    return notices


def _report_notice(facts: Facts, rows: list[Row]) -> list[Notice]:
    """Return whose report the work goes by, where a row was left to later rows for its sake."""
    report = facts.survey.engineers_report
    if report is None or not any(row.lifted_by_report for row in rows):
        return []
    words = {"reference": report.reference, "engineer": report.engineer, "date": report.date}
    return [_said("engineers_report", **words)]


def _statements(rows: list[Row]) -> list[Notice]:
    """Return the statements that go with damage somebody else should judge."""
    said = []
    if any(row.prints_statements for row in rows):
        said += [_said("not_the_cause"), _said("not_certified")]
    if any(row.trigger == "moving" for row in rows):
        said.append(_said("monitor"))
    return said


def _category_notice(by_width: int, category: int, reasons: tuple[str, ...]) -> list[Notice]:
    """Return why the category is above what the width alone gives."""
    if category == by_width:
        return []
    names = [table().categories[number].name.lower() for number in (category, by_width)]
    return [_said("raised", name=names[0], narrower=names[1], reasons=" and ".join(reasons))]


def _told_notices(survey: Survey) -> list[Notice]:
    """Return what follows from answers that were only told, or not given."""
    cracks = [crack for one in survey.elevations for crack in one.cracks]
    said = []
    if any(isinstance(crack.width_mm, Range) for crack in cracks):
        said.append(_said("told_widths"))
    if survey.signs.listed_or_conservation is Answer.NOT_SURE:
        said.append(_said("ask_listed"))
    if survey.signs.shared_wall is Answer.NOT_SURE:
        said.append(_said("ask_shared"))
    return said


def _said(code: str, **words: str) -> Notice:
    """Return a notice of the table with its gaps filled."""
    notice = table().notices[code]
    return Notice(code, notice.severity, notice.text.format(**words), notice.source)
