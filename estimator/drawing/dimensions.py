"""The dimensions a mason would sketch round a wall, in rows whose words never run together.

Below the wall stand chains along it, at its right chains up it, each in rows counted from the wall
outward, and the whole last: the usual order of construction drawings, a house rule here. Nothing
here knows a screen or a page: whoever draws says how long words are, and how lengths are said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import groupby, pairwise

from estimator.drawing.courses import Box, Hole
from estimator.drawing.shapes import BarShape, CrackShape, Picture
from estimator.masonry.region import Point
from estimator.takeoff.lines import Mark

LEAST_MM = 25.0
"""A length shorter than this has no dimension [mm]; house rule."""
SAME_MM = 5.0
"""Lengths nearer to each other than this are one for a dimension [mm]; house rule."""
BETWEEN = 1.0
"""Room between the words of two dimensions in a row, as a part of two letters."""


class Kind(Enum):
    """What a dimension tells."""

    WIDTH = "width of the wall drawn"
    HEIGHT = "height of the wall drawn"
    ALONG = "brickwork beside an opening"
    UP = "brickwork under or over an opening"
    OPENING_WIDTH = "width of an opening"
    OPENING_HEIGHT = "height of an opening"
    CRACK_PLACE = "from the nearest edge to the foot of a crack"
    CRACK_HEIGHT = "height of a crack"
    BAR_LENGTH = "length of bars"
    BAR_SPACING = "from bar to bar"
    AREA_WIDTH = "width of an area"
    AREA_HEIGHT = "height of an area"


class Side(Enum):
    """Where a dimension stands."""

    BELOW = "below the wall"
    RIGHT = "right of the wall"
    ON = "on the wall"


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length between two places of the wall, where it stands, and what is written on it."""

    kind: Kind
    start: Point
    end: Point
    """In millimetres on the elevation; the line stands off it by its row."""
    words: str
    side: Side
    row: int = 0
    """Counted from the wall outward, from 0."""
    mark: Mark = ""
    """The mark it belongs to, empty for the wall's own."""

    @property
    def length_mm(self) -> float:
        """The length between its ends along its line [mm]."""
        axis = 1 if self.side is Side.RIGHT else 0
        return abs(self.end[axis] - self.start[axis])

    @property
    def span(self) -> tuple[float, float]:
        """Where it starts and ends along its line [mm]."""
        axis = 1 if self.side is Side.RIGHT else 0
        one, two = self.start[axis], self.end[axis]
        return (one, two) if one <= two else (two, one)


@dataclass(frozen=True, slots=True)
class Saying:
    """How a drawing says its lengths; each takes what it says of and returns the words."""

    length: Callable[[float], str]
    """Of a length [mm]."""
    rise: Callable[[float, int], str]
    """Of a height [mm] and its courses."""
    spaced: Callable[[int, int], str]
    """Of how many steps there are from bar to bar, and of how many courses each."""
    bars: Callable[[float, int], str]
    """Of the length [mm] of bars, and how many of them there are."""


def in_millimetres(length_mm: float) -> str:
    """Return a length in whole millimetres without its unit, as drawings for builders have it.

    >>> in_millimetres(1349.6)
    '1350'
    """
    return f"{length_mm:.0f}"


def _rise(length_mm: float, courses: int) -> str:
    return f"{length_mm:.0f} ({courses} c)"


def _spaced(steps: int, courses: int) -> str:
    return f"{steps} × {courses} c" if steps > 1 else f"{courses} c"


def _bars(length_mm: float, count: int) -> str:
    return f"{count} × {length_mm:.0f}" if count > 1 else f"{length_mm:.0f}"


MILLIMETRES = Saying(in_millimetres, _rise, _spaced, _bars)
"""Whole millimetres, courses as c: for a drawing that says so in its title."""


def dimensions_of(
    picture: Picture,
    saying: Saying = MILLIMETRES,
    words_mm: Callable[[str], float] | None = None,
    within: Box | None = None,
) -> tuple[Dimension, ...]:
    """Return the dimensions of a drawing, each in a row where its words run into no others.

    Args:
        picture: What is drawn.
        saying: How lengths are said.
        words_mm: How long words are at the scale of the drawing [mm]; without it, as if letters
            were a course high at half their width.
        within: The part of the wall drawn, the whole of it where none is named.

    >>> from estimator.drawing.courses import masonry_of
    >>> from estimator.survey.survey import Elevation, Opening
    >>> front = Elevation("f", "Front", ((0, 0), (3150, 0), (3150, 1800), (0, 1800)),
    ...     openings=(Opening("w", 900, 600, 900, 900),))
    >>> for one in dimensions_of(Picture("f", "Front", masonry_of(front))):
    ...     print(one.side.name, one.row, one.words)
    BELOW 0 900
    BELOW 0 900
    BELOW 1 3150
    RIGHT 0 600
    RIGHT 0 900
    RIGHT 0 300
    RIGHT 1 1800
    """
    measure = words_mm or _letters_mm
    box = within or picture.masonry.wall
    below = [*_along_openings(picture, box, saying), *_crack_places(picture, box, saying)]
    below += _area_widths(picture, box, saying)
    beside = [*_up_openings(picture, box, saying), *_rises(picture, box, saying)]
    beside += [*_spacings(picture, box, saying), *_area_heights(picture, box, saying)]
    left, bottom, right, top = box
    across = Dimension(
        Kind.WIDTH, (left, bottom), (right, bottom), saying.length(right - left), Side.BELOW
    )
    up = Dimension(
        Kind.HEIGHT, (right, bottom), (right, top), saying.length(top - bottom), Side.RIGHT
    )
    return (
        *_in_rows(_seen(below, box), across, measure),
        *_in_rows(_seen(beside, box), up, measure),
        *_bar_lengths(picture, saying),
    )


def _letters_mm(words: str) -> float:
    return 37.5 * len(words)


def _seen(dimensions: Iterable[Dimension], box: Box) -> list[Dimension]:
    """Return those that lie in the part drawn and are worth drawing."""
    seen = []
    for one in dimensions:
        low, high = (box[1], box[3]) if one.side is Side.RIGHT else (box[0], box[2])
        if one.length_mm >= LEAST_MM and low - 1 <= one.span[0] and one.span[1] <= high + 1:
            seen.append(one)
    return seen


def _in_rows(
    dimensions: Sequence[Dimension], whole: Dimension, words_mm: Callable[[str], float]
) -> Iterator[Dimension]:
    """Yield each in the first row that has room for it, and the whole in a row of its own."""
    rows: list[list[tuple[float, float]]] = []
    apart = BETWEEN * words_mm("00")
    for one in dimensions:
        taken = occupied(one, words_mm(one.words) + apart)
        free = (number for number, row in enumerate(rows) if not any(_meet(taken, x) for x in row))
        number = next(free, len(rows))
        if number == len(rows):
            rows.append([])
        rows[number].append(taken)
        yield _at(one, number)
    # A chain of one link says the same as the whole.
    yield _at(whole, len(rows))


def occupied(dimension: Dimension, words_mm: float) -> tuple[float, float]:
    """Return what a dimension takes of its row: its line, or its words where they are longer.

    >>> occupied(Dimension(Kind.WIDTH, (0, 0), (100, 0), "100", Side.BELOW), 150)
    (-25.0, 125.0)
    """
    low, high = dimension.span
    middle, half = (low + high) / 2, words_mm / 2
    return min(low, middle - half), max(high, middle + half)


def _meet(one: tuple[float, float], two: tuple[float, float]) -> bool:
    return one[0] < two[1] - 1e-6 and two[0] < one[1] - 1e-6


def _at(one: Dimension, row: int) -> Dimension:
    return Dimension(one.kind, one.start, one.end, one.words, one.side, row, one.mark)


def _along_openings(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    """Yield chains along the wall, openings that stand over one another in chains of their own."""
    left, bottom, right, _top = box
    at_left, at_right = _fixed(picture, box)
    for holes in _chains(_shown(picture, box), axis=0):
        edges = [x for hole in holes for x in (hole.box[0], hole.box[2])]
        # Measured from an end that will not move, from the left where there is none.
        start = [left] if at_left or not at_right else []
        end = [right] if at_right else []
        widths = {(hole.box[0], hole.box[2]) for hole in holes}
        for one, two in pairwise([*start, *edges, *end]):
            kind = Kind.OPENING_WIDTH if (one, two) in widths else Kind.ALONG
            words = saying.length(two - one)
            yield Dimension(kind, (one, bottom), (two, bottom), words, Side.BELOW)


def _up_openings(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    _left, bottom, right, top = box
    for holes in _chains(_shown(picture, box), axis=1):
        edges = [y for hole in holes for y in (hole.box[1], hole.box[3])]
        heights = {(hole.box[1], hole.box[3]) for hole in holes}
        for one, two in pairwise([bottom, *edges, top]):
            kind = Kind.OPENING_HEIGHT if (one, two) in heights else Kind.UP
            words = saying.length(two - one)
            yield Dimension(kind, (right, one), (right, two), words, Side.RIGHT)


def _shown(picture: Picture, box: Box) -> list[Hole]:
    left, bottom, right, top = box
    return [
        hole
        for hole in picture.masonry.holes
        if left <= hole.box[0]
        and hole.box[2] <= right
        and bottom <= hole.box[1]
        and hole.box[3] <= top
    ]


def _fixed(picture: Picture, box: Box) -> tuple[bool, bool]:
    """Return whether the left and the right of the part drawn are where the wall ends."""
    wall, (left, right) = picture.masonry.wall, picture.masonry.ends
    return left and box[0] == wall[0], right and box[2] == wall[2]


def _chains(holes: Sequence[Hole], *, axis: int) -> list[list[Hole]]:
    """Return openings in as few chains as hold them without one lying before another."""
    chains: list[list[Hole]] = []
    seen: set[tuple[float, float]] = set()
    for hole in sorted(holes, key=lambda one: (one.box[axis], one.box[axis + 2])):
        span = hole.box[axis], hole.box[axis + 2]
        # A row of windows alike is dimensioned once.
        if span in seen:
            continue
        seen.add(span)
        chain = next((one for one in chains if one[-1].box[axis + 2] <= span[0]), None)
        if chain is None:
            chains.append([hole])
        else:
            chain.append(hole)
    return chains


def _crack_places(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    """Yield how far the foot of each crack lies from the nearest edge that can be felt."""
    left, bottom, right, _top = box
    at_left, at_right = _fixed(picture, box)
    edges = [x for hole in _shown(picture, box) for x in (hole.box[0], hole.box[2])]
    edges += [left] * (at_left or not at_right) + [right] * at_right
    edges += [x for x in picture.masonry.movement_joints if left < x < right]
    for crack in picture.cracks:
        if not crack.points:
            continue
        foot = _foot(crack)[0]
        edge = min(edges, key=lambda x: abs(x - foot))
        yield Dimension(
            Kind.CRACK_PLACE,
            (min(edge, foot), bottom),
            (max(edge, foot), bottom),
            _lettered(crack, saying.length(abs(edge - foot))),
            Side.BELOW,
            mark=crack.mark,
        )


def _lettered(crack: CrackShape, words: str) -> str:
    return f"{crack.letter}: {words}" if crack.letter else words


def _foot(crack: CrackShape) -> Point:
    return min(crack.points, key=lambda point: point[1])


def _rises(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    """Yield the height of each crack, in courses too."""
    gauge, right = picture.masonry.gauge_mm, box[2]
    for crack in picture.cracks:
        levels = [y for _x, y in crack.points]
        if levels and max(levels) - min(levels) >= gauge / 2:
            low, high = min(levels), max(levels)
            words = _lettered(crack, saying.rise(high - low, round((high - low) / gauge)))
            yield Dimension(
                Kind.CRACK_HEIGHT, (right, low), (right, high), words, Side.RIGHT, mark=crack.mark
            )


def _spacings(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    """Yield the steps from bar to bar up each crack, like steps in a row told together."""
    right = box[2]
    told: set[tuple[float, float]] = set()
    for name in dict.fromkeys(crack for bar in picture.bars for crack in bar.cracks):
        beds = sorted({(bar.course, bar.y) for bar in picture.bars if name in bar.cracks})
        steps = [(two[0] - one[0], one[1], two[1]) for one, two in pairwise(beds)]
        for courses, group in groupby(steps, key=lambda step: step[0]):
            links = list(group)
            low, high = links[0][1], links[-1][2]
            if (low, high) not in told:
                told.add((low, high))
                words = saying.spaced(len(links), courses)
                yield Dimension(Kind.BAR_SPACING, (right, low), (right, high), words, Side.RIGHT)


def _bar_lengths(picture: Picture, saying: Saying) -> Iterator[Dimension]:
    """Yield the length of the highest bar of each length, and how many of that length there are."""
    alike: list[list[BarShape]] = []
    for bar in sorted(picture.bars, key=lambda one: (-one.y, one.left)):
        same = (some for some in alike if abs(some[0].length_mm - bar.length_mm) < SAME_MM)
        found = next(same, None)
        if found is None:
            alike.append([bar])
        else:
            found.append(bar)
    for some in alike:
        first = some[0]
        words = saying.bars(first.length_mm, len(some))
        ends = (first.left, first.y), (first.right, first.y)
        yield Dimension(Kind.BAR_LENGTH, *ends, words, Side.ON, mark=first.mark)


def _area_widths(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    bottom = box[1]
    for area in picture.areas:
        across = [x for x, _y in area.corners]
        low, high = min(across), max(across)
        words = saying.length(high - low)
        yield Dimension(
            Kind.AREA_WIDTH, (low, bottom), (high, bottom), words, Side.BELOW, mark=area.mark
        )


def _area_heights(picture: Picture, box: Box, saying: Saying) -> Iterator[Dimension]:
    right = box[2]
    for area in picture.areas:
        up = [y for _x, y in area.corners]
        low, high = min(up), max(up)
        words = saying.length(high - low)
        yield Dimension(
            Kind.AREA_HEIGHT, (right, low), (right, high), words, Side.RIGHT, mark=area.mark
        )
