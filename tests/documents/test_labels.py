"""Labels keep off each other wherever there is room for it."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from estimator.documents.labels import Label, placed
from estimator.documents.strokes import overlap

BOUNDS = (0.0, 0.0, 500.0, 400.0)
places = st.tuples(st.floats(0, 500), st.floats(0, 400))


@given(st.lists(places, max_size=12))
def test_every_label_lies_inside(points: list[tuple[float, float]]) -> None:
    boxes = placed([Label(at, (40, 10)) for at in points], BOUNDS)
    assert len(boxes) == len(points)
    for left, bottom, right, top in boxes:
        assert left >= 0 and bottom >= 0 and right <= 500 + 1e-9 and top <= 400 + 1e-9
        assert abs(right - left - 40) < 1e-9 and abs(top - bottom - 10) < 1e-9


@given(points=st.lists(places, max_size=4), is_over=st.booleans())
def test_a_few_labels_never_hide_each_other(
    *, points: list[tuple[float, float]], is_over: bool
) -> None:
    boxes = placed([Label(at, (40, 10), is_over) for at in points], BOUNDS)
    assert not any(overlap(one, two) for one, two in combinations(boxes, 2))


def test_a_letter_stands_over_its_place_and_a_width_beside_it() -> None:
    (beside,) = placed([Label((100, 100), (20, 10))], BOUNDS)
    (over,) = placed([Label((100, 100), (20, 10), is_over=True)], BOUNDS)
    assert beside[0] > 100
    assert over[1] > 100 and over[0] < 100 < over[2]


def test_what_is_to_be_kept_free_is_kept_free() -> None:
    taken = (100.0, 90.0, 200.0, 110.0)
    (box,) = placed([Label((100, 100), (20, 10))], BOUNDS, [taken])
    assert not overlap(box, taken)
