"""A picture at half its size, and half that, so that it is drawn small in an instant."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter

SMALLEST_PX = 160


@dataclass(frozen=True, slots=True)
class Levels:
    """One picture in several sizes, the whole first."""

    images: tuple[QImage, ...]

    @classmethod
    def of(cls, image: QImage) -> Levels:
        """Halve a picture until it is small; safe in any thread."""
        images = [image]
        while max(images[-1].width(), images[-1].height()) > SMALLEST_PX * 2:
            last = images[-1]
            images.append(
                last.scaled(
                    max(last.width() // 2, 1),
                    max(last.height() // 2, 1),
                    Qt.AspectRatioMode.IgnoreAspectRatio,
                    Qt.TransformationMode.SmoothTransformation,
                )
            )
        return cls(tuple(images))

    @property
    def width(self) -> int:
        """Of the whole picture [px]."""
        return self.images[0].width()

    @property
    def height(self) -> int:
        """Of the whole picture [px]."""
        return self.images[0].height()

    def draw(self, painter: QPainter, into: QRectF, *, seen: QRectF, ratio: float = 1.0) -> None:
        """Draw the picture into a box, as far as that is seen.

        Args:
            painter: Draws.
            into: Where the whole picture would lie. [px]
            seen: What there is of the screen. [px]
            ratio: Points of the screen to a pixel.
        """
        part = into.intersected(seen)
        if part.isEmpty():
            return
        share = into.width() * ratio / self.width
        number = 0
        while share < 0.5 and number + 1 < len(self.images):
            number, share = number + 1, share * 2
        image = self.images[number]
        across, down = image.width() / into.width(), image.height() / into.height()
        source = QRectF(
            (part.left() - into.left()) * across,
            (part.top() - into.top()) * down,
            part.width() * across,
            part.height() * down,
        )
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(part, image, source)
