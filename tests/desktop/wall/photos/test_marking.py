"""Points marked on a photograph by hand and by keys, and measured against the truth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estimator.desktop.wall.photos.marking import Way
from estimator.desktop.wall.photos.underlay import Showing
from estimator.survey.photo import Squared
from tests.desktop.wall.photos.desk import CORNERS, LEFT, PhotoHands, photo_hands
from tests.desktop.wall.photos.scenes import (
    CAMERA,
    CRACK,
    LONG_OF_CRACK,
    bare_wall,
    crossing,
    seen,
)

Key = Qt.Key


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[PhotoHands]:
    with photo_hands(qtbot, tmp_path / "file", bare_wall()) as made:
        made.drop_photograph(tmp_path)
        yield made


def lies(hands: PhotoHands) -> Squared:
    found = hands.album.lies(hands.photo)
    assert isinstance(found, Squared)
    return found


def look_at_the_crack(hands: PhotoHands) -> None:
    hands.board.fit()
    hands.still()
    hands.board.zoom(4.0, QPointF(200, 200))
    view = hands.board.view
    assert view is not None
    x, y = view.at(*CRACK[len(CRACK) // 2])
    hands.board.pan((hands.board.width() / 2 - x, hands.board.height() / 2 - y))
    hands.settle()


def test_four_counted_corners_set_it_to_scale(hands: PhotoHands) -> None:
    """Lengths along the painted crack are within one in a hundred of those it was painted with."""
    hands.mark()
    assert [(one.x_mm, one.y_mm) for one in hands.photo.points] == [crossing(*c) for c in CORNERS]
    found = lies(hands)
    corners = [found.to_wall(seen(CAMERA, place)) for place in CRACK]
    along = sum(math.dist(a, b) for a, b in pairwise(corners))
    assert along == pytest.approx(LONG_OF_CRACK, rel=0.01)
    for told, true in zip(corners, CRACK, strict=True):
        assert math.dist(told, true) <= found.likely_error_mm(true)
    end_to_end = math.dist(corners[0], corners[-1])
    allowed = found.error_of_length_mm(corners[0], corners[-1])
    assert abs(end_to_end - math.dist(CRACK[0], CRACK[-1])) <= allowed
    assert "To scale: lengths on it are likely within" in hands.photo_form.verdict.text()


def test_a_crack_traced_on_the_photograph_measures_right(hands: PhotoHands) -> None:
    """Clicked where the painted crack is seen on the board, with the crack's own tool."""
    hands.mark()
    hands.finish()
    found = lies(hands)
    look_at_the_crack(hands)
    QTest.keyClick(hands.board, Key.Key_C)
    for corner in CRACK:
        hands.click(found.to_wall(seen(CAMERA, corner)))
    QTest.mouseClick(hands.board, Qt.MouseButton.RightButton, pos=hands.at(CRACK[-1]))
    hands.settle()
    picture = hands.drafting.picture()
    assert picture is not None
    (crack,) = picture.cracks
    along = sum(math.dist(a, b) for a, b in pairwise(crack.points))
    assert along == pytest.approx(LONG_OF_CRACK, rel=0.01)


def test_what_is_painted_lies_where_it_is(hands: PhotoHands) -> None:
    """The painted crack is dark on the board at its true places, the bricks beside it are not."""
    hands.mark()
    hands.finish()
    look_at_the_crack(hands)
    board = hands.painted()
    view = hands.board.view
    assert view is not None
    for (x, y), (to_x, to_y) in pairwise(CRACK):
        middle = ((x + to_x) / 2, (y + to_y) / 2)
        away = (30.0, 0.0) if x == to_x else (0.0, 30.0)
        on = board.pixelColor(QPointF(*view.at(*middle)).toPoint()).lightness()
        spot = view.at(middle[0] + away[0], middle[1] + away[1])
        beside = board.pixelColor(QPointF(*spot).toPoint()).lightness()
        assert on < beside - 25


def test_on_a_bare_wall_two_counts_are_enough(hands: PhotoHands) -> None:
    """The first joint is where counting begins; level and plumb corners take counts over."""
    points = [(0, 1), (0, 16), (28, 16), (28, 1)]
    for number, corner in enumerate(points, 1):
        hands.click_crossing(*corner)
        if number == 1:
            hands.count(1, 0, 1)
        if number == 2:
            rows = hands.photo_form.points.rows
            assert rows[1].up.text() == "0"
            hands.into_line(rows[1].along, "16")
        if number == 3:
            hands.into_line(hands.photo_form.points.rows[2].up, "28")
    assert [hands.album.marking.counted(n) for n in range(4)] == points
    assert "as point 1" in hands.photo_form.points.rows[3].status.text()
    assert isinstance(lies(hands), Squared)


def test_the_first_point_of_a_bare_wall_is_the_reference(hands: PhotoHands) -> None:
    hands.click_crossing(2, 2)
    assert hands.album.marking.counted(0) == (0, 0)


def test_digits_typed_over_the_photograph_count_the_point(hands: PhotoHands) -> None:
    hands.click_crossing(2, 2)
    hands.click_crossing(28, 9)
    assert hands.pane.hasFocus()
    QTest.keyClick(hands.pane, Key.Key_2)
    row = hands.photo_form.points.rows[1]
    assert row.up.hasFocus()
    QTest.keyClicks(row.up, "8")
    QTest.keyClick(row.up, Key.Key_Return)
    assert row.along.hasFocus()
    QTest.keyClicks(row.along, "9")
    QTest.keyClick(row.along, Key.Key_Return)
    assert hands.album.marking.counted(1) == (28, 9)


def test_arrow_keys_move_the_point_by_a_pixel_and_are_one_step(hands: PhotoHands) -> None:
    hands.mark()
    before = hands.photo
    QTest.mouseClick(hands.pane, LEFT, pos=hands.on_pane(hands.album.marking.points[3].seen))
    hands.pane.setFocus()
    x, y = before.points[3].across_px, before.points[3].down_px
    for key in (Key.Key_Right, Key.Key_Right, Key.Key_Down):
        QTest.keyClick(hands.pane, key)
    QTest.keyClick(hands.pane, Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    moved = hands.photo.points[3]
    assert (moved.across_px, moved.down_px) == pytest.approx((x - 8, y + 1))
    hands.undo()
    assert hands.photo == before


def test_dragging_a_point_is_one_step(hands: PhotoHands) -> None:
    hands.mark()
    before = hands.photo
    start = hands.on_pane(hands.album.marking.points[0].seen)
    QTest.mousePress(hands.pane, LEFT, pos=start)
    for by in (6, 9, 14):
        QTest.mouseMove(hands.pane, start + QPoint(by, 0))
    QTest.mouseRelease(hands.pane, LEFT, pos=start + QPoint(14, 0))
    hands.settle()
    assert hands.photo.points[0].across_px > before.points[0].across_px + 10
    assert len(hands.photo.points) == 4
    hands.undo()
    assert hands.photo == before


def test_a_miscounted_fifth_point_is_told_though_not_which(hands: PhotoHands) -> None:
    hands.mark()
    hands.click_crossing(14, 6)
    hands.count(5, 14, 7)
    rows = hands.photo_form.points.rows
    assert "mm off!" in rows[4].status.text()
    assert "do not agree" in hands.photo_form.verdict.text()
    hands.count(5, 14, 6)
    assert "To scale" in hands.photo_form.verdict.text()
    assert rows[4].status.text().endswith("mm off")


def test_with_many_points_the_miscounted_one_is_named(hands: PhotoHands) -> None:
    hands.mark()
    hands.mark([(14, 4), (20, 10), (8, 12)])
    hands.click_crossing(16, 8)
    hands.count(8, 17, 8)
    assert hands.photo_form.verdict.text().startswith("Point 8 is")
    assert hands.photo_form.verdict.text().endswith("mm off: count it again.")


def test_a_count_beyond_the_wall_is_said_and_changes_nothing(hands: PhotoHands) -> None:
    hands.mark()
    before = hands.survey
    hands.count(2, 2, "200")
    assert "no place 2 courses up and 200 bricks along" in hands.photo_form.trouble.text()
    assert hands.survey == before


def test_what_is_no_number_is_said_and_stays(hands: PhotoHands) -> None:
    hands.click_crossing(2, 2)
    row = hands.photo_form.points.rows[0]
    hands.into_line(row.up, "wall")
    assert "no number yet" in hands.photo_form.trouble.text()
    assert row.up.text() == "wall"


def test_a_place_is_shown_on_the_drawing_instead(hands: PhotoHands) -> None:
    """Where there is no room for both, the drawing comes up for one click and goes again."""
    QTest.mouseClick(hands.photo_form.ways[Way.DRAWING], LEFT)
    hands.click_crossing(2, 2)
    hands.album.marking.drop(0)
    for up, along in CORNERS:
        hands.click_crossing(up, along)
        if not hands.album.marking.is_awaiting:
            number = len(hands.album.marking.points) - 1
            hands.album.marking.await_drawing(number)
        assert hands.board.isVisible()
        assert not hands.pane.isVisible()
        x, y = crossing(up, along)
        hands.click((x + 12, y - 9))
        assert hands.pane.isVisible()
        assert not hands.board.isVisible()
    assert [(one.x_mm, one.y_mm) for one in hands.photo.points] == [crossing(*c) for c in CORNERS]


def test_places_are_told_by_tape(hands: PhotoHands) -> None:
    QTest.mouseClick(hands.photo_form.ways[Way.TAPE], LEFT)
    hands.click_crossing(2, 2)
    row = hands.photo_form.points.rows[0]
    hands.into_line(row.from_left, "1.25 m")
    hands.into_line(row.above, "905")
    assert (hands.photo.points[0].x_mm, hands.photo.points[0].y_mm) == (1250.0, 905.0)


def test_all_is_done_without_a_mouse(hands: PhotoHands) -> None:
    """A cross is moved by keys, marked with Enter, and the rest is typed: counts and pixels."""
    QTest.mouseClick(hands.photo_form.pixels, LEFT)
    hands.pane.setFocus()
    for number, corner in enumerate(CORNERS, 1):
        QTest.keyClick(hands.pane, Key.Key_Right)
        QTest.keyClick(hands.pane, Key.Key_Return)
        assert len(hands.album.marking.points) == number
        row = hands.photo_form.points.rows[number - 1]
        across, down = seen(CAMERA, crossing(*corner))
        hands.count(number, *corner)
        hands.into_line(row.across, f"{across:.2f}")
        hands.into_line(row.down, f"{down:.2f}")
        hands.pane.setFocus()
        QTest.keyClick(hands.pane, Key.Key_Escape)
        QTest.keyClick(hands.pane, Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    found = lies(hands)
    for place in CRACK:
        assert math.dist(found.to_wall(seen(CAMERA, place)), place) < 0.5
    QTest.keyClick(hands.pane, Key.Key_Escape)
    assert not hands.pane.isVisible()
    assert hands.board.hasFocus()


def test_points_are_undone_and_done_again(hands: PhotoHands) -> None:
    states = [hands.photo.points]
    for corner in CORNERS:
        hands.mark([corner])
        states.append(hands.photo.points)
    while hands.photo.points:
        hands.undo()
    assert len(hands.album.marking.points) == 0
    while hands.session.history.canRedo():
        hands.session.history.redo()
    hands.settle()
    assert hands.photo.points == states[-1]
    assert [one.place for one in hands.album.marking.points] == [crossing(*c) for c in CORNERS]


def test_delete_takes_the_point_in_hand_away(hands: PhotoHands) -> None:
    hands.mark()
    QTest.mouseClick(hands.pane, LEFT, pos=hands.on_pane(hands.album.marking.points[1].seen))
    hands.pane.setFocus()
    QTest.keyClick(hands.pane, Key.Key_Delete)
    assert [(one.x_mm, one.y_mm) for one in hands.photo.points] == [
        crossing(*corner) for corner in (CORNERS[0], *CORNERS[2:])
    ]
    assert "one more point" in hands.photo_form.verdict.text()


def test_the_photograph_lies_still_while_points_are_clicked(hands: PhotoHands) -> None:
    """Rows that appeared made the form grow and the picture shrink, so the next click missed."""
    box = hands.pane.sheet.box
    hands.mark()
    hands.click_crossing(14, 6)
    assert hands.pane.sheet.box == box


def test_wheel_and_keys_look_nearer_without_marking(hands: PhotoHands) -> None:
    spot = (600.0, 500.0)
    scale = hands.pane.sheet.scale
    QTest.keyClick(hands.pane, Key.Key_Plus)
    assert hands.pane.sheet.scale > scale
    at = hands.on_pane(spot)
    QTest.mousePress(hands.pane, LEFT, pos=at)
    QTest.mouseMove(hands.pane, at + QPoint(30, 20))
    QTest.mouseRelease(hands.pane, LEFT, pos=at + QPoint(30, 20))
    assert hands.album.marking.points == ()
    assert hands.on_pane(spot) == at + QPoint(30, 20)
    QTest.keyClick(hands.pane, Key.Key_0)
    assert hands.pane.sheet.scale == scale


def test_v_turns_from_photograph_to_drawing_to_both(hands: PhotoHands) -> None:
    hands.mark()
    hands.finish()
    seen_as = []
    for _turn in range(3):
        seen_as.append((hands.album.showing, hands.painted()))
        QTest.keyClick(hands.board, Key.Key_V)
    assert [one for one, _image in seen_as] == [Showing.PHOTO, Showing.DRAWING, Showing.BOTH]
    assert hands.album.showing is Showing.PHOTO
    images = [image for _one, image in seen_as]
    assert images[0] != images[1] != images[2] != images[0]
    form = hands.photo_form
    QTest.mouseClick(form.shelf.shown, LEFT, pos=QPoint(8, form.shelf.shown.height() // 2))
    assert hands.photo.id in hands.album.hidden
    assert hands.painted() != images[0]


def test_a_wide_window_shows_photograph_and_drawing_side_by_side(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with photo_hands(qtbot, tmp_path / "file", bare_wall(), (1200, 900)) as hands:
        hands.drop_photograph(tmp_path)
        assert hands.pane.isVisible()
        assert hands.board.isVisible()
        hands.column.resize(640, 760)
        hands.settle()
        assert hands.pane.isVisible()
        assert not hands.board.isVisible()


def test_what_lies_under_the_drawing_is_painted_once(hands: PhotoHands) -> None:
    hands.mark()
    hands.finish()
    hands.painted()
    before = hands.album.painted
    for _turn in range(3):
        hands.board.repaint()
    assert hands.album.painted == before
    hands.board.zoom(2.0, QPointF(200, 200))
    hands.board.repaint()
    assert hands.album.painted == before + 1
