"""Stitching a side: the beds of every crack, the bars in them, and what an engineer should see.

Cracks are taken in the order of the survey. Each keeps the beds an earlier crack has a bar in where
one bar would serve both, so a further crack never moves the bars that were there before it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.notices import Notice, Severity
from estimator.takeoff.bars import Claim, bar_of, claim_for, joined, reaches
from estimator.takeoff.beds import Beds, Spacing, beside, set_out, spacing_for
from estimator.takeoff.by_hand import worked
from estimator.takeoff.hand_notices import numbers_of
from estimator.takeoff.lines import Bar, Reason
from estimator.takeoff.room import Room, Stop, rooms_in
from estimator.takeoff.side import LaidCrack, Side
from estimator.takeoff.stretches import Stretch
from estimator.takeoff.work import counted, listed


@dataclass(frozen=True, slots=True)
class Stitching:
    """All bars of one side, lowest first, and what to say about them."""

    bars: tuple[Bar, ...]
    notices: tuple[Notice, ...]


class _Beds:
    """The claims on each bed of a side, and the room there, while bars are set out."""

    def __init__(self, side: Side) -> None:
        self.side = side
        self.claims: dict[int, list[Claim]] = defaultdict(list)
        self.bare: list[tuple[str, int]] = []
        self.damp: list[tuple[str, int | None]] = []
        """Cracks that would have a bar in the bed of the damp course, and their bed instead."""
        self._rooms: dict[int, tuple[Room, ...]] = {}

    def rooms(self, course: int) -> tuple[Room, ...]:
        """Return the room in a bed, worked out once."""
        if course not in self._rooms:
            self._rooms[course] = rooms_in(self.side, course)
        return self._rooms[course]

    def wanted(self, laid: LaidCrack, course: int, spacing: Reason) -> list[Claim]:
        """Return what a crack wants of a bed: a bar in each room it meets there."""
        span = laid.path.span_on_bed(course)
        if span is None:
            return []
        rules = self.side.rules
        claims = [
            claim_for(room, span, course=course, crack=laid.crack.id, spacing=spacing, rules=rules)
            for room in self.rooms(course)
            if room.meets(span)
        ]
        return [claim for claim in claims if claim is not None]

    def claim(self, laid: LaidCrack, course: int, why: Reason) -> None:
        """Claim a bed for a crack, or note that there is no room for a bar in it."""
        claims = self.wanted(laid, course, why)
        self.claims[course] += claims
        if not claims:
            self.bare.append((laid.crack.id, course))

    def taken(self, laid: LaidCrack, first: int, last: int) -> list[int]:
        """Return the beds whose bars, claimed before, would reach this crack."""
        rules = self.side.rules
        near = 2 * rules.anchorage_mm + rules.least_gap_mm
        found = []
        for course in range(first, last + 2):
            held = self.claims.get(course)
            if not held or all(
                one.core[0] - laid.box.right > near or laid.box.left - one.core[1] > near
                for one in held
            ):
                continue
            if any(reaches(claim, held, rules) for claim in self.wanted(laid, course, UNSAID)):
                found.append(course)
        return found


UNSAID = Reason("spacing", "")
"""Stands in for a reason while it is only asked what would be shared."""


def stitch(side: Side) -> Stitching:
    """Set out the bars of one side.

    >>> from estimator.survey.survey import Crack, Elevation, StraightRun
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> crack = Crack("a", StraightRun(1570, 1, 24), 2.0)
    >>> outline = ((0, 0), (3150, 0), (3150, 1800), (0, 1800))
    >>> wall = Elevation("f", "Front", outline, cracks=(crack,))
    >>> [bar.pieces_mm for bar in stitch(side_of(wall, shipped(), "")).bars] == [(1000,)] * 8
    True
    """
    beds = _Beds(side)
    notices: list[Notice] = []
    for laid in side.cracks:
        if laid.crack.stitch and laid.path.courses:
            _claim(beds, laid)
        elif laid.crack.stitch:
            notices.append(_along_bed(side, laid))
    bars: list[Bar] = []
    for course in sorted(beds.claims):
        claims = joined(beds.claims[course], side.rules)
        for number, claim in enumerate(claims):
            name = side.mark("bar", len(bars) + 1)
            bars.append(bar_of(side, claim, _free(claims, number), name))
    if side.elevation.bars:
        by_hand = worked(side, bars, beds.rooms)
        return Stitching(
            by_hand.bars, (*notices, *_notices(side, beds, by_hand.bars), *by_hand.notices)
        )
    return Stitching(tuple(bars), (*notices, *_notices(side, beds, bars)))


def _claim(beds: _Beds, laid: LaidCrack) -> None:
    """Claim the beds of one crack."""
    first, last = laid.path.courses[0], laid.path.courses[-1]
    spacing = spacing_for(last - first + 1, beds.side.coursing.gauge_mm, beds.side.rules)
    shared = beds.taken(laid, first, last)
    found = set_out(first, last, spacing, shared)
    for course in found.all:
        if course == beds.side.damp_bed:
            _claim_beside_damp(beds, laid, found)
            continue
        if course in shared:
            why = _shared(laid, course)
        elif course in found.at_ends:
            why = _at_end(laid, course, spacing)
        else:
            why = _in_step(laid, course, spacing)
        beds.claim(laid, course, why)


def _claim_beside_damp(beds: _Beds, laid: LaidCrack, found: Beds) -> None:
    """Claim the bed next to the one of the damp course, where the crack has one without a bar."""
    damp = beds.side.damp_bed
    first, last = laid.path.courses[0], laid.path.courses[-1]
    course = None if damp is None else beside(damp, found, first, last)
    beds.damp.append((laid.crack.id, course))
    if course is not None:
        text = (
            f"The bed under course {damp} holds the damp course, and cutting it would let damp up: "
            f"{_bed(course)} has the bar of crack {laid.crack.id} instead."
        )
        beds.claim(laid, course, Reason("spacing", text, "common_practice"))


def _shared(laid: LaidCrack, course: int) -> Reason:
    text = f"Crack {laid.crack.id} takes {_bed(course)}, where its neighbour has a bar already."
    return Reason("spacing", text, "common_practice")


def _at_end(laid: LaidCrack, course: int, spacing: Spacing) -> Reason:
    text = (
        f"Crack {laid.crack.id} crosses {spacing.courses} courses and needs "
        f"{counted(spacing.count, 'bar')}, so it has one near its end as well: {_bed(course)}."
    )
    return Reason("spacing", text, "common_practice")


def _in_step(laid: LaidCrack, course: int, spacing: Spacing) -> Reason:
    words = spacing.words[0].upper() + spacing.words[1:]
    text = f"{words} from the lower end of crack {laid.crack.id}: {_bed(course)}."
    return Reason("spacing", text, "common_practice")


def _bed(course: int) -> str:
    return f"the bed under course {course}"


def _free(claims: Sequence[Claim], number: int) -> Stretch:
    """Return how far a bar may grow before it comes half-way to its neighbours."""
    here, room = claims[number].span, claims[number].room
    left, right = math.inf, math.inf
    if number and claims[number - 1].room is room:
        left = (here[0] - claims[number - 1].span[1]) / 2
    if number + 1 < len(claims) and claims[number + 1].room is room:
        right = (claims[number + 1].span[0] - here[1]) / 2
    return left, right


def _along_bed(side: Side, laid: LaidCrack) -> Notice:
    text = (
        f"{side.elevation.name}: crack {laid.crack.id} runs along one bed and crosses no course, "
        "so it is pointed and not stitched."
    )
    return Notice("along_bed", Severity.NOTE, text, "house")


def _notices(side: Side, beds: _Beds, bars: Sequence[Bar]) -> list[Notice]:
    """Say which bars an engineer should see, and where no bar could go."""
    name, rules = side.elevation.name, side.rules
    notices = []
    # What crosses no crack reaches beyond none; that is said of it elsewhere.
    short = [bar for bar in bars if bar.cracks and bar.anchorage_mm < rules.least_anchorage_mm]
    if short:
        text = (
            f"{name}: {_listed(short)} less than {rules.least_anchorage_mm:,.0f} mm beyond the "
            f"crack. Ask a structural engineer before {'it is' if len(short) == 1 else 'they are'} "
            "set."
        )
        notices.append(Notice("short_bar", Severity.REFER, text, "common_practice"))
    lapped = [bar for bar in bars if len(bar.pieces_mm) > 1]
    if lapped:
        text = (
            f"{name}: {counted(len(lapped), 'bar')} longer than the longest bought, lapped "
            f"{rules.lap_mm:,} mm. That lap is our setting; the engineer's figure takes its place."
        )
        notices.append(Notice("lap", Severity.CAUTION, text, "house"))
    turned = [bar for bar in bars if bar.turn_left_mm or bar.turn_right_mm]
    if turned:
        text = (
            f"{name}: {counted(len(turned), 'bar')} to turn round the quoin. No published leg was "
            "found; the engineer's figure takes the place of ours."
        )
        notices.append(Notice("turned_bar", Severity.NOTE, text, "house"))
    if beds.bare:
        where = ", ".join(f"crack {crack} at course {course}" for crack, course in beds.bare)
        text = f"{name}: no bar where there is no brickwork for one ({where})."
        notices.append(Notice("no_room", Severity.NOTE, text, "house"))
    return [*notices, *_unheld(side, bars), *_damp(side, beds, bars), *_beside_joints(side, beds)]


def _unheld(side: Side, bars: Sequence[Bar]) -> list[Notice]:
    """Say which cracks were to be stitched and have no bar at all, whatever took it away."""
    held = {crack for bar in bars for crack in bar.cracks}
    bare = [
        laid.crack.id
        for laid in side.cracks
        if laid.crack.stitch and laid.path.courses and laid.crack.id not in held
    ]
    if not bare:
        return []
    names = f"crack {bare[0]}" if len(bare) == 1 else f"cracks {listed(bare)}"
    text = (
        f"{side.elevation.name}: no bar holds {names}. Pointing fills a crack and does not hold "
        f"it: ask a structural engineer before {'it is' if len(bare) == 1 else 'they are'} left so."
    )
    return [Notice("unheld", Severity.REFER, text, "common_practice")]


def _damp(side: Side, beds: _Beds, bars: Sequence[Bar]) -> list[Notice]:
    """Say that no bar lies in the bed of the damp course, and which cracks have one fewer."""
    # Where a hand set one there all the same, that is warned of instead.
    if not beds.damp or any(bar.course == side.damp_bed for bar in bars):
        return []
    text = (
        f"{side.elevation.name}: no bar in the bed of the damp course, under course "
        f"{side.damp_bed}: cutting it would let damp up."
    )
    fewer = [crack for crack, course in beds.damp if course is None]
    if fewer:
        names = f"crack {fewer[0]} has" if len(fewer) == 1 else f"cracks {listed(fewer)} have"
        text += f" The beds beside it are taken or not crossed, so {names} one bar fewer."
    return [Notice("damp_course", Severity.NOTE, text, "common_practice")]


def _listed(bars: Sequence[Bar]) -> str:
    return f"{numbers_of(bars)} {'reaches' if len(bars) == 1 else 'reach'}"


def _beside_joints(side: Side, beds: _Beds) -> list[Notice]:
    """Warn of a crack so near a movement joint that it may be doing the joint's work."""
    beside = sorted(
        {
            name
            for claims in beds.claims.values()
            for claim in claims
            for limit, core in ((claim.room.left, claim.core[0]), (claim.room.right, claim.core[1]))
            if limit.stop is Stop.MOVEMENT_JOINT
            and abs(limit.x - core) < side.rules.beside_joint_mm
            for name in claim.cracks
        }
    )
    return [
        Notice(
            "beside_movement_joint",
            Severity.CAUTION,
            f"{side.elevation.name}: crack {name} runs beside a movement joint. See why before it "
            "is stitched: the joint may have stopped moving and the crack taken its place.",
            "en_1996_2_3_5_5",
        )
        for name in beside
    ]
