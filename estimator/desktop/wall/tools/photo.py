"""Marks known points on a photograph, so that it lies square under the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from estimator.desktop.language import _
from estimator.desktop.wall.photos import places
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.following import Following
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot, Trial
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.survey.photo_points import FEWEST

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting


class PhotoTool(Tool):
    """Marks known points on a photograph, so that it lies square under the drawing."""

    name = "photo"
    keeps = ("photo",)
    _over: Point | None = None
    """The place a press would take [mm]."""

    def __init__(self, drafting: Drafting) -> None:
        """Lie ready in the rail."""
        super().__init__(drafting)
        self.following = Following(drafting)
        self.following.changed.connect(drafting.ghosts_changed)

    @property
    def album(self) -> Album:
        """The photographs of the wall."""
        return self.drafting.album

    def begin(self) -> None:
        """Take up a photograph: the one in hand, or the newest, at its points if it needs them."""
        photos = self.album.photos
        photo = self.album.in_hand or (photos[-1] if photos else None)
        self.album.take_up(photo)
        if photo is not None and len(photo.points) < FEWEST:
            self.album.marking.begin(photo)

    def again(self) -> None:
        """Stay at the photograph in hand."""

    def end(self) -> None:
        """Put the photographs down."""
        self.following.end()
        self.album.marking.end()
        if self.drafting.selection.split("/")[1:2] == ["photo"]:
            self.drafting.select("")

    def cancel(self) -> bool:
        """Give up the line, then stop waiting for a place on the drawing, then stop marking."""
        marking = self.album.marking
        if self.following.is_on:
            if not self.following.back():
                self.following.end()
        elif marking.is_awaiting:
            marking.hold(None)
        elif marking.photo:
            marking.end()
        else:
            return False
        return True

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Tell where the point taken up is; else leave the press to moving the wall."""
        marking = self.album.marking
        if self.following.is_on and not marking.photo:
            self.following.click(place)
            return True
        if not marking.is_awaiting or marking.held is None:
            return False
        marking.tell(marking.held, places.nearest_known(self.drafting.plain, place))
        self._over = None
        return True

    def hover(self, place: Point) -> None:
        """Show which place a press would take."""
        is_awaiting = self.album.marking.is_awaiting
        self._over = places.nearest_known(self.drafting.plain, place) if is_awaiting else None

    def leave(self) -> None:
        """Show none."""
        self._over = None

    def key(self, key: int, *, shifted: bool) -> bool:
        """Follow a dark line on the photograph, or take the line that was found."""
        if key == Qt.Key.Key_L and self.album.is_square and not self.album.marking.photo:
            if self.following.is_on:
                self.following.end()
            else:
                self.following.begin()
            return True
        takes = key in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if takes and self.following.offer is not None:
            self.following.take()
            return True
        return False

    def ghosts(self) -> Sequence[Ghost]:
        """Return the points on the wall, and the place a press would take."""
        found: list[Ghost] = self._followed()
        marking = self.album.marking
        for number, (point, is_held) in enumerate(self._told(), 1):
            found.append(Mark(point, Spot.HELD if is_held else Spot.HANDLE))
            found.append(Said(point, str(number)))
        if self._over is not None and marking.held is not None:
            found.append(Mark(self._over, Spot.CROSS, Ink.ACT))
            found.append(Said(self._over, str(marking.held + 1)))
        return found

    def _followed(self) -> list[Ghost]:
        """Return the line that is offered, with how far it can be believed, or its beginning."""
        offer, start = self.following.offer, self.following.start
        if offer is None:
            return [] if start is None else [Mark(start, Spot.HANDLE, Ink.CRACK)]
        ink = Ink.CRACK if offer.is_believed else Ink.STOP
        words = _("{n} % sure. Enter takes it, Esc drops it.")
        if not offer.is_believed:
            words = _("Only {n} % sure: it may be a joint. Enter takes it, Esc drops it.")
        said = words.format(n=round(100 * offer.confidence))
        return [Trial(offer.points, ink), Said(offer.points[-1], said, ink)]

    def _told(self) -> list[tuple[Point, bool]]:
        marking = self.album.marking
        if not marking.photo:
            return []
        return [
            (one.place, number == marking.held)
            for number, one in enumerate(marking.points)
            if one.place is not None
        ]

    def hint(self) -> str:
        """Return what to do next."""
        marking = self.album.marking
        if marking.photo and marking.is_awaiting:
            return _("Click the same place on the drawing · Esc goes back to the photograph")
        if marking.photo:
            return _("Click to mark a point · arrow keys move it by a pixel · wheel zooms")
        if self.following.is_on:
            return self._following_hint()
        if self.album.is_square:
            return _(
                "V shows photograph, drawing or both · L follows a dark line · C traces a crack"
            )
        if self.album.photos:
            return _("Mark points on the photograph for it to lie to scale · drop another here")
        return _("Drop a photograph here, or copy one and press Ctrl+V")

    def _following_hint(self) -> str:
        if self.following.is_busy:
            return _("Looking for the line…")
        if self.following.offer is not None:
            return _("Enter makes it a crack along the joints · Esc drops it")
        if self.following.start is not None:
            return _("Click where the dark line ends")
        return _("Click where the dark line begins · Esc stops following")
