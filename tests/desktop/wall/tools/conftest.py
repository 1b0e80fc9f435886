"""A hand on a plain wall."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from tests.desktop.wall.hand import Hand, hand_on, plain_wall


@pytest.fixture
def hand(qtbot: QtBot, tmp_path: Path) -> Iterator[Hand]:
    with hand_on(qtbot, tmp_path, plain_wall()) as one:
        yield one
