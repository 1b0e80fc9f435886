"""What a hand may do to a drawn wall, sensible and silly, drawn by chance."""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from estimator.masonry.bond import bond_keys
from estimator.masonry.brick import format_keys
from estimator.masonry.region import Point
from estimator.quoting.edits import Edit, Work
from estimator.quoting.wall_edits import (
    areas,
    bars,
    bricks,
    cracks,
    openings,
    outline,
    photos,
    sides,
    thin_beds,
)
from estimator.survey.ranges import Range
from estimator.survey.survey import (
    Answer,
    Basis,
    Elevation,
    Ground,
    HandWork,
    Lintel,
    Mortar,
    PhotoPoint,
    StraightRun,
    Treatment,
    WallBuild,
    WallEnd,
)
from estimator.takeoff.lines import Bar
from estimator.takeoff.measure import measure
from estimator.takeoff.rules import shipped
from estimator.takeoff.scope import LOCAL

SILLY = (math.nan, math.inf, -math.inf, 1e9, -1e9, 0.0, -1.0, 0.4, 199_999.6)
NAMES = ("Front", "Back", "front", "é/🧱", " ", "", "x" * 300, "Rückseite\nlinks", "1")


class Hand:
    """One hand at one wall; what it does next is left to chance."""

    def __init__(self, work: Work, chance: Random) -> None:
        self.work, self.chance = work, chance
        self.wall: Elevation = chance.choice(work.survey.elevations)
        self.side = self.wall.id if chance.random() > 0.01 else "nowhere"
        self.box = outline.bounds_of(self.wall.outline)

    def silly(self) -> bool:
        """Whether something silly is done; one time in fifteen."""
        return self.chance.random() < 1 / 15

    def along(self) -> float:
        """A place along the wall, or a little beyond, or nowhere."""
        left, _bottom, right, _top = self.box
        if self.silly():
            return self.chance.choice(SILLY)
        return self.chance.uniform(left - 60, right + 60)

    def up(self) -> float:
        """A level on the wall, or a little beyond, or nowhere."""
        _left, bottom, _right, top = self.box
        if self.silly():
            return self.chance.choice(SILLY)
        return self.chance.uniform(bottom - 20, top + 20)

    def point(self) -> Point:
        """A place on the wall."""
        return self.along(), self.up()

    def near(self, place: Point) -> Point:
        """A place not far from another."""
        x, y = place
        return x + self.chance.uniform(-300, 300), y + self.chance.uniform(-200, 200)

    def size(self, low: float, high: float) -> float:
        """A length, or a silly one."""
        return self.chance.choice(SILLY) if self.silly() else self.chance.uniform(low, high)

    def course(self) -> int:
        """A course of the wall, or none."""
        if self.silly():
            return self.chance.choice((-3, 0, 5000))
        return self.chance.randint(1, max(int(self.box[3] / 80), 1))

    def number(self, parts: tuple[object, ...]) -> int:
        """A number from 1 of one of several, or of none."""
        return self.chance.randint(0 if self.silly() else 1, max(len(parts), 1) + self.silly())

    def one(self, parts: tuple[object, ...]) -> str:
        """The id of one of several, or of none."""
        ids = [part.id for part in parts]  # type: ignore[attr-defined]
        return self.chance.choice(ids) if ids and not self.silly() else "none"

    def bar(self) -> Bar | None:
        """A bar that is measured now."""
        found = measure(self.work.survey, LOCAL, shipped()).bars
        here = [bar for bar in found if bar.elevation == self.wall.id]
        return self.chance.choice(here) if here else None

    def yes(self) -> bool:
        """One time in two."""
        return self.chance.random() < 0.5


def resize(hand: Hand) -> Edit:
    width, height = hand.size(600, 9000), hand.size(500, 5000)
    if hand.yes():
        return outline.set_size(hand.work, hand.side, width_mm=width)
    return outline.set_size(hand.work, hand.side, height_mm=height)


def gable(hand: Hand) -> Edit:
    if hand.chance.random() < 0.3:
        return outline.drop_gable(hand.work, hand.side)
    eaves = hand.size(hand.box[3] * 0.7, hand.box[3])
    at = hand.along() if hand.yes() else None
    return outline.set_gable(
        hand.work, hand.side, eaves_mm=eaves, ridge_mm=hand.size(2000, 6000), ridge_at_mm=at
    )


def corner(hand: Hand) -> Edit:
    number = hand.number(hand.wall.outline)
    place = hand.near(hand.wall.outline[min(number, len(hand.wall.outline)) - 1])
    return outline.move_corner(hand.work, hand.side, number, place)


def redraw(hand: Hand) -> Edit:
    left, bottom, right, top = hand.box
    drawn = [(left, bottom), (right, bottom), (right, top), hand.point(), (left, top)]
    if hand.silly():
        hand.chance.shuffle(drawn)
    return outline.set_outline(hand.work, hand.side, drawn)


def relay(hand: Hand) -> Edit:
    pick = hand.chance.choice
    fields: dict[str, object] = {
        "brick": pick(format_keys()),
        "bond": pick(bond_keys()),
        "ratio": pick((0, 1, 3, 5)),
        "mortar": pick(tuple(Mortar)),
        "build": pick(tuple(WallBuild)),
        "bed_usual_mm": pick((None, 8.0, 12.5, hand.size(1, 30))),
        "bed_least_mm": pick((None, 4.0, hand.size(1, 12))),
        "perpend_mm": pick((None, 8.0, 10.0, hand.size(5, 15))),
    }
    names = hand.chance.sample(sorted(fields), hand.chance.randint(1, 2))
    return outline.set_brickwork(hand.work, hand.side, **{name: fields[name] for name in names})


def end(hand: Hand) -> Edit:
    which = "left" if hand.yes() else "right"
    to = hand.one(hand.work.survey.elevations) if hand.chance.random() < 0.3 else ""
    how = WallEnd.QUOIN if to and not hand.silly() else hand.chance.choice(tuple(WallEnd))
    return outline.set_end(hand.work, hand.side, which, how, to)  # type: ignore[arg-type]


def ground(hand: Hand) -> Edit:
    if hand.yes():
        return outline.set_damp_course(hand.work, hand.side, hand.up() if hand.yes() else None)
    return outline.set_ground(
        hand.work,
        hand.side,
        datum_height_mm=hand.size(-100, 3000),
        ground=hand.chance.choice(tuple(Ground)),
    )


def movement_joint(hand: Hand) -> Edit:
    joints = hand.wall.movement_joints_mm
    turn = hand.chance.random()
    if turn < 0.5:
        return outline.add_movement_joint(hand.work, hand.side, hand.along())
    if turn < 0.8:
        number = hand.number(joints)
        return outline.move_movement_joint(hand.work, hand.side, number, hand.along())
    return outline.remove_movement_joint(hand.work, hand.side, hand.number(joints))


def ornament(hand: Hand) -> Edit:
    return outline.set_ornament(hand.work, hand.side, hand.chance.choice((*NAMES, "x" * 5000)))


def opening(hand: Hand) -> Edit:
    return openings.add_opening(
        hand.work,
        hand.side,
        left_mm=hand.along(),
        bottom_mm=hand.up(),
        width_mm=hand.size(100, 1200),
        height_mm=hand.size(100, 1200),
        kind=hand.chance.choice(("window", "door", "vent", "", "Lüfter/1", "x" * 60)),
    )


def reopening(hand: Hand) -> Edit:
    name, turn = hand.one(hand.wall.openings), hand.chance.random()
    if turn < 0.3:
        return openings.remove_opening(hand.work, hand.side, name)
    if turn < 0.6:
        return openings.move_opening(hand.work, hand.side, name, hand.along(), hand.up())
    fields: dict[str, object] = {
        "width_mm": hand.size(100, 1500),
        "height_mm": hand.size(100, 1500),
        "left_mm": hand.along(),
        "kind": hand.chance.choice(("door", "window")),
        "sill_mm": hand.size(0, 150),
        "lintel": hand.chance.choice(tuple(Lintel)),
        "lintel_mm": hand.size(0, 200),
        "lintel_bearing_mm": hand.size(0, 150),
    }
    names = hand.chance.sample(sorted(fields), hand.chance.randint(1, 3))
    return openings.change_opening(hand.work, hand.side, name, **{n: fields[n] for n in names})


def trace(hand: Hand) -> Edit:
    places = [hand.point()]
    for _leg in range(hand.chance.randint(0 if hand.silly() else 1, 5)):
        places.append(hand.near(places[-1]))
    cuts = [leg for leg in range(1, len(places)) if hand.chance.random() < 0.2]
    if hand.silly():
        cuts.append(hand.chance.choice((0, 99)))
    width = hand.size(0.2, 12) if hand.yes() else None
    return cracks.trace(hand.work, hand.side, places, cuts=cuts, width_mm=width)


def retrace(hand: Hand) -> Edit:
    name, turn = hand.one(hand.wall.cracks), hand.chance.random()
    work, side = hand.work, hand.side
    if turn < 0.1:
        return cracks.remove_crack(work, side, name)
    points = cracks.points_of(work, side, name)
    number = hand.number(points)
    near = hand.near(points[min(max(number, 1), len(points)) - 1])
    if turn < 0.4:
        return cracks.move_point(work, side, name, number, near)
    if turn < 0.55:
        return cracks.insert_point(work, side, name, number, near)
    if turn < 0.7:
        return cracks.drop_point(work, side, name, number)
    if turn < 0.85:
        return cracks.extend(
            work, side, name, hand.near(points[-1]), cuts=hand.yes(), at_start=hand.silly()
        )
    return cracks.cut_leg(work, side, name, number, cuts=hand.yes())


def say_of_crack(hand: Hand) -> Edit:
    name, turn = hand.one(hand.wall.cracks), hand.chance.random()
    if turn < 0.4:
        wanted = hand.chance.choice(
            (
                {"stitch": hand.yes()},
                {"both_faces": Answer.YES},
                {"tapers": Answer.NO},
                {"width_mm": hand.size(0.2, 20)},
                {"width_mm": Range(1.0, 2.0, 4.0)},
                {"run": StraightRun(hand.along(), hand.course(), 4.0)},
            )
        )
        return cracks.change_crack(hand.work, hand.side, name, **wanted)
    found = next((one for one in hand.wall.cracks if one.id == name), None)
    if found is not None and turn < 0.6:
        return cracks.drop_width(hand.work, hand.side, name, hand.number(found.widths))
    places = cracks.points_of(hand.work, hand.side, name)
    place = hand.chance.choice(places)
    at = hand.point() if hand.silly() else (place[0] + hand.size(-50, 50), place[1])
    return cracks.set_width(hand.work, hand.side, name, *at, hand.size(0.1, 20))


def brick(hand: Hand) -> Edit:
    place, turn = hand.chance.randint(0 if hand.silly() else 1, 24), hand.chance.random()
    treatment = hand.chance.choice(tuple(Treatment))
    if turn < 0.4:
        return bricks.toggle(hand.work, hand.side, hand.course(), place, treatment, half=hand.yes())
    if turn < 0.5:
        return bricks.set_hidden(hand.work, hand.side, hand.chance.choice((0, 3, 12, -1, 99999)))
    if turn < 0.6:
        marked = [(one.course, one.place) for one in hand.wall.bricks]
        return bricks.unmark(hand.work, hand.side, marked[:2])
    row, start = hand.course(), hand.chance.randint(1, 15)
    stroke = [(row, start + step) for step in range(hand.chance.randint(0, 4))]
    return bricks.mark(hand.work, hand.side, stroke, treatment, half=hand.yes())


def bar(hand: Hand) -> Edit:
    found, turn = hand.bar(), hand.chance.random()
    if found is None or turn < 0.2:
        return bars.add_bar(hand.work, hand.side, hand.course(), hand.along(), hand.along())
    if turn < 0.4:
        return bars.keep(hand.work, hand.side, found)
    if turn < 0.55:
        return bars.leave_out(hand.work, hand.side, found)
    fields: dict[str, object] = {
        "course": found.course + hand.chance.choice((-1, 1)),
        "from_mm": found.left_mm + hand.size(-400, 400),
        "to_mm": found.right_mm + hand.size(-400, 400),
    }
    names = hand.chance.sample(sorted(fields), hand.chance.randint(0, 3))
    wanted = {name: fields[name] for name in names}
    return bars.take_over(hand.work, hand.side, found, **wanted)  # type: ignore[arg-type]


def hand_bar(hand: Hand) -> Edit:
    name = hand.one(hand.wall.bars)
    if hand.chance.random() < 0.3:
        return bars.back_to_rule(hand.work, hand.side, name)
    fields: dict[str, object] = {
        "course": hand.course(),
        "from_mm": hand.along(),
        "to_mm": hand.along(),
        "work": hand.chance.choice(tuple(HandWork)),
        "turn_left_mm": hand.size(0, 600),
    }
    names = hand.chance.sample(sorted(fields), hand.chance.randint(1, 2))
    return bars.change_bar(hand.work, hand.side, name, **{n: fields[n] for n in names})


def area(hand: Hand) -> Edit:
    x0, y0 = hand.point()
    box = (x0, y0, x0 + hand.size(-900, 900), y0 + hand.size(-900, 900))
    turn = hand.chance.random()
    if turn < 0.25:
        return areas.add_panel(hand.work, hand.side, box)
    if turn < 0.5:
        return areas.to_the_openings(hand.work, hand.side, box)
    ring = [(x0, y0), (box[2], y0), hand.near((box[2], box[3])), (x0, box[3])]
    if hand.silly():
        ring = ring[: hand.chance.randint(0, 3)]
    if turn < 0.65:
        return areas.add_area(hand.work, hand.side, ring)
    name = hand.one(hand.wall.areas)
    if turn < 0.85:
        return areas.change_area(hand.work, hand.side, name, ring)
    return areas.remove_area(hand.work, hand.side, name)


def thin_bed(hand: Hand) -> Edit:
    beds, turn = hand.wall.thin_beds, hand.chance.random()
    if turn < 0.6:
        return thin_beds.mark_thin(
            hand.work, hand.side, hand.course(), hand.along(), hand.along(), hand.size(2, 9)
        )
    number = hand.number(beds)
    if turn < 0.8:
        fields = {
            "from_mm": hand.along(),
            "thickness_mm": hand.size(2, 9),
            "course": hand.course(),
        }
        name = hand.chance.choice(sorted(fields))
        return thin_beds.change_thin(hand.work, hand.side, number, **{name: fields[name]})
    return thin_beds.remove_thin(hand.work, hand.side, number)


def side(hand: Hand) -> Edit:
    work, name, turn = hand.work, hand.chance.choice(NAMES), hand.chance.random()
    if len(work.survey.elevations) >= 3 or turn < 0.1:
        return sides.remove_side(work, hand.side)
    if turn < 0.3:
        return sides.add_side(work, name=name, width_mm=hand.size(900, 6000))
    if turn < 0.6:
        return sides.copy_side(work, hand.side, name=name, with_marks=hand.yes())
    which = "left" if hand.yes() else "right"
    return sides.add_return(work, hand.side, which, width_mm=hand.size(900, 4000))  # type: ignore[arg-type]


def turn_side(hand: Hand) -> Edit:
    work, turn = hand.work, hand.chance.random()
    if turn < 0.5:
        return sides.mirror_side(work, hand.side)
    if turn < 0.7:
        return sides.rename_side(work, hand.side, hand.chance.choice(NAMES))
    if turn < 0.75:
        return sides.from_answers(work)
    return sides.set_basis(work, hand.chance.choice(tuple(Basis)))


def photo(hand: Hand) -> Edit:
    work, turn, name = hand.work, hand.chance.random(), hand.one(hand.work.survey.photos)
    if turn < 0.4:
        return photos.add_photo(
            work, hand.side, picture="0a" * 32, width_px=1600, height_px=1200, taken="2026-11-25"
        )
    if turn < 0.5:
        return photos.remove_photo(work, name)
    if turn < 0.7:
        caption = hand.chance.choice((*NAMES, "x" * 5000))
        fields = hand.chance.choice(({"caption": caption}, {"elevation": hand.side}))
        return photos.change_photo(work, name, **fields)
    places = [PhotoPoint(hand.size(0, 1600), hand.size(0, 1200), *hand.point()) for _ in range(4)]
    return photos.set_points(work, name, places)


ALL: tuple[tuple[Callable[[Hand], Edit], int], ...] = (
    (resize, 3),
    (gable, 2),
    (corner, 2),
    (redraw, 1),
    (relay, 3),
    (end, 2),
    (ground, 2),
    (movement_joint, 3),
    (ornament, 1),
    (opening, 5),
    (reopening, 6),
    (trace, 8),
    (retrace, 10),
    (say_of_crack, 8),
    (brick, 10),
    (bar, 10),
    (hand_bar, 5),
    (area, 5),
    (thin_bed, 4),
    (side, 2),
    (turn_side, 3),
    (photo, 3),
)
"""What a hand may do, and how often of all."""


def next_edit(work: Work, chance: Random) -> Edit:
    """Do the next thing, or be refused."""
    kinds, often = zip(*ALL, strict=True)
    return chance.choices(kinds, often)[0](Hand(work, chance))
