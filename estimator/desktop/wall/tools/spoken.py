"""What is said beside the hand: lengths, courses and places of what is drawn or dragged."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.desktop.language import _, counted
from estimator.documents.formats import metres, plain
from estimator.masonry.coursing import Coursing
from estimator.masonry.crack import CrackPath
from estimator.masonry.region import Point, Region
from estimator.survey.survey import Crack, Elevation
from estimator.survey.wall import path_of
from estimator.takeoff.lines import Bar

MM2_PER_M2 = 1_000_000.0


def path(one: CrackPath) -> str:
    """Return how long a crack is along its way, and how many courses it crosses."""
    length = metres(one.run_m * 1000)
    if not one.courses:
        return length
    courses = counted("{n} course", "{n} courses", len(one.courses))
    return _("{length} · {courses}").format(length=length, courses=courses)


def crack(one: Crack, coursing: Coursing) -> str:
    """Return how long a crack is, and how many courses it crosses."""
    return path(path_of(one, coursing))


def bar(one: Bar) -> str:
    """Return how long a bar is and in which bed it lies."""
    return in_bed(one.length_mm, one.course)


def in_bed(length_mm: float, course: int) -> str:
    """Return a length in the bed under a course."""
    said = _("{length} mm, bed under course {course}")
    return said.format(length=plain(round(length_mm)), course=course)


def area(outline: Sequence[Point]) -> str:
    """Return how large an area is."""
    across, up = [x for x, _y in outline], [y for _x, y in outline]
    return _("{width} by {height}, {area} m²").format(
        width=metres(max(across) - min(across)),
        height=metres(max(up) - min(up)),
        area=f"{Region.of(tuple(outline)).area_mm2 / MM2_PER_M2:.2f}",
    )


def place(wall: Elevation, kind: str, name: str) -> str:
    """Return the size or place of a part of the wall, as it is now."""
    if kind == "opening":
        for one in wall.openings:
            if one.id == name:
                return _opening(one.left_mm, one.bottom_mm, one.width_mm, one.height_mm)
    if kind == "outline":
        across, up = zip(*wall.outline, strict=True)
        wide, high = plain(round(max(across) - min(across))), plain(round(max(up) - min(up)))
        return _("Wall {width} by {height} mm").format(width=wide, height=high)
    if kind == "joint" and name.isdecimal() and int(name) <= len(wall.movement_joints_mm):
        x = plain(round(wall.movement_joints_mm[int(name) - 1]))
        return _("{length} mm from the left").format(length=x)
    if kind == "damp" and wall.damp_course_mm is not None:
        level = plain(round(wall.damp_course_mm))
        return _("{length} mm above the datum").format(length=level)
    if kind == "thin" and name.isdecimal() and int(name) <= len(wall.thin_beds):
        bed = wall.thin_beds[int(name) - 1]
        return metres(bed.to_mm - bed.from_mm)
    return ""


def _opening(left: float, bottom: float, width: float, height: float) -> str:
    said = _("{width} by {height} mm · {left} from the left, {bottom} up")
    sizes = {"width": width, "height": height, "left": left, "bottom": bottom}
    return said.format(**{name: plain(round(size)) for name, size in sizes.items()})
