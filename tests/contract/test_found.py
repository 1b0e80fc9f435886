"""What was found is told in sentences a customer understands, and only what is otherwise."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimator.contract.found import found, with_scope
from estimator.survey.survey import (
    Area,
    BedRun,
    Crack,
    CrackedBrick,
    Elevation,
    Mortar,
    ThinBed,
    Treatment,
)
from estimator.takeoff.scope import LOCAL, PANEL
from tests.contract.made_up import survey
from tests.takeoff.walls import rectangle, upright, wall, window

BRICKS = tuple(CrackedBrick(course, 4, Treatment.REPLACE) for course in (9, 10, 11, 12))
FRONT = wall(upright("a", 1120, courses=10), openings=(window(2400, 900, 900, 1200),))


def told(now: Elevation, before: Elevation = FRONT) -> tuple[str, ...]:
    return found(survey(before), survey(now)).sentences


def changed(**fields: Any) -> tuple[str, ...]:
    return told(replace(FRONT, **fields))


def test_of_the_same_wall_nothing_is_told() -> None:
    same = found(survey(FRONT), survey(FRONT))
    assert same.findings == ()
    assert same.title == ""


def test_four_more_cracked_bricks() -> None:
    now = found(survey(FRONT), survey(replace(FRONT, bricks=BRICKS)))
    assert now.sentences == ("Front: 4 more cracked bricks to be replaced, in courses 9 to 12.",)
    assert now.title == "4 more cracked bricks"
    assert now.marks == tuple(f"front/brick/{course}/4" for course in (9, 10, 11, 12))


def test_bricks_that_need_no_repair_or_another() -> None:
    before = replace(FRONT, bricks=BRICKS)
    patched = replace(BRICKS[0], treatment=Treatment.PATCH)
    assert told(replace(FRONT, bricks=(patched, *BRICKS[1:3])), before) == (
        "Front: 1 brick marked before needs no repair, in course 12.",
        "Front: 1 brick to be repaired another way, in course 9.",
    )


def test_a_thin_bed_is_told_with_what_was_reckoned_with() -> None:
    assert changed(thin_beds=(ThinBed(14, 300, 1200, 6.0),)) == (
        "Front: the bed under course 14 is 6 mm thick where 10 mm was reckoned with, over 0.90 m.",
    )


@pytest.mark.parametrize(
    ("length", "sentence"),
    [
        (1600, "Front: the crack runs 0.90 m further than was seen."),
        (400, "Front: the crack runs 0.30 m less far than was seen."),
        (705, "Front: the crack runs another way than was seen."),
    ],
)
def test_a_crack_that_runs_further(length: float, sentence: str) -> None:
    before = wall(Crack("a", BedRun(8, 500, 1200), 2.0))
    now = wall(Crack("a", BedRun(8, 500, 500 + length), 2.0))
    assert told(now, before) == (sentence,)


def test_a_wider_crack() -> None:
    (crack,) = FRONT.cracks
    assert changed(cracks=(replace(crack, width_mm=4.0),)) == (
        "Front: the crack is 4 mm wide where 2 mm was measured.",
    )


def test_cracks_that_come_and_go() -> None:
    assert changed(cracks=(*FRONT.cracks, upright("b", 445, courses=4)))[0].startswith(
        "Front: another crack, "
    )
    assert changed(cracks=())[0].startswith("Front: one crack, ")


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"openings": ()}, "Front: there is no window of 0.90 by 1.20 m."),
        (
            {"openings": (*FRONT.openings, replace(window(600, 900, 600, 600), id="v"))},
            "Front: another window, 0.60 by 0.60 m.",
        ),
        (
            {"openings": (window(2400, 900, 1000, 1200),)},
            "Front: the window measures 1.00 by 1.20 m, not 0.90 by 1.20 m.",
        ),
        ({"openings": (window(2300, 900, 900, 1200),)}, "Front: the window lies otherwise."),
        ({"outline": rectangle(5000, 2700)}, "Front: the wall measures otherwise than before."),
        (
            {"areas": (Area("p", rectangle(900, 900)),)},
            "Front: the area to repoint is another.",
        ),
        (
            {"brickwork": replace(FRONT.brickwork, mortar=Mortar.HARD_CEMENT)},
            "Front: the wall is laid in hard cement mortar where cement-lime mortar was "
            "reckoned with.",
        ),
        (
            {"brickwork": replace(FRONT.brickwork, bond="english")},
            "Front: the bricks, their bond or the joints are otherwise than was told.",
        ),
        ({"damp_course_mm": 150.0}, "Front: the damp course is elsewhere than was seen."),
        (
            {"movement_joints_mm": (600.0,)},
            "Front: the movement joints are elsewhere than was seen.",
        ),
    ],
)
def test_whatever_else_is_otherwise(fields: dict[str, Any], sentence: str) -> None:
    assert changed(**fields) == (sentence,)


def test_sides_that_come_and_go() -> None:
    flank = wall(id="flank", name="Flank")
    assert found(survey(FRONT), survey(FRONT, flank)).sentences == (
        "Flank: this side was not surveyed before.",
    )
    assert found(survey(FRONT, flank), survey(FRONT)).sentences == (
        "Flank: this side is left out.",
    )


def test_another_choice_stands_first() -> None:
    now = with_scope(found(survey(FRONT), survey(replace(FRONT, bricks=BRICKS))), LOCAL, PANEL)
    assert now.title == "Stitch, and repoint the whole panel, 4 more cracked bricks"
    assert len(now.sentences) == 2


def test_every_finding_has_a_mark_on_the_wall_as_it_is() -> None:
    now = replace(
        FRONT, bricks=BRICKS, thin_beds=(ThinBed(14, 300, 1200, 6.0),), damp_course_mm=150.0
    )
    assert all(one.marks for one in found(survey(FRONT), survey(now)).findings)


def test_a_title_counts_what_is_alike_wherever_it_is() -> None:
    """Found wanting: six cracks left out were "One crack fewer", four bricks on each side four."""
    back = replace(FRONT, id="back", name="Back")
    more = tuple(CrackedBrick(course, 9, Treatment.REPLACE) for course in (9, 10, 11, 12))
    now = survey(replace(FRONT, bricks=more), replace(back, bricks=more[:1]))
    assert found(survey(FRONT, back), now).title == "5 more cracked bricks"
    none = survey(replace(FRONT, cracks=()), replace(back, cracks=()))
    assert found(survey(FRONT, back), none).title == "2 cracks fewer"
    assert found(survey(FRONT), survey(replace(FRONT, cracks=()))).title == "One crack fewer"
    beds = tuple(ThinBed(course, 0, 900, 6.0) for course in (4, 6))
    thin = found(survey(FRONT), survey(replace(FRONT, thin_beds=beds)))
    assert thin.title == "2 thin beds"


def test_what_an_opening_is_called_is_no_pattern() -> None:
    odd = replace(window(450, 300, 300, 300), id="other", kind="{number} {0}")
    assert found(survey(FRONT), survey(replace(FRONT, openings=(*FRONT.openings, odd)))).title == (
        "Another {number} {0}"
    )
