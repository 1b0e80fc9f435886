"""One bar: how far it reaches in the room there is, and every reason why."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from estimator.masonry.region import NEAR_MM
from estimator.takeoff.lines import Bar, Reason
from estimator.takeoff.room import Limit, Room, Stop
from estimator.takeoff.rules import Rules
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Stretch, merged
from estimator.takeoff.work import listed


class Claim(NamedTuple):
    """The stretch of a bed that one or more cracks want a bar in."""

    course: int
    room: Room
    core: Stretch
    """From the leftmost to the rightmost of the cracks on this bed [mm]."""
    span: Stretch
    """Core and anchorages, as far as there is room [mm]."""
    cracks: tuple[str, ...]
    spacing: Reason

    def joined(self, other: Claim) -> Claim:
        """Return one claim for both, as one bar serves both."""
        return Claim(
            self.course,
            self.room,
            (min(self.core[0], other.core[0]), max(self.core[1], other.core[1])),
            (min(self.span[0], other.span[0]), max(self.span[1], other.span[1])),
            tuple(dict.fromkeys(self.cracks + other.cracks)),
            self.spacing,
        )


class Reach(NamedTuple):
    """How one end of a bar was settled."""

    to: float
    """Where the bar ends on this side of the building [mm]."""
    turn: float
    """Leg turned round the quoin, 0 for none [mm]."""
    spare: float
    """Room left beyond the end [mm]."""
    anchorage: float
    """Bar beyond the crack, straight and turned [mm]."""


def claim_for(
    room: Room, span: Stretch, *, course: int, crack: str, spacing: Reason, rules: Rules
) -> Claim | None:
    """Return what a crack wants of a room it meets on a bed, or None where no bar is worth it.

    >>> from estimator.takeoff.rules import shipped
    >>> room = Room(Limit(0, Stop.END, "end"), Limit(2000, Stop.OPENING, "window"))
    >>> why = Reason("spacing", "")
    >>> claim_for(room, (800, 900), course=2, crack="a", spacing=why, rules=shipped()).span
    (300.0, 1400.0)
    """
    core = (max(span[0], room.left.x), min(span[1], room.right.x))
    left = reach(room.left, core[0], rules, towards=-1)
    right = reach(room.right, core[1], rules, towards=1)
    # A leg round the corner is no bar across the crack: only the straight length counts.
    if right.to - left.to < rules.least_bar_mm:
        return None
    return Claim(course, room, core, (left.to, right.to), (crack,), spacing)


def reach(limit: Limit, core: float, rules: Rules, *, towards: int) -> Reach:
    """Return how far a bar reaches from a crack: towards 1 is to the right, -1 to the left.

    >>> from estimator.takeoff.rules import shipped
    >>> reach(Limit(320, Stop.QUOIN, "quoin"), 0, shipped(), towards=1)
    Reach(to=320, turn=330.0, spare=0.0, anchorage=650.0)
    """
    room, wanted = abs(limit.x - core), rules.anchorage_mm
    if limit.stop is Stop.RUNS_ON:
        return Reach(core + towards * wanted, 0.0, math.inf, wanted)
    # A crack nearer to the edge than the distance kept from it still has its bar up to itself.
    kept = max(room - distance_kept(limit.stop, rules), 0.0)
    missing = wanted - kept
    if missing <= 0:
        return Reach(core + towards * wanted, 0.0, -missing, wanted)
    if limit.stop is Stop.QUOIN and missing >= rules.turn_from_missing_mm:
        leg = max(wanted - room, 0.0) + rules.return_leg_mm
        return Reach(limit.x, leg, 0.0, room + leg)
    return Reach(core + towards * kept, 0.0, 0.0, kept)


def distance_kept(stop: Stop, rules: Rules) -> float:
    """Return how far a bar is kept from what ends its room [mm].

    >>> from estimator.takeoff.rules import shipped
    >>> distance_kept(Stop.MOVEMENT_JOINT, shipped())
    50.0
    """
    if stop is Stop.OPENING:
        return rules.opening_distance_mm
    if stop is Stop.MOVEMENT_JOINT:
        return rules.movement_joint_distance_mm
    return rules.end_distance_mm


def joined(claims: Sequence[Claim], rules: Rules) -> list[Claim]:
    """Return claims on one bed from left to right, those near enough to share a bar made one.

    Common practice: cracks whose anchorages meet get one bar through both.

    >>> from estimator.takeoff.rules import shipped
    >>> room = Room(Limit(0, Stop.END, "end"), Limit(9000, Stop.END, "end"))
    >>> claims = [
    ...     Claim(2, room, (x, x), (x - 500, x + 500), (name,), Reason("spacing", ""))
    ...     for name, x in (("a", 2000), ("b", 2600), ("c", 5000))
    ... ]
    >>> [claim.cracks for claim in joined(claims, shipped())]
    [('a', 'b'), ('c',)]
    """
    together: list[Claim] = []
    for claim in sorted(claims, key=lambda one: one.span):
        last = together[-1] if together else None
        if last and last.room is claim.room and _meet(last, claim, rules):
            together[-1] = last.joined(claim)
        else:
            together.append(claim)
    return together


def _meet(left: Claim, right: Claim, rules: Rules) -> bool:
    return right.span[0] - left.span[1] < max(rules.least_gap_mm, NEAR_MM)


def reaches(claim: Claim, others: Sequence[Claim], rules: Rules) -> bool:
    """Whether a claim would share its bar with any of the others."""
    return any(
        other.room is claim.room
        and max(claim.span[0], other.span[0]) - min(claim.span[1], other.span[1])
        < max(rules.least_gap_mm, NEAR_MM)
        for other in others
    )


def bar_of(side: Side, claim: Claim, free: Stretch, name: str) -> Bar:
    """Return the bar of a claim: rounded to a step where there is room, cut into pieces, explained.

    Args:
        side: The side of the building.
        claim: What the cracks on this bed want.
        free: How far the bar may grow at each end before it meets another bar [mm].
        name: The bar's id.
    """
    rules, room = side.rules, claim.room
    left = reach(room.left, claim.core[0], rules, towards=-1)
    right = reach(room.right, claim.core[1], rules, towards=1)
    start, end, turns = _rounded(left, right, free, rules)
    straight = end - start
    # Rounding has made the length whole; binary noise of the two ends must not show in a piece.
    pieces = cut_pieces(round(straight + turns[0] + turns[1]), rules)
    thin, skim = skimmed(side, claim.course, (start, end), sum(turns))
    reasons = [claim.spacing, *_shared(claim, rules)]
    reasons += _end_reasons("left", room.left, left, claim.core[0], rules)
    reasons += _end_reasons("right", room.right, right, claim.core[1], rules)
    grown = straight + sum(turns) - _asked(left, right)
    reasons += _making_reasons(pieces, (left, right), grown, rules)
    reasons += _neighbour_reasons((left, right), grown, free, rules)
    reasons += thin
    return Bar(
        name,
        side.elevation.id,
        claim.course,
        start,
        end,
        side.coursing.bed_middle(claim.course),
        turns[0],
        turns[1],
        pieces,
        side.slot_depth_mm,
        side.slot_height_mm,
        bool(thin),
        claim.cracks,
        tuple(reasons),
        skim,
        min(left.anchorage, right.anchorage),
    )


def _asked(left: Reach, right: Reach) -> float:
    return abs(right.to - left.to) + left.turn + right.turn


def _rounded(
    left: Reach, right: Reach, free: Stretch, rules: Rules
) -> tuple[float, float, tuple[float, float]]:
    """Grow a bar to the next step where there is room, else trim it to a whole millimetre."""
    asked = _asked(left, right)
    step = rules.bar_rounding_mm
    extra = math.ceil(round(asked / step, 9)) * step - asked
    grow_left, grow_right = min(left.spare, free[0]), min(right.spare, free[1])
    if extra <= grow_left + grow_right:
        at_left = min(max(extra / 2, extra - grow_right), grow_left)
        return left.to - at_left, right.to + extra - at_left, (left.turn, right.turn)
    over = asked - math.floor(asked + NEAR_MM)
    # A turned bar keeps to the quoin's edge, so it is the leg that gives the part of a millimetre.
    if right.turn:
        return left.to, right.to, (left.turn, right.turn - over)
    if left.turn:
        return left.to, right.to, (left.turn - over, right.turn)
    return left.to, right.to - over, (0.0, 0.0)


def cut_pieces(length_mm: int, rules: Rules) -> tuple[int, ...]:
    """Return the pieces a bar is made of: one, or as many as the longest stock needs, lapped [mm].

    >>> from estimator.takeoff.rules import changed, shipped
    >>> cut_pieces(5000, changed(shipped(), stock_lengths_mm=[3000], lap_mm=400))
    (3000, 2400)
    """
    longest, lap = max(rules.stock_lengths_mm), rules.lap_mm
    if length_mm <= longest:
        return (length_mm,)
    count = math.ceil((length_mm - lap) / (longest - lap))
    last = length_mm + (count - 1) * lap - (count - 1) * longest
    short = max(min(rules.least_piece_mm, longest // 2) - last, 0)
    # Too short an end would be hard to lap: the piece before it gives what is missing.
    return (*[longest] * (count - 2), longest - short, last + short)


def skimmed(side: Side, course: int, span: Stretch, turned_mm: float) -> tuple[list[Reason], float]:
    """Return the length of arris skimmed for a bar to go into a thin bed, and why [mm].

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> wall = Elevation("f", "Front", ((0, 0), (3000, 0), (3000, 1500), (0, 1500)))
    >>> skimmed(side_of(wall, shipped(), ""), 2, (0, 900), 0)
    ([], 0)
    """
    skim = sum(stop - begin for begin, stop in thin_stretches(side, course, span))
    if not skim:
        return [], 0
    if skim >= span[1] - span[0] - NEAR_MM:
        # A bed thin all along the bar is thin round the corner too.
        skim += turned_mm
    least = side.rules.least_bed_mm
    text = (
        f"The bed is under {least:g} mm for {skim / 1000:.2f} m: the arris is skimmed there for "
        "the bar to go in; the joint is not widened."
    )
    return [Reason("thin_bed", text, "common_practice")], skim


def thin_stretches(side: Side, course: int, span: Stretch) -> list[Stretch]:
    """Return where a bed is too thin for the bar within a span.

    >>> from estimator.survey.survey import Elevation, ThinBed
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> outline = ((0, 0), (3000, 0), (3000, 1500), (0, 1500))
    >>> wall = Elevation("f", "Front", outline, thin_beds=(ThinBed(2, 900, 1300, 6),))
    >>> thin_stretches(side_of(wall, shipped(), ""), 2, (1000, 2000))
    [(1000, 1300)]
    """
    least = side.rules.least_bed_mm
    if side.coursing.bed_mm < least:
        return [span]
    found = [
        (max(one.from_mm, span[0]), min(one.to_mm, span[1]))
        for one in side.elevation.thin_beds
        if one.course == course and one.thickness_mm < least
    ]
    return merged(stretch for stretch in found if stretch[1] > stretch[0])


def _shared(claim: Claim, rules: Rules) -> list[Reason]:
    """Say what the bar spans: one crack, or several."""
    beyond = f"{rules.anchorage_mm:,.0f} mm beyond the crack on each side where there is room."
    if len(claim.cracks) == 1:
        return [Reason("anchorage", beyond, "common_practice")]
    names = listed(claim.cracks)
    apart = claim.core[1] - claim.core[0]
    text = f"Cracks {names} lie within {apart:,.0f} mm here: one bar serves them."
    return [Reason("shared", text, "common_practice")]


def _end_reasons(where: str, limit: Limit, end: Reach, core: float, rules: Rules) -> list[Reason]:
    """Say why a bar ends where it does on one side."""
    away = f"{abs(limit.x - core):,.0f} mm"
    if limit.stop is Stop.RUNS_ON:
        beyond = abs(end.to - core) - abs(limit.x - core)
        if beyond <= NEAR_MM:
            return []
        text = f"Runs on to the {where} {beyond:,.0f} mm beyond what is drawn."
        return [Reason("end", text, "house")]
    if end.turn:
        text = (
            f"Turned round the quoin on the {where}: {away} straight, {end.turn:,.0f} mm round it."
        )
        return [Reason("quoin", text, "common_practice")]
    if end.anchorage >= rules.anchorage_mm - NEAR_MM:
        return []
    said = {
        Stop.OPENING: ("opening", f"the {limit.name} is {away} from the crack"),
        Stop.MOVEMENT_JOINT: (
            "movement_joint",
            f"a bar never crosses the movement joint {away} away",
        ),
        Stop.QUOIN: ("quoin", f"the quoin is {away} from the crack"),
    }
    code, why = said.get(limit.stop, ("end", f"the wall ends {away} from the crack"))
    reasons = [Reason(code, f"Shortened on the {where}: {why}.", source_of(limit.stop))]
    return reasons + short_reason(where, end.anchorage, rules)


def short_reason(where: str, beyond: float, rules: Rules) -> list[Reason]:
    """Return why an engineer is asked about one side of a bar, where it is too short there.

    Args:
        where: The side, ``left`` or ``right``.
        beyond: The bar beyond the crack there [mm].
        rules: Say what is the least.

    >>> from estimator.takeoff.rules import shipped
    >>> short_reason("left", 0, shipped())[0].text
    'Nothing beyond the crack on the left, where 300 mm is the least: ask the engineer.'
    """
    if beyond >= rules.least_anchorage_mm:
        return []
    only = f"Only {beyond:,.0f} mm" if beyond > NEAR_MM else "Nothing"
    text = (
        f"{only} beyond the crack on the {where}, where {rules.least_anchorage_mm:,.0f} mm is the "
        "least: ask the engineer."
    )
    return [Reason("short", text, "common_practice")]


def source_of(stop: Stop) -> str:
    """Return what says that a bar ends at such a place.

    >>> source_of(Stop.OPENING)
    'common_practice'
    """
    return "en_1996_2_3_5_5" if stop is Stop.MOVEMENT_JOINT else "common_practice"


def _making_reasons(
    pieces: Sequence[int], ends: tuple[Reach, Reach], grown: float, rules: Rules
) -> list[Reason]:
    """Say how a bar is cut: rounded to a step, made of lapped pieces."""
    reasons = []
    if grown > NEAR_MM:
        step = rules.bar_rounding_mm
        text = f"Cut to {_asked(*ends) + grown:,.0f} mm, the next step of {step} mm."
        reasons.append(Reason("rounded", text, "house"))
    return reasons + lap_reasons(pieces, rules)


def _neighbour_reasons(
    ends: tuple[Reach, Reach], grown: float, free: Stretch, rules: Rules
) -> list[Reason]:
    """Say where a bar did not get its next step because of the bar beside it."""
    step, asked = rules.bar_rounding_mm, _asked(*ends)
    extra = math.ceil(round(asked / step, 9)) * step - asked
    if grown > NEAR_MM or extra <= NEAR_MM or extra > ends[0].spare + ends[1].spare:
        return []
    apart = 2 * min(free)
    text = (
        f"Not cut to the next step of {step} mm: the next bar in this bed is {apart:,.0f} mm away."
    )
    return [Reason("neighbour", text, "house")]


def lap_reasons(pieces: Sequence[int], rules: Rules) -> list[Reason]:
    """Say why a bar is made of several pieces, where it is.

    >>> from estimator.takeoff.rules import shipped
    >>> lap_reasons((1000,), shipped())
    []
    """
    if len(pieces) == 1:
        return []
    text = (
        f"Longer than the longest bar bought ({max(rules.stock_lengths_mm):,} mm): "
        f"{len(pieces)} pieces lapped {rules.lap_mm:,} mm."
    )
    return [Reason("lap", text, "house")]
