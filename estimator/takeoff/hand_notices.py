"""What to say of the bars set, kept and left out by hand on a side, and of what they leave bare."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from estimator.notices import Notice, Severity
from estimator.survey.survey import HandBar, HandWork
from estimator.takeoff.lines import Bar, SetBy
from estimator.takeoff.side import Side
from estimator.takeoff.work import counted, listed

EDGE = "edge"
"""The code of a reason that a bar by hand ends nearer to an edge than the rule would keep it."""


class Parted(NamedTuple):
    """The bars of a side, before and after what was done by hand."""

    ruled: Sequence[Bar]
    left: Sequence[Bar]
    """The rule's less those left out; some of them may give way to bars by hand."""
    bars: Sequence[Bar]
    """Those there are now, numbered."""


def about(side: Side, kinds: Parted) -> tuple[Notice, ...]:
    """Return all there is to say of what was done by hand, but for bars that are not counted.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> out = HandBar("h", 4, 600, 1800, HandWork.LEFT_OUT)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> side = side_of(Elevation("f", "Front", outline, bars=(out,)), shipped(), "")
    >>> [notice.text for notice in about(side, Parted((), (), ()))]
    ['Front: the rule has no bar any more to leave out in the bed under course 4.']
    """
    return (
        *_counts(side, kinds),
        *_left_out(side, kinds),
        *_stale(side, kinds.ruled),
        *_given_way(side, kinds),
        *_idle(side, kinds.bars),
        *_near_edges(side, kinds.bars),
        *_damp(side, kinds.bars),
    )


def leaves_out(hand: HandBar, bar: Bar) -> bool:
    """Whether a bar of the rule is one that was left out by hand.

    >>> out = HandBar("h", 4, 600, 1800, HandWork.LEFT_OUT)
    >>> leaves_out(out, Bar("", "f", 4, 500, 1500, 230, 0, 0, (1000,), 25, 10, False, (), ()))
    True
    """
    middle = (bar.left_mm + bar.right_mm) / 2
    return bar.course == hand.course and hand.from_mm <= middle <= hand.to_mm


def no_room(side: Side, hand: HandBar) -> Notice:
    """Return the notice that a bar by hand lies where there is no brickwork.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> no_room(side_of(wall, shipped(), ""), HandBar("h", 99, 600, 1800)).code
    'hand_no_room'
    """
    return _not_counted(side, hand, "hand_no_room", "there is no brickwork for it")


def lies_over(side: Side, hand: HandBar) -> Notice:
    """Return the notice that another bar by hand was set over one later.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (900, 0), (900, 750), (0, 750)))
    >>> lies_over(side_of(wall, shipped(), ""), HandBar("h", 4, 600, 1800)).code
    'hand_overlap'
    """
    return _not_counted(side, hand, "hand_overlap", "one set later lies over it")


def _not_counted(side: Side, hand: HandBar, code: str, why: str) -> Notice:
    text = (
        f"{side.elevation.name}: the bar set by hand in the bed under course {hand.course}, from "
        f"{hand.from_mm:,.0f} to {hand.to_mm:,.0f} mm along, is not counted: {why}."
    )
    return Notice(code, Severity.CAUTION, text, "house")


def _left_out(side: Side, kinds: Parted) -> list[Notice]:
    """Say which bars of the rule were left out; quietly where every crack has as many all the same.

    A bar that was moved to another bed leaves its old place empty, and no crack the worse for it.
    """
    there = {id(bar) for bar in kinds.left}
    gone = [bar for bar in kinds.ruled if id(bar) not in there]
    if not gone:
        return []
    asks = "a bar" if len(gone) == 1 else counted(len(gone), "bar")
    was = "it was" if len(gone) == 1 else "they were"
    text = (
        f"{side.elevation.name}: the rule asks for {asks} in {_beds(bar.course for bar in gone)}; "
        f"{was} left out by hand."
    )
    is_bare = any(
        _held(kinds.bars, crack) < _held(kinds.ruled, crack) for bar in gone for crack in bar.cracks
    )
    severity = Severity.CAUTION if is_bare else Severity.NOTE
    return [Notice("left_out", severity, text, "house")]


def _held(bars: Iterable[Bar], crack: str) -> int:
    return sum(crack in bar.cracks for bar in bars)


def _stale(side: Side, ruled: Sequence[Bar]) -> list[Notice]:
    """Say where nothing is left for a hand to leave out."""
    beds = [
        hand.course
        for hand in side.elevation.bars
        if hand.work is HandWork.LEFT_OUT and not any(leaves_out(hand, bar) for bar in ruled)
    ]
    if not beds:
        return []
    text = f"{side.elevation.name}: the rule has no bar any more to leave out in {_beds(beds)}."
    return [Notice("left_out", Severity.NOTE, text, "house")]


def _beds(courses: Iterable[int]) -> str:
    """Return beds as they are spoken of, each once and lowest first."""
    names = [str(course) for course in sorted(set(courses))]
    if len(names) == 1:
        return f"the bed under course {names[0]}"
    return f"the beds under courses {listed(names)}"


def _given_way(side: Side, kinds: Parted) -> list[Notice]:
    """Say where a bar by hand took the place of one that held a crack, and does not hold it."""
    lost: dict[str, list[int]] = defaultdict(list)
    for bar in kinds.left:
        for crack in bar.cracks:
            if not any(one.course == bar.course and crack in one.cracks for one in kinds.bars):
                lost[crack].append(bar.course)
    return [
        Notice(
            "hand_bare",
            Severity.CAUTION,
            f"{side.elevation.name}: crack {crack} has no bar any more in {_beds(courses)}: what "
            "was set by hand there takes the place of the rule's bar and does not reach across "
            "the crack.",
            "house",
        )
        for crack, courses in lost.items()
    ]


def _counts(side: Side, kinds: Parted) -> list[Notice]:
    """Say how many bars are the hand's and how many the rule's."""
    bars, gone = kinds.bars, len(kinds.ruled) - len(kinds.left)
    kept = {hand.id for hand in side.elevation.bars if hand.work is HandWork.KEPT}
    by_hand = _by_hand(bars)
    where_it_was = sum(bar.hand in kept for bar in by_hand)
    parts = [
        f"{counted(count, 'bar')} {words}"
        for count, words in (
            (len(by_hand) - where_it_was, "set by hand"),
            (where_it_was, "kept by hand"),
            (len(bars) - len(by_hand), "by the rule"),
            (gone, "left out by hand"),
        )
        if count
    ]
    if not by_hand and not gone:
        return []
    return [Notice("by_hand", Severity.NOTE, f"{side.elevation.name}: {listed(parts)}.", "house")]


def _by_hand(bars: Iterable[Bar]) -> list[Bar]:
    return [bar for bar in bars if bar.set_by is SetBy.HAND]


def _idle(side: Side, bars: Sequence[Bar]) -> list[Notice]:
    """Say which bars by hand cross no crack."""
    idle = [bar for bar in _by_hand(bars) if not bar.cracks]
    if not idle:
        return []
    cross = "crosses" if len(idle) == 1 else "cross"
    text = f"{side.elevation.name}: {numbers_of(idle)} set by hand {cross} no crack."
    return [Notice("no_crack", Severity.NOTE, text, "house")]


def _near_edges(side: Side, bars: Sequence[Bar]) -> list[Notice]:
    """Say which bars by hand end nearer to an edge than the rule would keep them."""
    near = [bar for bar in bars if any(reason.code == EDGE for reason in bar.reasons)]
    if not near:
        return []
    end = "ends" if len(near) == 1 else "end"
    text = (
        f"{side.elevation.name}: {numbers_of(near)} set by hand {end} nearer to an edge than the "
        "rule keeps. Cut there with care, and never into a movement joint."
    )
    return [Notice("near_edge", Severity.CAUTION, text, "common_practice")]


def _damp(side: Side, bars: Sequence[Bar]) -> list[Notice]:
    """Say which bars by hand lie in the damp course."""
    damp = [bar for bar in _by_hand(bars) if bar.course == side.damp_bed]
    if not damp:
        return []
    lie = "lies" if len(damp) == 1 else "lie"
    text = (
        f"{side.elevation.name}: {numbers_of(damp)} set by hand {lie} in the bed of the damp "
        "course. Cutting it would let damp up."
    )
    return [Notice("damp_course", Severity.CAUTION, text, "common_practice")]


def numbers_of(bars: Sequence[Bar]) -> str:
    """Return bars as they are spoken of, by their numbers.

    >>> numbers_of(())
    'no bars'
    """
    numbers = [bar.id.rsplit("/", 1)[1] for bar in bars]
    if not numbers:
        return "no bars"
    return f"bar {numbers[0]}" if len(numbers) == 1 else f"bars {listed(numbers)}"
