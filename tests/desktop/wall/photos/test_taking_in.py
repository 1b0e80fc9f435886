"""Photographs dropped, pasted and chosen: kept without what they tell, and found again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.session import fresh_job
from estimator.office.place import file_in
from estimator.store.database import Database
from tests.desktop.fakes import TODAY, answered
from tests.desktop.wall.photos.desk import PhotoHands, photo_hands
from tests.desktop.wall.photos.scenes import bare_wall, photograph, photograph_in


@pytest.fixture
def hands(qtbot: QtBot, tmp_path: Path) -> Iterator[PhotoHands]:
    with photo_hands(qtbot, tmp_path / "file", bare_wall()) as made:
        yield made


def pictures(hands: PhotoHands, job: object = None) -> dict[str, bytes]:
    """What the file has of the photographs on the desk."""
    found: list[dict[str, bytes]] = []
    asked = hands.session.job

    def read(database: Database) -> dict[str, bytes]:
        return kept.photos_of(database, asked)

    hands.session.filing.ask(read, found.append)
    hands.qtbot.waitUntil(lambda: bool(found))
    return found[0]


def test_a_dropped_file_is_on_the_wall_and_in_the_file(hands: PhotoHands, tmp_path: Path) -> None:
    hands.drop_photograph(tmp_path)
    photo = hands.photo
    assert (photo.elevation, photo.width_px, photo.height_px) == ("front", 2000, 1500)
    assert photo.taken == "2026-11-02"
    assert list(pictures(hands)) == [photo.picture]
    assert hands.drafting.tool.name == "photo"
    assert hands.session.history.undoText() == "photograph"


def test_nothing_in_the_file_says_where_it_was_taken(hands: PhotoHands, tmp_path: Path) -> None:
    """Neither the place, nor the camera, nor any list of notes stays in the kept picture."""
    given = photograph()
    assert b"Exif" in given
    assert b"Maker of cameras" in given
    hands.drop_photograph(tmp_path)
    (jpeg,) = pictures(hands).values()
    assert jpeg[:2] == b"\xff\xd8"
    assert b"Exif" not in jpeg
    answered(hands.session)
    whole = file_in(tmp_path / "file").read_bytes()
    assert b"Maker of cameras" not in whole
    assert b"Exif" not in whole


def test_a_picture_that_was_copied_is_pasted(hands: PhotoHands) -> None:
    image = QImage.fromData(photograph())
    QGuiApplication.clipboard().setImage(image)
    QTest.keyClick(hands.board, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    hands.wait_for_photos()
    assert (hands.photo.width_px, hands.photo.height_px) == (2000, 1500)
    QGuiApplication.clipboard().clear()


def test_a_picture_dragged_from_elsewhere_is_taken(hands: PhotoHands) -> None:
    data = QMimeData()
    data.setImageData(QImage.fromData(photograph()))
    assert hands.drop(data)
    hands.wait_for_photos()


def test_words_are_not_welcome(hands: PhotoHands) -> None:
    data = QMimeData()
    data.setText("a wall")
    assert not hands.drop(data)


def test_files_are_chosen_without_holding_the_window_up(hands: PhotoHands, tmp_path: Path) -> None:
    path = photograph_in(tmp_path)
    hands.take("photo")
    QTest.mouseClick(hands.photo_form.add, Qt.MouseButton.LeftButton)
    dialog = hands.column.findChild(QFileDialog)
    assert dialog is not None
    dialog.filesSelected.emit([str(path)])
    dialog.close()
    hands.wait_for_photos()


def test_several_come_one_after_the_other(hands: PhotoHands, tmp_path: Path) -> None:
    paths = [photograph_in(tmp_path, f"{crack}.jpg", crack=crack) for crack in (True, False)]
    hands.drop_files(*paths)
    assert "Reading 2 photographs" in hands.photo_form.busy.text()
    assert hands.photo_form.stop.isVisible()
    hands.wait_for_photos(2)
    assert not hands.photo_form.stop.isVisible()
    assert len({one.picture for one in hands.survey.photos}) == 2
    hands.session.history.undo()
    assert len(hands.survey.photos) == 1


def test_stop_takes_none_in(hands: PhotoHands, tmp_path: Path) -> None:
    hands.drop_files(photograph_in(tmp_path))
    QTest.mouseClick(hands.photo_form.stop, Qt.MouseButton.LeftButton)
    answered(hands.session)
    hands.settle()
    assert hands.survey.photos == ()
    assert not hands.album.taking.is_busy
    assert not hands.session.history.canUndo()


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        (
            "notes.txt",
            b"not a picture at all, but long enough to be looked at",
            "could not be read",
        ),
        ("wall.heic", b"\x00\x00\x00\x18ftypheic" + bytes(64), "HEIC"),
    ],
)
def test_what_is_no_photograph_is_said_in_a_sentence(
    hands: PhotoHands, tmp_path: Path, name: str, content: bytes, said: str
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    hands.drop_files(path)
    hands.qtbot.waitUntil(lambda: bool(hands.album.trouble))
    assert said in hands.photo_form.trouble.text()
    assert hands.photo_form.trouble.isVisible()
    assert hands.survey.photos == ()
    hands.drop_photograph(tmp_path)
    assert not hands.photo_form.trouble.isVisible()


def test_a_call_just_taken_is_filed_with_its_photograph(qtbot: QtBot, tmp_path: Path) -> None:
    with photo_hands(qtbot, tmp_path / "file", None) as hands:
        hands.drop_photograph(tmp_path)
        assert list(pictures(hands)) == [hands.photo.picture]
        assert hands.photo.elevation == hands.survey.elevations[0].id


def test_a_survey_without_a_wall_gets_one(qtbot: QtBot, tmp_path: Path) -> None:
    none = replace(bare_wall(), elevations=())
    with photo_hands(qtbot, tmp_path / "file", none) as hands:
        hands.drop_photograph(tmp_path)
        assert [one.id for one in hands.survey.elevations] == [hands.photo.elevation]
        assert list(pictures(hands)) == [hands.photo.picture]
        hands.undo()
        assert hands.survey.elevations == ()


def test_undo_and_redo_bring_a_removed_photograph_back(hands: PhotoHands, tmp_path: Path) -> None:
    hands.drop_photograph(tmp_path)
    before = hands.survey
    QTest.mouseClick(hands.photo_form.done, Qt.MouseButton.LeftButton)
    QTest.mouseClick(hands.photo_form.shelf.remove, Qt.MouseButton.LeftButton)
    hands.settle()
    assert hands.survey.photos == ()
    hands.session.accept()
    answered(hands.session)
    hands.undo()
    assert hands.survey == before
    assert list(pictures(hands)) == [hands.photo.picture]
    assert len(hands.photo_form.shelf.thumbs) == 1
    hands.session.history.redo()
    hands.settle()
    assert hands.survey.photos == ()


def test_a_removed_picture_goes_once_nothing_can_bring_it_back(
    hands: PhotoHands, tmp_path: Path
) -> None:
    hands.drop_photograph(tmp_path)
    job = hands.session.job
    hands.album.remove(hands.photo)
    hands.settle()
    hands.session.show_job(fresh_job(TODAY))
    answered(hands.session)
    found: list[bytes | None] = []
    named = job.work.survey.photos[0].picture

    def read(database: Database) -> bytes | None:
        return kept.photo(database, job.uid, named)

    hands.session.filing.ask(read, found.append)
    hands.qtbot.waitUntil(lambda: bool(found))
    assert found == [None]


def test_a_caption_is_typed_and_undone(hands: PhotoHands, tmp_path: Path) -> None:
    hands.drop_photograph(tmp_path)
    QTest.mouseClick(hands.photo_form.done, Qt.MouseButton.LeftButton)
    caption = hands.photo_form.shelf.caption
    caption.setFocus()
    QTest.keyClicks(caption, "Crack & <b>sill</b>")
    QTest.keyClick(caption, Qt.Key.Key_Return)
    assert hands.photo.caption == "Crack & <b>sill</b>"
    hands.undo()
    assert hands.photo.caption == ""


def test_a_job_killed_and_opened_again_shows_its_photograph(qtbot: QtBot, tmp_path: Path) -> None:
    with photo_hands(qtbot, tmp_path / "file", bare_wall()) as hands:
        hands.drop_photograph(tmp_path)
        hands.mark()
        hands.session.save()
        answered(hands.session)
        uid, points = hands.session.job.uid, hands.photo.points
        # The file is left as it is at this moment: nothing is closed, accepted or tidied.
        copy = tmp_path / "killed"
        copy.mkdir()
        file_in(copy).write_bytes(file_in(tmp_path / "file").read_bytes())
    with photo_hands(qtbot, copy, None) as again:
        found: list[object] = []
        again.session.filing.ask(lambda database: kept.open_job(database, uid), found.append)
        qtbot.waitUntil(lambda: bool(found))
        again.session.show_job(found[0])  # type: ignore[arg-type]
        again.settle()
        assert again.photo.points == points
        again.wait_until_it_lies()
        assert list(pictures(again)) == [again.photo.picture]
