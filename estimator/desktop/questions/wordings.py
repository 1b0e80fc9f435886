"""The words of every question put to a caller, and of every answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from estimator.desktop.language import LANGUAGE, _, in_context
from estimator.survey.enquiry import NOT_SURE


@dataclass(frozen=True, slots=True)
class Wording:
    """How one question is put."""

    label: str
    """What the answer is of, for its line."""
    ask: str
    hint: str
    choices: Mapping[str, str]
    """What is on the buttons, by key of the choice."""
    brief: str = ""
    """The question in few words, for the list of what is not asked yet; empty for the same."""
    tag: str = ""
    """Why it is asked where it moves no price: safety, a visit, consent."""
    known: Mapping[str, str] = field(default_factory=dict)
    """An answer in other words than on its button, for its line."""

    def said(self, choice: str) -> str:
        """Return a choice in words, for the line of its answer."""
        if choice == NOT_SURE:
            return _("Not sure")
        return self.known.get(choice) or self.choices[choice]


def wording(key: str) -> Wording:
    """Return how a question is put in the language of the screen.

    Raises:
        KeyError: when there is no such question.

    >>> wording("shape").said("stepped")
    'Steps along the joints'
    """
    return _made(key, LANGUAGE.tag)


@cache
def _made(key: str, _language: str) -> Wording:
    return {
        "place": _place,
        "height": _height,
        "shape": _shape,
        "length": _length,
        "width": _width,
        "count": _count,
        "bricks": _bricks,
        "indoors": _indoors,
        "growing": _growing,
        "filled": _filled,
        "warning": _warning,
        "works": _works,
        "ground": _ground,
        "house": _house,
        "mortar": _mortar,
        "below": _below,
        "owners": _owners,
    }[key]()


def _safety() -> str:
    return in_context("why a question is asked", "safety")


def _place() -> Wording:
    return Wording(
        _("Where"),
        _("Where on the house is it?"),
        _("Ask what is just above it, and what is below."),
        {
            "under_window": _("under a window"),
            "corner": _("at a corner"),
            "over_opening": _("over a door or window"),
            "junction": _("where two walls meet"),
            "plain": _("in plain wall"),
        },
    )


def _height() -> Wording:
    return Wording(
        _("How high"),
        _("How high up is it?"),
        _("From the ground, or from the floor of which storey?"),
        {
            "low": _("ground floor"),
            "upstairs": _("upstairs"),
            "high": _("higher still"),
        },
    )


def _shape() -> Wording:
    return Wording(
        _("Shape"),
        _("How does it run?"),
        _("Steps go along the joints, like a staircase."),
        {
            "stepped": _("in steps"),
            "straight": _("straight up"),
            "level": _("level"),
        },
        known={"stepped": _("Steps along the joints")},
    )


def _length() -> Wording:
    return Wording(
        _("How long"),
        _("How long is it, top to bottom?"),
        _("Metres, feet or bricks. “About twelve bricks” will do."),
        {
            "short": _("under ½ m"),
            "metre": _("about 1 m"),
            "two_metres": _("about 2 m"),
        },
        brief=_("How long is it?"),
    )


def _width() -> Wording:
    return Wording(
        _("Widest place"),
        _("How wide is it at its widest?"),
        _("What does not go in, edge on? Or a size, such as “2 mm”."),
        {
            "card": _("a bank card"),
            "coin": _("a pound coin"),
            "pencil": _("a pencil"),
            "finger": _("a fingertip"),
            "wider": _("wider still"),
        },
        tag=_safety(),
        known={
            "card": _("A bank card won’t go in"),
            "coin": _("A pound coin won’t go in"),
            "pencil": _("A pencil won’t go in"),
            "finger": _("A fingertip won’t go in"),
            "wider": _("Wider than a fingertip"),
        },
    )


def _count() -> Wording:
    return Wording(
        _("How many"),
        _("How many cracks like this?"),
        _("On this wall. A branch counts as one more."),
        {
            "one": _("one"),
            "two": _("two"),
            "three": _("three"),
            "more": _("more"),
        },
        known={"more": _("Four or more")},
        brief=_("How many are there?"),
    )


def _bricks() -> Wording:
    return Wording(
        _("Cracked bricks"),
        _("Are bricks cracked, or only joints?"),
        _("Count those split through, such as “5 bricks”."),
        {
            "none": _("only joints"),
            "few": _("up to four"),
            "several": _("five to ten"),
            "many": _("more than ten"),
        },
        known={"none": _("None, only joints")},
    )


def _indoors() -> Wording:
    return Wording(
        _("Indoors"),
        _("Can you see it indoors, at the same place?"),
        _("Look behind curtains, and in the room above."),
        {"no": _("no"), "yes": _("yes")},
        brief=_("Can you see it indoors?"),
        tag=in_context("why a question is asked", "visit"),
        known={"no": _("Not seen indoors"), "yes": _("Seen indoors too")},
    )


def _growing() -> Wording:
    return Wording(
        _("Growing"),
        _("Is it getting bigger?"),
        _("When was it first seen, and is it the same since?"),
        {
            "same": _("the same for years"),
            "bigger": _("bigger than it was"),
            "new": _("new this year"),
        },
        tag=_safety(),
    )


def _filled() -> Wording:
    return Wording(
        _("Filled before"),
        _("Has it been filled before?"),
        _("If it was: did it open again?"),
        {
            "never": _("never"),
            "held": _("yes, and it held"),
            "opened_again": _("yes, and it opened again"),
        },
        tag=_safety(),
        known={"held": _("Filled, and it held"), "opened_again": _("Filled, opened again")},
    )


def _warning() -> Wording:
    return Wording(
        _("Warning signs"),
        _("Is any of this so?"),
        _("Read them out. Each one matters more than the price."),
        {
            "doors": _("doors or windows stick"),
            "floors": _("floors slope"),
            "leaning": _("the wall leans or bulges"),
            "loose": _("bricks are loose or falling"),
            "dropped": _("it has dropped over an opening"),
            "impact": _("it came after a knock or bang"),
            "gas": _("there is a smell of gas"),
            "none": _("none of these"),
        },
        brief=_("Leaning, loose, doors sticking, gas?"),
        tag=_safety(),
    )


def _works() -> Wording:
    return Wording(
        _("Building work"),
        _("What has been done to the house?"),
        _("As far as they know, ever."),
        {
            "walls_removed": _("a wall or chimney breast out"),
            "new_windows": _("new windows or doors"),
            "loft": _("loft or roof changed"),
            "none": _("none of these"),
        },
        brief=_("Walls out, new windows, loft?"),
        tag=_safety(),
    )


def _ground() -> Wording:
    return Wording(
        _("Ground"),
        _("What is in the ground nearby?"),
        _("A big tree counts if it is nearer than it is tall."),
        {
            "trees": _("big trees"),
            "drains": _("drains slow or leaking"),
            "mining": _("old mines"),
            "claim": _("an insurance claim"),
            "none": _("none of these"),
        },
        brief=_("Trees, drains, mines, a claim?"),
        tag=_safety(),
    )


def _house() -> Wording:
    return Wording(
        _("House"),
        _("When was the house built?"),
        _("A guess will do: Victorian, thirties, sixties, newer."),
        {
            "before_1919": _("before 1919"),
            "to_1945": _("1919 to 1945"),
            "to_1980": _("1945 to 1980"),
            "later": _("after 1980"),
        },
        known={
            "before_1919": _("Built before 1919"),
            "to_1945": _("Built 1919 to 1945"),
            "to_1980": _("Built 1945 to 1980"),
            "later": _("Built after 1980"),
        },
    )


def _mortar() -> Wording:
    return Wording(
        _("Mortar"),
        _("What is the mortar like?"),
        _("Scratch it with a key: does it crumble?"),
        {
            "lime": _("soft and pale, crumbles"),
            "cement_lime": _("firm and grey"),
            "hard": _("hard, a key won’t mark it"),
        },
    )


def _below() -> Wording:
    return Wording(
        _("Below it"),
        _("What is below it: path, beds, a roof?"),
        _("Where a ladder or tower would stand."),
        {
            "firm": _("path or paving"),
            "soft": _("grass or beds"),
            "roof": _("a roof or conservatory"),
        },
        brief=_("What’s below it?"),
    )


def _owners() -> Wording:
    return Wording(
        _("Consent"),
        _("Is it listed, or shared with a neighbour?"),
        _("A conservation area counts as listed."),
        {
            "listed": _("listed or protected"),
            "shared": _("a shared wall"),
            "none": _("none of these"),
        },
        brief=_("Listed, or a shared wall?"),
        tag=in_context("why a question is asked", "consent"),
    )
