"""Brick formats: read from data, each with a source that is known."""

from __future__ import annotations

import pytest

from estimator.masonry.brick import BrickFormat, brick_format, format_keys, formats
from estimator.sources import all_sources


@pytest.mark.parametrize("key", format_keys())
def test_a_format_is_a_brick(key: str) -> None:
    brick = brick_format(key)
    assert brick.length_mm > brick.width_mm > 0
    assert brick.length_mm > brick.height_mm > 0
    assert 5 <= brick.bed_mm <= 15
    assert 5 <= brick.perpend_mm <= 15


@pytest.mark.parametrize("key", format_keys())
def test_a_format_has_a_source_for_each_figure(key: str) -> None:
    brick = brick_format(key)
    assert brick.source in all_sources()
    assert (brick.handbook_per_m2 is None) == (not brick.handbook_source)
    assert not brick.handbook_source or brick.handbook_source in all_sources()


def test_names_and_sizes_are_told_apart() -> None:
    assert len({brick.name for brick in formats().values()}) == len(formats())


def test_the_usual_format_is_there() -> None:
    brick = brick_format("uk_metric")
    assert isinstance(brick, BrickFormat)
    assert (brick.length_mm, brick.width_mm, brick.height_mm) == (215, 102.5, 65)


def test_formats_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        formats()["mine"] = brick_format("uk_metric")  # type: ignore[index]


def test_an_unknown_format_is_refused() -> None:
    with pytest.raises(KeyError):
        brick_format("uk_enormous")
