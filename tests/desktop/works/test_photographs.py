"""Photographs of what was done: taken in beside the window's work, captioned, noted, printed."""

from __future__ import annotations

import io
import threading
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from pytestqt.qtbot import QtBot

from estimator.contract.works import Completion
from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.works.built_page import BuiltPage
from estimator.exchange import photographs
from estimator.exchange.photographs import LONG_SIDE_PX
from estimator.office import contracts
from tests.desktop.agreed.conftest import WAIT
from tests.desktop.fakes import TODAY, answered
from tests.desktop.works.conftest import come_to

GPS_IFD = 0x8825
"""Where a camera writes the place (Exif 2.3, 4.6.3, from memory)."""


def photograph(path: Path, colour: str = "firebrick", size: tuple[int, int] = (3000, 2000)) -> Path:
    """Write a photograph as a telephone does, with the place it was taken at."""
    notes = Image.Exif()
    notes.get_ifd(GPS_IFD)[1] = "N"
    notes.get_ifd(GPS_IFD)[2] = (54.0, 58.0, 12.0)
    Image.new("RGB", size, colour).save(path, "JPEG", exif=notes)
    return path


def opened(columns: Columns) -> BuiltPage:
    columns.agreeing.job.open("built")
    return columns.working.built


def taken(page: BuiltPage, qtbot: QtBot, *paths: Path) -> None:
    wanted = len(page.photos.rows) + len(paths)
    page.photos.take_in(paths)
    qtbot.waitUntil(lambda: len(page.photos.rows) == wanted, timeout=WAIT)
    qtbot.waitUntil(lambda: not page.photos.taking.is_busy, timeout=WAIT)


def in_file(columns: Columns, name: str) -> bytes | None:
    found: list[bytes | None] = []
    uid = columns._session.job.uid
    columns._session.filing.ask(lambda place: kept.photo(place, uid, name), found.append)
    answered(columns._session)
    return found[0]


def test_what_is_dropped_is_kept_small_and_without_its_place(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    page = opened(planned)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(photograph(tmp_path / "bar.jpg")))])
    copied, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    event = QDropEvent(QPointF(40, 300), copied, data, left, Qt.KeyboardModifier.NoModifier)
    page.dropEvent(event)
    assert event.isAccepted()
    qtbot.waitUntil(lambda: len(page.photos.rows) == 1, timeout=WAIT)
    jpeg = in_file(planned, page.photos.photos[0])
    assert jpeg is not None
    with Image.open(io.BytesIO(jpeg)) as seen:
        assert max(seen.size) == LONG_SIDE_PX
        assert not seen.getexif()
        assert not seen.getexif().get_ifd(GPS_IFD)
    assert not page.photos.rows[0].thumb.pixmap().isNull()


def test_what_is_no_photograph_is_refused_in_a_sentence(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    page = opened(planned)
    broken, notes, fine = tmp_path / "broken.jpg", tmp_path / "notes.txt", tmp_path / "fine.jpg"
    broken.write_bytes(photograph(fine).read_bytes()[:900])
    notes.write_text("Ring about the gutter.")
    for path in (broken, notes):
        page.photos.take_in([path])
        qtbot.waitUntil(lambda: "could not be read as a photograph" in page.photos.said.text())
        assert page.photos.rows == []
    # One that is refused keeps nobody from those after it, and is still told of.
    page.photos.take_in([notes, fine])
    qtbot.waitUntil(lambda: len(page.photos.rows) == 1, timeout=WAIT)
    qtbot.waitUntil(lambda: not page.photos.taking.is_busy, timeout=WAIT)
    assert "could not be read as a photograph" in page.photos.said.text()
    page.photos.take_in([fine])
    qtbot.waitUntil(lambda: "here already" in page.photos.said.text(), timeout=WAIT)
    assert len(page.photos.rows) == 1


def test_nothing_is_unpacked_in_the_windows_thread(
    planned: Columns, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_work: list[threading.Thread] = []
    real = photographs.take_in

    def noticed(given: Path | bytes) -> photographs.TakenIn:
        at_work.append(threading.current_thread())
        return real(given)

    monkeypatch.setattr(photographs, "take_in", noticed)
    taken(opened(planned), qtbot, photograph(tmp_path / "bar.jpg"))
    assert at_work
    assert threading.main_thread() not in at_work


def test_one_that_is_too_large_is_refused_unopened(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    """A picture of 12,000 by 12,000 dots says so in the first bytes of its file (PNG, IHDR)."""
    path = tmp_path / "huge.png"
    Image.new("1", (12_000, 12_000)).save(path)
    page = opened(planned)
    page.photos.take_in([path])
    qtbot.waitUntil(lambda: "too large" in page.photos.said.text(), timeout=WAIT)
    assert page.photos.rows == []


def test_photographs_come_out_on_the_record_of_what_was_built(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    page = opened(planned)
    first, second = (photograph(tmp_path / f"{colour}.jpg", colour) for colour in ("red", "sienna"))
    taken(page, qtbot, first, second)
    page.photos.rows[0].caption.setText("Dry fit, before grouting")
    page.photos.rows[0].caption.textEdited.emit("Dry fit, before grouting")
    mark = next(iter(page.marks))
    page.marks[mark].box.click()
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    [built] = planned.agreeing.following.so_far.built
    assert len(built.photos) == 2
    assert built.captions == ("Dry fit, before grouting", "")
    assert page.photos.rows == []
    come_to(planned, qtbot, lambda works: bool(works.noted))
    assert "2 photographs" in page.done.text
    sheet = planned.working.sheet
    with qtbot.waitSignal(sheet.draft.done, timeout=WAIT) as made:
        planned.working._paper("as_built")
    # As it is looked at, and as it is kept.
    kept_pdf: list[bytes] = []
    qtbot.waitUntil(sheet.take.isEnabled, timeout=WAIT)
    with qtbot.waitSignal(sheet.kept, timeout=WAIT):
        sheet.take.click()
    planned.agreeing.papers.laid.connect(lambda pdf, _title: kept_pdf.append(pdf))
    planned.agreeing.papers.lay("S-0001")
    qtbot.waitUntil(lambda: bool(kept_pdf), timeout=WAIT)
    trader, told = planned._session.practice.trader, Completion(TODAY, "Jo Bell")
    planned.agreeing.following.do(
        lambda place, job: contracts.complete(place, job, told, trader=trader),
        lambda gone: kept_pdf.append(gone.pdf),
    )
    qtbot.waitUntil(lambda: len(kept_pdf) > 1, timeout=WAIT)
    for pdf in (made.args[0], *kept_pdf):
        pages = PdfReader(io.BytesIO(pdf)).pages
        assert sum(len(one.images) for one in pages) == 2
        said = " ".join(" ".join(one.extract_text() for one in pages).split())
        assert "1. Dry fit, before grouting" in said
        works = planned.working.overseeing.works
        assert works is not None
        assert f"2. {works.noted[0].words}" in said


def test_one_taken_away_is_not_noted(planned: Columns, qtbot: QtBot, tmp_path: Path) -> None:
    page = opened(planned)
    taken(
        page, qtbot, photograph(tmp_path / "a.jpg", "red"), photograph(tmp_path / "b.jpg", "blue")
    )
    gone, stays = page.photos.photos
    assert page.photos.rows[0].drop.accessibleName() == "Take photograph 1 away"
    qtbot.keyClick(page.photos.rows[0].drop, Qt.Key.Key_Return)
    assert page.photos.photos == (stays,)
    assert page.photos.rows[0].caption.accessibleName() == "Caption of photograph 1"
    assert page.photos.rows[0].drop.hasFocus()
    page.marks[next(iter(page.marks))].box.click()
    with qtbot.waitSignal(page.noted, timeout=WAIT):
        page.take.click()
    assert planned.agreeing.following.so_far.built[0].photos == (stays,)
    # Nothing names it any more: once the job is left it goes from the file.
    planned._session._let_go_of_pictures()
    assert in_file(planned, gone) is None
    assert in_file(planned, stays) is not None


def test_what_comes_in_late_belongs_to_no_other_job(
    planned: Columns, qtbot: QtBot, tmp_path: Path
) -> None:
    page = opened(planned)
    page.photos.take_in([photograph(tmp_path / "late.jpg")])
    assert page.photos.taking.is_busy
    planned._session.new_job()
    answered(planned._session)
    assert page.photos.rows == []
    assert not page.photos.taking.is_busy
