"""Bonds: which faces follow which, and which bonds come in any ratio."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.masonry.bond import bond, bond_keys, face_length_mm, takes_ratio
from estimator.masonry.brick import brick_format
from estimator.sources import all_sources


def faces(key: str, ratio: int = 0) -> list[str]:
    return [course.faces for course in bond(key, ratio).courses]


# Shapes as in the public pages on garden wall bonds and brickwork bonds [read].
@pytest.mark.parametrize(
    ("key", "laid"),
    [
        ("stretcher", ["S", "S"]),
        ("stack", ["S"]),
        ("header", ["H", "H"]),
        ("english", ["S", "H"]),
        ("flemish", ["SH", "SH"]),
        ("english_garden", ["S", "S", "S", "H"]),
        ("flemish_garden", ["SSSH", "SSSH"]),
        ("monk", ["SSH", "SSH"]),
        ("rat_trap", ["RE", "RE"]),
    ],
)
def test_faces_of_each_bond(key: str, laid: list[str]) -> None:
    assert faces(key) == laid


@given(st.integers(1, 12))
def test_garden_wall_bonds_take_any_ratio(ratio: int) -> None:
    assert faces("english_garden", ratio) == ["S"] * ratio + ["H"]
    assert faces("flemish_garden", ratio) == ["S" * ratio + "H"] * 2


def test_garden_wall_bonds_one_to_one_are_the_plain_bonds() -> None:
    assert bond("english_garden", 1).courses == bond("english").courses
    assert bond("flemish_garden", 1).courses == bond("flemish").courses
    assert bond("flemish_garden", 2).courses == bond("monk").courses


@pytest.mark.parametrize("key", [key for key in bond_keys() if not takes_ratio(key)])
def test_other_bonds_have_no_ratio(key: str) -> None:
    with pytest.raises(ValueError, match="no ratio"):
        bond(key, 3)


def test_a_ratio_below_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="1 or more"):
        bond("english_garden", -1)


@pytest.mark.parametrize("key", bond_keys())
def test_every_bond_has_a_known_source(key: str) -> None:
    assert bond(key).source in all_sources()
    assert bond(key).key == key


def test_only_rat_trap_stands_on_edge() -> None:
    assert [key for key in bond_keys() if bond(key).is_on_edge] == ["rat_trap"]


def test_faces_are_as_long_as_they_show() -> None:
    brick = brick_format("uk_metric")
    assert [face_length_mm(face, brick) for face in "SHRE"] == [215, 102.5, 215, 65]
    with pytest.raises(KeyError):
        face_length_mm("X", brick)


def test_an_unknown_bond_is_refused() -> None:
    for ask in (bond, takes_ratio):
        with pytest.raises(KeyError):
            ask("basket")
