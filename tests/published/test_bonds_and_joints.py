"""Perpends and joints of each bond against published ratios and worked panels.

Trust marks: [R] read in the named publication, [C] computed from the stated formula by hand,
outside this program. Where a figure has a tolerance, it is that of the table it comes from.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from estimator.masonry.bond import bond
from estimator.masonry.brick import brick_format
from estimator.masonry.coursing import Coursing, laid
from estimator.masonry.crack import stepped, straight
from estimator.masonry.joints import joints_in, per_square_metre
from estimator.masonry.region import Region


def uk(key: str, ratio: int = 0) -> Coursing:
    """A wall of UK bricks, 215 by 102.5 by 65, in 10 mm joints."""
    return laid(brick_format("uk_metric"), bond(key, ratio))


# [C] One bed to 75 mm (rat-trap 112.5); perpends to a metre of course = bricks in the repeat over
# its length; joint = beds + perpends, net, each as high as the brick.
PER_M2 = [
    ("stretcher", 0, 59.2593, 17.1852),
    ("stack", 0, 59.2593, 17.1852),
    ("header", 0, 118.5185, 21.0370),
    ("english", 0, 88.8889, 19.1111),
    ("flemish", 0, 79.0123, 18.4691),
    ("english_garden", 3, 74.0741, 18.1481),
    ("english_garden", 5, 69.1358, 17.8272),
    ("flemish_garden", 3, 67.7249, 17.7354),
    ("monk", 0, 71.111, 17.956),
    ("rat_trap", 0, 59.2593, 14.9630),
]


@pytest.mark.parametrize(("key", "ratio", "perpends", "joint_m"), PER_M2)
def test_perpends_and_joint_to_a_square_metre(
    key: str, ratio: int, perpends: float, joint_m: float
) -> None:
    each = per_square_metre(uk(key, ratio))
    assert each.perpends == pytest.approx(perpends, abs=0.001)
    assert each.joint_m == pytest.approx(joint_m, abs=0.001)


@pytest.mark.parametrize(("key", "ratio", "perpends", "joint_m"), PER_M2)
def test_the_laid_wall_comes_to_the_same(
    key: str, ratio: int, perpends: float, joint_m: float
) -> None:
    # 94.5 m by 67.5 m holds whole repeats of every bond in the table.
    found = joints_in(uk(key, ratio), Region.rectangle(0, 0, 94_500, 67_500))
    assert found.perpends / found.area_m2 == pytest.approx(perpends, abs=0.001)
    assert found.joint_m / found.area_m2 == pytest.approx(joint_m, abs=0.001)


# [C] Share of the face that is joint, ten millimetres wide: percent.
@pytest.mark.parametrize(
    ("key", "ratio", "percent"),
    [
        ("stretcher", 0, 17.19),
        ("stack", 0, 17.19),
        ("header", 0, 21.04),
        ("english", 0, 19.11),
        ("flemish", 0, 18.47),
        ("english_garden", 3, 18.15),
        ("english_garden", 5, 17.83),
        ("flemish_garden", 3, 17.74),
        ("monk", 0, 17.96),
        ("rat_trap", 0, 14.96),
    ],
)
def test_share_of_the_face_that_is_joint(key: str, ratio: int, percent: float) -> None:
    assert per_square_metre(uk(key, ratio)).joint_area_m2 * 100 == pytest.approx(percent, abs=0.005)


def test_share_of_joint_is_what_the_faces_leave() -> None:
    # [C] 59.2593 faces of 215 by 65 leave 17.1852 per cent of a square metre, to a millionth.
    faces = (1000 / 225) * (1000 / 75) * 215 * 65 / 1e6
    share = per_square_metre(uk("stretcher")).joint_area_m2
    assert share * 100 == pytest.approx(17.185185, abs=1e-6)
    assert share == pytest.approx(1 - faces, abs=1e-8)


# [C] Worked panels of whole repeats: courses, perpends, bed and joint in metres, and litres to
# repoint at 20 and 25 mm as printed (three decimals at most).
PANELS = [
    ("stretcher", 0, 2250, 1500, 20, 200, 45.0, 58.00, 11.60, 14.50),
    ("header", 0, 2250, 1500, 20, 400, 45.0, 71.00, 14.20, 17.75),
    ("english", 0, 2250, 1500, 20, 300, 45.0, 64.50, 12.90, 16.125),
    ("english_garden", 3, 2250, 1500, 20, 250, 45.0, 61.25, 12.25, 15.313),
    ("english_garden", 5, 2250, 1350, 18, 210, 40.5, 54.15, 10.83, 13.538),
    ("flemish", 0, 1350, 1500, 20, 160, 27.0, 37.40, 7.48, 9.35),
    ("flemish_garden", 3, 1575, 1500, 20, 160, 31.5, 41.90, 8.38, 10.475),
    ("rat_trap", 0, 1500, 1350, 12, 120, 18.0, 30.30, 6.06, 7.575),
]


@pytest.mark.parametrize("panel", PANELS, ids=lambda panel: f"{panel[0]} {panel[1]}")
def test_worked_panels(panel: tuple[str, int, *tuple[float, ...]]) -> None:
    key, ratio, width, height, courses, perpends, bed, joint, at_20, at_25 = panel
    coursing = uk(key, ratio)
    found = joints_in(coursing, Region.rectangle(0, 0, width, height))
    assert coursing.courses_in(height) == courses
    assert found.perpends == pytest.approx(perpends, abs=1e-9)
    assert found.bed_m == pytest.approx(bed, abs=1e-9)
    assert found.joint_m == pytest.approx(joint, abs=1e-9)
    assert found.mortar_litres(20) == pytest.approx(at_20, abs=1e-9)
    assert found.mortar_litres(25) == pytest.approx(at_25, abs=0.0005 + 1e-9)


# [C] for a brick of which two headers and a joint make a stretcher: English 3/2, Flemish 4/3,
# headers every nth course (n + 1)/n, k stretchers to a header 2(k + 1)/(2k + 1).
@pytest.mark.parametrize(
    ("key", "ratio", "factor"),
    [
        ("stack", 0, 1),
        ("header", 0, 2),
        ("english", 0, 3 / 2),
        ("flemish", 0, 4 / 3),
        *(("english_garden", n - 1, (n + 1) / n) for n in range(2, 9)),
        *(("flemish_garden", k, 2 * (k + 1) / (2 * k + 1)) for k in range(1, 8)),
        ("monk", 0, 6 / 5),
    ],
)
def test_bonds_against_stretcher_bond(key: str, ratio: int, factor: float) -> None:
    stretcher = per_square_metre(uk("stretcher")).perpends
    assert per_square_metre(uk(key, ratio)).perpends / stretcher == pytest.approx(factor, rel=1e-12)


# [R] US building cost-data book 2022: bricks to a square foot against 6.75 in running bond. The
# book prints two decimals; 7.88 and 10.13 are 7.875 and 10.125 rounded up.
@pytest.mark.parametrize(
    ("key", "ratio", "exact", "printed"),
    [
        ("english", 0, 10.125, 10.13),
        ("flemish", 0, 9.000, 9.00),
        ("english_garden", 5, 7.875, 7.88),
        ("stretcher", 0, 6.75, 6.75),
    ],
)
def test_us_cost_book_ratios(key: str, ratio: int, exact: float, printed: float) -> None:
    running = per_square_metre(uk("stretcher")).perpends
    per_ft2 = 6.75 * per_square_metre(uk(key, ratio)).perpends / running
    assert per_ft2 == pytest.approx(exact, abs=0.001)
    assert per_ft2 == pytest.approx(printed, abs=0.0051)


# The same ratios with a brick that is American: 7 5/8 by 3 5/8 by 2 1/4 in, 3/8 in joints.
@pytest.mark.parametrize(
    ("key", "ratio", "factor"),
    [("english", 0, 3 / 2), ("flemish", 0, 4 / 3), ("english_garden", 5, 7 / 6)],
)
def test_us_ratios_hold_for_the_us_brick(key: str, ratio: int, factor: float) -> None:
    brick = brick_format("us_modular")
    plain, other = (per_square_metre(laid(brick, b)) for b in (bond("stretcher"), bond(key, ratio)))
    assert other.perpends / plain.perpends == pytest.approx(factor, rel=1e-12)


def test_rat_trap_saves_a_quarter_of_the_bricks() -> None:
    # [R] BMTPC (India): one brick saved to every three laid. [C] Three bricks in 300 by 112.5 of a
    # one-brick wall: a shiner on each face and a header through; solid work takes 118.52.
    rhythm = uk("rat_trap").rhythm(1)
    shiners_and_headers = 3 / (rhythm.repeat_mm * uk("rat_trap").gauge_mm) * 1e6
    solid = per_square_metre(uk("header")).perpends
    assert shiners_and_headers == pytest.approx(88.8889, abs=0.001)
    assert solid == pytest.approx(118.5185, abs=0.001)
    assert 1 - shiners_and_headers / solid == pytest.approx(0.25, abs=1e-9)


def test_rat_trap_panel_of_180_bricks() -> None:
    # [C] 1.50 by 1.35 m, one brick thick.
    area = Region.rectangle(0, 0, 1500, 1350).area_mm2
    assert area / (300 * 112.5) * 3 == pytest.approx(180)
    assert joints_in(uk("rat_trap"), Region.rectangle(0, 0, 1500, 1350)).perpends * 1.5 == (
        pytest.approx(180)
    )


def test_a_one_brick_wall_in_english_bond_holds_the_bricks_of_a_solid_wall() -> None:
    # [C] 118.5185 to the square metre, printed as 120: headers once, stretchers on both faces.
    english = uk("english")
    header, stretcher = (
        1e6 / (rhythm.repeat_mm * english.gauge_mm) / 2
        for rhythm in (english.rhythm(2), english.rhythm(1))
    )
    assert header + 2 * stretcher == pytest.approx(118.5185, abs=0.001)


@pytest.mark.parametrize(
    ("key", "ratio", "gross"),
    [
        ("stretcher", 0, 17.7778),
        ("header", 0, 22.222),
        ("english", 0, 20.000),
        ("flemish", 0, 19.259),
        ("english_garden", 3, 18.889),
        ("flemish_garden", 3, 18.413),
        ("rat_trap", 0, 15.556),
    ],
)
def test_perpends_are_net_and_not_as_high_as_the_course(key: str, ratio: int, gross: float) -> None:
    # [C] Measured as high as the course a perpend counts its crossing with the bed twice: 17.7778
    # for stretcher bond and not 17.1852. That figure must not be used for volume.
    coursing = uk(key, ratio)
    each = per_square_metre(coursing)
    as_high_as_the_course = each.bed_m + each.perpends * coursing.gauge_mm / 1000
    assert as_high_as_the_course == pytest.approx(gross, abs=0.001)
    assert each.joint_m < gross - 0.5


# [C] from the bond, in stretcher bond: no outside source found.
def test_a_stepped_crack_by_the_course() -> None:
    per_course = [stepped(uk("stretcher"), (220, 5), n).joint_m for n in range(1, 25)]
    steps = [after - before for before, after in pairwise(per_course)]
    assert steps == pytest.approx([0.1775] * 23)


def test_a_plumb_crack_of_24_courses() -> None:
    path = straight(uk("stretcher"), (220, 5), 24)
    assert (path.run_m, path.perpends, len(path.bricks)) == (pytest.approx(1.8), 12, 12)
