from __future__ import annotations

from estimator.survey.survey import Brickwork, CrackedBrick, Treatment
from estimator.takeoff.lines import Item, Surety
from tests.takeoff.walls import amount, line, measured, needed, wall

REPLACE, TURN, PATCH, LEAVE = (
    Treatment.REPLACE,
    Treatment.TURN,
    Treatment.PATCH,
    Treatment.LEAVE,
)


def bricks(*treated: tuple[int, int, Treatment]) -> tuple[CrackedBrick, ...]:
    return tuple(CrackedBrick(*one) for one in treated)


def test_bricks_are_counted_by_treatment() -> None:
    half = CrackedBrick(9, 3, REPLACE, half=True)
    found = measured(
        wall(bricks=(*bricks((2, 3, REPLACE), (4, 3, TURN), (6, 3, PATCH), (8, 3, LEAVE)), half))
    )
    items = (Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK, Item.TURN_BRICK, Item.PATCH_BRICK)
    assert [amount(found, item) for item in items] == [1, 1, 1, 1]
    assert line(found, Item.REPLACE_BRICK).marks == ("front/brick/2/3",)
    assert line(found, Item.REPLACE_BRICK).surety is Surety.COUNTED


def test_a_brick_named_twice_is_one_brick() -> None:
    assert (
        amount(measured(wall(bricks=bricks((2, 3, REPLACE), (2, 3, TURN)))), Item.TURN_BRICK) == 0
    )


def test_spares_are_one_in_five_and_one_at_the_least() -> None:
    # House rule: 2 bricks + 1; 6 bricks + 2.
    two = wall(bricks=bricks((2, 3, REPLACE), (4, 3, REPLACE)))
    six = wall(bricks=bricks(*((2 * n, 3, REPLACE) for n in range(1, 7))))
    assert needed(measured(two), "facing_brick") == 3
    assert needed(measured(six), "facing_brick") == 8


def test_bricks_allowed_for_are_said_so() -> None:
    found = measured(wall(bricks=bricks((2, 3, REPLACE)), hidden_bricks=4.0))
    assert line(found, Item.ALLOWED_BRICK).surety is Surety.ALLOWED
    # 5 in all and 1 spare for them.
    assert needed(found, "facing_brick") == 6


def test_mortar_round_one_brick() -> None:
    # A brick alone: two beds of 215 + 2 × 10 = 235 mm and two perpends of 65 mm, 102.5 mm deep and
    # 10 mm thick: (470 + 130) × 10 × 102.5 = 0.615 L, × 1.3 = 0.7995 L of 1:1:6.
    found = measured(wall(bricks=bricks((2, 3, REPLACE))))
    assert needed(found, "cement") == round(0.7995 * 1.33 / 8 * 1.44, 2)


def test_waste_of_one_brick() -> None:
    # 215 × 102.5 × 65 mm = 1.4324 L at 1.9 kg/L = 2.72 kg: the density is a house setting.
    found = measured(wall(bricks=bricks((2, 3, REPLACE))))
    assert amount(found, Item.CLEAR_WASTE) == 2.72


def test_a_turned_brick_leaves_no_rubble_and_buys_none() -> None:
    found = measured(wall(bricks=bricks((2, 3, TURN))))
    assert amount(found, Item.CLEAR_WASTE) == 0
    assert needed(found, "facing_brick") == 0


def test_patches_take_patching_mortar() -> None:
    # 215 × 65 mm × half the face × 25 mm = 0.1747 L + 15 % = 0.20 L.
    assert needed(measured(wall(bricks=bricks((2, 3, PATCH)))), "patch_mortar") == 0.2


def test_a_patch_of_four_touching_bricks_is_toothed_in() -> None:
    # Four bricks in courses 2 and 3, each on the next: two courses, two edges, 75 mm: 0.30 m.
    four = bricks((2, 3, REPLACE), (2, 4, REPLACE), (3, 3, REPLACE), (3, 4, REPLACE))
    assert amount(measured(wall(bricks=four)), Item.TOOTH_IN) == 0.3
    assert amount(measured(wall(bricks=four[:3])), Item.TOOTH_IN) == 0


def test_more_than_ten_at_once_is_warned_of() -> None:
    # A general guide to replacing bricks (read): not over about ten without propping.
    ten = bricks(*((n, 3, REPLACE) for n in range(1, 11)))
    eleven = bricks(*((n, 3, REPLACE) for n in range(1, 12)))
    assert "many_bricks" not in {one.code for one in measured(wall(bricks=ten)).notices}
    assert "many_bricks" in {one.code for one in measured(wall(bricks=eleven)).notices}


def test_a_header_is_as_deep_as_a_brick_is_long() -> None:
    # In Flemish bond headers and stretchers take turns; a header holds as much brick as a
    # stretcher, so the rubble is the same.
    brickwork = Brickwork(bond="flemish")
    found = [
        measured(wall(bricks=bricks((2, place, REPLACE)), brickwork=brickwork)) for place in (3, 4)
    ]
    assert {amount(one, Item.CLEAR_WASTE) for one in found} == {2.72}


def test_halves_alone_have_bricks_bought_for_them() -> None:
    halves = (CrackedBrick(3, 3, Treatment.REPLACE, half=True),)
    both = (*halves, CrackedBrick(3, 4, Treatment.REPLACE))
    bought = {
        count: [
            (one.item, one.quantity.amount, one.working)
            for one in found.needs
            if one.material == "facing_brick"
        ]
        for count, found in ((1, measured(wall(bricks=halves))), (2, measured(wall(bricks=both))))
    }
    assert bought[1] == [(Item.REPLACE_HALF_BRICK, 2, "1 + 1 spare, 1 in 5 and 1 at the least")]
    # The spare one goes with the whole brick.
    assert [(item, amount) for item, amount, _how in bought[2]] == [
        (Item.REPLACE_BRICK, 2),
        (Item.REPLACE_HALF_BRICK, 1),
    ]
