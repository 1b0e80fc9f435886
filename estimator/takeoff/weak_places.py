"""Cautions where cutting does harm: beside the damp course, and over openings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from estimator.notices import Notice, Severity
from estimator.survey.survey import Lintel, Opening
from estimator.survey.wall import top_of
from estimator.takeoff.brickwork import LaidBrick
from estimator.takeoff.hand_notices import numbers_of
from estimator.takeoff.lines import Bar
from estimator.takeoff.panel import Panel
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box
from estimator.takeoff.work import counted

WIDE_MM = 450.0
"""Over an opening narrower than this bricks span by themselves: two of them; house rule [mm]."""
UNSURE = frozenset({Lintel.NOT_SEEN, Lintel.TIMBER, Lintel.BRICK})
"""Lintels that a bed cut just over them may weaken, or that may not be there at all."""


def about_damp_course(
    side: Side, bricks: Sequence[LaidBrick], panel: Panel | None, *, points_cracks: bool
) -> tuple[Notice, ...]:
    """Warn of bricks cut out and beds pointed at the damp course; common practice, no source.

    Args:
        side: The side of the building.
        bricks: The bricks worked on.
        panel: What is repointed as a whole.
        points_cracks: Whether cracks are raked and pointed.

    >>> from estimator.survey.survey import CrackedBrick, Elevation, Treatment
    >>> from estimator.takeoff.brickwork import bricks_of
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)),
    ...     bricks=(CrackedBrick(2, 2, Treatment.REPLACE),), damp_course_mm=80)
    >>> side = side_of(wall, shipped(), "")
    >>> [one.text for one in about_damp_course(side, bricks_of(side), None, points_cracks=True)]
    ['Front: 1 brick comes out beside the damp course. Cut it out by hand, and keep the damp course
    whole.']
    """
    bed = side.damp_bed
    if bed is None:
        return ()
    said = []
    out = sum(brick.is_cut_out and brick.course in (bed - 1, bed) for brick in bricks)
    if out:
        what = "1 brick comes" if out == 1 else f"{out} bricks come"
        text = f"{what} out beside the damp course. Cut {'it' if out == 1 else 'them'} out by hand,"
        said.append(f"{text} and keep the damp course whole.")
    is_cracked = points_cracks and bed in side.cracked_beds
    if is_cracked or (panel is not None and _covers(panel, side, bed)):
        said.append(
            "The bed of the damp course is pointed. Keep its edge free: mortar over it lets damp "
            "past."
        )
    name = side.elevation.name
    return tuple(
        Notice("beside_damp_course", Severity.CAUTION, f"{name}: {_small(one)}", "common_practice")
        for one in said
    )


def _small(sentence: str) -> str:
    return sentence[0].lower() + sentence[1:]


def _covers(panel: Panel, side: Side, bed: int) -> bool:
    left, _bottom, right, _top = panel.net.bounds
    return panel.bands.length(side.bed_box(bed, (left, right))) > 0


def about_openings(
    side: Side, bars: Sequence[Bar], bricks: Sequence[LaidBrick]
) -> tuple[Notice, ...]:
    """Warn of bricks cut out, and of beds cut, over what carries the wall at an opening.

    Bricks count inside the triangle of 45 degrees that a lintel carries (common practice), beds
    where they are the first over an opening whose lintel was not seen or is easily weakened.

    >>> from estimator.survey.survey import CrackedBrick, Elevation, Treatment
    >>> from estimator.takeoff.brickwork import bricks_of
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (2250, 0), (2250, 1500), (0, 1500)),
    ...     bricks=(CrackedBrick(13, 5, Treatment.REPLACE),),
    ...     openings=(Opening("w", 675, 300, 900, 600),))
    >>> side = side_of(wall, shipped(), "")
    >>> [one.text for one in about_openings(side, (), bricks_of(side))]
    ['Front: 1 brick comes out over the window. Prop the wall first where the lintel has moved or
    was not seen, and ask a structural engineer how.']
    """
    return tuple(
        Notice(
            "over_opening", Severity.CAUTION, f"{side.elevation.name}: {text}", "common_practice"
        )
        for opening in side.elevation.openings
        if opening.width_mm >= WIDE_MM
        for text in _over(side, opening, bars, bricks)
    )


def _over(
    side: Side, opening: Opening, bars: Iterable[Bar], bricks: Iterable[LaidBrick]
) -> Iterator[str]:
    head = top_of(opening) + opening.lintel_mm
    out = sum(brick.is_cut_out and _is_carried(brick.box, opening, head) for brick in bricks)
    if out:
        comes, one_by_one = (
            ("comes", "Prop") if out == 1 else ("come", "Take out one at a time, prop")
        )
        yield (
            f"{counted(out, 'brick')} {comes} out over the {opening.kind}. {one_by_one} the wall "
            "first where the lintel has moved or was not seen, and ask a structural engineer how."
        )
    cut = [bar for bar in bars if _is_first_over(bar, opening, head, side.coursing.gauge_mm)]
    if cut and opening.lintel in UNSURE:
        lies = "is" if len(cut) == 1 else "are"
        what = {
            Lintel.TIMBER: "a timber lintel",
            Lintel.BRICK: "an arch of brick",
        }.get(opening.lintel, "a lintel nobody has seen")
        yield (
            f"{numbers_of(cut)} {lies} cut into the first bed over the {opening.kind}, over "
            f"{what}. See what carries the wall there before the bed is cut."
        )


def _is_carried(box: Box, opening: Opening, head: float) -> bool:
    """Whether any of a brick lies in the triangle of wall that a lintel carries."""
    left, right = opening.left_mm, opening.left_mm + opening.width_mm
    nearest = min(max((left + right) / 2, box.left), box.right)
    height = min(nearest - left, right - nearest)
    return box.top > head and height > 0 and box.bottom < head + height


def _is_first_over(bar: Bar, opening: Opening, head: float, gauge: float) -> bool:
    is_over = bar.left_mm < opening.left_mm + opening.width_mm and bar.right_mm > opening.left_mm
    return is_over and head <= bar.y_mm < head + gauge
