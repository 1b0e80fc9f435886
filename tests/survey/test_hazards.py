"""Cautions on the hazards of the work: which are always said, and what calls for the others."""

from __future__ import annotations

from typing import Any

import pytest

from estimator import sources
from estimator.survey import triage
from estimator.survey.hazards import CASES
from estimator.survey.survey import Answer, Brickwork, Ground, Mortar, Site, Survey
from estimator.survey.triage_table import table
from tests.survey.walls import elevation, signs, survey

ALWAYS = {
    "silica", "silica_limit", "vibration", "services", "burns", "plan", "bats", "birds", "noise",
    "waste",
}  # fmt: skip


def said(seen: Survey) -> set[str]:
    return {notice.code for notice in triage.cautions(seen)}


def low_and_new(**more: Any) -> Survey:
    """A low modern wall in cement mortar, which calls for nothing but the usual."""
    wall = elevation(datum_height_mm=-1000.0)
    return survey(**{"elevations": (wall,), "site": Site(built="2004"), **more})


def test_the_usual_cautions_are_always_said() -> None:
    assert said(low_and_new()) == ALWAYS


@pytest.mark.parametrize(
    ("datum_mm", "more"),
    [(-701.0, set()), (-699.0, {"height"}), (1299.0, {"height"}), (1301.0, {"height", "scaffold"})],
)
def test_height_calls_for_a_tower_and_more_for_a_scaffold(datum_mm: float, more: set[str]) -> None:
    # The wall is 2.7 m high from its datum; 2 and 4 m are house rules.
    wall = elevation(datum_height_mm=datum_mm)
    assert said(low_and_new(elevations=(wall,))) == ALWAYS | more


@pytest.mark.parametrize(
    ("built", "may_hold_asbestos"),
    [
        # Buildings before 2000 (Control of Asbestos Regulations 2012, as summarised).
        ("1999", True),
        ("2000", False),
        ("about 2015", False),
        ("1890, added to in 2008", True),
        ("Victorian", True),
        ("", True),
        ("1930s", True),
    ],
)
def test_asbestos_before_2000_or_not_known(built: str, *, may_hold_asbestos: bool) -> None:
    assert ("asbestos" in said(low_and_new(site=Site(built=built)))) is may_hold_asbestos


def test_old_work_keeps_its_sound_mortar() -> None:
    lime = elevation(datum_height_mm=-1000.0, brickwork=Brickwork(mortar=Mortar.LIME))
    assert said(low_and_new(elevations=(lime,))) == ALWAYS | {"sound_mortar"}


def test_a_listed_building_waits_for_consent() -> None:
    listed = low_and_new(signs=signs(listed_or_conservation=Answer.YES))
    assert said(listed) == ALWAYS | {"consent", "sound_mortar"}


def test_a_shared_wall_waits_for_notice() -> None:
    assert said(low_and_new(signs=signs(shared_wall=Answer.YES))) == ALWAYS | {"neighbour"}


def test_work_over_a_roof_needs_a_platform() -> None:
    over = elevation(datum_height_mm=-1000.0, ground=Ground.OVER_ROOF)
    assert said(low_and_new(elevations=(over,))) == ALWAYS | {"over_roof"}


def test_every_caution_has_a_case_and_a_source() -> None:
    assert {one.when for one in table().cautions} == set(CASES)
    assert all(sources.source(one.notice.source) for one in table().cautions)
