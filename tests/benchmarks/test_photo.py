"""How long a photograph takes to come in, and to be set square. Skipped in the ordinary run:

    python -m pytest tests/benchmarks/test_photo.py --benchmark-only

Targets: 12 million pixels within 300 ms, which is done off the thread of the window; setting square
while a point is dragged within a frame of 16 ms.
"""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from PIL import Image

from estimator.exchange.photographs import squared_picture, take_in
from estimator.survey.photo import squared
from tests.survey.cameras import any_camera, clicked, spread_points

OPENED_MS = 300.0
FRAME_MS = 16.0


def photograph() -> bytes:
    """12 million pixels of texture, as a telephone writes them."""
    grain = np.random.default_rng(8).integers(40, 215, (750, 1000, 3), dtype=np.uint8)
    out = io.BytesIO()
    large = Image.fromarray(grain).resize((4000, 3000), Image.Resampling.BICUBIC)
    large.save(out, "JPEG", quality=92)
    return out.getvalue()


def quickest_ms(benchmark: Any, act: Callable[[], Any], rounds: int) -> float:
    """The quickest of some rounds, as others use the machine too; the median is printed beside."""
    benchmark.pedantic(act, rounds=rounds, warmup_rounds=2)
    told = benchmark.stats.stats
    print(f"\nquickest {told.min * 1000:.1f}, median {told.median * 1000:.1f} ms")
    return float(told.min) * 1000


def test_a_photograph_of_12_million_pixels_is_taken_in(benchmark: Any) -> None:
    given = photograph()
    taken = quickest_ms(benchmark, lambda: take_in(given), rounds=10)
    print(f"{len(given) / 1e6:.1f} MB taken in")
    assert taken < OPENED_MS


@pytest.mark.parametrize("count", [4, 8, 20])
def test_a_photograph_is_set_square_while_a_point_is_dragged(benchmark: Any, count: int) -> None:
    chance = random.Random(count)
    camera = any_camera(chance, 30)
    marked = clicked(chance, camera, spread_points(chance, camera, count), click=1.0, place=2.0)
    taken = quickest_ms(benchmark, lambda: squared(marked), rounds=20)
    assert taken < FRAME_MS


def test_a_wall_is_cut_out_for_paper(benchmark: Any) -> None:
    chance = random.Random(1)
    camera = any_camera(chance, 30)
    marked = squared(
        clicked(chance, camera, spread_points(chance, camera, 6), click=1.0, place=2.0)
    )
    kept = take_in(photograph()).picture
    box = (1500.0, 800.0, 3500.0, 2300.0)
    taken = quickest_ms(benchmark, lambda: squared_picture(kept, marked, box, 0.5), rounds=5)
    assert taken < OPENED_MS
