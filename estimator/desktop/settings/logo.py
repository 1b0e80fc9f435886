"""The firm's logo: chosen, shown, taken off and put back."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QSize, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QWidget

from estimator.desktop.language import _
from estimator.desktop.settings.parts import Section
from estimator.desktop.theme.look import LOOK
from estimator.desktop.widgets.buttons import button, quiet_button
from estimator.desktop.widgets.words import words

SHOWN = QSize(240, 96)
"""The most a logo is shown at. [px]"""


class LogoForm(QObject):
    """Shows the logo, and asks for another."""

    picked = Signal(object)
    """The ``Path`` of a picture to take."""
    changed = Signal(bytes)
    """The PNG to keep, empty for none."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin without a logo."""
        super().__init__(parent)
        self._kept = self._before = b""
        self._picture = words(wrap=False)
        self._picture.setAccessibleName(_("Your logo"))
        self.says = words(role="second")
        self.choose = button(_("Choose a picture…"))
        self.choose.clicked.connect(self._choose)
        self.take_off = quiet_button(_("Take it off"))
        self.take_off.clicked.connect(lambda: self.changed.emit(b""))
        self.put_back = quiet_button(_("Put it back"))
        self.put_back.clicked.connect(lambda: self.changed.emit(self._before))
        buttons = QWidget()
        row = QHBoxLayout(buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for one in (self.choose, self.take_off, self.put_back):
            row.addWidget(one)
        row.addStretch(1)
        self.section = Section(
            _("Logo"),
            _(
                "Kept small and without anything a photograph says of its place. Papers do not "
                "print it yet."
            ),
        )
        self.section.add(self._picture, self.says, buttons)
        LOOK.changed.connect(self._draw)
        self._draw()

    def show_logo(self, png: bytes, *, before: bytes = b"") -> None:
        """Show what is kept, and offer what was there before."""
        self._kept, self._before = png, before
        self.says.setText("" if png else _("No logo yet.") if not before else _("Taken off."))
        self._draw()

    def refuse(self, why: str) -> None:
        """Say why a picture cannot be used; the one that is kept stays."""
        self.says.setText(why)
        self.says.show()

    def lock(self, *, locked: bool) -> None:
        """Let it be seen only."""
        for one in (self.choose, self.take_off, self.put_back):
            one.setEnabled(not locked)

    def _choose(self) -> None:
        # Not waited for: the window lives on while somebody looks through folders.
        dialog = QFileDialog(
            self.choose.window(),
            _("Choose a picture"),
            "",
            _("Pictures (*.png *.jpg *.jpeg *.webp)"),
        )
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.fileSelected.connect(lambda name: self.picked.emit(Path(name)))
        dialog.open()

    def _draw(self) -> None:
        picture = QPixmap()
        if self._kept and picture.loadFromData(self._kept):
            room = QSize(LOOK.px(SHOWN.width()), LOOK.px(SHOWN.height()))
            if picture.width() > room.width() or picture.height() > room.height():
                picture = picture.scaled(
                    room,
                    Qt.AspectRatioMode.KeepAspectRatio,
                    Qt.TransformationMode.SmoothTransformation,
                )
        self._picture.setPixmap(picture)
        self._picture.setVisible(bool(self._kept))
        self.says.setVisible(bool(self.says.text()))
        self.take_off.setVisible(bool(self._kept))
        self.put_back.setVisible(bool(self._before) and not self._kept)
