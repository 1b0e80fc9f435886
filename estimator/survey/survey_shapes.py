"""The groups of fields of a survey file, each with a reader for every field it may hold.

What the fields mean is described at the top of ``survey_file``, which reads and writes the whole.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from estimator import resources
from estimator.masonry.bond import bond_keys
from estimator.masonry.brick import format_keys
from estimator.survey import reading
from estimator.survey.limits import COUNTS, LETTERS, NUMBERS
from estimator.survey.questions import by_key
from estimator.survey.reading import Read, Shape, choice, listed, number, shape, text, whole
from estimator.survey.survey import (
    Answer,
    Area,
    Asked,
    Basis,
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    CrackRun,
    CustomerKind,
    Elevation,
    EngineersReport,
    Ground,
    HandBar,
    HandWork,
    Lintel,
    Mortar,
    Opening,
    Party,
    Photo,
    PhotoPoint,
    Reading,
    Signs,
    Site,
    SteppedRun,
    StraightRun,
    Survey,
    ThinBed,
    TracedRun,
    Treatment,
    WallBuild,
    WallEnd,
    WidthAt,
)

RUN_FIELD = "runs"
"""The field of a crack's run that says which kind it is."""

_id = reading.identity(LETTERS["id"])
_return = text(LETTERS["id"])
_short = text(LETTERS["short"])
_name = text(LETTERS["name"])
_named = text(LETTERS["name"], blank=False)
_notes = text(LETTERS["notes"], lines=True)
_answer = choice(Answer)
_along = number(NUMBERS["place along the wall"])
_course = whole(NUMBERS["course"])
_courses = reading.told(NUMBERS["courses crossed"])
_joint = number(NUMBERS["joint"])
_lines = listed(_name, "address line", COUNTS["address lines"])
_point = reading.pair(NUMBERS["place along the wall"])
_outline = listed(_point, "outline point", COUNTS["corners"])


def _mortar_keys() -> tuple[str, ...]:
    """Return the keys of the mortars one may repoint with; empty is for the one that suits."""
    return (*resources.data("mortars.json")["mortars"], "")


RUNS: Mapping[str, Shape[Any]] = {
    "stepped": shape(
        SteppedRun,
        {
            "x_mm": _along,
            "course": _course,
            "courses": _courses,
            "lean": reading.key(lambda: ("right", "left")),
            "turn_after": whole(NUMBERS["turn"]),
        },
    ),
    "straight": shape(StraightRun, {"x_mm": _along, "course": _course, "courses": _courses}),
    "bed": shape(BedRun, {"course": _course, "from_mm": _along, "to_mm": _along}),
    "traced": shape(
        TracedRun,
        {
            "points": listed(_point, "point", COUNTS["points"]),
            "through_bricks": reading.flag,
            "cuts": listed(whole(NUMBERS["leg"]), "cut", COUNTS["legs"]),
        },
    ),
}
"""The ways a crack may run, by the word that tags them in the file."""

RUN_TAGS = {SteppedRun: "stepped", StraightRun: "straight", BedRun: "bed", TracedRun: "traced"}

_run: Read[CrackRun] = reading.tagged(RUN_FIELD, RUNS)

WIDTH = shape(WidthAt, {"x_mm": _along, "y_mm": _along, "width_mm": number(NUMBERS["crack width"])})
CRACK = shape(
    Crack,
    {
        "id": _id,
        "run": _run,
        "width_mm": reading.told(NUMBERS["crack width"]),
        "both_faces": _answer,
        "tapers": _answer,
        "stitch": reading.flag,
        "widths": listed(WIDTH, "width", COUNTS["widths"]),
    },
)
BRICK = shape(
    CrackedBrick,
    {
        "course": _course,
        "place": whole(NUMBERS["place in a course"]),
        "treatment": choice(Treatment),
        "half": reading.flag,
    },
)
OPENING = shape(
    Opening,
    {
        "id": _id,
        "left_mm": _along,
        "bottom_mm": _along,
        "width_mm": number(NUMBERS["size of an opening"]),
        "height_mm": number(NUMBERS["size of an opening"]),
        "kind": _short,
        "sill_mm": number(NUMBERS["sill"]),
        "lintel": choice(Lintel),
        "lintel_mm": number(NUMBERS["lintel"]),
        "lintel_bearing_mm": number(NUMBERS["bearing"]),
    },
)
AREA = shape(Area, {"id": _id, "outline": _outline})
THIN_BED = shape(
    ThinBed, {"course": _course, "from_mm": _along, "to_mm": _along, "thickness_mm": _joint}
)
HAND_BAR = shape(
    HandBar,
    {
        "id": _id,
        "course": _course,
        "from_mm": _along,
        "to_mm": _along,
        "work": choice(HandWork),
        "turn_left_mm": number(NUMBERS["leg of a bar"]),
        "turn_right_mm": number(NUMBERS["leg of a bar"]),
    },
)
BRICKWORK = shape(
    Brickwork,
    {
        "brick": reading.key(format_keys),
        "bond": reading.key(bond_keys),
        "ratio": whole(NUMBERS["ratio"]),
        "mortar": choice(Mortar),
        "build": choice(WallBuild),
        "bed_usual_mm": _joint,
        "bed_least_mm": _joint,
        "perpend_mm": _joint,
    },
)
ELEVATION = shape(
    Elevation,
    {
        "id": _id,
        "name": _named,
        "outline": _outline,
        "brickwork": BRICKWORK,
        "openings": listed(OPENING, "opening", COUNTS["openings"]),
        "left_end": choice(WallEnd),
        "right_end": choice(WallEnd),
        "cracks": listed(CRACK, "crack", COUNTS["cracks"]),
        "bricks": listed(BRICK, "brick", COUNTS["bricks"]),
        "hidden_bricks": reading.told(NUMBERS["further bricks"]),
        "areas": listed(AREA, "area", COUNTS["areas"]),
        "movement_joints_mm": listed(_along, "movement joint", COUNTS["joints"]),
        "thin_beds": listed(THIN_BED, "thin bed", COUNTS["joints"]),
        "bars": listed(HAND_BAR, "bar", COUNTS["bars"]),
        "damp_course_mm": _along,
        "left_return": _return,
        "right_return": _return,
        "datum_height_mm": number(NUMBERS["datum"]),
        "ground": choice(Ground),
        "ornament": _notes,
    },
)
PARTY = shape(
    Party,
    {
        "name": _name,
        "kind": choice(CustomerKind),
        "address": _lines,
        "site": _lines,
        "telephone": _short,
        "email": _name,
        "vat_number": _short,
        "is_end_user": reading.flag,
    },
)
SITE = shape(
    Site,
    {
        "power": _answer,
        "water": _answer,
        "parking": _answer,
        "travel_miles": number(NUMBERS["travel"]),
        "built": _name,
        "empty_months": whole(NUMBERS["months"]),
        "empty_evidence": reading.flag,
    },
)
SIGNS = shape(Signs, {entry.name: _answer for entry in fields(Signs)})
REPORT = shape(EngineersReport, {"engineer": _named, "reference": _named, "date": reading.iso_date})
ASKED = shape(
    Asked,
    {
        "question": reading.key(lambda: tuple(by_key())),
        "choices": listed(text(LETTERS["id"]), "choice", COUNTS["choices"]),
        "amount": number(NUMBERS["amount told"]),
        "unit": reading.key(lambda: ("mm", "course", "brick", "nr", "")),
        "about": reading.flag,
        "said": _notes,
    },
)
READING = shape(
    Reading,
    {
        "crack": _id,
        "point": text(LETTERS["short"], blank=False),
        "date": reading.iso_date,
        "width_mm": number(NUMBERS["crack width"]),
        "reader": _name,
    },
)
PHOTO_POINT = shape(
    PhotoPoint,
    {
        "across_px": number(NUMBERS["place on a picture"]),
        "down_px": number(NUMBERS["place on a picture"]),
        "x_mm": _along,
        "y_mm": _along,
    },
)
PHOTO = shape(
    Photo,
    {
        "id": _id,
        "elevation": _id,
        "picture": reading.sha256,
        "width_px": whole(NUMBERS["side of a picture"]),
        "height_px": whole(NUMBERS["side of a picture"]),
        "points": listed(PHOTO_POINT, "point", COUNTS["photo points"]),
        "caption": _notes,
        "taken": reading.perhaps_date,
    },
)
SURVEY = shape(
    Survey,
    {
        "reference": _named,
        "title": _named,
        "date": reading.iso_date,
        "basis": choice(Basis),
        "customer": PARTY,
        "site": SITE,
        "elevations": listed(ELEVATION, "elevation", COUNTS["elevations"]),
        "signs": SIGNS,
        "said": _notes,
        "not_seen": _notes,
        "new_mortar": reading.key(_mortar_keys),
        "engineers_report": REPORT,
        "asked": listed(ASKED, "answer", COUNTS["answers"]),
        "readings": listed(READING, "reading", COUNTS["readings"]),
        "drawn": reading.flag,
        "photos": listed(PHOTO, "photo", COUNTS["photos"]),
    },
    spare={"customer": Party(), "site": Site()},
)
