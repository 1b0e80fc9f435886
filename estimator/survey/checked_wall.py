"""A wall while its survey is checked: what is worked out once, and refusals many checks share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from estimator.masonry.coursing import Coursing
from estimator.masonry.region import NEAR_MM, Region
from estimator.survey.json_text import shown
from estimator.survey.reading import Place
from estimator.survey.survey import BedRun, Elevation, ThinBed
from estimator.survey.wall import Wall, wall_of

OVERLAP_MM = 1.0
"""Openings may touch, and share this much from measuring; house rule [mm]."""


@dataclass(frozen=True)
class CheckedWall:
    """One elevation with what is worked out about it while checking."""

    elevation: Elevation
    place: Place

    @cached_property
    def laid(self) -> Wall:
        """The wall on its courses, kept for the measuring that follows."""
        return wall_of(self.elevation)

    @property
    def coursing(self) -> Coursing:
        """The courses of the wall."""
        return self.laid.coursing

    @property
    def region(self) -> Region:
        """The wall inside its outline, openings not taken out."""
        return self.laid.gross

    @property
    def brick_mm(self) -> float:
        """One brick with its perpend, the slack allowed at a wall's end [mm]."""
        return self.coursing.brick.length_mm + self.coursing.perpend_mm

    @property
    def courses(self) -> int:
        """Number of the highest course with any part in the wall."""
        return self.coursing.course_at(self.region.bounds[3] - NEAR_MM)

    def span(self, course: int) -> tuple[float, float] | None:
        """Return the ends of the wall at a course, or None where there is no wall [mm]."""
        # The top course may be cut by the outline, and then only its bed is in the wall.
        middle = (self.coursing.course_bottom(course) + self.coursing.course_top(course)) / 2
        return self.span_at(middle) or self.span_at(self.coursing.bed_middle(course))

    def span_at(self, y: float) -> tuple[float, float] | None:
        """Return the ends of the wall at a level [mm]."""
        spans = self.region.spans_at(y)
        return (spans[0][0], spans[-1][1]) if spans else None

    def check_course(self, course: int, place: Place) -> tuple[float, float]:
        """Return the ends of the wall at a course, refusing a course that is not there."""
        span = self.span(course)
        if span is None:
            raise place.mistake(
                f"reaches course {course:,}, where there is no wall",
                f"the outline holds courses up to {self.courses:,}",
            )
        return span

    def check_along(self, x: float, span: tuple[float, float], place: Place) -> None:
        """Refuse a place more than a brick beyond the ends of the wall."""
        # Outlines are measured to about a brick, so a crack may seem to leave the wall by one.
        left, right = span
        if not left - self.brick_mm <= x <= right + self.brick_mm:
            raise place.mistake(
                f"is {x:,.15g} mm along, outside the wall",
                f"the wall runs from {left:,.0f} to {right:,.0f} mm there",
            )

    def check_point(self, x: float, y: float, place: Place) -> None:
        """Refuse a point more than a course above or below the wall, or a brick beside it."""
        _left, bottom, _right, top = self.region.bounds
        slack = self.coursing.gauge_mm
        if not bottom - slack <= y <= top + slack:
            raise place.mistake(
                f"is {y:,.15g} mm up, outside the wall", box_words(self.region.bounds)
            )
        # At its very top a region holds no level any more.
        span = self.span_at(min(max(y, bottom), top - NEAR_MM * 10))
        if span is not None:
            self.check_along(x, span, place)


def check_ids(called: str, ids: Iterable[str], place: Place) -> None:
    """Refuse an id used twice for one kind of thing."""
    seen: set[str] = set()
    for one in ids:
        if one in seen:
            raise (
                place.at(f"{called} {shown(one, letters=24)}")
                .at("id")
                .mistake(f"is used for more than one {called}", "give each its own")
            )
        seen.add(one)


def check_order(from_mm: float, to_mm: float, place: Place) -> None:
    """Refuse a stretch that has no length or runs backward."""
    if to_mm <= from_mm:
        raise place.at("to_mm").mistake(
            f"is {to_mm:,.15g}, not beyond from_mm {from_mm:,.15g}",
            "write the left end as from_mm and the right end as to_mm",
        )


def check_stretch(run: BedRun | ThinBed, wall: CheckedWall, place: Place) -> None:
    """Refuse a stretch of bed that is not in the wall or has no length."""
    span = wall.check_course(run.course, place.at("course"))
    check_order(run.from_mm, run.to_mm, place)
    wall.check_along(run.from_mm, span, place.at("from_mm"))
    wall.check_along(run.to_mm, span, place.at("to_mm"))


def called(kind: str, identity: str) -> str:
    """Return what one thing with an id is called in a place."""
    return f"{kind} {shown(identity, letters=24)}"


def box_words(box: tuple[float, float, float, float]) -> str:
    """Say where a wall is, for the end of a message."""
    left, bottom, right, top = box
    return (
        f"the wall runs from {left:,.0f} to {right:,.0f} mm along"
        f" and from {bottom:,.0f} to {top:,.0f} mm up"
    )


def overlap(one: tuple[float, float, float, float], two: tuple[float, float, float, float]) -> bool:
    """Whether two boxes share more than measuring explains."""
    across = min(one[2], two[2]) - max(one[0], two[0])
    up = min(one[3], two[3]) - max(one[1], two[1])
    return across > OVERLAP_MM and up > OVERLAP_MM
