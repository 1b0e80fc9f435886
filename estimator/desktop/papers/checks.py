"""What is wrong with a paper before it goes out, and why it is what it is."""

from __future__ import annotations

from dataclasses import dataclass

from estimator.desktop.language import _, counted
from estimator.desktop.state import Sight
from estimator.quoting.quotation import Paper
from estimator.survey.ranges import settled
from estimator.survey.survey import Basis, Elevation, HandBar, HandWork
from estimator.survey.triage import Route
from estimator.takeoff.scope import Work as Kind

NAME, ADDRESS, FIRM, OFFER, WALL = "name", "address", "firm", "offer", "wall"
"""Where a problem leads to."""


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


def by_hand(sight: Sight) -> tuple[Problem, ...]:
    """Return what of the bars is the hand's and not the rule's, each line with where it leads."""
    if not any(Kind.STITCH in scope for scope in sight.work.scopes):
        return ()
    survey = sight.work.survey
    hands = [(side, one) for side in survey.elevations for one in side.bars]
    found = []
    for work in (HandWork.SET, HandWork.KEPT, HandWork.LEFT_OUT):
        done = [(side, one) for side, one in hands if one.work is work]
        if done:
            text = _("{what}: {beds}.").format(
                what=_said_of(work, len(done)), beds=_beds(done, survey.elevations)
            )
            found.append(Problem(_mark(sight, *done[0]), text))
    return tuple(found)


def _said_of(work: HandWork, count: int) -> str:
    if work is HandWork.SET:
        return counted("1 bar is set by hand", "{n} bars are set by hand", count)
    if work is HandWork.KEPT:
        return counted(
            "1 bar is kept by hand where the rule had it",
            "{n} bars are kept by hand where the rule had them",
            count,
        )
    return counted(
        "In 1 place bars the rule asks for are left out by hand",
        "In {n} places bars the rule asks for are left out by hand",
        count,
    )


def _beds(hands: list[tuple[Elevation, HandBar]], sides: tuple[Elevation, ...]) -> str:
    """Return the beds in words, with their sides where there are several."""
    words = []
    for side in sides:
        courses = sorted({one.course for where, one in hands if where is side})
        if not courses:
            continue
        said = _("under course {courses}") if len(courses) == 1 else _("under courses {courses}")
        beds = said.format(courses=", ".join(map(str, courses)))
        named = _("{side}, {beds}").format(side=side.name, beds=beds)
        words.append(beds if len(sides) == 1 else named)
    return "; ".join(words)


def _mark(sight: Sight, side: Elevation, hand: HandBar) -> str:
    """Return the bar on the wall that was set, or the side where none lies any more."""
    bars = (bar for option in sight.options for bar in option.measure.bars)
    lies = (one.id for one in bars if one.elevation == side.id and one.hand == hand.id)
    return next(lies, side.id)


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
    if survey.basis is Basis.TOLD and survey.drawn:
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
