"""Marks known points on a photograph, so that it lies square under the drawing."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.desktop.language import _
from estimator.desktop.wall.photos import places
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.tools.ghosts import Ghost, Ink, Mark, Said, Spot
from estimator.desktop.wall.tools.tool import Tool
from estimator.masonry.region import Point
from estimator.survey.photo_points import FEWEST


class PhotoTool(Tool):
    """Marks known points on a photograph, so that it lies square under the drawing."""

    name = "photo"
    _over: Point | None = None
    """The place a press would take [mm]."""

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

    def end(self) -> None:
        """Put the photographs down."""
        self.album.marking.end()
        if self.drafting.selection.split("/")[1:2] == ["photo"]:
            self.drafting.select("")

    def cancel(self) -> bool:
        """Stop waiting for a place on the drawing, then stop marking."""
        marking = self.album.marking
        if marking.is_awaiting:
            marking.hold(None)
        elif marking.photo:
            marking.end()
        else:
            return False
        return True

    def press(self, place: Point, *, shifted: bool) -> bool:
        """Tell where the point taken up is; else leave the press to moving the wall."""
        marking = self.album.marking
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

    def ghosts(self) -> Sequence[Ghost]:
        """Return the points on the wall, and the place a press would take."""
        found: list[Ghost] = []
        marking = self.album.marking
        for number, (point, is_held) in enumerate(self._told(), 1):
            found.append(Mark(point, Spot.HELD if is_held else Spot.HANDLE))
            found.append(Said(point, str(number)))
        if self._over is not None and marking.held is not None:
            found.append(Mark(self._over, Spot.CROSS, Ink.ACT))
            found.append(Said(self._over, str(marking.held + 1)))
        return found

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
        if self.album.photos:
            return _("V shows photograph, drawing or both · drop another photograph here")
        return _("Drop a photograph here, or copy one and press Ctrl+V")
