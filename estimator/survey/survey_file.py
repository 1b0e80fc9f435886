"""The survey file: everything seen and told about one job, as versioned JSON.

A survey file is UTF-8 text of at most 5 MB holding one group of fields. The first of them is its
version. A small one, complete::

    {
     "perpend_survey": 1,
     "reference": "2026-014",
     "title": "Stepped crack under the bay window",
     "date": "2026-11-25",
     "basis": "measured on site",
     "customer": {"name": "A. Sample", "kind": "household", "address": ["1 Oak Lane", "Anytown"]},
     "elevations": [
      {
       "id": "front",
       "name": "Front, ground floor",
       "outline": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]],
       "brickwork": {"brick": "uk_metric", "bond": "stretcher", "mortar": "lime",
                     "build": "solid, one brick or more"},
       "openings": [{"id": "w1", "left_mm": 1575, "bottom_mm": 900, "width_mm": 1350,
                     "height_mm": 1200}],
       "cracks": [{"id": "a", "width_mm": 3, "both_faces": "no",
                   "run": {"runs": "stepped", "x_mm": 1575, "course": 2, "courses": 11}}],
       "bricks": [{"course": 4, "place": 6, "treatment": "replace"}]
      }
     ],
     "signs": {"growing": "no", "reopened_after_repair": "no", "doors_sticking": "no"}
    }

Fields marked * must be written; any other may be left out and then takes the value shown. A field
not listed here is refused, and so is a name written twice. A *told number* is a plain number when
measured, or ``{"low": 1, "likely": 2, "high": 4}`` when told on the telephone. An *answer* is
``yes``, ``no`` or ``not sure``. A *point* is ``[across, up]``. Lengths are millimetres from the
datum of the elevation: across from the left end of a whole bond repeat, up from the underside of
the bed of course 1. Courses count from 1 upward; bed 5 is the bed under course 5. An id has up to
40 letters and no slash; a name up to 200 letters, notes up to 4,000.

The survey
    ``perpend_survey``* 1; ``reference``* and ``title``* names; ``date``* as 2026-11-25; ``basis``*
    ``told on the telephone`` or ``measured on site``; ``customer``, ``site``, ``signs`` groups;
    ``elevations``* list, 1 to 200; ``said`` "" what the customer said, notes; ``not_seen`` "" what
    could not be seen, notes; ``new_mortar`` "" key of the mortar to repoint with, empty for the one
    that suits the wall; ``engineers_report`` none, else a group; ``asked`` [] list of answers given
    by a caller, one a question; ``readings`` [] list of measurements of cracks that are watched;
    ``drawn`` false, true once the walls were drawn by hand, so that answers move signs and site and
    no wall; ``photos`` [] list of photographs.
``customer``
    ``name`` ""; ``kind`` ``household``, else ``business`` or ``trade``; ``address`` [] and ``site``
    [] lists of lines; ``telephone`` ""; ``email`` ""; ``vat_number`` ""; ``is_end_user`` true.
``site``
    ``power``, ``water``, ``parking`` answers, not sure; ``travel_miles`` 10, one way; ``built`` ""
    when the building was built, as said; ``empty_months`` 0 months the dwelling has stood empty;
    ``empty_evidence`` false, true when a letter from the council shows it.
``signs``
    Answers, each ``not sure`` unless written: ``loose_or_falling``, ``bulging_or_leaning``,
    ``lintel_dropped``, ``sudden_after_impact``, ``gas_smell``, ``floors_sloping``,
    ``bearing_lost``, ``growing``, ``reopened_after_repair``, ``doors_sticking``,
    ``trees_on_clay``, ``leaking_drain``, ``mining``, ``insurance_claim``, ``walls_removed``,
    ``lintel_unknown``,
    ``level_crack_above_opening``, ``roof_spread``, ``leaning_garden_wall``,
    ``loose_gable_or_parapet``, ``regular_level_lines``, ``listed_or_conservation``,
    ``shared_wall``, ``full_height_at_junction``.
``engineers_report``
    ``engineer``* name; ``reference``* name; ``date``*.
An answer asked for
    ``question``* key of a question; ``choices`` [] keys of the choices taken, ``not_sure`` alone
    when the caller does not know, ``none`` alone for none of several; ``amount`` none, a number
    said instead of a choice; ``unit`` "" its unit, ``mm``, ``course``, ``brick`` or ``nr``;
    ``about`` false, true for a rough figure; ``said`` "" the words typed, notes. While sizes are
    told and there are answers, the program draws the wall from them anew.
A reading
    ``crack``* id; ``point``* short words, where on the crack; ``date``*; ``width_mm``* 0 to 200;
    ``reader`` "" name of who read it.
An elevation
    ``id``*; ``name``*; ``outline``* 3 to 200 points in order round the wall, no side crossing
    another; ``brickwork`` group; ``openings``, ``cracks``, ``bricks``, ``areas``, ``thin_beds``
    lists, empty; ``left_end`` and ``right_end`` ``continues``, else ``quoin``, ``stopped end`` or
    ``movement joint``; ``hidden_bricks`` 0, told number of cracked bricks allowed for and not seen;
    ``movement_joints_mm`` [] places along the wall; ``bars`` [] list of bars set, kept or left out
    by hand; ``damp_course_mm`` level of the damp course, left out where it was not seen;
    ``left_return`` and ``right_return`` "" ids of the elevations round the quoins, empty where none
    is drawn; ``datum_height_mm`` 150 above the ground one
    stands on; ``ground`` ``firm and level``, else ``soft or sloping`` or ``over a roof or
    conservatory``; ``ornament`` "" notes on pipes, meters, climbers.
``brickwork``
    ``brick`` ``uk_metric``, key of a brick format; ``bond`` ``stretcher``, key of a bond; ``ratio``
    0, stretchers or courses of them to a header, for bonds that have one; ``mortar``
    ``cement-lime``, else ``lime`` or ``hard cement``; ``build`` ``outer leaf of a cavity wall``,
    else ``solid, one brick or more`` or ``veneer``; ``bed_usual_mm``, ``bed_least_mm``,
    ``perpend_mm`` as measured, the format's own when left out.
An opening
    ``id``*; ``left_mm``*; ``bottom_mm``*; ``width_mm``*; ``height_mm``*; ``kind`` ``window``, any
    short words; ``sill_mm`` 0, depth of a stone or tile sill under it; ``lintel`` ``not seen``,
    else ``concrete``, ``stone``, ``steel behind the brickwork``, ``timber`` or ``brick arch or
    soldier course``; ``lintel_mm`` 0, height of what shows of it, which is no brickwork;
    ``lintel_bearing_mm`` 0, how far what shows goes on beyond the opening on each side.
A crack
    ``id``*; ``run``* group; ``width_mm``* told number, at the widest, 0 to 200; ``both_faces``,
    ``tapers`` answers, not sure; ``stitch`` true, false to point it only; ``widths`` [] list of
    widths measured along it, the widest of which is ``width_mm`` where that is a plain number.
A width
    ``x_mm``*; ``y_mm``*; ``width_mm``*.
``run``
    ``runs``* says which. ``stepped``: ``x_mm``*, ``course``*, ``courses``* told number, ``lean``
    ``right`` or ``left``, ``turn_after`` 0 courses after which the steps turn back. ``straight``:
    ``x_mm``*, ``course``*, ``courses``*. ``bed``: ``course``*, ``from_mm``*, ``to_mm``*.
    ``traced``: ``points``* 2 to 200, ``through_bricks`` false, ``cuts`` [] numbers of the legs that
    cut bricks while the others follow the joints, leg 1 from the first point to the second.
A brick
    ``course``*; ``place``* in the course from the left; ``treatment``* ``replace``, ``turn``,
    ``patch`` or ``leave``; ``half`` false, true when only its outer half is cut out.
An area
    ``id``*; ``outline``* like that of an elevation.
A thin bed
    ``course``*; ``from_mm``*; ``to_mm``*; ``thickness_mm``*.
A bar
    ``id``*; ``course``*; ``from_mm``*; ``to_mm``*, of one left out the stretch in which the rule's
    bar is not wanted; ``work`` ``set by hand``, else ``kept where the rule had it`` or ``left out
    by hand``; ``turn_left_mm`` and ``turn_right_mm`` 0, legs turned round a quoin.
A photograph
    ``id``*; ``elevation``* id of the one it shows; ``picture``* SHA-256 of the kept picture, 64
    hexadecimal digits; ``width_px``* and ``height_px``* of that picture, up to 20,000; ``points``
    [] list of places known both on the picture and on the wall, ``across_px``* and ``down_px``*
    from its top left corner with ``x_mm``* and ``y_mm``*; ``caption`` "" notes; ``taken`` "" date.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from pathlib import Path
from typing import Any

from estimator.notices import UserMistake, WorldFault
from estimator.survey import reading
from estimator.survey.checks import check
from estimator.survey.json_text import parsed, shown
from estimator.survey.limits import MOST_BYTES
from estimator.survey.reading import Place
from estimator.survey.survey import Brickwork, Crack, Elevation, Party, Site, Survey
from estimator.survey.survey_shapes import RUN_FIELD, RUN_TAGS, SURVEY

VERSION = 1
VERSION_FIELD = "perpend_survey"
LINE_LETTERS = 96

ALWAYS_WRITTEN: Mapping[type, frozenset[str]] = {
    Elevation: frozenset({"brickwork"}),
    Brickwork: frozenset({"brick", "bond", "mortar", "build"}),
    Party: frozenset({"name", "kind"}),
    Site: frozenset({"travel_miles"}),
    Crack: frozenset({"both_faces"}),
}
"""Fields written though they hold their usual value, because people look for them."""


def read(text: str) -> Survey:
    """Return the survey written in a text; a byte order mark in front is let pass.

    Raises:
        UserMistake: when something in it cannot be used: where, what is wrong, what would do.

    >>> read('{"perpend_survey": 2}')
    Traceback (most recent call last):
    ...
    estimator.notices.UserMistake: perpend_survey is 2, newer than this program can read; open it
    with a newer version of the program.
    """
    # Letters first: counting bytes of something enormous would already cost what the limit saves.
    _check_size(len(text))
    _check_size(len(text.encode("utf-8", "surrogatepass")))
    if not text.strip("\ufeff \t\r\n"):
        raise UserMistake("the survey file is empty", do="choose a file that holds a survey")
    value = parsed(text.removeprefix("\ufeff"))
    given = dict(reading.group(value, Place()))
    _check_version(given)
    # Every field is good by itself before fields are held against each other.
    survey = SURVEY(given, Place())
    check(survey)
    return survey


def load(path: Path) -> Survey:
    """Return the survey in a file.

    Raises:
        WorldFault: when there is no such file, or it cannot be opened.
        UserMistake: when it does not hold a survey that can be used.
    """
    name = shown(path.name or str(path))
    try:
        with path.open("rb") as file:
            # One byte more than allowed shows that there is more, without reading it all.
            raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise WorldFault(f"there is no file {name}", do="check its name and folder") from error
    except IsADirectoryError as error:
        raise WorldFault(f"{name} is a folder", do="choose a survey file inside it") from error
    except PermissionError as error:
        raise WorldFault(
            f"the file {name} may not be read", do="ask its owner to let you read it"
        ) from error
    except (OSError, ValueError) as error:
        raise WorldFault(
            f"the file {name} could not be read", do="check the disk, or copy it elsewhere"
        ) from error
    _check_size(len(raw))
    try:
        return read(raw.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise UserMistake(
            f"the survey file is not UTF-8 text from byte {error.start + 1:,} on",
            do="save it again as UTF-8",
        ) from error


def write(survey: Survey) -> str:
    """Return a survey as the text of a survey file, which reads back as the same survey.

    >>> from estimator.survey.survey import Basis, Elevation, Party, Site, Survey
    >>> wall = Elevation("front", "Front", ((0.0, 0.0), (900.0, 0.0), (900.0, 900.0)))
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), (wall,))
    >>> read(write(seen)) == seen
    True
    """
    return _laid_out({VERSION_FIELD: VERSION, **plain(survey)}) + "\n"


def _check_size(size: int) -> None:
    """Refuse a file larger than any survey."""
    if size > MOST_BYTES:
        raise UserMistake(
            f"the survey file is larger than {MOST_BYTES // 1_000_000} MB",
            do="divide the work into several surveys",
        )


def _check_version(given: dict[str, Any]) -> None:
    """Take the version out of the fields, refusing one that is missing or not known."""
    place = Place().at(VERSION_FIELD)
    do = f'write "{VERSION_FIELD}": {VERSION} at the top'
    if VERSION_FIELD not in given:
        raise place.mistake("is missing, so this may not be a survey file", do)
    version = given.pop(VERSION_FIELD)
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise place.mistake(f"is {shown(version)}, which is no version", do)
    if version > VERSION:
        raise place.mistake(
            f"is {version}, newer than this program can read",
            "open it with a newer version of the program",
        )


def plain(value: Any) -> Any:
    """Return a value as JSON holds it, leaving out fields that hold their usual value.

    >>> from estimator.survey.survey import WidthAt
    >>> plain(WidthAt(100.0, 2.5, 3.0))
    {'x_mm': 100, 'y_mm': 2.5, 'width_mm': 3}
    """
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return [plain(part) for part in value]
    # Millimetres are typed whole, and are given back as they were typed.
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if not is_dataclass(value):
        return value
    kind = type(value)
    group = {RUN_FIELD: RUN_TAGS[kind]} if kind in RUN_TAGS else {}
    always = ALWAYS_WRITTEN.get(kind, frozenset())
    for entry in fields(value):
        held = getattr(value, entry.name)
        usual = entry.default if entry.default_factory is MISSING else entry.default_factory()
        if held != usual or entry.name in always:
            group[entry.name] = plain(held)
    return group


def _laid_out(value: Any, indent: str = "") -> str:
    """Return JSON with one field a line, and whatever is short kept on its line."""
    line = json.dumps(value, ensure_ascii=False)
    if not isinstance(value, dict | list) or (indent and len(indent) + len(line) <= LINE_LETTERS):
        return line
    deeper = indent + " "
    if isinstance(value, dict):
        parts = [f"{json.dumps(name)}: {_laid_out(part, deeper)}" for name, part in value.items()]
        opened, closed = "{}"
    else:
        parts = [_laid_out(part, deeper) for part in value]
        opened, closed = "[]"
    return f"{opened}\n{deeper}" + f",\n{deeper}".join(parts) + f"\n{indent}{closed}"
