"""Points being marked on a photograph: clicked on it, and told where they are on the wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum

from PySide6.QtCore import QObject, Signal

from estimator.desktop.language import in_full
from estimator.desktop.wall.photos import places
from estimator.desktop.wall.photos.drawing import Drawing
from estimator.desktop.wall.photos.places import Count
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.survey.photo_points import MOST
from estimator.survey.survey import Elevation, Photo, PhotoPoint

LEVEL = 0.36
"""How steep a line on the photograph may run that is likely a bed, rise to run: 20°; house rule."""


class Way(Enum):
    """How places are told."""

    COUNT = "count"
    DRAWING = "drawing"
    TAPE = "tape"


@dataclass(frozen=True, slots=True)
class Marked:
    """One point."""

    seen: Point
    """On the picture, from its top left corner. [px]"""
    place: Point | None = None
    """On the wall, None until it is told. [mm]"""
    up: int | None = None
    """Courses up, told alone."""
    like: int = 0
    """Number of the point whose count was taken over, 0 for none."""


class Marking(QObject):
    """The points of the photograph in hand."""

    changed = Signal()
    """A point was marked, moved, told or taken up."""
    typed = Signal(str)
    """A digit, typed over the photograph: the count of the point taken up begins."""

    def __init__(self, drafting: Drawing, parent: QObject | None = None) -> None:
        """Begin with no photograph."""
        super().__init__(parent)
        self._drafting = drafting
        self.photo = ""
        """Id of the photograph whose points are being marked; empty for none."""
        self.points: tuple[Marked, ...] = ()
        self.held: int | None = None
        """Place of the point that is taken up, from 0."""
        self.way = Way.COUNT
        self.is_awaiting = False
        """Whether the next click on the drawing tells where the point taken up is."""
        self.trouble = ""

    # -- which photograph

    def begin(self, photo: Photo) -> None:
        """Mark the points of a photograph."""
        self.photo, self.held, self.trouble, self.is_awaiting = photo.id, None, "", False
        self.points = tuple(_marked(one) for one in photo.points)
        self.changed.emit()

    def end(self) -> None:
        """Put the photograph down; points not told of are forgotten."""
        if self.photo:
            self.photo, self.points, self.held, self.is_awaiting = "", (), None, False
            self.trouble = ""
            self.changed.emit()

    @property
    def of(self) -> Photo | None:
        """The photograph as the survey has it, None when it is gone or there is none."""
        photos = self._drafting.work.survey.photos
        return next((one for one in photos if one.id == self.photo), None)

    def follow(self) -> None:
        """Follow the survey: another edit, an undo."""
        photo = self.of
        if photo is None:
            self.end()
        elif _told(self.points) != tuple(_marked(one) for one in photo.points):
            untold = tuple(one for one in self.points if one.place is None)
            self.points = (*(_marked(one) for one in photo.points), *untold)
            if self.held is not None and self.held >= len(self.points):
                self.held = None
            self.changed.emit()

    @property
    def wall(self) -> Elevation:
        """The side the photograph shows, as it is drawn."""
        return self._drafting.plain

    # -- by hand

    def add(self, seen: Point) -> None:
        """Mark a point on the photograph, and take it up."""
        photo = self.of
        if photo is None:
            return
        if len(self.points) >= MOST:
            self._say(UserMistake(f"{MOST} points are marked", do="move one of them"))
            return
        self.points = (*self.points, self._likely(Marked(_within(photo, seen))))
        self.hold(len(self.points) - 1)
        self.is_awaiting = self.way is Way.DRAWING and self.points[-1].place is None
        self._commit()

    def hold(self, number: int | None) -> None:
        """Take a point up, from 0, or none."""
        self.held = number
        self.is_awaiting = self.is_awaiting and number is not None
        self.changed.emit()

    def move(self, seen: Point, *, gesture: int = 0) -> None:
        """Move the point taken up on the photograph."""
        photo = self.of
        if photo is None or self.held is None:
            return
        moved = replace(self.points[self.held], seen=_within(photo, seen))
        self._swap(self.held, moved, about=f"move/{self.held}#{gesture}")

    def nudge(self, across: float, down: float) -> bool:
        """Move the point taken up by pixels of the picture; false where there is none."""
        if self.held is None:
            return False
        x, y = self.points[self.held].seen
        self.move((x + across, y + down))
        return True

    def drop(self, number: int) -> None:
        """Take a point away."""
        self.points = (*self.points[:number], *self.points[number + 1 :])
        self.held, self.is_awaiting = None, False
        self._commit()

    # -- told where they are

    def count(self, number: int, up: int | None, along: int | None) -> None:
        """Say how a point is counted; bricks that stand plumb with another point are taken over."""
        one = replace(self.points[number], place=None, up=up, like=0)
        if up is not None and along is None:
            along, like = self._plumb(number, up)
            one = replace(one, like=like)
        if up is None or along is None:
            self._swap(number, one)
            return
        place = places.place_counted(self.wall, (up, along))
        if place is None:
            self._say(
                UserMistake(
                    f"there is no place {up} courses up and {along} bricks along",
                    why="the wall does not reach so far",
                    do="count again, or make the wall larger first",
                )
            )
            return
        self._swap(number, replace(one, place=place), about=f"count/{number}")

    def tell(self, number: int, place: Point) -> None:
        """Say where a point is on the wall [mm]."""
        one = replace(self.points[number], place=place, up=None, like=0)
        self.is_awaiting = False
        self._swap(number, one, about=f"tell/{number}")

    def put(self, number: int, seen: Point) -> None:
        """Say where a point is on the picture [px]."""
        photo = self.of
        if photo is not None:
            moved = replace(self.points[number], seen=_within(photo, seen))
            self._swap(number, moved, about=f"put/{number}")

    def tell_by(self, way: Way) -> None:
        """Tell places another way from now on."""
        self.way, self.is_awaiting = way, False
        self.changed.emit()

    def await_drawing(self, number: int) -> None:
        """Let the next click on the drawing tell where a point is."""
        self.held, self.is_awaiting = number, True
        self.changed.emit()

    def counted(self, number: int) -> Count | None:
        """Return how a point is counted, None where it was not or cannot be."""
        place = self.points[number].place
        return None if place is None else places.counted_at(self.wall, place)

    # -- what is likely

    def _likely(self, new: Marked) -> Marked:
        """Take over from points that are level with a new one, or plumb, what they were told."""
        if not self.points:
            return self._reference(new)
        level = self._along_a_line(new.seen, is_level=True)
        count = None if level is None else self.counted(level)
        if level is None or count is None:
            return new
        along, like = self._plumb(len(self.points), count[0], new.seen)
        place = None if along is None else places.place_counted(self.wall, (count[0], along))
        return replace(new, place=place, up=count[0], like=like or level + 1)

    def _reference(self, new: Marked) -> Marked:
        """Let the first point be where counting begins, on a wall with nothing drawn on it yet."""
        wall = self.wall
        has_more = any(one.points for one in self._drafting.work.survey.photos)
        if has_more or wall.openings or wall.cracks or wall.bricks:
            return new
        return replace(new, place=places.place_counted(wall, (0, 0)), up=0)

    def _plumb(self, number: int, up: int, seen: Point | None = None) -> tuple[int | None, int]:
        """Return the bricks along of a point that stands plumb with a new one, and its number."""
        spot = self.points[number].seen if seen is None else seen
        over = self._along_a_line(spot, is_level=False, but=number)
        place = None if over is None else self.points[over].place
        if over is None or place is None:
            return None, 0
        along = places.plumb_with(self.wall, up, place[0])
        return along, 0 if along is None else over + 1

    def _along_a_line(self, seen: Point, *, is_level: bool, but: int = -1) -> int | None:
        """Return the point told of that is most nearly level, or plumb, with a spot."""
        best: tuple[float, int] | None = None
        for number, one in enumerate(self.points):
            run, rise = abs(one.seen[0] - seen[0]), abs(one.seen[1] - seen[1])
            if not is_level:
                run, rise = rise, run
            if number == but or one.place is None or run == 0 or rise > LEVEL * run:
                continue
            if best is None or rise / run < best[0]:
                best = rise / run, number
        return None if best is None else best[1]

    # -- into the survey

    def _swap(self, number: int, one: Marked, *, about: str = "") -> None:
        before = self.points
        self.points = (*before[:number], one, *before[number + 1 :])
        if not self._commit(about):
            self.points = before if _told(self.points) != _told(before) else self.points
            self.changed.emit()

    def _commit(self, about: str = "") -> bool:
        """Put what is told of into the survey; false where that cannot be, which is said."""
        from estimator.quoting.wall_edits import photos  # noqa: PLC0415 - loads with the wall

        photo, told = self.of, tuple(_point(one) for one in _told(self.points))
        if photo is None:
            return False
        try:
            if told != photo.points:
                edit = photos.set_points(self._drafting.work, photo.id, told)
                self._drafting.do(replace(edit, about=f"photo/{photo.id}/{about}" if about else ""))
        except UserMistake as mistake:
            self._say(mistake)
            return False
        self.trouble = ""
        self.changed.emit()
        return True

    def _say(self, mistake: UserMistake) -> None:
        self.trouble = in_full(mistake)
        self.changed.emit()


def _told(points: Sequence[Marked]) -> tuple[Marked, ...]:
    return tuple(Marked(one.seen, one.place) for one in points if one.place is not None)


def _marked(point: PhotoPoint) -> Marked:
    return Marked((point.across_px, point.down_px), (point.x_mm, point.y_mm))


def _point(one: Marked) -> PhotoPoint:
    x, y = one.place or (0.0, 0.0)
    return PhotoPoint(round(one.seen[0], 2), round(one.seen[1], 2), x, y)


def _within(photo: Photo, seen: Point) -> Point:
    """Return a spot kept on the picture, as fine as the file has it [px]."""
    across = min(max(seen[0], 0.0), float(photo.width_px))
    down = min(max(seen[1], 0.0), float(photo.height_px))
    return round(across, 2), round(down, 2)
