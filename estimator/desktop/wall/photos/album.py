"""The photographs of the side on the board: which is in hand, and how they show."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import QObject, QSize, Signal
from PySide6.QtGui import QImage, QPainter

from estimator.desktop.language import _, in_full
from estimator.desktop.wall.photos.drawing import Drawing
from estimator.desktop.wall.photos.flat import Flat, flat
from estimator.desktop.wall.photos.marking import Marking
from estimator.desktop.wall.photos.pictures import Pictures
from estimator.desktop.wall.photos.taking_in import Read, TakingIn
from estimator.desktop.wall.photos.underlay import Scene, Showing, Underlay
from estimator.desktop.wall.view import View
from estimator.drawing.courses import Box
from estimator.masonry.coursing import Coursing
from estimator.notices import UserMistake
from estimator.quoting.edits import Edit, Work
from estimator.survey.photo import Squared, squared
from estimator.survey.photo_points import FEWEST
from estimator.survey.survey import Photo

ROUND_MM = 500.0
"""How much beyond the wall a photograph is shown."""
ALL = tuple(Showing)


class Album(QObject):
    """Everything there is to photographs on the wall."""

    changed = Signal()
    """A picture came, was hidden, or shows otherwise; or another photograph is in hand."""
    wanted = Signal()
    """A photograph came in: its tool is to be taken up."""

    def __init__(self, drafting: Drawing, parent: QObject | None = None) -> None:
        """Lie under a drawing."""
        super().__init__(parent)
        self._drafting = drafting
        session = drafting.session
        self.pictures, self.taking = Pictures(session, self), TakingIn(session, self)
        self.marking = Marking(drafting, self)
        self.showing = Showing.PHOTO
        self.hidden: set[str] = set()
        self.trouble = ""
        """Why the last photograph could not be taken in; empty where that is over."""
        self._underlay = Underlay()
        self._squared: dict[str, tuple[Photo, Squared | UserMistake]] = {}
        self._flats: dict[str, tuple[tuple[object, ...], Flat | None]] = {}
        self._asked: dict[str, tuple[object, ...]] = {}
        self._uid = ""
        self.taking.came.connect(self._came)
        self.taking.refused.connect(self._refused)
        self.taking.changed.connect(self.changed)
        for signal in (self.pictures.came, self.pictures.lost):
            signal.connect(self._picture_came)
        drafting.picture_changed.connect(self._follow)
        drafting.selected.connect(self._selected)
        drafting.side_changed.connect(self._follow)

    # -- which photographs

    @property
    def photos(self) -> tuple[Photo, ...]:
        """The photographs of the side on the board."""
        side = self._drafting.side_id
        return tuple(one for one in self._drafting.work.survey.photos if one.elevation == side)

    @property
    def in_hand(self) -> Photo | None:
        """The photograph that is selected, None for none."""
        mark = self._drafting.selection
        return next((one for one in self.photos if self.mark(one) == mark), None)

    @property
    def coursing(self) -> Coursing:
        """The courses of the side on the board."""
        return self._drafting.wall.coursing

    def mark(self, photo: Photo | None) -> str:
        """Return the mark of a photograph; that of photographs as such for None."""
        return f"{self._drafting.side_id}/photo/{'' if photo is None else photo.id}"

    def take_up(self, photo: Photo | None) -> None:
        """Take a photograph in hand."""
        self._drafting.select(self.mark(photo))

    # -- in and out

    def take_in(self, given: Iterable[Path | QImage]) -> None:
        """Take photographs in, onto the side on the board."""
        self.trouble = ""
        self.wanted.emit()
        self.taking.take(given)

    def remove(self, photo: Photo) -> None:
        """Take a photograph off the wall; its picture stays in the file while undo may want it."""
        from estimator.quoting.wall_edits import photos  # noqa: PLC0415 - loads with the wall

        if self.marking.photo == photo.id:
            self.marking.end()
        self._drafting.do(photos.remove_photo(self._drafting.work, photo.id))
        self.take_up(self.photos[-1] if self.photos else None)

    def name(self, photo: Photo, caption: str) -> None:
        """Give a photograph a caption."""
        from estimator.quoting.wall_edits import photos  # noqa: PLC0415 - loads with the wall

        if caption != photo.caption:
            edit = photos.change_photo(self._drafting.work, photo.id, caption=caption)
            self._drafting.do(edit)

    def _came(self, read: Read) -> None:
        self.trouble = ""
        self.pictures.keep(read.taken.sha256, read.levels)
        try:
            self._drafting.do(self._added(read))
        except UserMistake as mistake:
            self._refused(mistake)
            return
        # The board follows a turn later; what came is taken up at once.
        self._drafting.show_sight(self._drafting.session.sight)
        self.take_up(self.photos[-1])
        self.wanted.emit()
        self.marking.begin(self.photos[-1])

    def _added(self, read: Read) -> Edit:
        from estimator.quoting.wall_edits import photos  # noqa: PLC0415 - loads with the wall

        work = self._drafting.session.work
        side = self._drafting.side_id
        if not side:
            work = self._with_a_side(work)
            side = work.survey.elevations[0].id
        taken = read.taken
        return photos.add_photo(
            work,
            side,
            picture=taken.sha256,
            width_px=taken.width_px,
            height_px=taken.height_px,
            taken=taken.taken,
        )

    def _with_a_side(self, work: Work) -> Work:
        from estimator.quoting.wall_edits import sides  # noqa: PLC0415 - loads with the wall

        return sides.add_side(work, name=_("Front")).after

    def _refused(self, mistake: UserMistake) -> None:
        self.trouble = in_full(mistake)
        self.changed.emit()

    # -- how they lie

    def lies(self, photo: Photo) -> Squared | UserMistake | None:
        """Return how a photograph lies on the wall, why it cannot, or None with too few points."""
        if len(photo.points) < FEWEST:
            return None
        kept = self._squared.get(photo.id)
        if kept is None or kept[0].points != photo.points:
            found: Squared | UserMistake
            try:
                found = squared(photo)
            except UserMistake as mistake:
                found = mistake
            self._squared[photo.id] = kept = (photo, found)
        return kept[1]

    @property
    def is_square(self) -> bool:
        """Whether any photograph of the side lies square on it."""
        return any(isinstance(self.lies(one), Squared) for one in self.photos)

    @property
    def painted(self) -> int:
        """How often photographs were painted anew."""
        return self._underlay.painted

    def lies_flat(self, photo: Photo) -> bool:
        """Whether a photograph is drawn square by the points it has now."""
        key = (photo.picture, photo.points, self._room(ROUND_MM))
        kept = self._flats.get(photo.id)
        return kept is not None and kept[0] == key and kept[1] is not None

    def show(self, showing: Showing) -> None:
        """Show the drawing, the photograph, or one through the other."""
        if showing is not self.showing:
            self.showing = showing
            self.changed.emit()

    def turn_over(self) -> None:
        """Show the next: photograph, drawing, both."""
        self.show(ALL[(ALL.index(self.showing) + 1) % len(ALL)])

    def hide(self, photo: Photo, *, hidden: bool) -> None:
        """Hide a photograph, or show it again."""
        (self.hidden.add if hidden else self.hidden.discard)(photo.id)
        self.changed.emit()

    def paint(self, painter: QPainter, view: View, size: QSize) -> None:
        """Paint what shows of the photographs."""
        if self.showing is Showing.DRAWING:
            return
        flats = [found for one in self.photos if (found := self._flat(one)) is not None]
        if flats:
            ratio = painter.device().devicePixelRatio()
            scene = Scene(view, self._room(), size, ratio, self.showing)
            painter.drawPixmap(0, 0, self._underlay.pixmap(flats, scene))

    def _room(self, beyond: float = 0.0) -> Box:
        outline = self._drafting.plain.outline
        across, up = [x for x, _y in outline], [y for _x, y in outline]
        return (
            min(across) - beyond,
            min(up) - beyond,
            max(across) + beyond,
            max(up) + beyond,
        )

    def _flat(self, photo: Photo) -> Flat | None:
        """Return a photograph seen square; the one before while the new one is being drawn."""
        lies = self.lies(photo)
        if not isinstance(lies, Squared) or photo.id in self.hidden:
            return None
        key = (photo.picture, photo.points, self._room(ROUND_MM))
        kept = self._flats.get(photo.id)
        if kept is not None and kept[0] == key:
            return kept[1]
        if not self._drafting.is_trying:
            self._ask_flat(photo, lies, key)
        return None if kept is None or kept[0][0] != photo.picture else kept[1]

    def _ask_flat(self, photo: Photo, lies: Squared, key: tuple[object, ...]) -> None:
        levels, room = self.pictures.find(photo.picture), self._room(ROUND_MM)
        if levels is None or not self._drafting.session.filing.is_open:
            return
        if self._asked.get(photo.id) == key:
            return
        self._asked[photo.id] = key
        image = levels.images[0]

        def drawn(found: Flat | None) -> None:
            if self._asked.get(photo.id) == key:
                self._flats[photo.id] = (key, found)
                self.changed.emit()

        self._drafting.session.filing.beside(lambda _path: flat(image, lies, room), drawn)

    # -- following

    def _follow(self, _what: object = None) -> None:
        uid = self._drafting.session.sight.job.uid
        if uid != self._uid:
            self._uid = uid
            self._begin_anew()
        self.marking.follow()
        # Drawn square already while the board is behind the photograph.
        for photo in self.photos:
            self._flat(photo)

    def _begin_anew(self) -> None:
        """Forget the photographs of the job before."""
        self.taking.stop()
        self.marking.end()
        self.pictures.forget()
        self.hidden.clear()
        self._squared.clear()
        self._flats.clear()
        self._asked.clear()
        self.trouble = ""

    def _selected(self, _mark: str) -> None:
        photo = self.in_hand
        if self.marking.photo and (photo is None or photo.id != self.marking.photo):
            self.marking.end()
        self.changed.emit()

    def _picture_came(self, _name: str) -> None:
        self.changed.emit()
