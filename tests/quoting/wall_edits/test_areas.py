from __future__ import annotations

from estimator.quoting.edits import Step
from estimator.quoting.wall_edits import areas
from estimator.survey.survey import Area
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import PANEL
from tests.quoting.wall_edits.works import WINDOW, refused, wall, work

RING = ((300.0, 300.0), (900.0, 300.0), (700.0, 900.0))


def test_an_area_is_drawn_freehand() -> None:
    edit = areas.add_area(work(), "front", [(300.4, 300), *RING[1:]])
    assert wall(edit).areas == (Area("area", RING),)
    assert edit.step is Step.AREA
    assert wall(areas.add_area(edit.after, "front", RING)).areas[1].id == "area-2"


def test_a_panel_goes_out_to_whole_courses_and_the_nearest_perpends() -> None:
    # Perpends of this wall are at 107.5, 220, 332.5 … and its courses are 75 mm high.
    edit = areas.add_panel(work(), "front", (300, 160, 900, 480))
    assert wall(edit).areas[0].outline == ((333, 150), (895, 150), (895, 525), (333, 525))
    # Drawn the other way, and past the corner of the wall.
    edit = areas.add_panel(work(), "front", (900, 480, -200, -50))
    assert wall(edit).areas[0].outline == ((0, 0), (895, 0), (895, 525), (0, 525))


def test_a_panel_goes_out_to_the_openings_as_the_rule_sets_one_out() -> None:
    job = work(openings=(WINDOW,))
    edit = areas.to_the_openings(job, "front", (900, 600, 1400, 1300))
    (left, bottom), _, (right, top), _ = wall(edit).areas[0].outline
    assert right == WINDOW.left_mm
    assert left < 900
    assert bottom <= 600
    assert top >= 1300


def test_an_area_without_brickwork_is_refused() -> None:
    with refused("there is no brickwork in this area; draw it on the wall"):
        areas.add_panel(work(openings=(WINDOW,)), "front", (1700, 1000, 2600, 1500))
    with refused("the area to repoint would lie outside the wall"):
        areas.add_area(work(), "front", [(x + 9000, y) for x, y in RING])
    with refused("an area has three corners or more"):
        areas.add_area(work(), "front", RING[:2])
    crossed = ((300, 300), (900, 900), (900, 300), (300, 900))
    with refused("the area to repoint: its outline has a side from corner 1 that crosses"):
        areas.add_area(work(), "front", crossed)


def test_an_area_is_changed_and_taken_off() -> None:
    job = work(areas=(Area("area", RING),))
    edit = areas.change_area(job, "front", "area", [*RING, (300, 700)])
    assert (len(wall(edit).areas[0].outline), edit.about) == (4, "front/area/area")
    assert wall(areas.remove_area(job, "front", "area")).areas == ()


def test_a_panel_drawn_is_the_one_repointed() -> None:
    edit = areas.add_panel(work(), "front", (300, 160, 900, 480))
    panels = measure(edit.after.survey, PANEL, shipped()).panels
    assert [one.corners for one in panels] == [wall(edit).areas[0].outline]
