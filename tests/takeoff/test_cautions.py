from __future__ import annotations

import re

from hypothesis import given

from estimator.notices import Severity
from estimator.sources import all_sources
from estimator.survey.survey import Brickwork, Elevation, Mortar
from estimator.takeoff.scope import LOCAL, PANEL, REPOINT
from tests.takeoff.strategies import elevations
from tests.takeoff.walls import measured, upright, wall

LIME = Brickwork(mortar=Mortar.LIME)


def codes(*args: Elevation, **more: object) -> set[str]:
    return {notice.code for notice in measured(*args, **more).notices}  # type: ignore[arg-type]


def test_sound_old_lime_is_better_left() -> None:
    # Historic England, Repointing Brick and Stone Walls (2017): wholesale repointing is seldom
    # needed; leave sound old mortar.
    assert "sound_mortar" in codes(wall(upright("a", 2020), brickwork=LIME), scope=PANEL)
    assert "sound_mortar" not in codes(wall(upright("a", 2020), brickwork=LIME), scope=LOCAL)
    assert "sound_mortar" not in codes(wall(upright("a", 2020)), scope=PANEL)


def test_a_large_share_of_a_wall_suggests_the_whole() -> None:
    # Preservation Brief 2 (read): from 25 to 50 % whole-wall repointing may cost less.
    assert "whole_wall" in codes(wall(upright("a", 2020), width=4000), scope=PANEL)
    assert "whole_wall" not in codes(wall(upright("a", 2020), width=9000), scope=PANEL)


def test_bars_are_spoken_of_only_where_there_are_bars() -> None:
    assert "not_stronger" not in codes(wall(upright("a", 2020)), scope=REPOINT)


@given(elevations())
def test_every_notice_is_plain_and_has_a_known_source(front: Elevation) -> None:
    for scope in (LOCAL, PANEL):
        for notice in measured(front, scope=scope).notices:
            assert notice.source in all_sources()
            assert notice.severity < Severity.STOP
            assert notice.text.endswith(".")
            assert not re.search(r"caused by|\b1 (bars|bricks)\b", notice.text)


def test_a_bed_converted_from_inches_is_said_to_a_tenth_of_a_millimetre() -> None:
    # BS 657 beds of 3/8 in are 9.525 mm.
    inches = Brickwork(brick="uk_imperial_bs657")
    notices = measured(wall(upright("a", 2020), brickwork=inches)).notices
    (cover,) = [one.text for one in notices if one.code == "cover"]
    assert "a bed of 9.5 mm" in cover
