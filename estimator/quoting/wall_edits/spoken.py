"""What the checks of a survey file find wrong, said as one would say it standing at the wall."""

from __future__ import annotations

import re
from collections.abc import Iterator

from estimator.notices import UserMistake
from estimator.survey.checked_wall import called
from estimator.survey.survey import Elevation, Opening, Survey

FIELDS = {
    "outline": "its outline",
    "x_mm": "its place along the wall",
    "y_mm": "its height on the wall",
    "course": "its course",
    "courses": "its height in courses",
    "place": "its place in the course",
    "from_mm": "its left end",
    "to_mm": "its right end",
    "left_mm": "its place from the left",
    "bottom_mm": "its height above the datum",
    "width_mm": "its width",
    "height_mm": "its height",
    "kind": "what it is called",
    "sill_mm": "its sill",
    "lintel_mm": "its lintel",
    "lintel_bearing_mm": "the bearing of its lintel",
    "thickness_mm": "its thickness",
    "turn_left_mm": "its leg on the left",
    "turn_right_mm": "its leg on the right",
    "turn_after": "its turn",
    "bed_usual_mm": "the usual bed",
    "bed_least_mm": "the thinnest bed",
    "perpend_mm": "the perpend",
    "ratio": "the ratio of stretchers to headers",
    "damp_course_mm": "the damp course",
    "datum_height_mm": "the height of the datum above the ground",
    "hidden_bricks": "the number of further bricks",
    "ornament": "the note on what else is on the wall",
    "name": "the name",
    "cuts": "its legs that cut bricks",
    "across": "its place along the wall",
    "up": "its height on the wall",
    "across_px": "its place across the picture",
    "down_px": "its place down the picture",
    "caption": "the caption",
    "taken": "the day it was taken",
    "picture": "the picture",
    "width_px": "its width",
    "height_px": "its height",
    "brick": "the brick",
    "bond": "the bond",
}
"""Fields of a survey file in words; of one not named here only what it is in is said."""

KIND_LETTERS = 24
"""Letters of what an opening is called that go into a sentence."""
LISTS = {
    "openings": "the list of openings",
    "cracks": "the list of cracks",
    "bricks": "the list of marked bricks",
    "areas": "the list of areas",
    "thin_beds": "the list of thin beds",
    "bars": "the list of bars set by hand",
    "movement_joints_mm": "the list of movement joints",
    "widths": "the list of widths",
    "points": "the list of points",
    "photos": "the list of photographs",
    "elevations": "the list of sides",
}
DO = (
    (re.compile(r"^write the left end as from_mm and the right end as to_mm$"), "draw it longer"),
    (re.compile(r"^write the same in both$"), "change the widest of them"),
    (re.compile(r"^write the corners in .*$"), "draw the corners in order round it"),
    (re.compile(r"^write the height that shows as lintel_mm, or .*$"), "give its height first"),
    (re.compile(r"^write it once$"), "mark it once"),
    (re.compile(r"^write each corner once$"), "draw each corner once"),
    (re.compile(r"^write from [\d,]+ to ([\d,]+)$"), r"keep to \1"),
    (re.compile(r"^leave it out$"), "choose none"),
    (re.compile(r"^measure both of them again$"), "move one of them aside"),
    (re.compile(r"^the outline holds courses up to ([\d,]+)$"), r"the wall has \1 courses"),
    (re.compile(r"^write "), "give "),
)
"""What a person at the wall would do instead of what one at a file would."""
OFF = re.compile(r"outside the wall|where there is no wall|bricks from|above the top of the wall")
WHAT = (
    (re.compile(r"^overlaps opening .*$"), "would lie over another opening"),
    (re.compile(r"^lies outside"), "would lie outside"),
    (re.compile(r"from_mm"), "its left end,"),
    (re.compile(r"(?<=side from )point|(?<=^has )point"), "corner"),
)
"""What is wrong, where a person at the wall would say it otherwise."""


def on_the_wall(
    mistake: UserMistake, elevation: Elevation, *, is_wall_changed: bool = False
) -> UserMistake:
    """Return a mistake of one elevation in the words of the wall.

    Where the wall itself was changed, what it would leave outside is named, and no more.

    >>> from estimator.survey.reading import Place
    >>> wall = Elevation("f", "Front", (), openings=(Opening("w1", 0, 0, 9, 9),))
    >>> fault = Place(("elevation 'f'", "opening 'w1'", "sill_mm")).mistake("is -4", "write 0")
    >>> str(on_the_wall(fault, wall))
    'the window: its sill is -4; give 0.'
    """
    told = _Told(mistake, called("elevation", elevation.id), tuple(_things(elevation)), "the wall")
    if is_wall_changed and told.subject and OFF.search(told.what):
        return UserMistake(
            f"{told.subject} would then lie outside the wall",
            do="move it or take it off first, or keep the wall as it is",
            field=mistake.field,
        )
    return told.said()


def of_the_survey(mistake: UserMistake, survey: Survey) -> UserMistake:
    """Return a mistake of a whole survey in the words of the wall.

    >>> from estimator.survey.reading import Place
    >>> from estimator.survey.survey import Basis, Party, Site
    >>> seen = Survey("7", "Wall", "2026-11-25", Basis.MEASURED, Party(), Site(), ())
    >>> str(of_the_survey(Place(("elevations",)).mistake("has 0 in its list", "draw one"), seen))
    'the list of sides has 0 in it; draw one.'
    """
    for one in survey.elevations:
        if mistake.field.startswith(called("elevation", one.id)):
            said = on_the_wall(mistake, one)
            if mistake.field.endswith(": name"):
                return said
            return UserMistake(f"{one.name}: {said.what}", do=said.do, field=mistake.field)
    photos = tuple((called("photo", one.id), "the photograph") for one in survey.photos)
    return _Told(mistake, "", photos, "the building").said()


def opening_words(opening: Opening) -> str:
    """Return what an opening is called on the wall.

    >>> opening_words(Opening("w1", 0, 0, 9, 9)), opening_words(Opening("o", 0, 0, 9, 9, kind=" "))
    ('the window', 'the opening')
    """
    return f"the {opening.kind.strip()[:KIND_LETTERS] or 'opening'}"


def _things(elevation: Elevation) -> Iterator[tuple[str, str]]:
    """Yield what each thing on a wall is called in a file, and standing before it."""
    for opening in elevation.openings:
        yield called("opening", opening.id), opening_words(opening)
    for crack in elevation.cracks:
        yield called("crack", crack.id), f"crack {crack.id}"
    for area in elevation.areas:
        yield called("area", area.id), "the area to repoint"
    for bar in elevation.bars:
        yield called("bar", bar.id), "the bar set by hand"
    for number, brick in enumerate(elevation.bricks, 1):
        yield f"brick {number}", f"brick {brick.place} in course {brick.course}"
    for number, bed in enumerate(elevation.thin_beds, 1):
        yield f"thin bed {number}", f"the thin bed under course {bed.course}"
    yield "brickwork", "the brickwork"


class _Told:
    """A mistake taken apart: what it is about, where on that, what is wrong, and what would do."""

    def __init__(
        self, mistake: UserMistake, frame: str, things: tuple[tuple[str, str], ...], nothing: str
    ) -> None:
        self.mistake, self.nothing = mistake, nothing
        self.subject, path = "", mistake.field.removeprefix(frame).lstrip(":, ")
        for name, words in things:
            if path == name or path.startswith((f"{name}:", f"{name},")):
                self.subject, path = words, path.removeprefix(name).lstrip(":, ")
                break
        parts = [part for part in re.split(r"[:,] ", path) if part]
        self.place = ", ".join(words for part in parts if (words := _part(part)))
        self.what = mistake.what.removeprefix(mistake.field).strip()

    def said(self) -> UserMistake:
        """Return the mistake in words."""
        what = self.what
        for pattern, instead in WHAT:
            what = pattern.sub(instead, what)
        what = what.replace("in its list", "in it") if self.place in LISTS.values() else what
        found = re.search(r"has its bricks from ([\d,]+) to ([\d,]+)", what)
        if found:
            said, do = f"there is no {self.subject}", "its bricks run from {} to {} from the left"
            return UserMistake(said, do=do.format(*found.groups()), field=self.mistake.field)
        do = _do(self.mistake.do)
        if "is the same as the point before it" in what:
            do = "draw it on to another place"
        # Which course it is that is not there is said already.
        place = "" if what.startswith("reaches course") else self.place
        if self.subject and place:
            said = f"{self.subject}: {place} {what}"
        elif place.startswith("its "):
            said = f"{self.nothing}: {place} {what}"
        else:
            said = f"{place or self.subject or self.nothing} {what}"
        return UserMistake(" ".join(said.split()), do=do, field=self.mistake.field)


def _part(part: str) -> str:
    if part in FIELDS:
        return FIELDS[part]
    if part in LISTS:
        return LISTS[part]
    # Numbered parts, such as a point of a crack, are named well enough already.
    return (
        part
        if re.fullmatch(r"(?!elevation|outline point)[a-z ]+ \d+|the end of the steps", part)
        else _corner(part)
    )


def _corner(part: str) -> str:
    found = re.fullmatch(r"outline point (\d+)", part)
    return f"corner {found[1]}" if found else ""


def _do(do: str) -> str:
    for pattern, instead in DO:
        if pattern.search(do):
            return pattern.sub(instead, do)
    return do
