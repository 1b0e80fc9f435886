"""The gang's sheet: what is on it, and that it agrees with what was measured and priced."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from estimator.contract.works import Feature, Held
from estimator.notices import Severity
from estimator.survey.survey import EngineersReport
from estimator.takeoff.lines import Item
from estimator.takeoff.scope import PANEL
from estimator.works.hold_points import missing
from estimator.works.site_sheet import SiteSheet, site_sheet
from tests.works import made_up

BAR_POINTS = [
    Feature.DEPTH,
    Feature.DUST_OUT,
    Feature.DRY_FIT,
    Feature.DAMPED,
    Feature.POINTING_DEPTH,
]
CASES = [(name, scope) for name in made_up.JOBS for scope in ("local", "panel")]


def sheet(name: str, scope: str = "local") -> SiteSheet:
    return site_sheet(made_up.accepted(name, scope))


@pytest.mark.parametrize(("name", "scope"), CASES)
def test_every_piece_is_cut_once_and_goes_to_its_bar(name: str, scope: str) -> None:
    found, chosen = sheet(name, scope), made_up.option(name, scope)
    cut = Counter((piece.bar, piece.length_mm) for bar in found.stock_bars for piece in bar.pieces)
    wanted = Counter((bar.id, piece) for bar in chosen.measure.bars for piece in bar.pieces_mm)
    assert cut == wanted
    for bar in found.stock_bars:
        assert sum(piece.length_mm for piece in bar.pieces) + bar.offcut_mm == bar.length_mm
    assert sum(bar.offcut_mm for bar in found.stock_bars) == chosen.offer.cutting.offcut_mm
    bought = Counter(bar.length_mm for bar in found.stock_bars)
    on_list = {
        int(one.material.removeprefix("bar_")): one.packs
        for one in found.packs
        if one.material.startswith("bar_")
    }
    assert bought == on_list


@pytest.mark.parametrize(("name", "scope"), CASES)
def test_every_bar_stands_on_it_with_its_five_hold_points(name: str, scope: str) -> None:
    found, chosen = sheet(name, scope), made_up.option(name, scope)
    bars = [bar.mark for side in found.sides for bar in side.bars]
    assert sorted(bars) == sorted(bar.id for bar in chosen.measure.bars)
    for bar in chosen.measure.bars:
        held = [point for point in found.hold_points if point.mark == bar.id]
        assert [point.feature for point in held] == BAR_POINTS
        assert f"{bar.slot_depth_mm} mm" in held[0].text
        assert held[-1].text.startswith("10 mm")
    for side in found.sides:
        assert list(side.bars) == sorted(side.bars, key=lambda bar: (bar.course, bar.left_mm))


def test_areas_and_bricks_are_held_too_and_lime_is_covered_for_seven_days() -> None:
    held = {
        (point.mark, point.feature): point.text
        for point in sheet("window_lime", "panel").hold_points
    }
    assert held["front/area/panel", Feature.DEPTH].startswith("Joints raked 20 mm deep")
    assert held["front", Feature.COVERED] == "Pointing covered and kept damp for 7 days"
    bricks = [point.what for point in sheet("quoin_cavity").hold_points if "/brick/" in point.mark]
    assert Counter(bricks) == {
        "Brick 15 in course 9": 2,
        "Brick 15 in course 11": 2,
        "Brick 15 in course 15": 2,
        "Brick 15 in course 13": 2,
    }
    # No bed is raked along that crack, only perpends.
    perpends = [one for one in sheet("quoin_cavity").hold_points if one.what == "Cracked perpends"]
    assert [one.feature for one in perpends] == [Feature.DEPTH, Feature.DUST_OUT, Feature.DAMPED]


def test_a_signature_stands_at_its_point_and_nowhere_else() -> None:
    so_far = made_up.accepted("terrace")
    signed = Held(Feature.DRY_FIT, "street/bar/2", made_up.START, "Ada")
    found = site_sheet(replace(so_far, held=(signed,))).hold_points
    [only] = [point for point in found if point.is_signed]
    assert (only.feature, only.mark, only.signed_by) == (Feature.DRY_FIT, "street/bar/2", "Ada")
    assert len(missing(found)) == len(found) - 1


def test_the_order_of_work_has_only_what_is_done() -> None:
    local, panel = sheet("window_lime").order_of_work, sheet("window_lime", "panel").order_of_work
    assert any("Cut the slots" in step for step in local)
    assert not any("cracked bricks" in step for step in local)
    assert any("cracked bricks" in step for step in sheet("quoin_cavity").order_of_work)
    services = next(place for place, step in enumerate(panel) if "pipes" in step)
    cutting = next(place for place, step in enumerate(panel) if "Cut the slots" in step)
    assert services < cutting
    assert panel[-1].startswith("Cover")


@pytest.mark.parametrize(("name", "scope"), CASES)
def test_cautions_come_loudest_first_and_the_usual_ones_never_lack(name: str, scope: str) -> None:
    found = sheet(name, scope).cautions
    loud = [note.severity for note in found]
    assert loud == sorted(loud, reverse=True)
    assert found[0].code == "wall_moves"
    assert found[0].severity is Severity.STOP
    usual = {"silica", "vibration", "services", "burns", "bats", "birds", "waste", "plan"}
    assert usual <= {note.code for note in found}
    assert len({note.text for note in found}) == len(found)


def test_what_hangs_on_the_wall_is_named() -> None:
    [note] = [one for one in sheet("terrace").cautions if one.code == "on_the_wall"]
    assert "Rainwater pipe" in note.text


def test_vibration_of_the_hardest_day_is_told_where_it_counts() -> None:
    found = sheet("terrace", "panel")
    worst = max(day.points for day in found.exposures)
    [note] = [one for one in found.cautions if one.code == "vibration_day"]
    assert f"{worst:.0f} points" in note.text
    assert worst > 100
    assert not [one for one in sheet("window_lime").cautions if one.code == "vibration_day"]


def test_the_engineer_is_rung_by_name_where_there_is_one() -> None:
    so_far = made_up.accepted("terrace")
    report = EngineersReport("Nia Hollis CEng", "NH/7", "2026-11-01")
    found = replace(made_up.survey("terrace"), engineers_report=report)
    agreed = made_up.with_variation(so_far, made_up.varied("a", found, PANEL))
    assert site_sheet(so_far).calls[0].who == "The engineer"
    assert site_sheet(agreed).calls[0].who == "The engineer: Nia Hollis CEng"


def test_it_is_of_the_work_agreed_last() -> None:
    so_far = made_up.accepted("window_lime")
    agreed = made_up.with_variation(
        so_far, made_up.varied("a", made_up.survey("window_lime"), PANEL, extra_days="1")
    )
    before, after = site_sheet(so_far), site_sheet(agreed)
    names = [{work for side in one.sides for work, _much in side.works} for one in (before, after)]
    assert Item.REPOINT.value not in names[0]
    assert Item.REPOINT.value in names[1]
    assert after.scope_title == PANEL.title
    assert after.tasks[0].days == before.tasks[0].days
    assert len(after.tasks) == len(before.tasks) + 2


def test_mortar_is_told_in_parts_with_its_limits() -> None:
    [mix] = sheet("window_lime").mortars
    assert mix.parts == (("Natural hydraulic lime NHL 3.5", "1"), ("Sharp sand, washed", "3"))
    assert (mix.least_temperature_c, mix.cure_days) == (5, 7)
