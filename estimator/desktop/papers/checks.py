"""What is wrong with a paper before it goes out, and why it is what it is."""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimator.desktop.language import _
from estimator.desktop.state import Sight
from estimator.quoting.quotation import Paper
from estimator.survey.ranges import settled
from estimator.survey.survey import Basis, Elevation, Survey
from estimator.survey.triage import Route, assess

NAME, ADDRESS, FIRM, OFFER, WALL = "name", "address", "firm", "offer", "wall"
"""Where a problem leads to."""
BY_HAND = frozenset(
    {
        "by_hand",
        "left_out",
        "hand_bare",
        "hand_no_room",
        "hand_overlap",
        "no_crack",
        "near_edge",
        "damp_course",
        "short_bar",
        "unheld",
    }
)
"""Codes of what the takeoff says of a side with bars by hand."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that keeps a paper from going out; the same words stand beside its field."""

    field: str
    text: str


def problems(sight: Sight, *, offers_any: bool = True) -> tuple[Problem, ...]:
    """Return what is missing, in the order of the page."""
    party, found = sight.work.survey.customer, []
    if not sight.assessment.route.allows_price:
        found.append(Problem(WALL, _("No price is given for this wall, so no paper can go out.")))
    elif sight.problem:
        found.append(Problem(WALL, sight.problem))
    if not party.name.strip():
        found.append(Problem(NAME, _("Write the customer's name.")))
    if not any(line.strip() for line in (*party.address, *party.site)):
        found.append(Problem(ADDRESS, _("Write the customer's address.")))
    if not sight.practice.trader.name.strip():
        found.append(Problem(FIRM, _("Write your firm's name in the settings.")))
    if not offers_any:
        found.append(Problem(OFFER, _("Tick at least one choice to offer.")))
    return tuple(found)


def _firm_once_measured(survey: Survey) -> bool:
    """Whether a drawn wall could be quoted at a fixed price, had its sizes been measured."""
    measured = replace(survey, basis=Basis.MEASURED)
    return assess(measured).route.allows_fixed_price and settled(measured) is measured


def by_hand(sight: Sight) -> tuple[Problem, ...]:
    """Return what the takeoff says of bars by hand, each line with where on the wall it leads.

    A bar the rule asks for and somebody left out is said, and whatever an engineer is to be asked.
    """
    hands = [side for side in sight.work.survey.elevations if side.bars]
    said = [
        notice.text
        for option in sight.options
        for notice in option.measure.notices
        if notice.code in BY_HAND
    ]
    return tuple(
        Problem(_mark(sight, side), text)
        for text in dict.fromkeys(said)
        for side in hands
        if text.startswith(f"{side.name}:")
    )


def _mark(sight: Sight, side: Elevation) -> str:
    """Return a bar by hand on a side, or the side where none lies any more."""
    bars = (bar for option in sight.options for bar in option.measure.bars)
    return next((one.id for one in bars if one.elevation == side.id and one.hand), side.id)


def paper_of(sight: Sight) -> Paper:
    """Return which paper the job would get as it stands, as ``quoting.offering`` has it."""
    survey = sight.work.survey
    is_firm = sight.assessment.route.allows_fixed_price and settled(survey) is survey
    return Paper.QUOTATION if is_firm else Paper.ESTIMATE


def kind_and_reason(sight: Sight) -> str:
    """Return which paper it is and why, so that the two are never confused."""
    survey, route = sight.work.survey, sight.assessment.route
    if not route.allows_price:
        return _("There is no paper for this wall.")
    if paper_of(sight) is Paper.QUOTATION:
        return _("A quotation, because the wall was measured and nothing is left open.")
    if survey.basis is Basis.TOLD and survey.drawn and _firm_once_measured(survey):
        return _(
            "An estimate, because the sizes were told. If you measured what is drawn, say"
            " “measured on site” over the wall, and it becomes a quotation."
        )
    if survey.basis is Basis.TOLD:
        return _("An estimate, because the sizes were told.")
    if settled(survey) is not survey:
        return _("An estimate, because some sizes are still a guess.")
    return {
        Route.VISIT: _("An estimate, because the wall has to be seen first."),
        Route.MONITOR: _("An estimate, because the crack is to be watched first."),
    }.get(route, _("An estimate, because not everything is known yet."))


def number_comes(paper: Paper) -> str:
    """Return what the one button says; the number is known only once it is issued."""
    if paper is Paper.QUOTATION:
        return _("Issue quotation")
    return _("Issue estimate")


def kind_named(paper: Paper) -> str:
    """Return what the paper is called."""
    return _("Quotation") if paper is Paper.QUOTATION else _("Estimate")


def until_named(paper: Paper) -> str:
    """Return what the paper calls the day until which it stands."""
    return _("Open until") if paper is Paper.QUOTATION else _("A guide until")
