"""Resources and sources: every name opens, every key is known."""

import pytest

from estimator import resources
from estimator.sources import Trust, all_sources, source


@pytest.mark.parametrize("name", resources.NAMES)
def test_every_resource_opens(name: str) -> None:
    assert resources.path(name).stat().st_size > 0


def test_a_name_off_the_list_is_refused() -> None:
    with pytest.raises(KeyError, match="passwd"):
        resources.path("../../etc/passwd")


def test_a_published_source_prints_with_its_trust() -> None:
    known = source("bs_en_771_1")
    assert known.is_print
    assert str(known).endswith("(from memory, not read)")


@pytest.mark.parametrize("key", ["house", "common_practice"])
def test_a_habit_prints_as_no_more_than_it_is(key: str) -> None:
    assert not source(key).is_print
    assert str(source(key)) == source(key).trust.value


def test_every_source_says_what_it_is_and_how_sure() -> None:
    for entry in all_sources().values():
        assert entry.title
        assert isinstance(entry.trust, Trust)
