"""One good survey that every bad one is made from: some of everything a survey file may hold."""

from __future__ import annotations

from typing import Any


def good() -> dict[str, Any]:
    """Return a fresh copy of the good survey, as JSON holds it."""
    return {
        "perpend_survey": 1,
        "reference": "Q-0200",
        "title": "Cracks at 5 Larch Row",
        "date": "2026-11-25",
        "basis": "measured on site",
        "customer": {"name": "Ada Reed", "kind": "household", "address": ["5 Larch Row"]},
        "site": {"power": "yes", "travel_miles": 8, "built": "1931", "empty_months": 0},
        "elevations": [_front(), _side()],
        "signs": {"growing": "no", "doors_sticking": "no"},
        "said": "It came after the dry summer.",
        "engineers_report": {"engineer": "B. Hall", "reference": "R7", "date": "2026-10-01"},
        "asked": [
            {
                "question": "length",
                "amount": 18,
                "unit": "course",
                "about": True,
                "said": "18 or so",
            },
            {"question": "warning", "choices": ["doors", "floors"]},
            {"question": "place", "choices": ["corner"]},
        ],
        "readings": [{"crack": "a", "point": "P1", "date": "2026-11-01", "width_mm": 1.4}],
        "drawn": True,
        "photos": [_photo()],
    }


def _front() -> dict[str, Any]:
    """A wall of 20 bricks by 36 courses with two openings and a crack of each kind."""
    return {
        "id": "front",
        "name": "Front",
        "outline": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]],
        "brickwork": {
            "brick": "uk_metric",
            "bond": "stretcher",
            "ratio": 0,
            "mortar": "lime",
            "build": "outer leaf of a cavity wall",
            "bed_usual_mm": 10,
            "bed_least_mm": 8,
            "perpend_mm": 10,
        },
        "openings": [_opening("w1", 900), _opening("w2", 2700)],
        "left_end": "quoin",
        "cracks": [
            _crack("a", {"runs": "stepped", "x_mm": 900, "course": 2, "courses": 9}),
            _crack("b", {"runs": "straight", "x_mm": 4000, "course": 1, "courses": 20}),
            _crack("c", {"runs": "bed", "course": 8, "from_mm": 100, "to_mm": 800}),
            _crack("d", {"runs": "traced", "points": [[2300, 100], [2600, 800]]})
            | {"widths": [{"x_mm": 2300, "y_mm": 100, "width_mm": 1}, _widest()]},
        ],
        "bricks": [
            {"course": 4, "place": 6, "treatment": "replace", "half": False},
            {"course": 5, "place": 6, "treatment": "patch"},
        ],
        "hidden_bricks": 2,
        "areas": [{"id": "p", "outline": [[0, 0], [900, 0], [900, 900]]}],
        "movement_joints_mm": [4400],
        "thin_beds": [{"course": 6, "from_mm": 0, "to_mm": 900, "thickness_mm": 6}],
        "bars": [
            {"id": "h1", "course": 5, "from_mm": 600, "to_mm": 1800, "turn_left_mm": 0},
            {"id": "h2", "course": 9, "from_mm": 0, "to_mm": 900, "work": "left out by hand"},
        ],
        "damp_course_mm": 155,
        "left_return": "side",
        "datum_height_mm": 150,
        "ground": "firm and level",
    }


def _opening(identity: str, left_mm: int) -> dict[str, Any]:
    return {
        "id": identity,
        "left_mm": left_mm,
        "bottom_mm": 900,
        "width_mm": 900,
        "height_mm": 1200,
        "kind": "window",
        "sill_mm": 75,
        "lintel": "concrete",
        "lintel_mm": 140,
        "lintel_bearing_mm": 150,
    }


def _crack(identity: str, run: dict[str, Any]) -> dict[str, Any]:
    return {
        "id": identity,
        "run": run,
        "width_mm": 3,
        "both_faces": "no",
        "tapers": "no",
        "stitch": True,
    }


def _widest() -> dict[str, Any]:
    return {"x_mm": 2600, "y_mm": 800, "width_mm": 3}


def _photo() -> dict[str, Any]:
    """A photograph of the front with four points known on it."""
    known = ((50, 20, 0, 2700), (750, 30, 4500, 2700), (760, 560, 4500, 0), (40, 570, 0, 0))
    return {
        "id": "p1",
        "elevation": "front",
        "picture": "0123456789abcdef" * 4,
        "width_px": 800,
        "height_px": 600,
        "points": [
            {"across_px": across, "down_px": down, "x_mm": x, "y_mm": y}
            for across, down, x, y in known
        ],
        "caption": "From the pavement",
        "taken": "2026-11-20",
    }


def _side() -> dict[str, Any]:
    """A gable in English garden wall bond, told in part."""
    return {
        "id": "side",
        "name": "Gable",
        "outline": [[0, 0], [3600, 0], [3600, 2400], [1800, 4000], [0, 2400]],
        "brickwork": {"brick": "uk_metric", "bond": "english_garden", "ratio": 5},
        "cracks": [
            {
                "id": "a",
                "run": {"runs": "straight", "x_mm": 1800, "course": 40, "courses": 5},
                "width_mm": {"low": 1, "likely": 2, "high": 4},
            }
        ],
    }
