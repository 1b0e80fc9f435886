"""A logo holds its points and nothing else."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from estimator.desktop.settings import picture
from estimator.notices import UserMistake


def chunks(png: bytes) -> list[bytes]:
    """Return the kinds of chunk of a PNG, in order (PNG specification, section 5)."""
    found, at = [], 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        found.append(png[at + 4 : at + 8])
        at += 12 + length
    return found


def test_what_a_picture_says_of_its_place_is_gone(qapp: QApplication, tmp_path: Path) -> None:
    image = QImage(3000, 1000, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.red)
    image.setText("Location", "54.1 N, 2.2 W")
    path = tmp_path / "wall.png"
    image.save(str(path))
    assert b"54.1 N" in path.read_bytes()
    made = picture.logo(path)
    assert set(chunks(made)) <= {b"IHDR", b"pHYs", b"IDAT", b"IEND"}
    small = QImage.fromData(made)
    assert small.width() == 800
    assert abs(small.height() - 800 / 3) < 1
    assert small.pixelColor(10, 10) == Qt.GlobalColor.red


def test_a_small_picture_keeps_its_size_and_its_clear_ground(
    qapp: QApplication, tmp_path: Path
) -> None:
    image = QImage(40, 30, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    image.save(str(tmp_path / "mark.png"))
    made = QImage.fromData(picture.logo(tmp_path / "mark.png"))
    assert (made.width(), made.height()) == (40, 30)
    assert made.pixelColor(5, 5).alpha() == 0


@pytest.mark.parametrize("content", [b"", b"plain words", b"\x89PNG\r\n\x1a\nbroken", b"<svg/>"])
def test_what_is_no_picture_is_said_plainly(
    qapp: QApplication, tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / "logo.png"
    path.write_bytes(content)
    with pytest.raises(UserMistake, match=r"'logo\.png' is no picture that can be read"):
        picture.logo(path)


def test_a_missing_file_is_said_plainly(qapp: QApplication, tmp_path: Path) -> None:
    with pytest.raises(UserMistake, match=r"'gone\.png' could not be read"):
        picture.logo(tmp_path / "gone.png")
