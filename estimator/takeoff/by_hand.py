"""Bars set, kept or left out by hand: what they take the place of, and what to say about them.

A bar set by hand lies exactly where it was put. It is cut back only where there is no brickwork or
a movement joint, and a leg is only turned where it reaches a quoin. In its room every bar of the
rule that it touches, or comes nearer to than two bars are joined, gives way to it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import NamedTuple

from estimator.masonry.region import NEAR_MM
from estimator.notices import Notice
from estimator.survey.survey import HandBar, HandWork
from estimator.takeoff import hand_notices
from estimator.takeoff.bars import (
    cut_pieces,
    distance_kept,
    lap_reasons,
    short_reason,
    skimmed,
    source_of,
)
from estimator.takeoff.lines import Bar, Reason, SetBy
from estimator.takeoff.room import EDGE_MM, Limit, Room, Stop
from estimator.takeoff.rules import Rules
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch
from estimator.takeoff.work import listed

LEAST_MM = 10.0
"""A bar by hand of which less than this is left is none: no line would hold its length; house
rule [mm]."""
CODES = {
    Stop.OPENING: "opening",
    Stop.MOVEMENT_JOINT: "movement_joint",
    Stop.QUOIN: "quoin",
}
"""The codes of reasons for what ends a bar; any other end is ``end``."""

RoomsIn = Callable[[int], tuple[Room, ...]]


class Worked(NamedTuple):
    """The bars of a side after what was done by hand, and what to say about it."""

    bars: tuple[Bar, ...]
    notices: tuple[Notice, ...]


class _Placed(NamedTuple):
    """A bar by hand in the room it lies in."""

    hand: HandBar
    room: Room
    span: Stretch
    turns: Stretch
    """Legs on the left and on the right, 0 for none [mm]."""


def worked(side: Side, ruled: Sequence[Bar], rooms: RoomsIn) -> Worked:
    """Return the bars of a side, what was done by hand in place of the rule's.

    Args:
        side: The side of the building.
        ruled: The bars the rule sets out, lowest first.
        rooms: Gives the room in the bed under a course.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.room import rooms_in
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> hand = HandBar("h", 4, 600, 1800)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> side = side_of(Elevation("f", "Front", outline, bars=(hand,)), shipped(), "")
    >>> found = worked(side, (), lambda course: rooms_in(side, course))
    >>> found.bars[0].pieces_mm, found.bars[0].reasons[0].text
    ((1200,), 'Set by hand: 1,200 mm. The rule has no bar here.')
    """
    left = _less_left_out(side, ruled)
    placed, notices = [], []
    for hand in side.elevation.bars:
        if hand.work is not HandWork.LEFT_OUT:
            one = _placed(hand, rooms(hand.course))
            notices += [] if one else [hand_notices.no_room(side, hand)]
            placed += [one] if one else []
    kept, under = _last_of_each(placed)
    notices += [hand_notices.lies_over(side, one.hand) for one in under]
    given_way = {id(bar) for one in kept for bar in _replaced(one, left, side.rules)}
    bars = [bar for bar in left if id(bar) not in given_way]
    bars += [_bar(side, one, _replaced(one, ruled, side.rules)) for one in kept]
    bars.sort(key=lambda bar: (bar.course, bar.left_mm))
    numbered = tuple(
        replace(bar, id=side.mark("bar", number)) for number, bar in enumerate(bars, 1)
    )
    kinds = hand_notices.Parted(ruled, left, numbered)
    return Worked(numbered, (*hand_notices.about(side, kinds), *notices))


def _less_left_out(side: Side, ruled: Sequence[Bar]) -> list[Bar]:
    """Return the rule's bars less those left out by hand."""
    out = [hand for hand in side.elevation.bars if hand.work is HandWork.LEFT_OUT]
    return [bar for bar in ruled if not any(hand_notices.leaves_out(hand, bar) for hand in out)]


def _placed(hand: HandBar, rooms: Iterable[Room]) -> _Placed | None:
    """Return a bar by hand in the room that holds most of it, or None where there is none."""
    found: _Placed | None = None
    for room in rooms:
        low, high = _reach(room)
        span = (float(max(hand.from_mm, low)), float(min(hand.to_mm, high)))
        if span[1] - span[0] >= (LEAST_MM if found is None else _length(found.span) + NEAR_MM):
            turns = (
                _leg(hand.turn_left_mm, room.left, span[0]),
                _leg(hand.turn_right_mm, room.right, span[1]),
            )
            found = _Placed(hand, room, span, turns)
    return found


def _reach(room: Room) -> Stretch:
    """Return how far bars may reach in a room, without end where the wall runs on [mm]."""
    return (
        -math.inf if room.left.stop is Stop.RUNS_ON else room.left.x,
        math.inf if room.right.stop is Stop.RUNS_ON else room.right.x,
    )


def _leg(leg_mm: float, limit: Limit, end: float) -> float:
    """Return the leg of a bar that ends here: there is one only round a quoin."""
    return leg_mm if limit.stop is Stop.QUOIN and abs(limit.x - end) <= EDGE_MM else 0.0


def _length(span: Stretch) -> float:
    return span[1] - span[0]


def _last_of_each(placed: Sequence[_Placed]) -> tuple[list[_Placed], list[_Placed]]:
    """Part bars by hand: of two that lie over each other the one set last is kept."""
    kept: list[_Placed] = []
    under: list[_Placed] = []
    for one in reversed(placed):
        over = any(
            other.hand.course == one.hand.course
            and min(one.span[1], other.span[1]) - max(one.span[0], other.span[0]) > NEAR_MM
            for other in kept
        )
        (under if over else kept).append(one)
    return kept[::-1], under[::-1]


def _replaced(one: _Placed, ruled: Iterable[Bar], rules: Rules) -> list[Bar]:
    """Return the rule's bars a bar by hand takes the place of."""
    ruled = tuple(ruled)
    # The rule's own bars may be nearer to each other: rounded up, they grow towards one another.
    same = [bar for bar in ruled if bar.course == one.hand.course and _is_same(one, bar)]
    if same:
        return same
    near, (low, high) = max(rules.least_gap_mm, NEAR_MM), _reach(one.room)
    return [
        bar
        for bar in ruled
        if bar.course == one.hand.course
        and low <= (bar.left_mm + bar.right_mm) / 2 <= high
        and max(bar.left_mm, one.span[0]) - min(bar.right_mm, one.span[1]) < near
    ]


def _bar(side: Side, one: _Placed, ruled: Sequence[Bar]) -> Bar:
    """Return the bar that a hand set, with the rule's bars it took the place of in its reasons."""
    hand = one.hand
    for bar in ruled:
        if _is_same(one, bar):
            said = Reason("hand", _said(hand, bar.length_mm, one.span, ruled, same=True), "house")
            reasons = (said, *bar.reasons)
            return replace(bar, set_by=SetBy.HAND, hand=hand.id, reasons=reasons)
    turned = sum(one.turns)
    cracks, ends = _crossed(side, one)
    thin, skim = skimmed(side, hand.course, one.span, turned)
    length = _length(one.span) + turned
    pieces = cut_pieces(max(round(length), 1), side.rules)
    return Bar(
        "",
        side.elevation.id,
        hand.course,
        one.span[0],
        one.span[1],
        side.coursing.bed_middle(hand.course),
        one.turns[0],
        one.turns[1],
        pieces,
        side.slot_depth_mm,
        side.slot_height_mm,
        bool(thin),
        cracks,
        (
            Reason("hand", _said(hand, length, one.span, ruled, same=False), "house"),
            *_cut_back(one),
            *_legs(one),
            *_edges(side, one),
            *_anchored(cracks, ends, side.rules),
            *lap_reasons(pieces, side.rules),
            *thin,
        ),
        skim,
        min(ends),
        SetBy.HAND,
        hand.id,
    )


def _is_same(one: _Placed, bar: Bar) -> bool:
    """Whether a bar by hand lies just where the rule has one."""
    mine = (*one.span, *one.turns)
    rules = (bar.left_mm, bar.right_mm, bar.turn_left_mm, bar.turn_right_mm)
    return all(abs(here - there) <= NEAR_MM for here, there in zip(mine, rules, strict=True))


def _crossed(side: Side, one: _Placed) -> tuple[tuple[str, ...], Stretch]:
    """Return the cracks a bar crosses, and how much of it lies beyond them at each end [mm]."""
    names, spans = [], []
    for laid in side.cracks:
        span = laid.path.span_on_bed(one.hand.course)
        # A crack that only runs along the bed is not held together by a bar in it.
        if span is None or not laid.path.courses:
            continue
        if span[0] <= one.span[1] + NEAR_MM and span[1] >= one.span[0] - NEAR_MM:
            names.append(laid.crack.id)
            spans.append(span)
    if not spans:
        return (), (0.0, 0.0)
    at_left = min(span[0] for span in spans) - one.span[0]
    at_right = one.span[1] - max(span[1] for span in spans)
    return tuple(names), (
        at_left + one.turns[0] if at_left >= 0 else 0.0,
        at_right + one.turns[1] if at_right >= 0 else 0.0,
    )


def _said(hand: HandBar, length: float, span: Stretch, ruled: Sequence[Bar], *, same: bool) -> str:
    """Say what was done by hand, and what the rule has there."""
    if hand.work is HandWork.KEPT:
        done = f"Kept by hand where the rule had it: {_where(length, span)}."
    else:
        done = f"Set by hand: {length:,.0f} mm."
    if same:
        return f"{done} The rule's bar here is the same."
    if not ruled:
        return f"{done} The rule has no bar here."
    now = listed([_where(bar.length_mm, (bar.left_mm, bar.right_mm)) for bar in ruled])
    verb = ("is now", "are now") if hand.work is HandWork.KEPT else ("was", "were")
    what = f"bar here {verb[0]}" if len(ruled) == 1 else f"bars here {verb[1]}"
    return f"{done} The rule's {what} {now}."


def _where(length: float, span: Stretch) -> str:
    return f"{length:,.0f} mm, from {span[0]:,.0f} to {span[1]:,.0f} mm along"


def _cut_back(one: _Placed) -> list[Reason]:
    """Say where a bar by hand was cut back, and by what."""
    wanted = (one.hand.from_mm, one.hand.to_mm)
    ends = (("left", one.room.left), ("right", one.room.right))
    return [
        Reason(
            CODES.get(limit.stop, "end"),
            f"Cut back on the {where}, from {asked:,.0f} to {end:,.0f} mm along: there is the "
            f"{limit.name}.",
            source_of(limit.stop),
        )
        for (where, limit), asked, end in zip(ends, wanted, one.span, strict=True)
        if abs(asked - end) > NEAR_MM
    ]


def _legs(one: _Placed) -> list[Reason]:
    """Say which legs are turned round a quoin, and which cannot be."""
    reasons = []
    wanted = (one.hand.turn_left_mm, one.hand.turn_right_mm)
    for where, asked, leg in zip(("left", "right"), wanted, one.turns, strict=True):
        if leg:
            text = f"Turned round the quoin on the {where}: {leg:,.0f} mm round it, set by hand."
            reasons.append(Reason("quoin", text, "common_practice"))
        elif asked:
            text = f"No leg on the {where}: the bar does not reach a quoin there."
            reasons.append(Reason("quoin", text, "house"))
    return reasons


def _edges(side: Side, one: _Placed) -> list[Reason]:
    """Say where a bar ends nearer to an edge than the rule would keep it."""
    reasons = []
    for where, limit, end, leg in zip(
        ("left", "right"), (one.room.left, one.room.right), one.span, one.turns, strict=True
    ):
        kept, beside = distance_kept(limit.stop, side.rules), abs(limit.x - end)
        if limit.stop is not Stop.RUNS_ON and not leg and beside < kept - NEAR_MM:
            text = (
                f"Ends {beside:,.0f} mm from the {limit.name} on the {where}, where the rule keeps "
                f"{kept:,.0f} mm: the edge may break off when the bed is cut."
            )
            if limit.stop is Stop.MOVEMENT_JOINT:
                text = (
                    f"Ends {beside:,.0f} mm from the movement joint on the {where}, where the rule "
                    f"keeps {kept:,.0f} mm: nothing may reach across the joint."
                )
            reasons.append(Reason(hand_notices.EDGE, text, "house"))
    return reasons


def _anchored(cracks: Sequence[str], ends: Stretch, rules: Rules) -> list[Reason]:
    """Say what a bar by hand crosses, and how much of it is beyond that on each side."""
    if not cracks:
        return [Reason("anchorage", "It crosses no crack.", "house")]
    what = f"crack {cracks[0]}" if len(cracks) == 1 else f"cracks {listed(cracks)}"
    # A bar that ends in a crack, or lies along it, does not go across.
    verb = "crosses" if min(ends) > NEAR_MM else "meets"
    text = (
        f"It {verb} {what}, with {_beyond(ends[0])} beyond on the left and {_beyond(ends[1])} on "
        "the right."
    )
    reasons = [Reason("anchorage", text, "common_practice")]
    for where, beyond in zip(("left", "right"), ends, strict=True):
        reasons += short_reason(where, beyond, rules)
    return reasons


def _beyond(length: float) -> str:
    return f"{length:,.0f} mm" if length > NEAR_MM else "nothing"
