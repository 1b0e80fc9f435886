"""Every icon draws, in the colour asked for."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QApplication

from estimator import resources
from estimator.desktop.theme.icons import icon, pixmap
from estimator.desktop.theme.look import LOOK

ICONS = [name[6:-4] for name in resources.NAMES if name.startswith("icons/")]


@pytest.mark.parametrize("name", ICONS)
def test_an_icon_draws_in_its_colour(qapp: QApplication, name: str) -> None:
    picture = pixmap(name, 24, "stop").toImage()
    wanted = LOOK.colour("stop")
    seen = {
        picture.pixelColor(x, y).name()
        for x in range(picture.width())
        for y in range(picture.height())
        if picture.pixelColor(x, y).alpha() == 255
    }
    assert wanted.name() in seen


def test_an_unknown_icon_is_refused(qapp: QApplication) -> None:
    with pytest.raises(KeyError):
        icon("nobody")
