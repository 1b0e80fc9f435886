"""Questions put to a caller, and the wall that their answers make.

Every question may be left out or answered with *not sure*: what is not known stays a range. Only
what an answer means is kept here; its words belong to the screen. While sizes are told and nobody
has drawn, a survey with answers has its wall, signs and site made from them each time. Once walls
were measured or drawn they stay, and so does what was noted of them; answers then only add a
danger, settle what nobody was sure of, change what an answer had said before, or say of a told
wall what no drawing shows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from random import Random

from estimator.survey import questions as table
from estimator.survey import undrawn
from estimator.survey.asked_signs import signs_from, signs_moved, signs_of
from estimator.survey.asked_wall import LEVEL, STRAIGHT, Facts, brickwork_of, elevation_of
from estimator.survey.questions import (
    COUNTED,
    NONE_OF_THESE,
    NOT_SURE,
    Choice,
    Kind,
    Question,
    questions,
)
from estimator.survey.ranges import Range, Told, likely, resolve
from estimator.survey.survey import Answer, Asked, Basis, Elevation, Site, Survey
from estimator.survey.undrawn import Choose
from estimator.survey.wall import coursing_of

__all__ = [
    "NONE_OF_THESE",
    "NOT_SURE",
    "Choice",
    "Drawn",
    "Kind",
    "Question",
    "answered",
    "drawn",
    "is_made",
    "questions",
    "still_asked",
    "surveyed",
    "unanswered",
    "unseen_drawn",
]

WIDTH_DECIMALS = 1
HOUSE = "house"
RANGES = ("length", "bricks")
"""Amounts that show as a range in the survey itself."""
WHOLE = ("count", "bricks", "courses")
"""Ends of what is counted in whole numbers: questions, and fields of a survey."""
FACES = {"no": Answer.NO, "yes": Answer.YES}


@dataclass(frozen=True, slots=True)
class Drawn:
    """One chance draw of all that is not known: a plain survey, and what was drawn for it."""

    survey: Survey
    inputs: tuple[tuple[str, float], ...]
    """Question and the number drawn for it; a choice counts by its place. Answers known for sure
    are left out."""


def answered(survey: Survey, asked: Asked) -> Survey:
    """Return the survey with one more answer, or another answer to the same question.

    Raises:
        KeyError: when there is no such question, or it has no such choice.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> told = answered(call, Asked("length", amount=18.0, unit="course"))
    >>> told.elevations[0].cracks[0].run.courses
    Range(low=17.0, likely=18.0, high=19.0)
    """
    one = table.question(asked.question)
    for choice in asked.choices:
        if choice != NOT_SURE:
            one.choice(choice)
    known = {answer.question: answer for answer in survey.asked}
    return _with_answers(survey, tuple((known | {one.key: asked}).values()))


def unanswered(survey: Survey, question: str) -> Survey:
    """Return the survey with the answer to a question taken back.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> unanswered(answered(call, Asked("place", ("corner",))), "place") == surveyed(call)
    True
    """
    left = tuple(one for one in survey.asked if one.question != question)
    if left == survey.asked:
        return survey
    return _with_answers(survey, left)


def is_made(survey: Survey) -> bool:
    """Whether the walls are made from answers, or from none yet, and were not drawn by hand.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> is_made(call), is_made(replace(call, drawn=True))
    (True, False)
    """
    if survey.basis is not Basis.TOLD or survey.drawn:
        return False
    return bool(survey.asked) or survey.elevations in ((), _walls(()))


def still_asked(survey: Survey) -> tuple[str, ...]:
    """Return the questions whose answers still move something: all of them while walls are made.

    Of walls that were drawn or measured, those whose answers move a danger sign, or the site; of
    a drawn one that was told, also what no drawing shows.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> still_asked(replace(call, drawn=True))[:4]
    ('place', 'height', 'shape', 'growing')
    """
    made, also = is_made(survey), (HOUSE, *undrawn.asked_of_drawings(survey))
    return tuple(
        one.key for one in table.questions() if made or one.key in also or signs_of(one.key)
    )


def noted(survey: Survey) -> tuple[str, ...]:
    """Return the questions nobody answered whose answer is noted on the wall all the same.

    Of a wall made from answers none is. Any of them may still be asked.

    >>> from estimator.survey.survey import Party
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(built="1895"), ())
    >>> noted(seen)
    ('house',)
    """
    if is_made(survey):
        return ()
    asked = {one.question for one in survey.asked}
    # What no drawing shows is noted nowhere.
    wanted = asked | {*undrawn.asked_of_drawings(survey)}
    return tuple(key for key in still_asked(survey) if key not in wanted and _is_noted(survey, key))


def _is_noted(survey: Survey, key: str) -> bool:
    """Whether the survey holds what a question asks for: how old the house is, or every sign."""
    if key == HOUSE:
        return bool(survey.site.built)
    return all(getattr(survey.signs, sign) is not Answer.NOT_SURE for sign in signs_of(key))


def surveyed(survey: Survey) -> Survey:
    """Return the survey with its wall, signs and site made anew from what was asked.

    Sizes not known stay ranges; of choices not known the likeliest is drawn. A wall measured on
    site, or drawn by hand, stays as it is; of a told one that was drawn signs and site follow the
    answers.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> surveyed(call).elevations[0].cracks[0].width_mm
    Range(low=0.3, likely=2.0, high=5.0)
    """
    if is_made(survey):
        return _made(survey)
    return _noted(survey, ()) if survey.basis is Basis.TOLD and survey.drawn else survey


def undecided(survey: Survey) -> tuple[str, ...]:
    """Return the questions that move the price, whose answer is not known and shows as no range.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> undecided(answered(call, Asked("below", ("firm",))))
    ('place', 'height', 'shape', 'count', 'house', 'mortar')
    """
    if not is_made(survey):
        return undrawn.unseen(survey)
    answers = {one.question: one for one in survey.asked}
    return tuple(
        one.key
        for one in table.questions()
        if one.moves_price and one.key not in RANGES and not _is_known(answers.get(one.key))
    )


def drawn(survey: Survey, chance: Random) -> Drawn:
    """Return the survey with everything that is not known drawn by chance.

    What moves no price, such as a width, is taken at its likely value instead.
    Each question that is open takes one number from the chance, choices before amounts, so that
    numbers spread evenly over many draws stay spread evenly for every question.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
    >>> [name for name, _number in drawn(call, Random(1)).inputs][:4]
    ['place', 'height', 'shape', 'house']
    """
    by_chance = _ByChance(chance)
    if not is_made(survey):
        seen = undrawn.chosen(survey, by_chance.choose)
        return Drawn(resolve(seen, by_chance.draw), tuple(by_chance.inputs))
    facts = _facts(survey.asked, by_chance.choose, by_chance.settle)
    made = replace(_base(survey), elevations=(elevation_of(facts),))
    return Drawn(made, tuple(by_chance.inputs))


def unseen_drawn(survey: Survey, chance: Random) -> Drawn:
    """Return the survey with what no drawing of its wall shows drawn by chance, ranges left.

    >>> from estimator.survey.survey import Party
    >>> call = Survey("7", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), (), drawn=True)
    >>> [name for name, _number in unseen_drawn(call, Random(1)).inputs]
    ['mortar', 'below']
    """
    by_chance = _ByChance(chance)
    seen = undrawn.chosen(survey, by_chance.choose)
    return Drawn(seen, tuple(by_chance.inputs))


Settle = Callable[[str, Range], Told]
"""Makes of what an amount may be what it is taken to be."""


class _ByChance:
    """Draws what is not known, and remembers what it drew."""

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self.inputs: list[tuple[str, float]] = []

    def choose(self, key: str, shares: tuple[float, ...]) -> int:
        """Return the place of the choice that chance falls on."""
        left, place = self._chance.random(), 0
        while place < len(shares) - 1 and left >= shares[place]:
            left -= shares[place]
            place += 1
        self.inputs.append((key, float(place)))
        return place

    def settle(self, key: str, told: Range) -> Told:
        """Return an amount drawn from its range, or its likely value where nothing hangs on it."""
        is_open = told.low < told.high and table.question(key).moves_price
        return self.draw(key, told) if is_open else told.likely

    def draw(self, key: str, told: Range) -> float:
        """Return a number drawn for a question, or for the place of a range in the survey."""
        amount = self._chance.triangular(told.low, told.high, told.likely)
        amount = round(amount, 0 if key.endswith(WHOLE) else WIDTH_DECIMALS)
        self.inputs.append((key, amount))
        return amount


def _likeliest(_key: str, shares: tuple[float, ...]) -> int:
    return shares.index(max(shares))


def _as_told(key: str, told: Range) -> Told:
    """Return an amount as it was told; how many cracks there are has to be one number."""
    if key == "count":
        return float(round(told.likely))
    return told.likely if told.low == told.high else told


def _with_answers(survey: Survey, asked: tuple[Asked, ...]) -> Survey:
    """Return the survey with other answers, and all that follows from them."""
    changed = replace(survey, asked=asked)
    if survey.basis is Basis.TOLD and not survey.drawn:
        return _made(changed)
    walls = undrawn.answered_on(changed, survey)
    if walls is not changed.elevations:
        changed = replace(changed, elevations=walls)
    return _noted(changed, survey.asked)


def _noted(survey: Survey, before: tuple[Asked, ...]) -> Survey:
    """Return a survey that was drawn or measured with signs and site after other answers."""
    signs = signs_moved(before, survey.asked, survey.signs)
    site = survey.site
    if site.built in ("", *_built().values()):
        site = _site(survey)
    if signs == survey.signs and site == survey.site:
        return survey
    return replace(survey, signs=signs, site=site)


def _made(survey: Survey) -> Survey:
    return replace(_base(survey), elevations=_walls(survey.asked))


@lru_cache(maxsize=16)
def _walls(asked: tuple[Asked, ...]) -> tuple[Elevation, ...]:
    return (elevation_of(_facts(asked, _likeliest, _as_told)),)


@lru_cache(maxsize=16)
def _base(survey: Survey) -> Survey:
    """Return the survey with signs and site from its answers, its wall left as it is."""
    site, signs = _site(survey), signs_from(survey.asked, survey.signs)
    return replace(survey, site=site, signs=signs)


def _site(survey: Survey) -> Site:
    """Return the site with the age of the house as answered; any other fact stays."""
    by_house = _built()
    house = next((one for one in survey.asked if one.question == HOUSE), None)
    if house is not None and _chosen(house):
        return replace(survey.site, built=by_house[_chosen(house)])
    # What was written down for an answer goes when the answer is taken back.
    if survey.site.built in by_house.values():
        return replace(survey.site, built="")
    return survey.site


def _built() -> dict[str, str]:
    """Return what is written down of the age of the house, by the choice that says it."""
    return {key: entry["built"] for key, entry in table.settings("houses").items()}


def _chosen(asked: Asked | None) -> str:
    """Return the choice taken, or nothing where it is not known."""
    taken = asked.choices[:1] if asked is not None else ()
    return taken[0] if taken and taken[0] != NOT_SURE else ""


def _facts(asked: tuple[Asked, ...], choose: Choose, settle: Settle) -> Facts:
    """Return what the wall is drawn from: as answered, and else as chosen and settled."""
    answers = {one.question: one for one in asked}
    chosen: dict[str, str] = {}
    for one in table.questions():
        if one.kind is Kind.CHOICE and one.moves_price:
            key = one.key
            shares = table.shares(key, chosen.get(table.hangs_on(key), ""))
            known = _chosen(answers.get(key))
            chosen[key] = known or one.choices[choose(key, shares)].key
    gauge, pitch = _measures(chosen["house"], chosen["mortar"])
    brick = pitch if chosen["shape"] == LEVEL else gauge
    units = {"course": gauge, "brick": brick}
    length = settle("length", _amount("length", answers, units))
    width = settle("width", _amount("width", answers))
    count = round(likely(settle("count", _amount("count", answers))))
    bricks = _amount("bricks", answers)
    if chosen["shape"] == STRAIGHT and not _is_known(answers.get("bricks")):
        bricks = _broken_bricks(likely(length) / gauge * count)
    return Facts(
        **chosen,
        length_mm=length,
        width_mm=width,
        count=count,
        bricks=settle("bricks", bricks),
        both_faces=FACES.get(_chosen(answers.get("indoors")), Answer.NOT_SURE),
    )


@lru_cache(maxsize=64)
def _measures(house: str, mortar: str) -> tuple[float, float]:
    """Return how high a course and how long a brick with its perpend is [mm]."""
    coursing = coursing_of(brickwork_of(house, mortar))
    return coursing.gauge_mm, coursing.brick.length_mm + coursing.perpend_mm


def _is_known(asked: Asked | None) -> bool:
    return asked is not None and (asked.amount is not None or bool(_chosen(asked)))


def _amount(key: str, answers: dict[str, Asked], units: dict[str, float] | None = None) -> Range:
    """Return what an amount may be: as told, as its choice stands for, or as nobody knows."""
    one, asked = table.question(key), answers.get(key)
    if asked is not None and asked.amount is not None:
        factor = (units or {}).get(asked.unit, 1.0) if asked.unit in COUNTED else 1.0
        return table.trusted(key).span(asked, factor)
    choice = _chosen(asked)
    found = one.choice(choice).amount if choice else one.unknown
    if found is None:
        raise KeyError(f"the question {key} stands for no amount")
    return found


def _broken_bricks(courses: float) -> Range:
    """Return how many bricks straight cracks may have broken, so many courses in all [nr]."""
    share = table.settings("straight_bricks")
    ends = [float(round(courses * share[end])) for end in ("low", "likely", "high")]
    return table.trusted("bricks").within(Range(*ends))
