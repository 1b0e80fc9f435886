"""The paper of a survey beside the desk: made, looked at, added to and sent by real keys."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from email import policy
from email.parser import BytesParser
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.papers import survey_checks
from estimator.desktop.papers.recorded import elevation_svg, recorded
from estimator.desktop.session import Session
from estimator.notices import UserMistake
from estimator.store import issued, jobs
from estimator.store.database import Database
from estimator.store.faults import DamagedFile
from estimator.survey.survey import Basis
from tests.desktop.fakes import TODAY, rest
from tests.desktop.papers.conftest import MEASURED, STOPPED, TOLD, Opened, shown
from tests.desktop.papers.drawn import drawn_survey, pictures, taken
from tests.documents.reading import flat, pages, reader

Laid = Callable[[Session], Columns]
WAIT = 20_000


def with_photographs(session: Session, qtbot: QtBot) -> None:
    """Put the photographs of the drawn job into its file."""
    job, found = session.job, []

    def keep(database: Database) -> bool:
        for one in taken():
            kept.keep_photo(database, job, one)
        return True

    session.filing.ask(keep, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)


def made(columns: Columns, qtbot: QtBot) -> bytes:
    """The paper in the middle, once it is there and drawn."""
    survey = columns.survey
    qtbot.waitUntil(lambda: survey.recording.pdf is not None, timeout=WAIT)
    pdf = survey.recording.pdf
    qtbot.waitUntil(lambda: columns.preview.shown is not None, timeout=WAIT)
    assert pdf is not None
    assert columns.preview.shown is not None
    assert columns.preview.shown.pdf == pdf
    return pdf


def words_of(pdf: bytes) -> str:
    return flat("".join(pages(pdf)))


def images_in(pdf: bytes) -> int:
    return sum(len(page.images) for page in reader(pdf).pages)


def test_a_drawn_wall_is_printed_with_its_photographs_and_its_bars(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    with_photographs(session, qtbot)
    columns = laid_survey(session)
    pdf = made(columns, qtbot)
    read = words_of(pdf)
    for words in (
        "Stepped crack beside the door",
        "as measured on site",
        "Right return",
        "bar set by hand",
        "bar kept by hand",
        "The foot of the wall behind the flower bed",
        "cast-iron downpipe",
        "widest 3.5",
        "6 mm under course 9",
    ):
        assert flat(words) in read
    assert images_in(pdf) == len(pictures())
    assert "isnotathand" not in read
    # A record: nothing is numbered, issued or moved by it.
    assert session.job.papers == ()
    assert "£" not in read


def test_a_photograph_the_file_does_not_have_is_said_and_keeps_nothing_back(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    columns = laid_survey(session)
    read = words_of(made(columns, qtbot))
    assert read.count("isnotathand") == 2
    texts = [one.text for one in columns.survey.page.found]
    assert "2 photographs are not in the file, or not whole, so they are not printed." in texts


def test_a_photograph_that_was_damaged_keeps_the_others_and_the_paper(
    opened: Opened, laid_survey: Laid, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    session = opened(drawn_survey())
    with_photographs(session, qtbot)
    spoilt, whole = taken()[0].sha256, kept.photo

    def photo(database: Database, uid: str, name: str) -> bytes | None:
        if name == spoilt:
            raise DamagedFile("a photograph is no longer as it was taken in")
        return whole(database, uid, name)

    monkeypatch.setattr(kept, "photo", photo)
    columns = laid_survey(session)
    pdf = made(columns, qtbot)
    assert images_in(pdf) == 1
    assert words_of(pdf).count("isnotathand") == 1
    assert columns.survey.recording.lost == {spoilt}


def test_a_wall_of_the_telephone_says_that_nothing_was_measured(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(TOLD)
    columns = laid_survey(session)
    read = words_of(made(columns, qtbot))
    assert flat("as told on the telephone, not measured") in read
    assert flat("Nothing on it has been measured yet") in read
    assert "Nothing was measured" in columns.survey.page.kind.text()


def test_a_wall_not_ours_to_price_has_its_paper_all_the_same(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(STOPPED)
    assert not session.sight.options
    columns = laid_survey(session)
    pdf = made(columns, qtbot)
    first = flat(pages(pdf)[0])
    assert flat("a chartered structural engineer looks before anything is cut") in first
    assert flat("no bars are drawn") in first
    assert not columns.survey.page.route.isHidden()
    assert columns.survey.page.email.isEnabled()


def test_what_was_not_seen_is_typed_beside_the_paper_and_stands_on_it(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(replace(drawn_survey(), not_seen="", photos=()))
    columns = laid_survey(session)
    made(columns, qtbot)
    page = columns.survey.page
    (line,) = [one for one in page.to_look_at.lines if "out of sight" in one.accessibleName()]
    line.setFocus()
    qtbot.keyClick(line, Qt.Key.Key_Space)
    field = page.notes.not_seen.editor
    assert field.hasFocus()
    QTest.keyClicks(field, "The back of the chimney.")
    assert session.work.survey.not_seen == "The back of the chimney."
    assert not any("out of sight" in one.text for one in page.found)
    qtbot.waitUntil(
        lambda: (
            (pdf := columns.survey.recording.pdf) is not None
            and flat("The back of the chimney.") in words_of(pdf)
        ),
        timeout=WAIT,
    )
    session.history.undo()
    assert session.work.survey.not_seen == ""
    assert page.notes.not_seen.text == ""


def test_title_day_and_what_is_on_the_wall_are_kept_as_they_are_typed(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    notes = laid_survey(session).survey.page.notes
    _type(notes.title.editor, "Crack by the door", qtbot)
    assert session.work.survey.title == "Crack by the door"
    _type(notes.date.editor, "2 Nov 2026", qtbot)
    qtbot.keyClick(notes.date.editor, Qt.Key.Key_Return)
    assert session.work.survey.date == "2026-11-02"
    assert notes.date.text == "2 November 2026"
    _type(notes.on_walls["back"].editor, "ivy", qtbot)
    assert session.work.survey.elevations[2].ornament == "ivy"


@pytest.mark.parametrize("typed", ["", "next Tuesday", "24/12/2026"])
def test_a_day_that_is_none_stays_as_typed_and_changes_nothing(
    opened: Opened, laid_survey: Laid, qtbot: QtBot, typed: str
) -> None:
    session = opened(drawn_survey())
    date = laid_survey(session).survey.page.notes.date
    _type(date.editor, typed, qtbot)
    qtbot.keyClick(date.editor, Qt.Key.Key_Return)
    assert date.text == typed
    assert date.problem.text()
    assert session.work.survey.date == drawn_survey().date


def test_a_name_rubbed_out_is_asked_for_and_the_one_before_stays(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    title = laid_survey(session).survey.page.notes.title
    _type(title.editor, "", qtbot)
    assert title.problem.text() == "A survey needs a name."
    assert session.work.survey.title == drawn_survey().title


def _type(field: object, text: str, qtbot: QtBot) -> None:
    """Select all that stands in a field, and type over it."""
    assert hasattr(field, "selectAll")
    field.setFocus()  # type: ignore[attr-defined]
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClicks(field, text)


def test_lines_to_look_at_lead_to_the_mark_on_the_wall(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    columns = laid_survey(session)
    page = columns.survey.page
    (line,) = [one for one in page.to_look_at.lines if "indoors" in one.accessibleName()]
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    assert not columns.has_paper
    assert columns.wall.drafting.selection == "back/crack/b"
    assert columns.wall.drafting.side == 2
    focus = QApplication.focusWidget()
    assert focus is not None
    assert columns.wall.particulars.isAncestorOf(focus)


def test_told_sizes_lead_to_who_took_them(opened: Opened, laid_survey: Laid, qtbot: QtBot) -> None:
    session = opened(replace(drawn_survey(), basis=Basis.TOLD))
    columns = laid_survey(session)
    columns.survey.page.lead_to(survey_checks.BASIS)
    assert columns.wall.basis.buttons[Basis.TOLD].hasFocus()


def test_escape_puts_the_wall_back_and_no_more_papers_are_made(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    columns = laid_survey(session)
    made(columns, qtbot)
    focus = QApplication.focusWidget()
    assert focus is not None
    qtbot.keyClick(focus, Qt.Key.Key_Escape)
    assert not columns.has_paper
    assert not columns.money.foot.isHidden()
    begun: list[None] = []
    columns.survey.recording.begun.connect(lambda: begun.append(None))
    session.refresh()
    assert not begun


def test_another_job_never_lies_beside_the_paper_of_the_one_before(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    columns = laid_survey(session)
    made(columns, qtbot)
    session.new_job()
    assert not columns.has_paper


def test_without_a_wall_it_is_said_in_a_sentence(opened: Opened, qtbot: QtBot) -> None:
    session = opened()
    columns = shown(session, qtbot)
    session.new_job()
    with qtbot.waitSignal(session.mistaken, timeout=WAIT) as told:
        columns.show_survey_paper()
    assert "othing is known of the wall yet" in str(told.args and told.args[0])
    assert not columns.has_paper


def test_another_option_in_front_is_drawn_on_the_paper(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(MEASURED)
    columns = laid_survey(session)
    first = made(columns, qtbot)
    columns.money.cards.choose(1)
    qtbot.waitUntil(lambda: columns.survey.recording.pdf not in (None, first), timeout=WAIT)
    second = made(columns, qtbot)
    assert flat("area to be repointed") in words_of(second) or second != first


def test_it_is_saved_and_mailed_to_nobody_named(
    opened: Opened, laid_survey: Laid, qtbot: QtBot, tmp_path: Path
) -> None:
    session = opened(drawn_survey())
    with_photographs(session, qtbot)
    columns = laid_survey(session)
    pdf = made(columns, qtbot)
    sending, page = columns.survey.sending, columns.survey.page
    names: list[str] = []

    def choose(name: str, then: Callable[[str], None]) -> None:
        names.append(name)
        then(str(tmp_path / "out" / "survey.pdf"))

    sending.choose_path = choose
    with qtbot.waitSignal(sending.said, timeout=WAIT):
        _press(page.save, qtbot)
    assert (tmp_path / "out" / "survey.pdf").read_bytes() == pdf
    assert names == ["Survey Stepped crack beside the door Peter and Ama Lowe.pdf"]
    handed: list[Path] = []

    def take(url: QUrl) -> bool:
        handed.append(Path(url.toLocalFile()))
        return True

    sending.open_url = take
    with qtbot.waitSignal(sending.said, timeout=WAIT) as said:
        _press(page.email, qtbot)
    assert said.args == ["The message is open in your mail program. Write in who it goes to."]
    message = BytesParser(policy=policy.default).parsebytes(handed[0].read_bytes())
    assert message["To"] is None
    assert message["Subject"] == "Survey: Stepped crack beside the door, from Tarn & Pike"
    body = message.get_body().get_content()  # type: ignore[attr-defined]
    assert "The wall was measured on 25 November 2026." in body
    assert "no structural report" in body
    (paper,) = message.iter_attachments()  # type: ignore[attr-defined]
    assert paper.get_content() == pdf
    sending.tidy()


def _press(button: QPushButton, qtbot: QtBot) -> None:
    button.setFocus()
    qtbot.keyClick(button, Qt.Key.Key_Space)


def test_nothing_of_it_is_filed_as_a_paper(opened: Opened, laid_survey: Laid, qtbot: QtBot) -> None:
    session = opened(drawn_survey())
    columns = laid_survey(session)
    made(columns, qtbot)
    found: list[object] = []
    session.filing.ask(issued.list_papers, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)
    assert found == [()]


# -- an elevation for an engineer


def test_the_side_on_the_board_is_saved_as_a_drawing(
    opened: Opened, qtbot: QtBot, tmp_path: Path
) -> None:
    session = opened(drawn_survey())
    columns = shown(session, qtbot)
    columns.wall.show_elevation(2)
    names: list[str] = []

    def choose(name: str, then: Callable[[str], None]) -> None:
        names.append(name)
        then(str(tmp_path / "drawing.svg"))

    columns.elevation.choose_path = choose
    with qtbot.waitSignal(columns.elevation.said, timeout=WAIT) as said:
        columns.elevation.save()
    assert said.args == [f"The drawing is saved as drawing.svg in {tmp_path}."]
    assert names == ["Stepped crack beside the door Back.svg"]
    measure = session.sight.measure(0)
    assert (tmp_path / "drawing.svg").read_bytes() == elevation_svg(
        session.work.survey, 2, measure, "Stepped crack beside the door: Back"
    )
    assert b"back/bar/1" in (tmp_path / "drawing.svg").read_bytes()


def test_told_sizes_are_told_on_the_drawing_too(
    opened: Opened, qtbot: QtBot, tmp_path: Path
) -> None:
    columns = shown(opened(TOLD), qtbot)
    columns.elevation.choose_path = lambda _name, then: then(str(tmp_path / "drawing.svg"))
    with qtbot.waitSignal(columns.elevation.said, timeout=WAIT):
        columns.elevation.save()
    assert "nothing measured" in (tmp_path / "drawing.svg").read_text(encoding="utf-8")


def test_a_folder_that_takes_no_drawing_is_said(
    opened: Opened, qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("in the way")
    columns = shown(opened(drawn_survey()), qtbot)
    path = str(tmp_path / "a file" / "drawing.svg")
    columns.elevation.choose_path = lambda _name, then: then(path)
    with qtbot.waitSignal(columns.elevation.mistaken, timeout=WAIT) as told:
        columns.elevation.save()
    mistake = told.args[0] if told.args else None
    assert isinstance(mistake, UserMistake)
    assert "could not be written" in str(mistake)


def test_a_call_without_a_wall_has_no_drawing(opened: Opened, qtbot: QtBot) -> None:
    session = opened()
    columns = shown(session, qtbot)
    session.new_job()
    QApplication.processEvents()
    with qtbot.waitSignal(columns.elevation.mistaken, timeout=WAIT) as told:
        columns.elevation.save()
    assert "othing is known of the wall yet" in str(told.args and told.args[0])


# -- how far the job has come


@pytest.mark.parametrize(
    ("name", "changes", "stage"),
    [
        (MEASURED, {}, "surveyed"),
        (TOLD, {}, "enquiry"),
        (TOLD, {"drawn": True}, "surveyed"),
    ],
)
def test_a_job_is_surveyed_once_its_wall_is_drawn_or_measured(
    opened: Opened, qtbot: QtBot, name: str, changes: dict[str, bool], stage: str
) -> None:
    session = opened(name)
    session.job = replace(
        session.job, work=replace(session.work, survey=replace(session.work.survey, **changes))
    )
    job, found = session.job, []

    def accept(database: Database) -> str:
        kept.keep_working(database, job)
        kept.accept(database, job)
        return jobs.find(database, job.uid).stage.value

    session.filing.ask(accept, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)
    assert found == [stage]
    rest(session)


def test_a_job_that_came_further_stays_there(opened: Opened, qtbot: QtBot) -> None:
    session = opened(MEASURED)
    job, found = session.job, []

    def accept(database: Database) -> str:
        kept.keep_working(database, job)
        jobs.move(database, job.uid, jobs.Stage.ACCEPTED)
        return kept.accept(database, job).stage

    session.filing.ask(accept, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)
    assert found == ["accepted"]


def test_the_paper_comes_through_the_workers_as_it_is_made_here(
    opened: Opened, laid_survey: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    with_photographs(session, qtbot)
    columns = laid_survey(session)
    pdf = made(columns, qtbot)
    sight = session.sight
    again = recorded(sight.work.survey, sight.measure(0), sight.practice.trader, pictures(), TODAY)
    assert pdf == again
