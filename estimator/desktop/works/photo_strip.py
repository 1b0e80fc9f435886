"""Photographs of what was done: taken in, small beside their captions, until they are noted."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from estimator.desktop.language import _, counted, in_full
from estimator.desktop.papers.asking import ask
from estimator.desktop.theme.look import LOOK
from estimator.desktop.wall.photos.dropping import Choosing
from estimator.desktop.wall.photos.taking_in import Given, Read, TakingIn
from estimator.desktop.widgets.buttons import IconButton, quiet_button
from estimator.desktop.widgets.words import retone, words
from estimator.notices import UserMistake
from estimator.survey.limits import LETTERS

if TYPE_CHECKING:
    from estimator.desktop.session import Session
    from estimator.store.database import Database

THUMB = QSize(72, 54)


class PhotoRow(QWidget):
    """One photograph, small, and what is written under it on paper."""

    changed = Signal()
    unwanted = Signal()

    def __init__(self, picture: str, caption: str = "") -> None:
        """Stand for a photograph by the hash of its picture."""
        super().__init__()
        self.picture = picture
        self._image = QImage()
        self.thumb = QLabel()
        self.thumb.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.caption = QLineEdit(caption)
        self.caption.setMaxLength(LETTERS["name"])
        self.caption.setPlaceholderText(_("Caption, for the paper"))
        self.caption.textEdited.connect(self._typed)
        self.drop = IconButton("close", "")
        self.drop.clicked.connect(self._drop)
        LOOK.changed.connect(self._draw)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 3, 0, 3)
        layout.setSpacing(8)
        layout.addWidget(self.thumb)
        layout.addWidget(self.caption, 1)
        layout.addWidget(self.drop)
        self._draw()

    def call(self, number: int) -> None:
        """Say which photograph it is."""
        gaps = {"number": number}
        self.thumb.setAccessibleName(_("Photograph {number}").format(**gaps))
        self.caption.setAccessibleName(_("Caption of photograph {number}").format(**gaps))
        said = _("Take photograph {number} away").format(**gaps)
        self.drop.setAccessibleName(said)
        self.drop.setToolTip(said)

    def show_image(self, image: QImage) -> None:
        """Show the photograph."""
        self._image = image
        self._draw()

    def _draw(self) -> None:
        room = QSize(LOOK.px(THUMB.width()), LOOK.px(THUMB.height()))
        self.thumb.setFixedSize(room)
        if not self._image.isNull():
            self.thumb.setPixmap(QPixmap.fromImage(_fitted(self._image, room)))

    def _typed(self, _typed: str) -> None:
        self.changed.emit()

    def _drop(self, _ticked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
        self.unwanted.emit()


class PhotoStrip(QWidget):
    """The photographs that go with what is noted next."""

    changed = Signal()
    """Another photograph, another caption, or one fewer."""
    came = Signal()
    """Another photograph is in the job's file."""

    def __init__(self, session: Session) -> None:
        """Begin without photographs."""
        super().__init__()
        self._session, self._uid = session, session.job.uid
        self._trouble = ""
        self.taking = TakingIn(session, self)
        self.rows: list[PhotoRow] = []
        self.said = words(role="second")
        self.add = quiet_button(_("Add a photo…"))
        self.choosing = Choosing(self, self)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(0)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 6, 0, 6)
        layout.setSpacing(2)
        layout.addWidget(words(_("Photographs, dropped here or added"), role="second"))
        layout.addLayout(self._rows)
        layout.addWidget(self.said)
        layout.addWidget(self.add, 0, Qt.AlignmentFlag.AlignLeft)
        self.add.clicked.connect(self._choose)
        self.taking.came.connect(self._came)
        self.taking.refused.connect(self._refused)
        self.taking.changed.connect(self._look)
        session.job_changed.connect(self._job_changed)
        self._look()

    @property
    def photos(self) -> tuple[str, ...]:
        """The hashes of their pictures."""
        return tuple(row.picture for row in self.rows)

    @property
    def captions(self) -> tuple[str, ...]:
        """What is written under each."""
        return tuple(row.caption.text().strip() for row in self.rows)

    def take_in(self, given: Iterable[Given]) -> None:
        """Take photographs in: files, or a picture that was copied."""
        self._trouble = ""
        self.taking.take(given)

    def clear(self) -> None:
        """Let go of all; what is being read is thrown away."""
        self.taking.stop()
        for row in list(self.rows):
            self._take_off(row)
        self._trouble = ""
        self._look()

    def allow(self, *, can_write: bool) -> None:
        """Let photographs be added where the file may be written."""
        self.add.setEnabled(can_write)

    def told(self) -> list[list[str]]:
        """Return pictures and captions, to be kept while they are not noted yet."""
        return [[row.picture, row.caption.text()] for row in self.rows]

    def show_told(self, told: Any) -> None:
        """Show what ``told`` returned once; pictures come out of the file."""
        for row in list(self.rows):
            if [row.picture, row.caption.text()] not in told:
                self._take_off(row)
        here = self.photos
        for picture, caption in (one for one in told if one[0] not in here):
            self._fetch(self._put_in(picture, caption))

    def _put_in(self, picture: str, caption: str = "") -> PhotoRow:
        row = PhotoRow(picture, caption)
        row.changed.connect(self.changed)
        row.unwanted.connect(partial(self._unwanted, row))
        self.rows.append(row)
        self._rows.addWidget(row)
        row.call(len(self.rows))
        return row

    def _take_off(self, row: PhotoRow) -> None:
        self.rows.remove(row)
        self._rows.removeWidget(row)
        row.hide()
        row.deleteLater()
        for number, one in enumerate(self.rows, 1):
            one.call(number)

    def _unwanted(self, row: PhotoRow) -> None:
        place = self.rows.index(row)
        self._take_off(row)
        # The keyboard goes on to the next of them, or to the way to add one.
        following = self.rows[place].drop if place < len(self.rows) else self.add
        following.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    def _came(self, read: object) -> None:
        if not isinstance(read, Read):
            return
        picture = read.taken.sha256
        if picture in self.photos:
            self._complain(_("That photograph is here already."))
            return
        self._put_in(picture).show_image(read.levels.images[-1])
        self.changed.emit()
        self.came.emit()

    def _fetch(self, row: PhotoRow) -> None:
        """Have a picture read and made small in the file's thread."""
        uid, picture = self._uid, row.picture

        def read(database: Database) -> QImage | None:
            from estimator.desktop import kept  # noqa: PLC0415 - loads the database library

            jpeg = kept.photo(database, uid, picture)
            return None if jpeg is None else _small(jpeg)

        def there(image: QImage | None) -> None:
            if image is not None:
                row.show_image(image)
            elif row in self.rows:
                self._take_off(row)
                self._complain(_("A photograph is not in the file any more."))

        ask(row, self._session.filing, read, there)

    def _refused(self, mistake: object) -> None:
        if isinstance(mistake, UserMistake):
            self._complain(in_full(mistake))

    def _complain(self, text: str) -> None:
        self._trouble = text
        self._look()

    def _look(self) -> None:
        """Say what is being read; once that is over, what could not be."""
        still = self.taking.still
        text = counted("Taking in {n} photograph…", "Taking in {n} photographs…", still)
        retone(self.said, tone="" if still else "stop")
        self.said.setText(text if still else self._trouble)
        self.said.setVisible(bool(self.said.text()))

    def _choose(self, _ticked: bool = False) -> QFileDialog:  # noqa: FBT001, FBT002 - Qt's
        return self.choosing.ask()

    def _job_changed(self, _job: object) -> None:
        if self._session.job.uid != self._uid:
            self._uid = self._session.job.uid
            self.clear()


def _small(jpeg: bytes) -> QImage:
    """Return a picture as large as a large thumbnail needs it; safe in any thread."""
    return _fitted(QImage.fromData(jpeg), THUMB * 4)


def _fitted(image: QImage, room: QSize) -> QImage:
    way, fine = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
    return image if image.isNull() else image.scaled(room, way, fine)
