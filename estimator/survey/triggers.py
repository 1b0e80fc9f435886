"""When each row of the decision table fires, and why, in words.

A trigger is given the facts and returns the reasons it fires for; none means that it does not.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from estimator.survey.patterns import showing
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Basis, Crack, Survey, Treatment
from estimator.survey.triage_table import table

Reasons = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """What the rows are judged by: the survey, and the damage category found before."""

    survey: Survey
    category: int

    @property
    def has_report(self) -> bool:
        """Whether an engineer has reported."""
        return self.survey.engineers_report is not None

    @property
    def is_told(self) -> bool:
        """Whether nobody of ours has been to see the wall."""
        return self.survey.basis is Basis.TOLD

    @property
    def cracks(self) -> tuple[Crack, ...]:
        """Every crack of every elevation."""
        return tuple(crack for one in self.survey.elevations for crack in one.cracks)

    @property
    def on_both_faces(self) -> bool:
        """Whether any crack is seen on both faces."""
        return any(crack.both_faces is Answer.YES for crack in self.cracks)

    @property
    def has_work_drawn(self) -> bool:
        """Whether bricks or areas are marked for repair beside any crack."""
        return any(
            one.areas or any(brick.treatment is not Treatment.LEAVE for brick in one.bricks)
            for one in self.survey.elevations
        )

    @property
    def cases(self) -> tuple[str, ...]:
        """The cases a row may set a route for, the most particular first."""
        found = ["any"]
        found.insert(0, "told" if self.is_told else "measured")
        if self.is_told and self.on_both_faces and not self.has_report:
            found.insert(0, "told, both faces")
        # A wall with no crack that needs closing may still be surveyed for repointing.
        if self.category == 0 and not self.has_work_drawn:
            found.insert(0, "nothing to repair")
        return tuple(found)

    def said_yes(self, *signs: str) -> Reasons:
        """Return those of the signs that were seen, in words."""
        words = table().signs
        return tuple(
            words[sign] for sign in signs if getattr(self.survey.signs, sign) is Answer.YES
        )

    def not_sure(self, *signs: str) -> bool:
        """Whether any of the signs is not known."""
        return any(getattr(self.survey.signs, sign) is Answer.NOT_SURE for sign in signs)

    def category_words(self) -> Reasons:
        """Return the damage category as a reason."""
        return (f"damage category {self.category}, {table().categories[self.category].name}",)


def danger_now(facts: Facts) -> Reasons:
    """Return signs of danger to people today."""
    return facts.said_yes("loose_or_falling", "lintel_dropped", "sudden_after_impact", "gas_smell")


def severe(facts: Facts) -> Reasons:
    """Return signs of severe damage."""
    worst = facts.category_words() if facts.category >= 4 else ()
    return worst + facts.said_yes("bulging_or_leaning", "floors_sloping", "bearing_lost")


def moving(facts: Facts) -> Reasons:
    """Return signs that the wall still moves; sticking doors count unless growth was denied."""
    # Doors stick for many reasons; only with a crack known to be still are they no sign.
    doors = facts.said_yes("doors_sticking")
    if facts.survey.signs.growing is Answer.NO:
        doors = ()
    return facts.said_yes("growing", "reopened_after_repair") + doors


def moderate(facts: Facts) -> Reasons:
    """Return the category when it is moderate."""
    return facts.category_words() if facts.category == 3 else ()


def ground(facts: Facts) -> Reasons:
    """Return signs that the ground is the cause."""
    return facts.said_yes("trees_on_clay", "leaking_drain", "mining", "insurance_claim")


def support(facts: Facts) -> Reasons:
    """Return signs of lost support; a level crack drawn above an opening is one."""
    told = facts.said_yes(
        "walls_removed",
        "lintel_unknown",
        "level_crack_above_opening",
        "roof_spread",
        "leaning_garden_wall",
        "loose_gable_or_parapet",
    )
    # What is drawn outweighs what was denied: bricks over the opening may hang on nothing.
    drawn = table().signs["level_crack_above_opening"]
    if drawn not in told and showing("level_above_opening", facts.survey):
        told += (f"{drawn}, as drawn",)
    return told


def wall_ties(facts: Facts) -> Reasons:
    """Return signs of failing wall ties."""
    return facts.said_yes("regular_level_lines")


def protected(facts: Facts) -> Reasons:
    """Return whether the building is protected."""
    return facts.said_yes("listed_or_conservation")


def shared(facts: Facts) -> Reasons:
    """Return whether a neighbour shares the wall."""
    return facts.said_yes("shared_wall")


def full_height(facts: Facts) -> Reasons:
    """Return whether the crack may act as a movement joint."""
    return facts.said_yes("full_height_at_junction")


def not_known(facts: Facts) -> Reasons:
    """Return which of the six questions that decide a price is not answered."""
    spread = table().not_sure_spread_mm
    asked = {
        "how wide it is": any(
            isinstance(crack.width_mm, Range) and crack.width_mm.high - crack.width_mm.low > spread
            for crack in facts.cracks
        ),
        "whether it shows on both faces": any(
            crack.both_faces is Answer.NOT_SURE for crack in facts.cracks
        ),
        "whether it is growing": facts.not_sure("growing"),
        "whether it opened again after a repair": facts.not_sure("reopened_after_repair"),
        # Asked together on the telephone, so not known together.
        "whether doors stick or floors slope": facts.not_sure("doors_sticking", "floors_sloping"),
        "whether the wall bulges or has loose bricks": facts.not_sure(
            "bulging_or_leaning", "loose_or_falling"
        ),
    }
    unknown = tuple(question for question, is_open in asked.items() if is_open)
    return (f"not known {unknown[0]}", *unknown[1:]) if unknown else ()


def slight(facts: Facts) -> Reasons:
    """Return the category when a repair is usual work."""
    return facts.category_words() if facts.category == 2 else ()


def very_slight(facts: Facts) -> Reasons:
    """Return the category when the damage matters to looks only."""
    return facts.category_words() if facts.category < 2 else ()


def to_report(facts: Facts) -> Reasons:
    """Return the category when only an engineer's report allows the repair."""
    return facts.category_words() if facts.category > 2 and facts.has_report else ()


TRIGGERS: Mapping[str, Callable[[Facts], Reasons]] = MappingProxyType(
    {
        trigger.__name__: trigger
        for trigger in (
            danger_now,
            severe,
            moving,
            moderate,
            ground,
            support,
            wall_ties,
            protected,
            shared,
            full_height,
            not_known,
            slight,
            very_slight,
            to_report,
        )
    }
)
"""The triggers by the name the decision table calls them."""
