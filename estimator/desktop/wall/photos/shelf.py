"""The photographs of a side in a row, and what is said and shown of the one in hand."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QPixmap
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from estimator.desktop.language import _, in_context
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.particulars.field import toggle
from estimator.desktop.wall.particulars.flow import Flow
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.underlay import Showing
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import words
from estimator.survey.survey import Photo

THUMB = QSize(72, 54)
MOST_LETTERS = 200


class Shelf(QFrame):
    """Thumbnails, the caption, and how photograph and drawing show."""

    def __init__(self, album: Album) -> None:
        """Show what an album holds."""
        super().__init__()
        self.album = album
        self.thumbs: dict[str, QToolButton] = {}
        self.caption = QLineEdit()
        self.caption.setMaxLength(MOST_LETTERS)
        self.caption.setPlaceholderText(_("Caption, for the survey paper"))
        self.caption.setAccessibleName(_("Caption of the photograph"))
        self.caption.editingFinished.connect(self._name)
        self.shown = QCheckBox(_("Shown"))
        self.shown.setAccessibleName(_("Show this photograph under the drawing"))
        self.shown.clicked.connect(self._hide_or_show)
        self.mark_points = button(_("Mark points"))
        self.mark_points.clicked.connect(self._begin)
        self.remove = quiet_button(_("Remove"))
        self.remove.clicked.connect(self._remove)
        self.seen = words(_("Seen:"), role="second", wrap=False)
        self._ways = QButtonGroup(self)
        self.ways = {
            Showing.PHOTO: toggle(in_context("showing", "Photo"), _("Show the photograph")),
            Showing.BOTH: toggle(in_context("showing", "Both"), _("Show photograph and drawing")),
            Showing.DRAWING: toggle(in_context("showing", "Drawing"), _("Show the drawing")),
        }
        for showing, one in self.ways.items():
            one.clicked.connect(partial(self._show, showing))
            self._ways.addButton(one)
        self._lay_out()

    def _lay_out(self) -> None:
        self._row = QHBoxLayout()
        self._row.setSpacing(LOOK.px(8))
        about = QHBoxLayout()
        about.setSpacing(LOOK.px(8))
        about.addWidget(self.caption, 1)
        about.addWidget(self.mark_points)
        about.addWidget(self.remove)
        shown_as = QFrame()
        flow = Flow(shown_as, gap=8)
        high = self.ways[Showing.BOTH].sizeHint().height()
        key = words(_("key V"), role="small", wrap=False)
        for widget in (self.seen, *self.ways.values(), key, self.shown):
            # Of one height, so that words stand on one line with the buttons.
            widget.setMinimumHeight(high)
            flow.addWidget(widget)
        beside = QVBoxLayout()
        beside.setSpacing(LOOK.px(6))
        beside.addLayout(about)
        beside.addWidget(shown_as)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(LOOK.px(14))
        whole.addLayout(self._row)
        whole.addLayout(beside, 1)

    def follow(self) -> None:
        """Show the photographs as they are now."""
        photos, in_hand = self.album.photos, self.album.in_hand
        self._line_up(photos)
        for photo in photos:
            thumb = self.thumbs[photo.id]
            thumb.setChecked(in_hand is not None and photo.id == in_hand.id)
            self._picture(thumb, photo)
        has_one = in_hand is not None
        about: tuple[QWidget, ...] = (self.caption, self.mark_points, self.remove)
        for part in about:
            part.setEnabled(has_one)
        square = in_hand is not None and self.album.lies(in_hand) is not None
        for widget in (self.seen, self.shown, *self.ways.values()):
            widget.setEnabled(square)
        self.ways[self.album.showing].setChecked(True)
        if in_hand is not None:
            self.shown.setChecked(in_hand.id not in self.album.hidden)
            if not self.caption.hasFocus():
                self.caption.setText(in_hand.caption)
            self.mark_points.setText(_("Points") if in_hand.points else _("Mark points"))

    def _line_up(self, photos: tuple[Photo, ...]) -> None:
        if [one.id for one in photos] == list(self.thumbs):
            return
        for thumb in self.thumbs.values():
            self._row.removeWidget(thumb)
            thumb.hide()
            thumb.deleteLater()
        self.thumbs = {one.id: self._thumb(one) for one in photos}
        for thumb in self.thumbs.values():
            self._row.addWidget(thumb)

    def _thumb(self, photo: Photo) -> QToolButton:
        thumb = QToolButton()
        thumb.setProperty("role", "tool")
        thumb.setCheckable(True)
        thumb.setAutoExclusive(False)
        thumb.setIconSize(QSize(LOOK.px(THUMB.width()), LOOK.px(THUMB.height())))
        thumb.clicked.connect(partial(self._take_up, photo.id))
        return thumb

    def _picture(self, thumb: QToolButton, photo: Photo) -> None:
        said = photo.caption or _("Photograph without a caption")
        thumb.setAccessibleName(said)
        thumb.setToolTip(said)
        levels = self.album.pictures.find(photo.picture)
        if levels is not None and thumb.property("picture") != photo.picture:
            thumb.setProperty("picture", photo.picture)
            room = thumb.iconSize() * 2
            small = levels.images[-1].scaled(
                room,
                Qt.AspectRatioMode.KeepAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
            thumb.setIcon(QIcon(QPixmap.fromImage(small)))

    def _take_up(self, name: str, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        photo = next((one for one in self.album.photos if one.id == name), None)
        self.album.take_up(photo)

    def _begin(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        photo = self.album.in_hand
        if photo is not None:
            self.album.marking.begin(photo)

    def _remove(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        photo = self.album.in_hand
        if photo is not None:
            self.album.remove(photo)

    def _name(self) -> None:
        photo = self.album.in_hand
        if photo is not None:
            self.album.name(photo, self.caption.text().strip())

    def _hide_or_show(self, ticked: bool) -> None:  # noqa: FBT001 - Qt's
        photo = self.album.in_hand
        if photo is not None:
            self.album.hide(photo, hidden=not ticked)

    def _show(self, showing: Showing, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002
        self.album.show(showing)
