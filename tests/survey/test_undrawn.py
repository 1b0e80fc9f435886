"""What no drawing of a told wall shows stays unknown until it is said."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from estimator.survey import enquiry
from estimator.survey.survey import Answer, Asked, Basis, Ground, Mortar, Signs
from tests.survey.calls import DRAWN, told
from tests.survey.walls import OUTLINE


def test_a_drawn_wall_is_drawn_by_chance_from_its_ranges_and_what_no_drawing_shows() -> None:
    # Moving a window once made the mortar, and a roof below, as sure as if they had been seen.
    found = enquiry.drawn(DRAWN, Random(3))
    paths = [path for path, _number in found.inputs]
    assert paths == ["mortar", "below", "elevations[0].cracks[0].run.courses"]
    assert enquiry.undecided(DRAWN) == ("mortar", "below")
    assert found.survey.elevations[0].outline == OUTLINE
    grounds = {enquiry.drawn(DRAWN, Random(n)).survey.elevations[0].ground for n in range(60)}
    assert grounds == set(Ground)


def test_a_measured_wall_is_drawn_by_chance_from_its_own_ranges_only() -> None:
    seen = replace(DRAWN, basis=Basis.MEASURED)
    found = enquiry.drawn(seen, Random(3))
    assert [path for path, _number in found.inputs] == ["elevations[0].cracks[0].run.courses"]
    assert enquiry.undecided(seen) == ()


def test_an_answer_says_what_no_drawing_of_a_told_wall_shows() -> None:
    later = told(DRAWN, mortar="lime", below="soft")
    front = later.elevations[0]
    assert (front.brickwork.mortar, front.ground) == (Mortar.LIME, Ground.SOFT)
    assert (front.outline, front.cracks) == (
        DRAWN.elevations[0].outline,
        DRAWN.elevations[0].cracks,
    )
    assert enquiry.undecided(later) == ()
    # Said otherwise on the wall since, it stays so until another answer is given.
    said = replace(front, brickwork=replace(front.brickwork, mortar=Mortar.HARD_CEMENT))
    since = told(replace(later, elevations=(said,)), growing="bigger")
    assert since.elevations[0] == said
    assert told(since, mortar="cement_lime").elevations[0].brickwork.mortar is Mortar.CEMENT_LIME


def test_what_was_set_on_the_wall_by_hand_is_not_drawn_by_chance() -> None:
    front = replace(DRAWN.elevations[0], ground=Ground.SOFT)
    assert enquiry.undecided(replace(DRAWN, elevations=(front,))) == ("mortar",)


def test_what_is_noted_on_a_measured_wall_need_not_be_asked_and_still_may_be() -> None:
    signs = Signs(growing=Answer.NO)
    seen = replace(DRAWN, basis=Basis.MEASURED, asked=(), signs=signs)
    assert "growing" in enquiry.noted(seen)
    assert "filled" not in enquiry.noted(seen)
    assert set(enquiry.noted(seen)) < set(enquiry.still_asked(seen))
    answered = told(seen, growing="bigger")
    assert answered.signs.growing is Answer.YES
    assert "growing" not in enquiry.noted(answered)


def test_nothing_is_noted_of_a_wall_made_from_answers() -> None:
    assert enquiry.noted(replace(DRAWN, drawn=False, asked=(Asked("growing", ("same",)),))) == ()
