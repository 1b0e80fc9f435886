"""A logo from a picture somebody chose: small, and with nothing in it but what is seen.

A photograph says where it was taken and with what. The picture is drawn anew on an empty ground,
so that none of that comes along.
"""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, QSize, Qt
from PySide6.QtGui import QColorSpace, QImage, QImageReader, QPainter

from estimator.notices import UserMistake, WorldFault

LARGEST = QSize(800, 400)
"""The most a logo is kept at; three times its size on paper at 300 dots an inch. [px]"""
MOST_BYTES = 30_000_000
READABLE = {b"png", b"jpeg", b"webp", b"bmp", b"gif"}


def logo(path: Path) -> bytes:
    """Return a picture as a small PNG that holds nothing but its points.

    Raises:
        UserMistake: for a file that is no picture, or far too large a one.
        WorldFault: when the file cannot be read.
    """
    try:
        size = path.stat().st_size
    except OSError as error:
        raise WorldFault(f"'{path.name}' could not be read", do="check its folder") from error
    if size > MOST_BYTES:
        raise UserMistake(f"'{path.name}' is over 30 MB", do="choose a smaller picture")
    return _png(_redrawn(_read(path)))


def _read(path: Path) -> QImage:
    reader = QImageReader(str(path))
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)
    size = reader.size()
    if reader.format().data() in READABLE and size.isValid():
        if size.width() > LARGEST.width() or size.height() > LARGEST.height():
            # A picture on its side is turned only after it is made smaller.
            longest = max(LARGEST.width(), LARGEST.height())
            room = QSize(longest, longest)
            reader.setScaledSize(size.scaled(room, Qt.AspectRatioMode.KeepAspectRatio))
        image = reader.read()
        if not image.isNull():
            return image
    raise UserMistake(
        f"'{path.name}' is no picture that can be read", do="choose a PNG or JPEG picture"
    )


def _redrawn(image: QImage) -> QImage:
    if image.colorSpace().isValid():
        image.convertToColorSpace(QColorSpace(QColorSpace.NamedColorSpace.SRgb))
    if image.width() > LARGEST.width() or image.height() > LARGEST.height():
        image = image.scaled(
            LARGEST,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
    clean = QImage(image.size(), QImage.Format.Format_ARGB32)
    clean.fill(Qt.GlobalColor.transparent)
    painter = QPainter(clean)
    painter.drawImage(0, 0, image)
    painter.end()
    return clean


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if not image.save(buffer, "PNG"):  # type: ignore[call-overload]
        raise UserMistake("the picture could not be made smaller", do="choose another")
    return bytes(buffer.data().data())
