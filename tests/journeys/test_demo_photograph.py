"""The invented photograph shows the wall it says it shows."""

from __future__ import annotations

import importlib.util
import io
import math
import sys
from pathlib import Path
from types import ModuleType

import pytest
from PIL import Image

from estimator.survey import survey_file
from estimator.survey.photo import squared

DEMO = Path(__file__).resolve().parents[2] / "demo"


@pytest.fixture
def photograph(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    spec = importlib.util.spec_from_file_location("photograph", DEMO / "photograph.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    # Its dataclasses look themselves up there.
    monkeypatch.setitem(sys.modules, "photograph", module)
    spec.loader.exec_module(module)
    return module


def test_it_lies_square_on_the_wall_and_tells_what_was_surveyed(photograph: ModuleType) -> None:
    survey, taken = photograph.photographed(survey_file.load(photograph.DRAWN))
    (photo,), (wall,) = survey.photos, survey.elevations
    assert (photo.picture, photo.elevation) == (taken.sha256, wall.id)
    found = squared(photo)
    assert max(found.misses_px) < 1
    (window,) = wall.openings
    left, right = window.left_mm, window.left_mm + window.width_mm
    middle = window.bottom_mm + window.height_mm / 2
    one, two = (found.to_wall(photograph.seen((x, middle))) for x in (left, right))
    error = found.error_of_length_mm(one, two)
    assert math.dist(one, two) == pytest.approx(window.width_mm, abs=error)
    assert error < 20


def test_the_cracks_are_dark_where_they_were_traced(photograph: ModuleType) -> None:
    survey = survey_file.load(photograph.DRAWN)
    with Image.open(io.BytesIO(photograph.photograph(survey))) as opened:
        grey = opened.convert("L")
    for crack in survey.elevations[0].cracks:
        for width in crack.widths:
            place = (width.x_mm, width.y_mm)
            x, y = map(round, photograph.seen(place))
            near = [grey.getpixel((x + i, y + j)) for i in range(-9, 10) for j in range(-9, 10)]
            assert min(near) < 75, (crack.id, place)
    plain = [photograph.seen((600.0 + 30 * step, 1500.0)) for step in range(10)]
    assert all(math.isfinite(part) for one in plain for part in one)
    assert min(grey.getpixel((round(x), round(y))) for x, y in plain) > 75
