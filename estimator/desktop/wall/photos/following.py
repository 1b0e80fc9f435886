"""A dark line on a photograph followed from one click to the next, and offered as a crack."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from estimator.desktop.courier import Courier
from estimator.desktop.language import _
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.tools import snaps
from estimator.masonry.region import Point
from estimator.notices import UserMistake
from estimator.survey.photo import Squared

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting
    from estimator.survey.photo_trace import Traced

MARGIN = 0.3
LEAST_MARGIN_PX = 40
"""What is looked at round two clicks: a share of the way between them, or so many pixels."""
SNAP_MM = 45.0
"""A corner of the line so near to a perpend lies in it; house rule."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A line that was followed."""

    points: tuple[Point, ...]
    """Where it lies on the wall, moved into the joints [mm]."""
    confidence: float
    is_believed: bool


class Following(QObject):
    """Two clicks, and what is found between them."""

    changed = Signal()
    """Another place was clicked, or a line was found."""

    def __init__(self, drafting: Drafting) -> None:
        """Follow lines on the photographs of a drawing."""
        super().__init__(drafting)
        self._drafting = drafting
        self._courier = Courier(self)
        self._turn = 0
        self.is_on = self.is_busy = False
        self.start: Point | None = None
        """The first click, None before it [mm]."""
        self.offer: Offer | None = None

    @property
    def album(self) -> Album:
        """The photographs of the wall."""
        return self._drafting.album

    def begin(self) -> None:
        """Wait for the first click."""
        self.is_on = True
        self._clear()

    def end(self) -> None:
        """Wait for none."""
        if self.is_on:
            self.is_on = False
            self._clear()

    def back(self) -> bool:
        """Give up the line or the first click; false where there is neither."""
        had_any = self.start is not None or self.offer is not None
        self._clear()
        return had_any

    def click(self, place: Point) -> None:
        """Begin a line, or follow it up to here."""
        if self.start is None or self.offer is not None:
            self._clear()
            self.start = place
            self.changed.emit()
            return
        try:
            self._look(self.start, place)
        except UserMistake as mistake:
            self._drafting.refuse(mistake)

    def take(self) -> None:
        """Make the line a crack."""
        from estimator.quoting.wall_edits import cracks  # noqa: PLC0415 - loads with the wall

        offer, self.offer, self.start = self.offer, None, None
        if offer is None:
            return
        try:
            edit = cracks.trace(self._drafting.work, self._drafting.side_id, offer.points)
        except UserMistake as mistake:
            self._drafting.refuse(mistake)
        else:
            self._drafting.do(edit)
        self.changed.emit()

    def _clear(self) -> None:
        self._turn += 1
        self.start = self.offer = None
        self.is_busy = False
        self.changed.emit()

    def _look(self, start: Point, end: Point) -> None:
        """Have the line looked for in a process of its own: it takes longer than a frame."""
        from estimator.survey.photo_trace import traced  # noqa: PLC0415 - wanted only here

        image, lies = self._photograph()
        one, two = lies.to_picture(start), lies.to_picture(end)
        corner, patch = _patch(image, one, two)
        turn, self.is_busy = self._turn, True
        self.changed.emit()

        def done(found: Traced) -> None:
            self._courier.carry(lambda: self._found(turn, lies, corner, found))

        def failed(error: BaseException) -> None:
            self._courier.carry(lambda: self._failed(turn, error))

        self._drafting.session.workers.run(
            traced,
            patch,
            _within(one, corner),
            _within(two, corner),
            on_done=done,
            on_failed=failed,
        )

    def _photograph(self) -> tuple[QImage, Squared]:
        """Return the picture that shows, and how it lies.

        Raises:
            UserMistake: when none does.
        """
        album = self.album
        order = [*([] if album.in_hand is None else [album.in_hand]), *reversed(album.photos)]
        for photo in order:
            lies, levels = album.lies(photo), album.pictures.find(photo.picture)
            if isinstance(lies, Squared) and levels is not None and photo.id not in album.hidden:
                return levels.images[0], lies
        raise UserMistake(
            _("no photograph lies to scale here"), do=_("mark four points of one first")
        )

    def _found(self, turn: int, lies: Squared, corner: tuple[int, int], found: Traced) -> None:
        from estimator.survey.photo_trace import thinned  # noqa: PLC0415 - wanted only here

        if turn != self._turn:
            return
        self.is_busy = False
        wall = self._drafting.wall
        points: list[Point] = []
        for x, y in thinned(found.points):
            place = lies.to_wall((x + corner[0], y + corner[1]))
            joint = snaps.to_joint(wall, place, SNAP_MM)
            if not points or joint != points[-1]:
                points.append(joint)
        if len(points) < 2:
            self._drafting.refuse(_no_line())
        else:
            self.offer = Offer(tuple(points), found.confidence, found.is_believed)
        self.changed.emit()

    def _failed(self, turn: int, error: BaseException) -> None:
        if turn == self._turn:
            self._clear()
            mistake = error if isinstance(error, UserMistake) else _no_line()
            self._drafting.refuse(mistake)


def _no_line() -> UserMistake:
    return UserMistake(
        _("no line could be followed between these two places"),
        do=_("click nearer together, or trace it by hand"),
    )


def _patch(image: QImage, one: Point, two: Point) -> tuple[tuple[int, int], list[bytes]]:
    """Return the top left corner of the part of a picture round two places, and its rows of grey.

    Raises:
        UserMistake: when either lies off the picture.
    """
    wide, high = image.width(), image.height()
    if not all(0 <= x < wide and 0 <= y < high for x, y in (one, two)):
        raise UserMistake(
            _("that place is off the photograph"), do=_("click where the photograph shows")
        )
    far = max(abs(one[0] - two[0]), abs(one[1] - two[1]))
    margin = max(far * MARGIN, LEAST_MARGIN_PX)
    left, top = max(int(min(one[0], two[0]) - margin), 0), max(int(min(one[1], two[1]) - margin), 0)
    right = min(int(max(one[0], two[0]) + margin) + 1, wide)
    bottom = min(int(max(one[1], two[1]) + margin) + 1, high)
    part = image.copy(left, top, right - left, bottom - top)
    grey = part.convertToFormat(QImage.Format.Format_Grayscale8)
    rows, step = bytes(grey.constBits()), grey.bytesPerLine()
    return (left, top), [
        rows[number * step : number * step + grey.width()] for number in range(grey.height())
    ]


def _within(spot: Point, corner: tuple[int, int]) -> tuple[int, int]:
    return int(spot[0]) - corner[0], int(spot[1]) - corner[1]
