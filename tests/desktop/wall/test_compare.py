"""The wall before and after, as a person sees it: by key and by pointer, in grey too."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop.columns import Columns
from estimator.desktop.session import Session
from estimator.desktop.theme.look import LOOK
from estimator.desktop.theme.tokens import Scheme
from estimator.desktop.wall.compare import Comparison
from estimator.desktop.wall.compare_view import ImpressionView
from estimator.drawing.impression import Why
from tests.desktop.fakes import demo_survey, rest, session_on
from tests.desktop.theme.test_tokens import contrast
from tests.desktop.wall.walls import demo, shown


@pytest.fixture
def comparison(qtbot: QtBot) -> Comparison:
    session = shown(demo("window_lime"))
    made = Comparison(session)
    made.kept_for_test = session  # type: ignore[attr-defined]
    qtbot.addWidget(made)
    made.resize(990, 640)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.begin(0, 0)
    qtbot.waitUntil(lambda: not any(one.is_moving for one in made.views))
    return made


def lightness(view: ImpressionView, place: tuple[float, float]) -> int:
    """Return how light the drawing is at a place of the wall, read in grey."""
    assert view.view is not None
    grey = view.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    x, y = view.view.at(*place)
    ratio = grey.devicePixelRatio()
    spots = [QPoint(round(x * ratio), round(y * ratio) + down) for down in (-1, 0, 1)]
    return max((grey.pixelColor(spot).lightness() for spot in spots), default=0)


def test_the_same_wall_stands_there_now_and_after_each_option(comparison: Comparison) -> None:
    titles = [column.title.text() for column in comparison.columns]
    assert titles == [
        "As it is now",
        "Stitch, and point where we cut",
        "Stitch, and repoint the whole panel",
    ]
    prices = [column.price.text() for column in comparison.columns]
    assert prices[0] == "nothing done"
    options = comparison._session.sight.options
    assert prices[1:] == [f"£{one.offer.total.pounds:,}" for one in options]
    for column, option in zip(comparison.columns[1:], options, strict=True):
        assert column.caption.text() == " ".join(option.measure.visible)
    assert "not a promise" in comparison.note.text()


@pytest.mark.parametrize("scheme", list(Scheme))
def test_new_mortar_is_told_from_old_by_lightness(
    comparison: Comparison, qtbot: QtBot, scheme: Scheme
) -> None:
    LOOK.apply(scheme)
    now, local, panel = comparison.views
    assert local.impression is not None
    slot = next(one for one in local.impression.joints if one.why is Why.SLOT)
    middle = (slot.part.left_bottom + 60, (slot.part.bottom + slot.part.top) / 2)
    old, new = lightness(now, middle), lightness(local, middle)
    assert new - old > 40
    assert lightness(panel, middle) - old > 40


@pytest.mark.parametrize("scheme", list(Scheme))
def test_the_colours_of_mortar_keep_apart_in_grey(scheme: Scheme) -> None:
    # 3 to 1 is what WCAG 2.2 asks of what has to be told apart (1.4.11); old joints are weathered.
    from estimator.desktop.theme.tokens import SCHEMES  # noqa: PLC0415

    tokens = SCHEMES[scheme]
    weathered = multiplied(tokens.mortar, tokens.weathered)
    assert contrast(tokens.new_mortar, multiplied(tokens.brick, tokens.weathered)) >= 3
    assert contrast(tokens.new_mortar, weathered) >= 2


def multiplied(one: str, other: str) -> str:
    parts = [round(int(one[n : n + 2], 16) * int(other[n : n + 2], 16) / 255) for n in (1, 3, 5)]
    return "#" + "".join(f"{part:02x}" for part in parts)


def test_all_are_zoomed_and_moved_together(comparison: Comparison, qtbot: QtBot) -> None:
    first = comparison.views[0]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Plus)
    qtbot.waitUntil(lambda: not first.is_moving)
    assert len({view.view for view in comparison.views}) == 1
    comparison.views[2].zoom(1.4, QPointF(100, 100))
    assert len({view.view for view in comparison.views}) == 1


def test_arrows_go_from_drawing_to_drawing_and_enter_chooses(
    comparison: Comparison, qtbot: QtBot
) -> None:
    comparison.views[0].setFocus()
    qtbot.keyClick(comparison.views[0], Qt.Key.Key_Right)
    assert comparison.views[1].hasFocus()
    qtbot.keyClick(comparison.views[1], Qt.Key.Key_Right)
    with qtbot.waitSignal(comparison.chosen) as chosen:
        qtbot.keyClick(comparison.views[2], Qt.Key.Key_Return)
    assert chosen.args == [1]


def test_each_drawing_is_named_for_who_cannot_see_it(comparison: Comparison) -> None:
    for column, view in zip(comparison.columns, comparison.views, strict=True):
        assert view.accessibleName().startswith(column.title.text())
        assert view.accessibleDescription() == column.caption.text()


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Session]:
    session = session_on(tmp_path, demo_survey("window_lime"))
    yield session
    session.filing.close()


@pytest.fixture
def columns(qtbot: QtBot, opened: Session) -> Iterator[Columns]:
    made = Columns(opened)
    made.finish()
    qtbot.addWidget(made)
    made.resize(1366, 680)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    QApplication.processEvents()
    yield made
    rest(opened)


def test_the_button_brings_the_drawings_and_escape_the_wall_back(
    columns: Columns, qtbot: QtBot
) -> None:
    qtbot.mouseClick(columns.money.cards.compare, Qt.MouseButton.LeftButton)
    assert columns.is_comparing and columns.comparison.isVisible()
    assert not columns.questions.isVisible()
    chosen = columns.comparison.views[1]
    qtbot.waitUntil(chosen.hasFocus)
    qtbot.keyClick(chosen, Qt.Key.Key_Escape)
    assert not columns.is_comparing
    assert columns.wall.isVisible() and columns.questions.isVisible()
    assert columns.wall.board.hasFocus()


def test_an_option_chosen_among_the_drawings_is_chosen_beside(
    columns: Columns, qtbot: QtBot
) -> None:
    columns.compare()
    qtbot.mouseClick(columns.comparison.columns[2].choose, Qt.MouseButton.LeftButton)
    assert columns.money.cards.at == 1
    assert columns.comparison.columns[2].choose.text() == "Chosen"
    assert columns.comparison.columns[1].choose.text() == "Choose this"


def test_the_drawings_follow_an_undo_and_go_where_no_price_may_be_given(
    columns: Columns, opened: Session, qtbot: QtBot
) -> None:
    columns.compare()
    opened.job = type(opened.job)(type(opened.work)(demo_survey("refer")), "another")
    opened.refresh()
    opened.job_changed.emit(opened.job)
    assert not columns.is_comparing
    columns.compare()
    assert not columns.is_comparing


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("name", ["quoin_cavity", "window_lime"])
def test_no_words_are_cut_off_and_none_lie_over_a_drawing(
    qtbot: QtBot, name: str, scale: float
) -> None:
    LOOK.apply(Scheme.LIGHT, scale=scale)
    session = shown(demo(name))
    made = Comparison(session)
    qtbot.addWidget(made)
    made.resize(800 if scale > 1 else 990, 620)
    made.show()
    qtbot.waitExposed(made)
    made.begin(0, 0)
    QApplication.processEvents()
    for column in made.columns:
        for label in (column.title, column.price, column.caption):
            assert label.height() >= label.heightForWidth(label.width()), label.text()
        drawn = column.view.geometry()
        assert drawn.height() >= LOOK.px(150)
        for part in (column.title, column.price, column.caption, column.choose):
            assert not part.isVisible() or not part.geometry().intersects(drawn)


def test_what_was_only_told_is_not_called_measured(qtbot: QtBot) -> None:
    for name, is_measured in (("phone_call", False), ("window_lime", True)):
        session = shown(demo(name))
        made = Comparison(session)
        qtbot.addWidget(made)
        made.begin(0, 0)
        assert ("as measured" in made.note.text()) is is_measured
        assert "not a promise" in made.note.text()


@pytest.mark.parametrize("width", range(1240, 1400, 20))
def test_drawings_come_to_rest_where_they_just_need_a_bar_to_scroll_by(
    qtbot: QtBot, width: int
) -> None:
    """The bar made them narrower, so lower, so that it went, and came again without an end."""
    LOOK.apply(Scheme.DARK, scale=2.0)
    made = Comparison(shown(demo("drawn_gable")))
    qtbot.addWidget(made)
    made.resize(width, 1000)
    made.show()
    qtbot.waitExposed(made)
    made.begin(0, 0)
    qtbot.waitUntil(lambda: not any(one.is_moving for one in made.views))
    sizes = [one.size() for one in made.views]
    QApplication.processEvents()
    assert [one.size() for one in made.views] == sizes
    for view in made.views:
        assert view.minimumHeight() <= view.height() <= view.maximumHeight()
