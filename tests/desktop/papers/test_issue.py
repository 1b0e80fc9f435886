"""From the check page to a paper that is frozen in the file, and what is refused on the way."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.papers import issuing
from estimator.desktop.papers.made import made
from estimator.desktop.session import Session
from estimator.notices import UserMistake
from estimator.quoting import edits
from estimator.store import issued, jobs
from estimator.store.issued import IssuedPaper
from estimator.survey.survey import Party
from tests.desktop.fakes import TODAY, demo_survey, session_on
from tests.desktop.papers.conftest import MEASURED, STOPPED, TOLD, Opened
from tests.desktop.papers.drawn import drawn_survey
from tests.documents.reading import flat, pages

Laid = Callable[[Session], Columns]
WAIT = 20_000


def filed(session: Session, qtbot: QtBot) -> tuple[tuple[IssuedPaper, ...], list[bytes]]:
    """The papers in the file, and their bytes."""
    found: list[tuple[tuple[IssuedPaper, ...], list[bytes]]] = []

    def read(database: kept.Database) -> tuple[tuple[IssuedPaper, ...], list[bytes]]:
        papers = issued.list_papers(database)
        return papers, [issued.pdf_of(database, one.number) for one in papers]

    session.filing.ask(read, found.append)
    qtbot.waitUntil(lambda: bool(found), timeout=WAIT)
    return found[0]


def bytes_shown(columns: Columns) -> bytes:
    """The PDF in the middle."""
    shown = columns.preview.shown
    return b"" if shown is None else shown.pdf


def issue_by_key(columns: Columns, qtbot: QtBot) -> str:
    """Press the one button by the keyboard and return the number it gave."""
    button = columns.check.page.issue
    qtbot.waitUntil(button.hasFocus, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT) as number:
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    return str(number.args[0]) if number.args else ""


def test_an_estimate_is_issued_with_the_keyboard_alone(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened(TOLD)
    columns = laid(session)
    number = issue_by_key(columns, qtbot)

    (paper,), (pdf,) = filed(session, qtbot)
    assert paper.number == number == "E-0001"
    assert (session.job.papers, session.job.stage) == ((number,), "enquiry")
    read = flat("".join(pages(pdf)))
    for words in (number, "Estimate", "Rosa Quill", *_ranges(columns)):
        assert flat(words) in read
    assert "Quotation" not in read
    assert columns.check.gone_page.title.text() == f"Estimate {number}"
    assert columns.check.gone_page.sum.value.text() == f"{hashlib.sha256(pdf).hexdigest()[:12]}…"
    assert columns.check.gone_page.email.hasFocus()


def _ranges(columns: Columns) -> list[str]:
    found = [one.price.text() for one in columns.check.page.offers.choices if one.price.text()]
    assert len(found) == 2
    assert all(" to " in one for one in found)
    return found


def test_what_is_shown_afterwards_are_the_very_bytes(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened()
    columns = laid(session)
    number = issue_by_key(columns, qtbot)
    _papers, (pdf,) = filed(session, qtbot)
    assert bytes_shown(columns) == pdf
    assert number == "Q-0001"
    read = flat("".join(pages(pdf)))
    assert "Quotation" in read
    assert "Estimate" not in read


def test_a_kept_paper_shows_what_was_drawn(opened: Opened, laid: Laid, qtbot: QtBot) -> None:
    session = opened(drawn_survey())
    columns = laid(session)
    texts = [line.accessibleName() for line in columns.check.page.by_hand.lines]
    assert any("left out by hand" in text for text in texts)
    issue_by_key(columns, qtbot)
    _papers, (pdf,) = filed(session, qtbot)
    read = flat("".join(pages(pdf)))
    for words in ("bar set by hand", "bar kept by hand", "bar as worked out"):
        assert flat(words) in read


def test_a_bar_by_hand_is_looked_at_from_the_page_that_is_checked(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened(drawn_survey())
    columns = laid(session)
    line = columns.check.page.by_hand.lines[0]
    qtbot.mouseClick(line, Qt.MouseButton.LeftButton)
    assert not columns.has_paper
    assert columns.wall.drafting.selection.startswith("front/bar/")


def test_pressed_twice_it_issues_once(opened: Opened, laid: Laid, qtbot: QtBot) -> None:
    session = opened()
    columns = laid(session)
    button = columns.check.page.issue
    qtbot.waitUntil(button.hasFocus, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT):
        button.click()
        session.refresh()
        button.click()
    assert len(filed(session, qtbot)[0]) == 1


def test_a_second_paper_takes_the_place_of_the_first(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened()
    columns = laid(session)
    first = issue_by_key(columns, qtbot)
    qtbot.mouseClick(columns.check.gone_page.anew, Qt.MouseButton.LeftButton)
    assert columns.check.page.supersedes.value.text() == first
    second = issue_by_key(columns, qtbot)
    (old, new), (old_pdf, _new_pdf) = filed(session, qtbot)
    assert (old.superseded_by, new.origin.supersedes) == (second, first)
    assert columns.check.gone_page.supersedes.value.text() == first

    columns.check.gone_page.papers.wanted.emit(first)
    qtbot.waitUntil(lambda: bytes_shown(columns) == old_pdf, timeout=WAIT)
    assert columns.check.gone_page.superseded.value.text() == second
    assert not columns.check.gone_page.anew.isVisible()


def test_a_wall_that_is_not_ours_gets_no_paper(opened: Opened, laid: Laid, qtbot: QtBot) -> None:
    session = opened(STOPPED)
    columns = laid(session)
    assert not columns.has_paper
    # Nor where the checks began before the wall turned out not to be ours.
    columns.check.begin()
    qtbot.waitUntil(lambda: bool(columns.preview.area.said), timeout=WAIT)
    assert not columns.check.page.issue.isVisible()
    columns.check.page.issue.click()
    columns.check.page.issue_wanted.emit()
    assert filed(session, qtbot) == ((), [])
    assert not columns.preview.area.sheets


def test_what_is_missing_leads_to_its_field_in_the_same_words(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened()
    session.apply(edits.name_customer(session.work, Party()))
    columns = laid(session)
    page = columns.check.page
    name, _address = page.problems.lines
    assert name.hasFocus()
    said = [line.accessibleName() for line in page.problems.lines]
    assert page.customer.row.problem.text().split("\n") == said
    qtbot.waitUntil(page.issue.isEnabled, timeout=WAIT)
    page.issue.click()
    assert filed(session, qtbot) == ((), [])

    qtbot.keyClick(name, Qt.Key.Key_Space)
    qtbot.keyClicks(QApplication.focusWidget(), "Ines Marlowe")
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    qtbot.keyClicks(QApplication.focusWidget(), "14 Tarn Street, Eastmere Vale")
    assert session.work.survey.customer.name == "Ines Marlowe"
    assert session.work.survey.customer.address == ("14 Tarn Street", "Eastmere Vale")
    assert not page.problems.isVisible()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert not page.customer.is_open
    assert columns.has_paper
    issue_by_key(columns, qtbot)
    _papers, (pdf,) = filed(session, qtbot)
    assert flat("Ines Marlowe, 14 Tarn Street") in flat("".join(pages(pdf)))


def test_the_firm_must_have_a_name(opened: Opened, laid: Laid) -> None:
    session = opened()
    nameless = replace(session.practice, trader=replace(session.practice.trader, name=" "))
    session.use(nameless)
    columns = laid(session)
    (line,) = columns.check.page.problems.lines
    assert line.accessibleName() == columns.check.page.firm.problem.text()


def test_at_least_one_choice_is_offered(opened: Opened, laid: Laid, qtbot: QtBot) -> None:
    session = opened()
    columns = laid(session)
    page = columns.check.page
    ticked = [one for one in page.offers.choices if one.box.isChecked()]
    ticked[0].box.click()
    assert [scope.key for scope in session.work.scopes] == [ticked[1].scope.key]
    ticked[1].box.click()
    assert page.problems.lines[0].accessibleName() == page.offers.problem.text()
    assert page.issue.isVisible()
    page.issue.click()
    assert filed(session, qtbot) == ((), [])
    ticked[0].box.click()
    assert not page.problems.isVisible()
    assert [scope.key for scope in session.work.scopes] == [ticked[0].scope.key]


@pytest.mark.parametrize(
    "name",
    ["<b>Marlowe</b> & Co", "&Marlowe", "'; drop table jobs; --", "Ñ" * 200],
)
def test_a_customers_name_is_never_more_than_a_name(
    opened: Opened, laid: Laid, qtbot: QtBot, name: str
) -> None:
    session = opened()
    party = replace(session.work.survey.customer, name=name)
    session.apply(edits.name_customer(session.work, party))
    columns = laid(session)
    assert columns.check.page.customer.row.value.text().replace("\u200b", "") == name
    assert columns.check.page.customer.row.value.textFormat() is Qt.TextFormat.PlainText
    assert issue_by_key(columns, qtbot) == "Q-0001"
    _papers, (pdf,) = filed(session, qtbot)
    assert flat(name)[:60] in flat("".join(pages(pdf)))


def test_a_name_that_no_file_can_hold_is_refused_in_words(
    opened: Opened, laid: Laid, qtbot: QtBot
) -> None:
    session = opened()
    party = replace(session.work.survey.customer, name="Marlowe\u0007")
    session.apply(edits.name_customer(session.work, party))
    columns = laid(session)
    qtbot.waitUntil(columns.check.page.issue.hasFocus, timeout=WAIT)
    qtbot.keyClick(columns.check.page.issue, Qt.Key.Key_Space)
    note = columns.check.page.note
    qtbot.waitUntil(lambda: note.property("tone") == "stop", timeout=WAIT)
    assert note.text()
    assert columns.check.page.issue.hasFocus()
    assert filed(session, qtbot) == ((), [])


def test_only_looking_issues_nothing(qtbot: QtBot, laid: Laid, folder: Path) -> None:
    holder = kept.opened(folder)
    session = session_on(folder, demo_survey(MEASURED))
    try:
        with qtbot.waitSignal(session.filing.opened, timeout=WAIT):
            session.filing.open()
        columns = laid(session)
        assert not columns.check.page.issue.isEnabled()
        assert "nothing can be issued" in columns.check.page.note.text()
    finally:
        session.filing.close()
        holder.close()


def test_a_paper_is_of_the_job_as_it_is(folder: Path, qtbot: QtBot) -> None:
    database = kept.opened(folder)
    session = session_on(folder, demo_survey(MEASURED))
    practice = kept.practice(database)
    draft = made(session.work.survey, practice, session.work.scopes, TODAY)
    changed = replace(session.job, work=edits.note(session.work, said="It grew.").after)
    with pytest.raises(UserMistake, match="changed since"):
        issuing.issue(database, changed, draft.quotation, book=practice.book)
    other = replace(practice.book, title="Another")
    with pytest.raises(UserMistake, match="rates have changed"):
        issuing.issue(database, session.job, draft.quotation, book=other)
    assert not issued.list_papers(database)

    job, gone = issuing.issue(database, session.job, draft.quotation, book=practice.book)
    assert gone.pdf == issued.pdf_of(database, gone.number)
    assert jobs.find(database, job.uid).stage is jobs.Stage.OFFERED
    assert [one.number for one in issuing.listed(database, job.uid)] == [gone.number]
    assert gone == issuing.gone(database, gone.number)
    session.filing.close()
    database.close()


def test_escape_goes_back_to_the_wall(opened: Opened, laid: Laid, qtbot: QtBot) -> None:
    columns = laid(opened())
    qtbot.keyClick(columns.check.page.customer.row.button, Qt.Key.Key_Escape)
    assert not columns.has_paper
    columns.show_paper()
    columns.preview.take_focus()
    qtbot.keyClick(columns.preview.area, Qt.Key.Key_Escape)
    assert not columns.has_paper
