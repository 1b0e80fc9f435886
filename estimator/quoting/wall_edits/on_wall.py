"""What is on a wall must lie on brickwork: what an edit would leave in the air is refused.

A survey file may hold an opening that reaches past the drawn wall, or a marked brick in a doorway;
such a thing is let stand. Only what an edit would newly put there is refused.
"""

from __future__ import annotations

from estimator.masonry.crack import Piece
from estimator.masonry.region import NEAR_MM, Region
from estimator.notices import UserMistake
from estimator.quoting.wall_edits.spoken import opening_words
from estimator.survey.checked_wall import OVERLAP_MM
from estimator.survey.outlines import LEAST_AREA_MM2
from estimator.survey.ranges import settled
from estimator.survey.survey import Area, Crack, CrackedBrick, Elevation, Opening
from estimator.survey.wall import Wall, path_of, wall_of

LEAST_SHOWN = 0.5
"""Part of a brick that has to be in the wall for it to be marked; house rule."""


def check_marks(before: Elevation, after: Elevation) -> None:
    """Refuse cracks, openings, marked bricks and areas that an edit would leave off the brickwork.

    Raises:
        UserMistake: for the first of them.

    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> from dataclasses import replace
    >>> check_marks(wall, replace(wall, openings=(Opening("w1", 500, 300, 600, 300),)))
    Traceback (most recent call last):
    ...
    estimator.notices.UserMistake: the window would reach beyond the right end of the wall; the wall
    is 900 mm wide.
    """
    is_moved = before.outline != after.outline or before.brickwork != after.brickwork
    if before.cracks is not after.cracks:
        _check_cracks(before, after)
    if is_moved or before.openings is not after.openings:
        _check_openings(before, after, is_moved=is_moved)
    if is_moved or before.openings is not after.openings or before.bricks is not after.bricks:
        _check_bricks(before, after, is_moved=is_moved)
    if is_moved or before.openings is not after.openings or before.areas is not after.areas:
        _check_areas(before, after)


def _check_cracks(before: Elevation, after: Elevation) -> None:
    """Refuse a crack drawn where there is no brickwork to be cracked."""
    old = {one.id: one for one in before.cracks}
    for crack in after.cracks:
        stood = old.get(crack.id)
        if stood is not None and stood.run is crack.run:
            continue
        if not runs(crack, wall_of(after)) and (stood is None or runs(stood, wall_of(before))):
            raise UserMistake("there is no brickwork along this crack", do="draw it on the wall")


def runs(crack: Crack, wall: Wall) -> bool:
    """Whether a crack runs through any brickwork at all.

    >>> from estimator.survey.survey import StraightRun
    >>> wall = wall_of(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    >>> runs(Crack("a", StraightRun(445, 2, 3), 2.0), wall)
    True
    """
    path = path_of(settled(crack), wall.coursing)
    return any(_is_met(piece, wall) for piece in path.pieces)


def _is_met(piece: Piece, wall: Wall) -> bool:
    """Whether a piece of a crack has its middle, or one of its ends, in brickwork."""
    (x0, y0), (x1, y1) = piece.start, piece.end
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    return any(wall.net.holds(place) for place in (middle, piece.start, piece.end))


def beyond(opening: Opening, wall: Region) -> str:
    """Return which edge of a wall an opening reaches beyond, or nothing.

    >>> beyond(Opening("w1", -20, 300, 600, 300), Region.rectangle(0, 0, 900, 900))
    'the left end of the wall'
    """
    left, bottom, right, top = wall.bounds
    far, head = opening.left_mm + opening.width_mm, opening.bottom_mm + opening.height_mm
    for is_beyond, words in (
        (opening.left_mm < left - OVERLAP_MM, "the left end of the wall"),
        (far > right + OVERLAP_MM, "the right end of the wall"),
        (head > top + OVERLAP_MM, "the top of the wall"),
        (opening.bottom_mm < bottom - OVERLAP_MM, "the foot of the wall"),
    ):
        if is_beyond:
            return words
    return "" if _is_held(opening, wall) else "the edge of the wall"


def _is_held(opening: Opening, wall: Region) -> bool:
    """Whether a sloping or stepped edge leaves all of an opening in the wall."""
    if len(wall.parts) == 1 and wall.parts[0].is_upright:
        return True
    low, high = opening.bottom_mm, opening.bottom_mm + opening.height_mm
    levels = {low + OVERLAP_MM, high - OVERLAP_MM}
    levels |= {y for part in wall.parts for y in (part.bottom, part.top) if low < y < high}
    return all(_spans(opening, wall, y) for y in levels)


def _spans(opening: Opening, wall: Region, y: float) -> bool:
    left, right = opening.left_mm + OVERLAP_MM, opening.left_mm + opening.width_mm - OVERLAP_MM
    spans = wall.spans_at(min(max(y, wall.bounds[1]), wall.bounds[3] - NEAR_MM * 10))
    return any(start <= left and right <= end for start, end in spans)


def _check_openings(before: Elevation, after: Elevation, *, is_moved: bool) -> None:
    old, new = wall_of(before).gross, wall_of(after).gross
    same = {id(one) for one in before.openings}
    for opening in after.openings:
        is_same = id(opening) in same
        if is_same and not is_moved:
            continue
        edge = beyond(opening, new)
        if not edge or (_stood(opening, before) and beyond(_was(opening, before), old)):
            continue
        raise _reaching(opening, edge, new, is_wall=is_same)


def _was(opening: Opening, before: Elevation) -> Opening:
    return next(one for one in before.openings if one.id == opening.id)


def _stood(opening: Opening, before: Elevation) -> bool:
    """Whether an opening stood in the very same place before."""
    return any(_place(one) == _place(opening) for one in before.openings if one.id == opening.id)


def _place(opening: Opening) -> tuple[float, float, float, float]:
    return opening.left_mm, opening.bottom_mm, opening.width_mm, opening.height_mm


def _reaching(opening: Opening, edge: str, wall: Region, *, is_wall: bool) -> UserMistake:
    left, bottom, right, top = wall.bounds
    do = "move it down or towards the middle"
    if "end" in edge:
        do = f"the wall is {right - left:,.0f} mm wide"
    elif "edge" not in edge:
        do = f"the wall is {top - bottom:,.0f} mm high"
    if is_wall:
        do = f"move {opening_words(opening)} first, or keep the wall as it is"
    return UserMistake(f"{opening_words(opening)} would reach beyond {edge}", do=do)


def shows(brick: CrackedBrick, wall: Wall) -> bool:
    """Whether enough of a brick is in the brickwork to be marked.

    >>> from estimator.survey.survey import Treatment
    >>> wall = wall_of(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    >>> shows(CrackedBrick(2, 1, Treatment.PATCH), wall)
    True
    """
    left, bottom, right, top = wall.box_of(brick)
    needed = (right - left) * (top - bottom) * LEAST_SHOWN
    # Cut bricks at the ends of a wall are bricks too, so what shows is held against what is there.
    gross = _share(wall.gross, (left, bottom, right, top))
    return gross > 0 and _share(wall.net, (left, bottom, right, top)) >= min(needed, gross / 2)


def _share(region: Region, box: tuple[float, float, float, float]) -> float:
    """Return the area of a box that lies in a region [mm²]."""
    left, bottom, right, top = box
    parts = region.between(bottom, top)
    if not all(part.is_upright for part in parts):
        return region.within(Region.rectangle(*box)).area_mm2
    return sum(
        max(min(part.right_bottom, right) - max(part.left_bottom, left), 0.0)
        * (part.top - part.bottom)
        for part in parts
    )


def _check_bricks(before: Elevation, after: Elevation, *, is_moved: bool) -> None:
    new = wall_of(after)
    same = {(one.course, one.place) for one in before.bricks}
    for brick in after.bricks:
        stood = (brick.course, brick.place) in same
        if stood and not is_moved and not _met(brick, new, before, after):
            continue
        if shows(brick, new) or (stood and not shows(brick, wall_of(before))):
            continue
        words = f"brick {brick.place} in course {brick.course}"
        if stood:
            raise UserMistake(f"{words} is marked and would be gone", do="take its mark off first")
        raise UserMistake(f"{words} lies in an opening", do="mark a brick that is there")


def _met(brick: CrackedBrick, wall: Wall, before: Elevation, after: Elevation) -> bool:
    """Whether an opening that was not there before comes near a brick."""
    left, bottom, right, top = wall.box_of(brick)
    same = {id(one) for one in before.openings}
    return any(
        one.left_mm < right
        and one.left_mm + one.width_mm > left
        and one.bottom_mm - one.sill_mm < top
        and one.bottom_mm + one.height_mm + one.lintel_mm > bottom
        for one in after.openings
        if id(one) not in same
    )


def _check_areas(before: Elevation, after: Elevation) -> None:
    same = {id(one) for one in before.areas}
    for area in after.areas:
        if holds_brickwork(area, wall_of(after)):
            continue
        if id(area) in same and not holds_brickwork(area, wall_of(before)):
            continue
        if id(area) in same:
            raise UserMistake(
                "an area to repoint would have no brickwork left in it", do="take it off first"
            )
        raise UserMistake("there is no brickwork in this area", do="draw it on the wall")


def holds_brickwork(area: Area, wall: Wall) -> bool:
    """Whether there is anything to repoint in an area.

    >>> wall = wall_of(Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750))))
    >>> holds_brickwork(Area("a", ((-600, 0), (-300, 0), (-300, 300))), wall)
    False
    """
    ring = Region.of(area.outline)
    return wall.net.within(ring).area_mm2 >= LEAST_AREA_MM2
