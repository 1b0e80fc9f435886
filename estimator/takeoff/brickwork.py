"""Cracked bricks: replaced, halves slipped in, turned, patched, toothed in, allowed for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.survey.ranges import likely
from estimator.survey.survey import CrackedBrick, Treatment
from estimator.takeoff.grout_and_mortar import bricks_to_order
from estimator.takeoff.lines import Item, Line, Mark, Need, Surety
from estimator.takeoff.side import Side
from estimator.takeoff.stretches import Box, Stretch, merged
from estimator.takeoff.work import (
    L_PER_M3,
    MM2_PER_M2,
    MM3_PER_L,
    MM_PER_M,
    NOTHING,
    Detail,
    Part,
    counted,
    line,
    mortar_needs,
    need,
    two,
    volume_l,
    with_waste,
)
from estimator.units import Unit


@dataclass(frozen=True, slots=True)
class LaidBrick:
    """A brick to be treated, where it lies in the wall."""

    course: int
    face: int
    box: Box
    item: Item
    mark: Mark

    @property
    def is_cut_out(self) -> bool:
        """Whether it comes out of the wall, so that its joints are made new with it."""
        return self.item is not Item.PATCH_BRICK


WORDS = {
    Item.REPLACE_BRICK: "cut out and replaced",
    Item.REPLACE_HALF_BRICK: "cut back and half bricks slipped in",
    Item.TURN_BRICK: "cut out and turned",
    Item.PATCH_BRICK: "patched",
}


def bricks_of(side: Side) -> tuple[LaidBrick, ...]:
    """Return the bricks to be treated, each once; those left alone are left out.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> bricks = (CrackedBrick(2, 1, Treatment.TURN), CrackedBrick(3, 1, Treatment.LEAVE))
    >>> outline = ((0, 0), (900, 0), (900, 750), (0, 750))
    >>> side = side_of(Elevation("f", "F", outline, bricks=bricks), shipped(), "")
    >>> [brick.mark for brick in bricks_of(side)]
    ['f/brick/2/1']
    """
    found: dict[tuple[int, int], LaidBrick] = {}
    for brick in side.elevation.bricks:
        if brick.treatment is not Treatment.LEAVE:
            found.setdefault((brick.course, brick.place), _laid(side, brick))
    return tuple(found[key] for key in sorted(found))


def _laid(side: Side, brick: CrackedBrick) -> LaidBrick:
    if brick.treatment is Treatment.REPLACE:
        item = Item.REPLACE_HALF_BRICK if brick.half else Item.REPLACE_BRICK
    else:
        item = Item.TURN_BRICK if brick.treatment is Treatment.TURN else Item.PATCH_BRICK
    face, box = side.brick_at(brick.course, brick.place)
    return LaidBrick(brick.course, face, box, item, side.mark("brick", brick.course, brick.place))


@dataclass(frozen=True, slots=True)
class RoundBricks:
    """The joints round bricks that come out: made new with the bricks, each counted once."""

    beds: dict[int, list[Stretch]]
    perpends: frozenset[tuple[int, int]]
    """As (course, face on the left)."""

    def metres(self, side: Side) -> tuple[float, float]:
        """Return the length of bed and of perpend [m]."""
        bed = sum(right - left for row in self.beds.values() for left, right in row)
        return bed / MM_PER_M, len(self.perpends) * side.coursing.face_height_mm / MM_PER_M


def joints_round(side: Side, bricks: Sequence[LaidBrick]) -> RoundBricks:
    """Return the joints round bricks: above, below and at both ends, to the outer corners.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> bricks = (CrackedBrick(2, 2, Treatment.REPLACE), CrackedBrick(2, 3, Treatment.REPLACE))
    >>> outline = ((0, 0), (900, 0), (900, 750), (0, 750))
    >>> side = side_of(Elevation("f", "F", outline, bricks=bricks), shipped(), "")
    >>> joints_round(side, bricks_of(side)).metres(side)
    (0.92, 0.195)
    """
    beds: dict[int, list[Stretch]] = defaultdict(list)
    perpends = set()
    beyond = side.coursing.perpend_mm
    for brick in bricks:
        if not brick.is_cut_out:
            continue
        across = (brick.box.left - beyond, brick.box.right + beyond)
        beds[brick.course].append(across)
        beds[brick.course + 1].append(across)
        perpends |= {(brick.course, brick.face - 1), (brick.course, brick.face)}
    return RoundBricks({bed: merged(row) for bed, row in beds.items()}, frozenset(perpends))


def brick_part(side: Side, bricks: Sequence[LaidBrick]) -> Part:
    """Measure the bricks of one side: numbers, toothing, bricks to buy, mortar, rubble.

    >>> from estimator.survey.survey import Elevation
    >>> from estimator.takeoff.rules import shipped
    >>> from estimator.takeoff.side import side_of
    >>> bricks = (CrackedBrick(2, 2, Treatment.REPLACE), CrackedBrick(5, 2, Treatment.REPLACE))
    >>> outline = ((0, 0), (900, 0), (900, 750), (0, 750))
    >>> side = side_of(Elevation("f", "Front", outline, bricks=bricks), shipped(), "nhl35_1_3")
    >>> part = brick_part(side, bricks_of(side))
    >>> {need.material: str(need.quantity) for need in part.needs}["facing_brick"]
    '3 nr'
    """
    allowed = round(likely(side.elevation.hidden_bricks))
    if not bricks and not allowed:
        return NOTHING
    kinds: dict[Item, list[LaidBrick]] = defaultdict(list)
    for brick in bricks:
        kinds[brick.item].append(brick)
    lines: list[Line] = []
    needs: list[Need] = []
    rubble = 0.0
    for item in WORDS:
        if kinds[item]:
            lines += _counted(side, item, kinds[item])
            needs += _laying(side, item, kinds[item])
            rubble += _rubble_kg(side, item, len(kinds[item]))
    lines += _toothed(side, kinds[Item.REPLACE_BRICK])
    if allowed:
        text = f"{counted(allowed, 'further brick')} allowed for, not seen; paid for as found"
        detail = Detail(text, (side.mark(),), surety=Surety.ALLOWED)
        lines += line(side, Item.ALLOWED_BRICK, allowed, Unit.NUMBER, detail)
        rubble += _rubble_kg(side, Item.REPLACE_BRICK, allowed)
        needs += _laying_allowed(side, allowed)
    whole, halves = len(kinds[Item.REPLACE_BRICK]), len(kinds[Item.REPLACE_HALF_BRICK])
    needs += _facings(side, whole, halves, allowed)
    needs += _patching(side, kinds[Item.PATCH_BRICK])
    faces = (len(bricks) + allowed) * side.coursing.brick.length_mm * side.coursing.gauge_mm
    return Part(tuple(lines), tuple(needs), rubble, faces / MM2_PER_M2)


def _counted(side: Side, item: Item, bricks: Sequence[LaidBrick]) -> tuple[Line, ...]:
    text = f"{len(bricks)} {WORDS[item]}"
    if bricks[0].is_cut_out:
        text += ", with the joints round them made new"
    marks = tuple(brick.mark for brick in bricks)
    detail = Detail(text, marks, surety=Surety.COUNTED)
    return line(side, item, len(bricks), Unit.NUMBER, detail)


def _depth_mm(side: Side, item: Item) -> float:
    """Return how deep the joints round a brick are filled: the brick's width into the wall."""
    share = side.rules.half_depth_share if item is Item.REPLACE_HALF_BRICK else 1.0
    return side.coursing.brick.width_mm * share


def _laying(side: Side, item: Item, bricks: Sequence[LaidBrick]) -> tuple[Need, ...]:
    bed, perpend = joints_round(side, bricks).metres(side)
    depth, factor = _depth_mm(side, item), side.rules.laying_factor
    bare = volume_l(bed, side.coursing.bed_mm, depth)
    bare += volume_l(perpend, side.coursing.perpend_mm, depth)
    text = (
        f"{two(bed)} m of bed and {two(perpend)} m of perpend, {depth:g} mm deep "
        f"= {two(bare)} L × {factor:g}"
    )
    return mortar_needs(side, item, bare * factor, text)


def _laying_allowed(side: Side, count: int) -> tuple[Need, ...]:
    """Return the mortar of bricks allowed for: each as if it stood alone, a stretcher."""
    coursing, factor = side.coursing, side.rules.laying_factor
    across = coursing.brick.length_mm + 2 * coursing.perpend_mm
    depth = _depth_mm(side, Item.REPLACE_BRICK)
    bare = volume_l(count * 2 * across / MM_PER_M, coursing.bed_mm, depth)
    up = count * 2 * coursing.face_height_mm / MM_PER_M
    bare += volume_l(up, coursing.perpend_mm, depth)
    text = f"joints round {counted(count, 'brick')}, {depth:g} mm deep = {two(bare)} L × {factor:g}"
    return mortar_needs(side, Item.ALLOWED_BRICK, bare * factor, text)


def _rubble_kg(side: Side, item: Item, count: int) -> float:
    """Return the mass of bricks taken away; a turned brick goes back, a patched one stays."""
    if item not in (Item.REPLACE_BRICK, Item.REPLACE_HALF_BRICK):
        return 0.0
    brick = side.coursing.brick
    litres = brick.length_mm * brick.height_mm * _depth_mm(side, item) / MM3_PER_L
    return count * litres / L_PER_M3 * side.rules.brick_kg_m3


def _facings(side: Side, whole: int, halves: int, allowed: int) -> tuple[Need, ...]:
    """Return the bricks to buy: one for each new one, whole or half, and spares by the rule."""
    one_in, fresh = side.rules.spare_one_in, whole + halves
    spare = bricks_to_order(fresh, spare_one_in=one_in) - fresh
    # Spares for all are reckoned together, then those for the bricks seen taken off again.
    all_spare = bricks_to_order(fresh + allowed, spare_one_in=one_in) - fresh - allowed
    spares = f" + {spare} spare, 1 in {one_in} and 1 at the least"
    needs: list[Need] = []
    # Spares go with the whole bricks where there are any.
    for item, count in ((Item.REPLACE_BRICK, whole), (Item.REPLACE_HALF_BRICK, halves)):
        if count:
            more, text = (spare, spares) if item is Item.REPLACE_BRICK or not whole else (0, "")
            needs += need("facing_brick", item, count + more, Unit.NUMBER, f"{count}{text}")
    rest = all_spare - spare
    text = f"{allowed} allowed for + {rest} spare"
    needs += need("facing_brick", Item.ALLOWED_BRICK, allowed + rest, Unit.NUMBER, text)
    return tuple(needs)


def _patching(side: Side, bricks: Sequence[LaidBrick]) -> tuple[Need, ...]:
    rules = side.rules
    face = sum(brick.box.area_mm2 for brick in bricks)
    litres = face * rules.patch_share * rules.patch_depth_mm / MM3_PER_L
    text = (
        f"{counted(len(bricks), 'face')} × {rules.patch_share:g} × {rules.patch_depth_mm:g} mm "
        f"= {two(litres)} L + {rules.pointing_waste:g} % waste"
    )
    wanted = with_waste(litres, rules.pointing_waste)
    return need("patch_mortar", Item.PATCH_BRICK, wanted, Unit.LITRE, text)


def _toothed(side: Side, bricks: Sequence[LaidBrick]) -> tuple[Line, ...]:
    """Measure the upright edges of patches of touching bricks, both sides of each course."""
    patches = [one for one in touching(bricks) if len(one) >= side.rules.toothing_from_bricks]
    courses = sum(len({brick.course for brick in patch}) for patch in patches)
    if not courses:
        return ()
    edge = 2 * courses * side.coursing.gauge_mm / MM_PER_M
    text = counted(len(patches), "patch", "patches")
    text += f", {courses} courses × 2 edges × {side.coursing.gauge_mm:g} mm"
    marks = tuple(brick.mark for patch in patches for brick in patch)
    return line(side, Item.TOOTH_IN, edge, Unit.METRE, Detail(text, marks))


def touching(bricks: Sequence[LaidBrick]) -> list[list[LaidBrick]]:
    """Return bricks in groups that touch: neighbours in a course, or one resting on another.

    >>> boxes = [(n, Box(n * 225, 10, n * 225 + 215, 75)) for n in (0, 1, 3)]
    >>> row = [LaidBrick(1, n, box, Item.REPLACE_BRICK, "") for n, box in boxes]
    >>> [len(group) for group in touching(row)]
    [2, 1]
    """
    courses: dict[int, list[LaidBrick]] = defaultdict(list)
    for brick in bricks:
        courses[brick.course].append(brick)
    left = dict.fromkeys(bricks)
    groups = []
    while left:
        waiting = [next(iter(left))]
        left.pop(waiting[0])
        group = []
        while waiting:
            brick = waiting.pop()
            group.append(brick)
            near = [one for row in (-1, 0, 1) for one in courses.get(brick.course + row, ())]
            found = [one for one in near if one in left and _touch(brick, one)]
            for one in found:
                left.pop(one)
            waiting += found
        groups.append(sorted(group, key=lambda one: (one.course, one.face)))
    return groups


def _touch(one: LaidBrick, two: LaidBrick) -> bool:
    if one.course == two.course:
        return abs(one.face - two.face) == 1
    return one.box.left < two.box.right and two.box.left < one.box.right
