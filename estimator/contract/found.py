"""What was found since, in plain sentences: two surveys of the same walls compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from estimator.survey.ranges import likely
from estimator.survey.survey import (
    Crack,
    CrackedBrick,
    Elevation,
    Opening,
    Survey,
    ThinBed,
    Treatment,
)
from estimator.survey.wall import coursing_of, path_of
from estimator.takeoff.lines import Mark
from estimator.takeoff.scope import Scope
from estimator.takeoff.work import counted, listed

MM_PER_M = 1000
TREATED = {
    Treatment.REPLACE: "to be replaced",
    Treatment.TURN: "to be turned",
    Treatment.PATCH: "to be patched",
    Treatment.LEAVE: "to be left as they are",
}
LEAST_LENGTH_MM = 10.0
"""A crack longer by less is as long as before; house rule. [mm]"""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is otherwise than it was."""

    sentence: str
    words: str
    """In a few words, for a title."""
    marks: tuple[Mark, ...] = ()
    number: int = 1
    """How many it is about."""
    many: str = ""
    """The words for more than one, with a gap for how many; empty where they stay as they are."""


@dataclass(frozen=True, slots=True)
class Found:
    """All that is otherwise than it was."""

    findings: tuple[Finding, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """Each in a plain sentence."""
        return tuple(one.sentence for one in self.findings)

    @property
    def title(self) -> str:
        """All in a few words; empty where nothing is otherwise."""
        numbers: dict[str, int] = {}
        words: dict[str, str] = {}
        for one in self.findings:
            alike = one.many or one.words
            numbers[alike] = numbers.get(alike, 0) + one.number
            words.setdefault(alike, one.words)
        # Of the same on two sides, or twice on one, all of it is told.
        told = (
            one if numbers[alike] == 1 else alike.replace("{number}", str(numbers[alike]))
            for alike, one in words.items()
        )
        text = ", ".join(told)
        return text[:1].upper() + text[1:]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All it is about on the wall."""
        return tuple(dict.fromkeys(mark for one in self.findings for mark in one.marks))


@lru_cache(maxsize=64)
def found(then: Survey, now: Survey) -> Found:
    """Return what differs between two surveys of the same walls.

    >>> from estimator.survey.survey import Basis, Party, Site
    >>> outline = ((0, 0), (900, 0), (900, 750), (0, 750))
    >>> before = Elevation("front", "Front", outline)
    >>> brick = CrackedBrick(2, 1, Treatment.REPLACE)
    >>> after = Elevation("front", "Front", outline, bricks=(brick,))
    >>> walls = [Survey("1", "", "2026-11-25", Basis.MEASURED, Party(), Site(), (one,))
    ...     for one in (before, after)]
    >>> found(*walls).sentences
    ('Front: 1 more cracked brick to be replaced, in course 2.',)
    """
    known = {one.id: one for one in then.elevations}
    findings: list[Finding] = []
    for side in now.elevations:
        before = known.get(side.id)
        if before is None:
            text = f"{side.name}: this side was not surveyed before."
            findings.append(Finding(text, "another side", (side.id,), many="{number} more sides"))
        elif before != side:
            findings += _on_side(before, side)
    left = {one.id for one in now.elevations}
    for side in then.elevations:
        if side.id not in left:
            text = f"{side.name}: this side is left out."
            findings.append(Finding(text, "one side fewer", many="{number} sides fewer"))
    if then.new_mortar != now.new_mortar:
        findings.append(Finding("It is pointed with another mortar.", "another mortar"))
    return Found(tuple(findings))


def with_scope(told: Found, before: Scope, now: Scope) -> Found:
    """Return what was found, with another choice of the work before it."""
    sentence = f"The work is to be \u201c{now.title}\u201d instead of \u201c{before.title}\u201d."
    words = now.title[:1].lower() + now.title[1:]
    return Found((Finding(sentence, words), *told.findings))


def with_fewer(told: Found, allowed: int, number: int) -> Found:
    """Return what was found, and that fewer further bricks were than had been allowed for.

    >>> with_fewer(Found(()), 5, 3).sentences
    ('All is opened: 5 further bricks were allowed for and 3 were found.',)
    """
    were = "was" if allowed == 1 else "were"
    some = f"{number} {'was' if number == 1 else 'were'}" if number else "none was"
    bricks = counted(allowed, "further brick")
    sentence = f"All is opened: {bricks} {were} allowed for and {some} found."
    return Found((*told.findings, Finding(sentence, "fewer further bricks")))


def _on_side(then: Elevation, now: Elevation) -> Iterator[Finding]:
    yield from _bricks(then, now)
    yield from _thin_beds(then, now)
    yield from _cracks(then, now)
    yield from _openings(then, now)
    whole = (now.id,)
    if (then.outline, then.left_end, then.right_end) != (now.outline, now.left_end, now.right_end):
        text = f"{now.name}: the wall measures otherwise than before."
        yield Finding(text, "the wall measured again", whole)
    if then.areas != now.areas:
        text = f"{now.name}: the area to repoint is another."
        yield Finding(text, "another area to repoint", whole)
    yield from _brickwork(then, now)
    if then.bars != now.bars:
        text = f"{now.name}: bars are set otherwise by hand."
        yield Finding(text, "bars set otherwise", whole)
    if then.movement_joints_mm != now.movement_joints_mm:
        text = f"{now.name}: the movement joints are elsewhere than was seen."
        yield Finding(text, "other movement joints", whole)
    if then.damp_course_mm != now.damp_course_mm:
        text = f"{now.name}: the damp course is elsewhere than was seen."
        yield Finding(text, "another damp course", whole)


def _openings(then: Elevation, now: Elevation) -> Iterator[Finding]:
    before, after = ({one.id: one for one in side.openings} for side in (then, now))
    for key, opening in after.items():
        was, mark = before.get(key), (f"{now.id}/opening/{key}",)
        if was is None:
            text = f"{now.name}: another {opening.kind}, {_size(opening)}."
            many = "{number} more openings"
            yield Finding(text, f"another {opening.kind}", mark, many=many)
        elif was != opening:
            is_size = _size(was) != _size(opening)
            how = f"measures {_size(opening)}, not {_size(was)}" if is_size else "lies otherwise"
            text = f"{now.name}: the {opening.kind} {how}."
            yield Finding(text, "an opening otherwise", mark, many="{number} openings otherwise")
    for key, opening in before.items():
        if key not in after:
            text = f"{now.name}: there is no {opening.kind} of {_size(opening)}."
            yield Finding(text, "an opening fewer", (now.id,), many="{number} openings fewer")


def _size(opening: Opening) -> str:
    return f"{opening.width_mm / MM_PER_M:.2f} by {opening.height_mm / MM_PER_M:.2f} m"


def _brickwork(then: Elevation, now: Elevation) -> Iterator[Finding]:
    was, found_now = then.brickwork, now.brickwork
    if was.mortar is not found_now.mortar:
        text = (
            f"{now.name}: the wall is laid in {found_now.mortar.value} mortar where "
            f"{was.mortar.value} mortar was reckoned with."
        )
        yield Finding(text, f"{found_now.mortar.value} mortar", (now.id,))
    if replace(was, mortar=found_now.mortar) != found_now:
        text = f"{now.name}: the bricks, their bond or the joints are otherwise than was told."
        yield Finding(text, "other brickwork", (now.id,))


def _bricks(then: Elevation, now: Elevation) -> Iterator[Finding]:
    before = {(one.course, one.place): one for one in then.bricks}
    after = {(one.course, one.place): one for one in now.bricks}
    for treatment, words in TREATED.items():
        fresh = [
            brick
            for place, brick in after.items()
            if place not in before and brick.treatment is treatment
        ]
        if fresh:
            number = counted(len(fresh), "more cracked brick")
            text = f"{now.name}: {number} {words}, {_courses(fresh)}."
            many = "{number} more cracked bricks"
            yield Finding(text, number, _marks(now, fresh), len(fresh), many)
    gone = [brick for place, brick in before.items() if place not in after]
    if gone:
        number, need = counted(len(gone), "brick"), "needs" if len(gone) == 1 else "need"
        text = f"{now.name}: {number} marked before {need} no repair, {_courses(gone)}."
        many = "{number} bricks fewer"
        yield Finding(text, f"{number} fewer", _marks(now, gone), len(gone), many)
    other = [brick for place, brick in after.items() if before.get(place, brick) != brick]
    if other:
        number = counted(len(other), "brick")
        text = f"{now.name}: {number} to be repaired another way, {_courses(other)}."
        many = "{number} bricks repaired another way"
        yield Finding(text, f"{number} repaired another way", _marks(now, other), len(other), many)


def _thin_beds(then: Elevation, now: Elevation) -> Iterator[Finding]:
    bed_mm = coursing_of(now.brickwork).bed_mm
    for bed in now.thin_beds:
        if bed not in then.thin_beds:
            text = (
                f"{now.name}: the bed under course {bed.course} is {bed.thickness_mm:g} mm thick "
                f"where {bed_mm:g} mm was reckoned with, over {_metres(bed.to_mm - bed.from_mm)}."
            )
            yield Finding(text, "a thin bed", _bed_mark(now, bed), many="{number} thin beds")
    for bed in then.thin_beds:
        if bed not in now.thin_beds:
            text = f"{now.name}: the bed under course {bed.course} is no thinner than the others."
            many = "{number} beds not thin after all"
            yield Finding(text, "a bed not thin after all", _bed_mark(now, bed), many=many)


def _cracks(then: Elevation, now: Elevation) -> Iterator[Finding]:
    before = {one.id: one for one in then.cracks}
    for crack in now.cracks:
        mark = (f"{now.id}/crack/{crack.id}",)
        was = before.get(crack.id)
        if was is None:
            text = f"{now.name}: another crack, {_metres(_length(now, crack))} long."
            yield Finding(text, "another crack", mark, many="{number} more cracks")
        elif was != crack:
            yield from _longer(then, now, (was, crack))
    for crack in then.cracks:
        if crack.id not in {one.id for one in now.cracks}:
            text = f"{now.name}: one crack, {_metres(_length(then, crack))} long, is left out."
            mark = (f"{now.id}/crack/{crack.id}",)
            yield Finding(text, "one crack fewer", mark, many="{number} cracks fewer")


def _longer(then: Elevation, now: Elevation, cracks: tuple[Crack, Crack]) -> Iterator[Finding]:
    was, crack = cracks
    mark = (f"{now.id}/crack/{crack.id}",)
    more = _length(now, crack) - _length(then, was)
    if abs(more) >= LEAST_LENGTH_MM:
        way = "further" if more > 0 else "less far"
        text = f"{now.name}: the crack runs {_metres(abs(more))} {way} than was seen."
        how = "longer" if more > 0 else "shorter"
        yield Finding(text, f"a {how} crack", mark, many=f"{{number}} {how} cracks")
    elif was.run != crack.run:
        text = f"{now.name}: the crack runs another way than was seen."
        yield Finding(text, "a crack", mark, many="{number} cracks")
    if likely(was.width_mm) != likely(crack.width_mm):
        text = (
            f"{now.name}: the crack is {likely(crack.width_mm):g} mm wide where "
            f"{likely(was.width_mm):g} mm was measured."
        )
        yield Finding(text, "another crack width", mark)


def _length(side: Elevation, crack: Crack) -> float:
    path = path_of(crack, coursing_of(side.brickwork))
    return path.length_m * MM_PER_M


def _courses(bricks: list[CrackedBrick]) -> str:
    rows = sorted({brick.course for brick in bricks})
    if len(rows) == 1:
        return f"in course {rows[0]}"
    if rows == list(range(rows[0], rows[-1] + 1)):
        return f"in courses {rows[0]} to {rows[-1]}"
    return f"in courses {listed([str(row) for row in rows])}"


def _marks(side: Elevation, bricks: list[CrackedBrick]) -> tuple[Mark, ...]:
    return tuple(f"{side.id}/brick/{one.course}/{one.place}" for one in bricks)


def _bed_mark(side: Elevation, bed: ThinBed) -> tuple[Mark, ...]:
    return (f"{side.id}/bed/{bed.course}",)


def _metres(length_mm: float) -> str:
    return f"{length_mm / MM_PER_M:.2f} m"
