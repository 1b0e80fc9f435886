"""One side of the building ready to be measured: its courses, its cracks on them, its rules."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from functools import cached_property

from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import Along, CrackPath
from estimator.masonry.joints import per_square_metre
from estimator.masonry.rhythm import Rhythm
from estimator.survey.survey import Crack, Elevation, WallBuild
from estimator.survey.wall import Wall, path_of, wall_of
from estimator.takeoff.bands import Bands
from estimator.takeoff.lines import Conditions, Mark
from estimator.takeoff.rules import Rules
from estimator.takeoff.stretches import Box, Stretch, is_all, merged
from estimator.units import rounded


@dataclass(frozen=True, slots=True)
class LaidCrack:
    """A crack with its path on the joint net, and the box it lies in."""

    crack: Crack
    path: CrackPath
    box: Box


@dataclass(frozen=True)
class Side:
    """An elevation, laid out, with all that measuring it needs."""

    elevation: Elevation
    wall: Wall
    cracks: tuple[LaidCrack, ...]
    rules: Rules
    new_mortar: str
    """Key of the mortar repaired with."""
    is_told: bool = False
    """Whether the sizes were told and not taken on site."""

    @cached_property
    def coursing(self) -> Coursing:
        """The courses of the wall."""
        return self.wall.coursing

    @cached_property
    def slot_depth_mm(self) -> int:
        """Depth of a slot in this build of wall [mm]."""
        solid = self.elevation.brickwork.build is WallBuild.SOLID
        return self.rules.slot_depth_solid_mm if solid else self.rules.slot_depth_leaf_mm

    @cached_property
    def slot_height_mm(self) -> float:
        """Height of a slot: the bed, skimmed where it is too thin for the bar [mm]."""
        return max(self.coursing.bed_mm, self.rules.least_bed_mm)

    @cached_property
    def rake_depth_mm(self) -> float:
        """How deep joints are raked, by the wider of bed and perpend [mm]."""
        return self.rules.rake_depth_mm(max(self.coursing.bed_mm, self.coursing.perpend_mm))

    @cached_property
    def damp_bed(self) -> int | None:
        """The bed of the damp course, by the course on it; None where none was seen."""
        level = self.elevation.damp_course_mm
        # It lies in a bed whatever was measured: the nearest one.
        return None if level is None else self.coursing.nearest_bed(level)

    @cached_property
    def bands(self) -> Bands:
        """The brickwork of the wall, band by band."""
        return Bands(self.wall.net)

    @cached_property
    def _shown(self) -> Conditions:
        # Laid out once: a bond and its joints are dear to hash, and every line asks for them.
        joint = str(rounded(per_square_metre(self.coursing).joint_m, 4))
        mortar = self.elevation.brickwork.mortar.value
        return Conditions(mortar, self.coursing.bond.key, 0, self.new_mortar, joint)

    @cached_property
    def _deep(self) -> dict[int, Conditions]:
        return {0: self._shown}

    def conditions(self, depth_mm: float = 0) -> Conditions:
        """Return what makes work to a depth quicker or slower here."""
        depth = round(depth_mm)
        if depth not in self._deep:
            self._deep[depth] = replace(self._shown, depth_mm=depth)
        return self._deep[depth]

    def mark(self, *parts: object) -> Mark:
        """Return the id of something on this side."""
        return "/".join((self.elevation.id, *map(str, parts)))

    def bed_box(self, course: int, stretch: Stretch) -> Box:
        """Return a stretch of the bed under a course as a box."""
        bottom = self.coursing.bed_bottom(course)
        return Box(stretch[0], bottom, stretch[1], bottom + self.coursing.bed_mm)

    @cached_property
    def _first_faces(self) -> dict[int, int]:
        return {}

    def _first_face(self, course: int) -> int:
        """Return the number of the brick whose place is 1, asked of the wall once a course."""
        if course not in self._first_faces:
            self._first_faces[course] = 1 - self.wall.place_of(course, 0)
        return self._first_faces[course]

    @cached_property
    def _rhythms(self) -> tuple[Rhythm, ...]:
        return self.coursing.rhythms

    def perpend_box(self, course: int, face: int) -> Box:
        """Return the rectangle of a perpend, by its course and the face on its left [mm]."""
        coursing = self.coursing
        left = self._rhythms[(course - 1) % len(self._rhythms)].face_span(face)[1]
        bottom = coursing.bed_bottom(course) + coursing.bed_mm
        return Box(left, bottom, left + coursing.perpend_mm, bottom + coursing.face_height_mm)

    def brick_at(self, course: int, place: int) -> tuple[int, Box]:
        """Return the number of a brick, given its place from the left, and its rectangle."""
        face = self._first_face(course) + place - 1
        left, right = self._rhythms[(course - 1) % len(self._rhythms)].face_span(face)
        bottom = self.coursing.bed_bottom(course) + self.coursing.bed_mm
        return face, Box(left, bottom, right, bottom + self.coursing.face_height_mm)

    def perpend_mark(self, course: int, face: int) -> Mark:
        """Return the id of a perpend, which has the place of the face on its left."""
        place = face - self._first_face(course) + 1
        return f"{self.elevation.id}/perpend/{course}/{place}"

    @cached_property
    def cracked_beds(self) -> dict[int, list[Stretch]]:
        """Where cracks run along beds, by course, each stretch once."""
        beds: dict[int, list[Stretch]] = defaultdict(list)
        for laid in self.cracks:
            for piece in laid.path.of(Along.BED):
                one, two = piece.start[0], piece.end[0]
                beds[piece.course].append((one, two) if one <= two else (two, one))
        return {course: merged(stretches) for course, stretches in beds.items()}

    @cached_property
    def cracked_mm(self) -> dict[int, float]:
        """How much of each cracked bed is brickwork, by course [mm]."""
        if self._is_clear:
            return {
                course: sum(right - left for left, right in stretches)
                for course, stretches in self.cracked_beds.items()
            }
        return {
            course: sum(self.bands.length(self.bed_box(course, one)) for one in stretches)
            for course, stretches in self.cracked_beds.items()
        }

    @cached_property
    def _is_clear(self) -> bool:
        """Whether every crack is known to run in brickwork all along."""
        return all(is_all(self.wall.net, laid.box) for laid in self.cracks)

    @cached_property
    def cracked_perpends(self) -> list[tuple[int, int]]:
        """The perpends cracks run up, as (course, face on the left), where there is brickwork."""
        met = {
            (piece.course, piece.face)
            for laid in self.cracks
            for piece in laid.path.of(Along.PERPEND)
        }
        if self._is_clear:
            return sorted(met)
        return [one for one in sorted(met) if self.bands.share(self.perpend_box(*one)) >= 0.5]


def _box_of(path: CrackPath, coursing: Coursing) -> Box:
    """Return the box round the joints and bricks a crack runs in, whole beds and whole courses."""
    across = [x for piece in path.pieces for x in (piece.start[0], piece.end[0])]
    beds = [piece.course for piece in path.pieces if piece.along is Along.BED]
    rows = [piece.course for piece in path.pieces if piece.along is not Along.BED]
    low, high = [], []
    if beds:
        low.append(coursing.bed_bottom(min(beds)))
        high.append(coursing.course_bottom(max(beds)))
    if rows:
        low.append(coursing.course_bottom(min(rows)))
        high.append(coursing.course_top(max(rows)))
    return Box(min(across), min(low), max(across), max(high))


def side_of(elevation: Elevation, rules: Rules, new_mortar: str, *, is_told: bool = False) -> Side:
    """Lay out an elevation and its cracks; ranges must be settled before.

    >>> from estimator.takeoff.rules import shipped
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> side_of(wall, shipped(), "nhl35_1_3").slot_depth_mm
    25
    """
    wall = wall_of(elevation)
    cracks = []
    for crack in elevation.cracks:
        path = path_of(crack, wall.coursing)
        if path.pieces:
            cracks.append(LaidCrack(crack, path, _box_of(path, wall.coursing)))
    return Side(elevation, wall, tuple(cracks), rules, new_mortar, is_told)
