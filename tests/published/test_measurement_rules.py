"""Voids, rake depths and repointing volumes against the measuring rules and handbooks."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.survey.survey import Area, Brickwork, Mortar
from estimator.takeoff.lines import Item
from estimator.takeoff.rules import Rules, changed, shipped
from estimator.takeoff.scope import REPOINT
from estimator.takeoff.voids import Void, kept_m2
from tests.takeoff.walls import amount, line, measured, needed, rectangle, wall, window


def rule(method: str, **values: object) -> Rules:
    return changed(shipped(), void_method=method, **values)


def kept(area_m2: float, rules: Rules, *, edge: bool = False) -> float:
    """How much of a void a metre wide stays in."""
    return kept_m2(Void(1000, area_m2 * 1000, at_boundary=edge), rules)


def test_nrm2_keeps_half_a_square_metre() -> None:
    # RICS NRM2 section 14, from memory: voids up to 0.50 m² are not deducted.
    assert (kept(0.50, rule("nrm2")), kept(0.51, rule("nrm2"))) == (0.5, 0)


def test_smm7_keeps_a_tenth() -> None:
    # SMM7 F10, from memory; Malaysian SMM2 J.1.3 (read) has the same 0.10 m².
    assert (kept(0.10, rule("smm7")), kept(0.11, rule("smm7"))) == (0.1, 0)


@pytest.mark.parametrize("method", ["nrm2", "smm7", "is1200"])
def test_a_void_at_the_boundary_always_comes_off(method: str) -> None:
    # A measuring method derived from the Standard Method, A2-A3 (read): the rule for small voids
    # is for those wholly inside the area.
    assert kept(0.30, rule(method), edge=True) == 0
    assert kept(0.30, rule("own", own_void_m2=10), edge=True) == 0


@pytest.mark.parametrize("area", [0.3, 0.5, 2.0])
def test_an_own_threshold_keeps_at_or_under(area: float) -> None:
    assert kept(area, rule("own", own_void_m2=area)) == pytest.approx(area)
    assert kept(area + 0.01, rule("own", own_void_m2=area)) == 0


def test_is_1200_has_three_sizes() -> None:
    # IS 1200 part 12 as quoted (read; the same words in part 13): up to 0.5 m² nothing comes off;
    # 0.5 to 3 m² comes off one face with no reveals; over 3 m² reveals are added. One face is
    # repointed here. A window of 2.0 × 1.6 m with 100 mm reveals: two jambs and the head are
    # (2 × 1.6 + 2.0) × 0.1 = 0.52 m².
    rules = rule("is1200")
    assert kept(0.5, rules) == 0.5
    assert kept(0.51, rules) == 0
    assert kept(3.0, rules) == 0
    assert kept_m2(Void(2000, 1600), rules) == pytest.approx(0.52)


def test_a_void_at_the_edge_of_the_area_drawn() -> None:
    # The window of 0.30 m² stands on the edge of the area: off under any rule; a little further
    # in it stays. The area is 2.0 × 1.5 m.
    area = Area("a", ((1000, 300), (3000, 300), (3000, 1800), (1000, 1800)))
    edge = wall(areas=(area,), openings=(window(1000, 600, 600, 500),))
    inside = wall(areas=(area,), openings=(window(1100, 600, 600, 500),))
    assert amount(measured(edge, scope=REPOINT), Item.REPOINT) == 2.70
    assert amount(measured(inside, scope=REPOINT), Item.REPOINT) == 3.00


def test_joints_are_net_whatever_the_rule() -> None:
    area = Area("a", ((0, 0), (4500, 0), (4500, 1500), (0, 1500)))
    front = wall(areas=(area,), openings=(window(1000, 600, 600, 500),))
    metres = {
        amount(measured(front, scope=REPOINT, rules=rule(method)), Item.RAKE_OUT)
        for method in ("nrm2", "smm7", "is1200", "own")
    }
    areas = {
        amount(measured(front, scope=REPOINT, rules=rule(method)), Item.REPOINT)
        for method in ("nrm2", "smm7")
    }
    assert len(metres) == 1
    assert areas == {6.75, 6.45}


@pytest.mark.parametrize(("joint", "depth"), [(10, 20), (6, 20), (15, 30)])
def test_rake_depth(joint: float, depth: float) -> None:
    # Twice the width (BRE guidance as quoted, read), 20 mm at the least (BS 8221-2, from memory).
    assert shipped().rake_depth_mm(joint) == depth


def test_rake_depth_by_the_american_guidance() -> None:
    # Preservation Brief 2 (read): 2 to 2½ widths, so 20 to 25 mm for a 10 mm joint.
    assert changed(shipped(), rake_widths=2.5).rake_depth_mm(10) == 25


def panel(width: float, height: float, bond: str) -> tuple[float, float]:
    """Joint metres raked and area of a panel of so many whole repeats."""
    area = Area("a", rectangle(width, height))
    front = wall(areas=(area,), brickwork=Brickwork(bond=bond), height=3000)
    found = measured(front, scope=REPOINT)
    return amount(found, Item.RAKE_OUT), amount(found, Item.REPOINT)


@pytest.mark.parametrize(
    ("width", "height", "bond", "metres", "area"),
    [
        # Worked panels of whole repeats, UK metric brick with 10 mm joints: computed.
        (2250, 1500, "stretcher", 58.00, 3.38),
        (2250, 1500, "header", 71.00, 3.38),
        (2250, 1500, "english", 64.50, 3.38),
        (1350, 1500, "flemish", 37.40, 2.03),
    ],
)
def test_worked_panels(width: float, height: float, bond: str, metres: float, area: float) -> None:
    assert panel(width, height, bond) == (metres, area)


def test_mortar_for_twelve_square_metres_of_flemish() -> None:
    # 12 m² in Flemish bond raked 25 mm, NHL 3.5 1:3, 15 % waste: 63.72 L, 13.77 kg of lime
    # (computed; density and yield printed). The panel here is cut from the repeat, not whole
    # repeats of it, so a hand's breadth of joint either way is allowed.
    area = Area("a", rectangle(5000, 2400))
    brickwork = Brickwork(bond="flemish", mortar=Mortar.LIME)
    front = wall(areas=(area,), brickwork=brickwork, width=5000, height=2400)
    found = measured(front, scope=REPOINT, rules=changed(shipped(), least_rake_mm=25))
    assert line(found, Item.REPOINT).conditions.depth_mm == 25
    assert needed(found, "nhl35") == pytest.approx(13.77, rel=0.003)


@pytest.mark.parametrize(("lintel_mm", "square_metres"), [(150.0, 2.50), (160.0, 2.00)])
def test_a_lintel_that_shows_is_part_of_the_void(lintel_mm: float, square_metres: float) -> None:
    # NRM2 as above, worked by hand: a window of 0.6 × 0.6 = 0.36 m² with a lintel 0.9 m long.
    # 150 mm high they make 0.495 m² and stay in; 160 mm high 0.504 m², and 2.50 - 0.504 is 2.00.
    shown = replace(window(1500, 450, 600, 600), lintel_mm=lintel_mm, lintel_bearing_mm=150)
    area = Area("x", ((1000, 300), (3500, 300), (3500, 1300), (1000, 1300)))
    found = measured(wall(areas=(area,), openings=(shown,)), scope=REPOINT, rules=rule("nrm2"))
    assert amount(found, Item.REPOINT) == square_metres
