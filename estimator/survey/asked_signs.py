"""What a caller's answers say of danger, movement and consent.

Where an answer can be read in two ways, the reading that keeps people safer is taken. A crack that
is new has opened of late, and nobody has seen it stand still since: it counts as growing. A sign
not named in an answer of several stays unknown; only *none of these* denies them all.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from types import MappingProxyType

from estimator.survey.questions import NONE_OF_THESE, NOT_SURE
from estimator.survey.survey import Answer, Asked, Signs

CHOSEN: Mapping[str, Mapping[str, Mapping[str, Answer]]] = MappingProxyType(
    {
        "growing": {
            "same": {"growing": Answer.NO},
            "bigger": {"growing": Answer.YES},
            "new": {"growing": Answer.YES},
        },
        "filled": {
            "never": {"reopened_after_repair": Answer.NO},
            "held": {"reopened_after_repair": Answer.NO},
            "opened_again": {"reopened_after_repair": Answer.YES},
        },
    }
)
"""What each choice of a question with one answer says."""

NAMED: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "warning": {
            "doors": "doors_sticking",
            "floors": "floors_sloping",
            "leaning": "bulging_or_leaning",
            "loose": "loose_or_falling",
            "dropped": "lintel_dropped",
            "impact": "sudden_after_impact",
            "gas": "gas_smell",
        },
        "works": {
            "walls_removed": "walls_removed",
            "new_windows": "lintel_unknown",
            "loft": "roof_spread",
        },
        "ground": {
            "trees": "trees_on_clay",
            "drains": "leaking_drain",
            "mining": "mining",
            "claim": "insurance_claim",
        },
        "owners": {"listed": "listed_or_conservation", "shared": "shared_wall"},
    }
)
"""The sign that each choice of a question with several answers names."""

DRAWN = ("full_height_at_junction", "level_crack_above_opening")
"""Signs that follow from where the crack is and how it runs."""

TOGETHER: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"place": (*DRAWN, "lintel_unknown"), "shape": DRAWN, "height": ("roof_spread",)}
)
"""Signs that a question moves only together with the answer to another."""


def signs_from(asked: tuple[Asked, ...], before: Signs) -> Signs:
    """Return the signs as answered; those that no question asks for stay as they were.

    >>> signs_from((Asked("growing", ("new",)),), Signs()).growing
    <Answer.YES: 'yes'>
    >>> signs_from((Asked("warning", ("none",)),), Signs()).gas_smell
    <Answer.NO: 'no'>
    """
    return replace(before, **_said(asked))


def signs_moved(old: tuple[Asked, ...], new: tuple[Asked, ...], noted: Signs) -> Signs:
    """Return the signs noted on a wall that was drawn or measured, after other answers to it.

    What was noted stays, but for three things: an answer may say that there is a danger, it may
    settle what nobody was sure of, and it may change what the answers before it had said.

    >>> seen = Signs(gas_smell=Answer.YES)
    >>> moved = signs_moved((), (Asked("warning", ("none",)),), seen)
    >>> moved.gas_smell, moved.floors_sloping
    (<Answer.YES: 'yes'>, <Answer.NO: 'no'>)
    """
    before, after = _said(old), _said(new)
    moved = {}
    for sign, said in after.items():
        held = getattr(noted, sign)
        if said is not held and (said is Answer.YES or held is before[sign]):
            moved[sign] = said
    return replace(noted, **moved) if moved else noted


def signs_of(question: str) -> tuple[str, ...]:
    """Return the signs an answer to a question may move, alone or with answers to others.

    >>> signs_of("filled"), signs_of("width")
    (('reopened_after_repair',), ())
    """
    chosen = {sign for found in CHOSEN.get(question, {}).values() for sign in found}
    named = set(NAMED.get(question, {}).values())
    every = chosen | named | set(TOGETHER.get(question, ()))
    return tuple(entry.name for entry in fields(Signs) if entry.name in every)


def _said(asked: tuple[Asked, ...]) -> dict[str, Answer]:
    """Return every sign that some question asks for, as answered."""
    answers = {one.question: set(one.choices) - {NOT_SURE} for one in asked}
    found = dict.fromkeys(_asked_for(), Answer.NOT_SURE)
    for question, meanings in CHOSEN.items():
        for choice in answers.get(question, ()):
            found |= meanings[choice]
    for question, named in NAMED.items():
        taken = answers.get(question, set())
        if NONE_OF_THESE in taken:
            found |= dict.fromkeys(named.values(), Answer.NO)
        found |= {
            sign: Answer.YES
            for choice, sign in named.items()
            if choice in taken and not _is_elsewhere(choice, answers)
        }
    found |= _as_drawn(answers)
    return found


def _asked_for() -> tuple[str, ...]:
    """Return the signs that some question asks for, in their order."""
    named = {sign for meanings in NAMED.values() for sign in meanings.values()}
    chosen = {sign for choices in CHOSEN.values() for one in choices.values() for sign in one}
    every = named | chosen | set(DRAWN)
    return tuple(entry.name for entry in fields(Signs) if entry.name in every)


def _is_elsewhere(choice: str, answers: Mapping[str, set[str]]) -> bool:
    """Whether work was done to another part of the house than the one that cracked."""
    # Only where the caller said so: what is not known might be the cracked part.
    if choice == "new_windows":
        return bool(answers.get("place", set()) & {"under_window", "junction", "plain"})
    return choice == "loft" and "low" in answers.get("height", set())


def _as_drawn(answers: Mapping[str, set[str]]) -> Mapping[str, Answer]:
    """Return the signs that place and shape show together."""
    place, shape = answers.get("place", set()), answers.get("shape", set())
    found = {}
    # At a junction most cracks run straight up, so one of unknown shape counts as one.
    if "junction" in place and not shape & {"stepped", "level"}:
        found["full_height_at_junction"] = Answer.YES
    if "over_opening" in place and "level" in shape:
        found["level_crack_above_opening"] = Answer.YES
    return found
