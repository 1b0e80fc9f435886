from __future__ import annotations

from dataclasses import replace

from estimator.quoting import edits
from estimator.quoting.edits import Step, Work
from estimator.quoting.wall_edits import changing, outline, photos, sides
from estimator.survey import enquiry
from estimator.survey.ranges import Range
from estimator.survey.survey import (
    Area,
    Asked,
    Basis,
    Brickwork,
    CrackedBrick,
    HandBar,
    Party,
    Site,
    Survey,
    Treatment,
    WallEnd,
)
from tests.quoting.wall_edits.works import GABLE, STEPS, WINDOW, refused, wall, work

PICTURE = "0a" * 32
empty = Survey("T-1", "Wall", "2026-11-25", Basis.TOLD, Party(), Site(), ())
call = Work(enquiry.answered(empty, Asked("length", amount=18.0, unit="course")))


def ids(edit: edits.Edit) -> list[str]:
    return [one.id for one in edit.after.survey.elevations]


def test_a_side_is_added_laid_as_the_first_one() -> None:
    edit = sides.add_side(work(brickwork=Brickwork(bond="english")), name=" Back ")
    assert ids(edit) == ["front", "back"]
    back = wall(edit, "back")
    assert (back.name, back.brickwork.bond, back.outline[2]) == ("Back", "english", (4500, 2700))
    assert (edit.step, edit.after.survey.drawn) == (Step.SIDE, True)
    assert ids(sides.add_side(edit.after, name="Front")) == ["front", "back", "front-2"]
    assert ids(sides.add_side(Work(empty), name="Front")) == ["front"]


def test_a_side_has_a_name_and_a_size() -> None:
    with refused("this side has no name"):
        sides.add_side(work(), name="  ")
    with refused("a wall is wider and higher than nothing"):
        sides.add_side(work(), name="Back", width_mm=0)
    with refused("the name has 300 letters; shorten it to 200"):
        sides.add_side(work(), name="x" * 300)


def test_a_copy_has_all_but_what_belongs_to_the_one_wall() -> None:
    job = work(
        cracks=(STEPS,),
        openings=(WINDOW,),
        bricks=(CrackedBrick(3, 4, Treatment.PATCH),),
        areas=(Area("area", ((0.0, 0.0), (400.0, 0.0), (400.0, 400.0))),),
        bars=(HandBar("added", 20, 3200.0, 4200.0),),
        damp_course_mm=150.0,
    )
    job = photos.add_photo(job, "front", picture=PICTURE, width_px=9, height_px=9).after
    edit = sides.copy_side(job, "front", name="Front")
    copy, front = wall(edit, "front-2"), wall(edit)
    assert copy == replace(front, id="front-2", bars=())
    assert len(edit.after.survey.photos) == 1
    bare = wall(sides.copy_side(job, "front", name="Next", with_marks=False), "next")
    assert (bare.cracks, bare.bricks, bare.areas) == ((), (), ())
    assert (bare.openings, bare.damp_course_mm) == ((WINDOW,), 150)


def test_a_side_is_renamed_and_keeps_its_id() -> None:
    edit = sides.rename_side(work(), "front", "Street front")
    assert (ids(edit), wall(edit).name) == (["front"], "Street front")
    with refused("this side has no name"):
        sides.rename_side(work(), "front", "")


def test_a_side_is_removed_with_its_photographs_and_returns() -> None:
    two = sides.add_return(work(), "front", "left", width_mm=3000).after
    two = photos.add_photo(two, "front-left", picture=PICTURE, width_px=9, height_px=9).after
    edit = sides.remove_side(two, "front-left")
    assert (ids(edit), edit.after.survey.photos, wall(edit).left_return) == (["front"], (), "")
    with refused("this is the only side"):
        sides.remove_side(edit.after, "front")


def test_a_return_is_as_high_as_the_wall_is_at_its_quoin() -> None:
    edit = sides.add_return(
        work(outline=GABLE, damp_course_mm=150.0), "front", "right", width_mm=3000
    )
    front, side = wall(edit), wall(edit, "front-right")
    assert (front.right_end, front.right_return) == (WallEnd.QUOIN, "front-right")
    assert (side.left_end, side.left_return) == (WallEnd.QUOIN, "front")
    assert (side.outline[2], side.name) == ((3000, 2700), "Front, right return")
    assert side.damp_course_mm == 150
    with refused("there is a return on the right already"):
        sides.add_return(edit.after, "front", "right", width_mm=3000)


def test_an_edited_wall_is_drawn_and_the_answers_make_it_again() -> None:
    made = call.survey.elevations
    edit = outline.set_size(call, made[0].id, width_mm=6000)
    assert edit.after.survey.drawn
    # What was not touched stays as it was told.
    assert edit.after.survey.elevations[0].cracks == made[0].cracks
    assert isinstance(edit.after.survey.elevations[0].cracks[0].width_mm, Range)
    answered = edits.answer(edit.after, Asked("shape", ("straight",)))
    assert answered.after.survey.elevations == edit.after.survey.elevations
    again = sides.from_answers(answered.after)
    fresh = enquiry.answered(call.survey, Asked("shape", ("straight",)))
    assert again.after.survey == fresh
    assert not again.after.survey.drawn


def test_photographs_stay_with_the_wall_of_the_answers() -> None:
    name = call.survey.elevations[0].id
    job = sides.add_side(call, name="Back").after
    job = photos.add_photo(job, "back", picture=PICTURE, width_px=9, height_px=9).after
    edit = sides.from_answers(job)
    assert [one.elevation for one in edit.after.survey.photos] == [name]


def test_sizes_taken_on_site_are_not_lost_to_the_next_answer() -> None:
    taken = sides.set_basis(call, Basis.MEASURED)
    assert (taken.step, taken.after.survey.drawn) == (Step.BASIS, False)
    wide = outline.set_size(work(), "front", width_mm=6000).after
    told = sides.set_basis(
        replace(wide, survey=replace(wide.survey, drawn=False)), Basis.TOLD
    ).after
    after = edits.answer(told, Asked("mortar", ("lime",))).after
    assert after.survey.elevations[0].outline == wide.survey.elevations[0].outline


def test_a_survey_bears_the_day_its_sizes_were_taken() -> None:
    taken = sides.set_basis(call, Basis.MEASURED, today="2026-12-01").after
    assert (call.survey.date, taken.survey.date) != ("2026-12-01", call.survey.date)
    assert taken.survey.date == "2026-12-01"
    # Said once more, or called told again, it keeps the day of the visit.
    again = sides.set_basis(taken, Basis.MEASURED, today="2026-12-05").after
    told = sides.set_basis(again, Basis.TOLD, today="2026-12-05").after
    assert told.survey.date == "2026-12-01"


def test_frames_of_one_drag_are_about_one_thing() -> None:
    edit = outline.set_size(work(), "front", width_mm=6000)
    assert changing.during(edit, 1).about == changing.during(edit, 1).about
    assert changing.during(edit, 1).about != changing.during(edit, 2).about
    assert changing.during(replace(edit, about=""), 1).about
