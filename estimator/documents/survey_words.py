"""What a survey says of one elevation, in sentences and in the rows of its tables."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from estimator.documents.content import Fact
from estimator.documents.formats import metres, plain
from estimator.documents.seen import place_words, run_words, told
from estimator.documents.wording import capital, counted, in_words, say
from estimator.masonry.bond import bond
from estimator.masonry.brick import brick_format
from estimator.masonry.crack import CrackPath
from estimator.survey.ranges import Range, likely, settled
from estimator.survey.survey import (
    BedRun,
    Brickwork,
    Crack,
    CrackedBrick,
    Elevation,
    Lintel,
    Opening,
    Treatment,
)
from estimator.survey.wall import Wall, path_of, wall_of

Cells = tuple[str, ...]


def crack_columns() -> Cells:
    """Return the headings of the table of cracks."""
    names = ("crack", "runs", "length", "widths", "faces", "shape")
    return tuple(say(f"survey.{name}") for name in names)


def crack_rows(elevation: Elevation) -> Iterator[Cells]:
    """Yield a row for each crack: letter, how it runs, length, widths, indoors, shape."""
    plain_side = settled(elevation)
    wall = wall_of(plain_side)
    for crack, settled_crack in zip(elevation.cracks, plain_side.cracks, strict=True):
        path = path_of(settled_crack, wall.coursing)
        yield (
            crack.id,
            _run(crack, path, plain_side, wall),
            _length(crack, path),
            _widths(crack),
            say(f"survey.{crack.both_faces.name.lower()}_faces"),
            say(f"survey.{crack.tapers.name.lower()}_tapers"),
        )


def _run(crack: Crack, path: CrackPath, elevation: Elevation, wall: Wall) -> str:
    broken = len(path.bricks)
    through = (
        counted("saw.bricks", broken, number=in_words(broken)) if broken else say("saw.joints_only")
    )
    words = say(
        "survey.run_and_place",
        place=capital(place_words(path, elevation, wall)),
        run=run_words(crack, path),
        through=through,
    )
    return words if crack.stitch else f"{words}; {say('survey.not_stitched')}"


def _length(crack: Crack, path: CrackPath) -> str:
    length = metres(path.run_m * 1000)
    if isinstance(crack.run, BedRun):
        return say("survey.length_bed", metres=length)
    courses = len(path.courses)
    words = counted("survey.length_courses", courses, metres=length, courses=str(courses))
    is_told = isinstance(getattr(crack.run, "courses", None), Range)
    return say("survey.about", words=words) if is_told else words


def _widths(crack: Crack) -> str:
    """Say what was measured from the foot of a crack up, or the one width there is."""
    if not crack.widths:
        return say("survey.width_only", width=told(crack.width_mm))
    upward = sorted(crack.widths, key=lambda one: (one.y_mm, one.x_mm))
    widest = max(one.width_mm for one in upward)
    return say(
        "survey.width_list",
        widths=", ".join(plain(one.width_mm) for one in upward),
        widest=plain(widest),
    )


def wall_facts(elevation: Elevation) -> Iterator[Fact]:
    """Yield what the wall is built of and what is on it, each with its label."""
    found = elevation.brickwork
    rows = {
        "brick": brick_format(found.brick).name,
        "bond": bond(found.bond, found.ratio).name,
        "mortar": found.mortar.value,
        "build": found.build.value,
        "beds": _beds(found),
        "perpends": _perpends(found),
        "thin": "; ".join(_thin(elevation)),
        "openings": "; ".join(map(_opening, elevation.openings)),
        "joints": ", ".join(
            say("survey.joint_at", metres=metres(x)) for x in elevation.movement_joints_mm
        ),
        "damp": _damp_course(elevation),
        "foot": say(
            "survey.ground",
            metres=metres(elevation.datum_height_mm),
            ground=elevation.ground.value,
        ),
        "on_wall": elevation.ornament.strip(),
    }
    for key, words in rows.items():
        if words:
            yield Fact(say(f"survey.{key}"), capital(words))


def _beds(found: Brickwork) -> str:
    if found.bed_usual_mm is None:
        usual = say("survey.bed_format", usual=plain(brick_format(found.brick).bed_mm))
    else:
        usual = say("survey.bed_usual", usual=plain(found.bed_usual_mm))
    if found.bed_least_mm is None:
        return say("survey.no_least", usual=usual)
    return say("survey.bed_least", usual=usual, least=plain(found.bed_least_mm))


def _perpends(found: Brickwork) -> str:
    if found.perpend_mm is None:
        return ""
    return say("survey.perpend", width=plain(found.perpend_mm))


def _thin(elevation: Elevation) -> Iterator[str]:
    for one in elevation.thin_beds:
        yield say(
            "survey.thin_stretch",
            thickness=plain(one.thickness_mm),
            course=str(one.course),
            start=metres(min(one.from_mm, one.to_mm)),
            end=metres(max(one.from_mm, one.to_mm)),
        )


def _opening(opening: Opening) -> str:
    lintel = ""
    if opening.lintel is not Lintel.NOT_SEEN or opening.lintel_mm:
        lintel = say("survey.lintel", lintel=opening.lintel.value)
    return say(
        "survey.opening",
        kind=opening.kind,
        width=metres(opening.width_mm),
        height=metres(opening.height_mm),
        lintel=lintel,
    )


def _damp_course(elevation: Elevation) -> str:
    if elevation.damp_course_mm is None:
        return say("survey.damp_not_seen")
    return say("survey.damp_seen", metres=metres(elevation.damp_course_mm))


def brick_points(elevation: Elevation) -> Iterator[str]:
    """Yield the bricks marked, by what is to be done with them."""
    in_order = sorted(elevation.bricks, key=lambda one: list(Treatment).index(one.treatment))
    for treatment, group in groupby(in_order, key=lambda one: one.treatment):
        places = "; ".join(_place(one) for one in sorted(group, key=_reading_order))
        yield say(f"survey.to_{treatment.value}", places=places)
    if likely(elevation.hidden_bricks) > 0:
        yield say("survey.hidden", number=told(elevation.hidden_bricks))
    if elevation.bricks:
        yield say("survey.places_note")


def _reading_order(brick: CrackedBrick) -> tuple[int, int]:
    return brick.course, brick.place


def _place(brick: CrackedBrick) -> str:
    key = "survey.half" if brick.half else "survey.place"
    return say(key, course=str(brick.course), brick=str(brick.place))
