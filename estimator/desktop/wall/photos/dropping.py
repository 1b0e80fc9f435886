"""Photographs dropped on the wall or a form, pasted, or chosen from a folder."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QMimeData, QObject, Qt
from PySide6.QtGui import QDropEvent, QGuiApplication, QImage, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QFileDialog, QWidget

from estimator.desktop.language import _
from estimator.desktop.wall.photos.album import Album
from estimator.desktop.wall.photos.taking_in import Given


class Takes(Protocol):
    """What photographs can be dropped on or chosen for."""

    def take_in(self, given: Iterable[Given]) -> object:
        """Take photographs in: files, or a picture that was copied."""


def given_by(data: QMimeData) -> list[Given]:
    """Return the files, or else the picture, that were dropped or copied."""
    files: list[Given] = [
        Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile() and url.toLocalFile()
    ]
    if files:
        return files
    image = data.imageData() if data.hasImage() else None
    return [image] if isinstance(image, QImage) and not image.isNull() else []


def holds_any(data: QMimeData) -> bool:
    """Whether there is a file or a picture in what is held over the wall."""
    return data.hasImage() or any(url.isLocalFile() for url in data.urls())


def welcome(event: QDropEvent) -> None:
    """Let what is held over the wall be dropped, if it may be a photograph."""
    if holds_any(event.mimeData()):
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
    else:
        event.ignore()


def drop(taker: Takes, event: QDropEvent) -> None:
    """Take in what was dropped."""
    given = given_by(event.mimeData())
    if given:
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
        taker.take_in(given)
    else:
        event.ignore()


def paste(album: Album) -> bool:
    """Take in what was copied; false where that is neither file nor picture."""
    given = given_by(QGuiApplication.clipboard().mimeData())
    if given:
        album.take_in(given)
    return bool(given)


def key(album: Album, event: QKeyEvent) -> bool:
    """Take a key that is about photographs, whatever tool is in hand; false for any other."""
    if event.matches(QKeySequence.StandardKey.Paste):
        return paste(album)
    plain = not event.modifiers() & (
        Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier
    )
    if event.key() == Qt.Key.Key_V and plain and album.is_square:
        album.turn_over()
        return True
    return False


class Choosing(QObject):
    """Asks for files without holding the window up."""

    def __init__(self, taker: Takes, over: QWidget) -> None:
        """Choose for an album, or for whatever else takes photographs."""
        super().__init__(over)
        self._taker, self._over = taker, over

    def ask(self) -> QFileDialog:
        """Show folders to choose from."""
        pictures = _("Photographs (*.jpg *.jpeg *.png *.webp *.tif *.tiff *.heic)")
        dialog = QFileDialog(self._over.window(), _("Add a photograph"), "", pictures)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.filesSelected.connect(self._chosen)
        dialog.open()
        return dialog

    def _chosen(self, names: list[str]) -> None:
        self._taker.take_in(Path(name) for name in names)
