"""What is said about a photograph: what to do next, and how far it can be trusted."""

from __future__ import annotations

import math
from dataclasses import dataclass

from estimator.desktop.language import _, counted, in_full
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.marking import Marked, Marking, Way
from estimator.notices import UserMistake
from estimator.survey.photo import Squared
from estimator.survey.photo_points import FEWEST
from estimator.survey.survey import Photo

HALF_MM = 500.0
FAR_OFF_MM = 15.0
"""From here on a point is said to be off: no joint is so wide; house rule."""
MANY = 6
"""From so many points on, the one that is off can be told from the others: with five any of them
may be the wrong one."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """How a photograph lies."""

    heading: str
    text: str = ""
    tone: str = ""


def verdict(album: Album, photo: Photo) -> Verdict:
    """Return how far off lengths on a photograph may be, or what it still needs."""
    lies = album.lies(photo)
    if lies is None:
        missing = FEWEST - len(photo.points)
        text = counted(
            "Not to scale yet: one more point to mark and count.",
            "Not to scale yet: {n} more points to mark and count.",
            missing,
        )
        return Verdict(text)
    if isinstance(lies, UserMistake):
        return Verdict(in_full(lies), tone="caution")
    limits = " ".join(lies.limits)
    worst = _worst(photo, lies)
    if worst is not None:
        number, off = worst
        said = _("The points do not agree. Count them again; lengths may be {n} mm off over 1 m.")
        if number:
            said = _("Point {number} is {off} mm off: count it again.")
        gaps = {"n": over_a_metre(lies), "number": number, "off": off}
        return Verdict(said.format(**gaps), limits, "caution")
    said = _("To scale: lengths on it are likely within {n} mm over 1 m.")
    return Verdict(said.format(n=over_a_metre(lies)), limits, "done")


def _worst(photo: Photo, lies: Squared) -> tuple[int, int] | None:
    """Return the number of a point that is clearly wrong and how far off it is.

    None where all agree; number 0 where some do not, and nothing tells which is wrong.
    """
    points = [Marked((one.across_px, one.down_px), (one.x_mm, one.y_mm)) for one in photo.points]
    off = [off_mm(lies, one) for one in points]
    if len(points) <= FEWEST or max(off) < FAR_OFF_MM:
        return None
    number = off.index(max(off))
    if not _sticks_out(number, lies):
        return 0, 0
    return number + 1, round(max(off)) if math.isfinite(max(off)) else 0


def over_a_metre(lies: Squared) -> int:
    """Return how far off a level metre in the middle of the points may be [mm]."""
    x = sum(one for one, _y in lies.hull) / len(lies.hull)
    y = sum(one for _x, one in lies.hull) / len(lies.hull)
    return max(math.ceil(lies.error_of_length_mm((x - HALF_MM, y), (x + HALF_MM, y))), 1)


def next_thing(marking: Marking) -> str:
    """Return what to do next with the points."""
    points = marking.points
    untold = next((number for number, one in enumerate(points, 1) if one.place is None), 0)
    if marking.is_awaiting:
        said = _("Click the place of point {number} on the drawing.")
        return said.format(number=(marking.held or 0) + 1)
    if untold:
        return {
            Way.COUNT: _("Type the count of point {number}: courses up, bricks along."),
            Way.TAPE: _("Type where point {number} is: along from the left end, and up."),
            Way.DRAWING: _("Show point {number} on the drawing."),
        }[marking.way].format(number=untold)
    if not points:
        return _("Click a joint crossing on the photograph, low and at the left.")
    if len(points) < FEWEST:
        return _("Click the next corner of the largest stretch of bricks you can count.")
    return _("Done, or click further points to check these.")


def status(number: int, one: Marked, lies: Squared | UserMistake | None) -> tuple[str, str]:
    """Return what is said beside a point, with its tone.

    Args:
        number: From 0.
        one: The point.
        lies: How the photograph lies by all of them.
    """
    if one.place is None:
        return "", "quiet"
    told_before = _("as point {number}").format(number=one.like) if one.like else ""
    if not isinstance(lies, Squared) or len(lies.misses_px) <= FEWEST:
        return told_before, "quiet"
    off = off_mm(lies, one)
    if off < FAR_OFF_MM:
        return _("{n} mm off").format(n=round(off)), "quiet"
    tone = "stop" if _sticks_out(number, lies) else "caution"
    return _("{n} mm off!").format(n=round(off)), tone


def off_mm(lies: Squared, one: Marked) -> float:
    """Return how far off a point is seen from where it was told to be [mm]."""
    if one.place is None:
        return 0.0
    try:
        return math.dist(lies.to_wall(one.seen), one.place)
    except UserMistake:
        return math.inf


def _sticks_out(number: int, lies: Squared) -> bool:
    """Whether one point is off by far more than the others."""
    misses = lies.misses_px
    if len(misses) < MANY or number >= len(misses):
        return False
    others = sorted(miss for place, miss in enumerate(misses) if place != number)
    return misses[number] > 1.5 * others[-1]
