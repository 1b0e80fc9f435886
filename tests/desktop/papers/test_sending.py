"""A paper that went out: saved, mailed, printed, told in a line."""

from __future__ import annotations

import stat
from collections.abc import Callable, Iterator
from dataclasses import replace
from email import policy
from email.parser import BytesParser
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QGuiApplication
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from estimator.desktop import kept
from estimator.desktop.columns import Columns
from estimator.desktop.papers import issuing, letters, printing
from estimator.desktop.papers.issuing import Gone
from estimator.desktop.papers.made import made
from estimator.desktop.papers.sending import Sending
from estimator.desktop.session import Session
from estimator.desktop.state import OpenJob
from estimator.notices import UserMistake, WorldFault
from estimator.quoting import edits, trader_file
from estimator.quoting.edits import Work
from estimator.takeoff.scope import USUAL
from tests.desktop.fakes import DEMO, TODAY, demo_survey
from tests.desktop.papers.conftest import MEASURED, TOLD, Opened
from tests.documents.reading import reader

WAIT = 20_000
ADDRESS = "ines@example.com"


@pytest.fixture(scope="module")
def went_out(tmp_path_factory: pytest.TempPathFactory) -> tuple[Gone, Gone]:
    """A quotation and an estimate of one file."""
    database = kept.opened(tmp_path_factory.mktemp("papers"))
    practice = replace(kept.practice(database), trader=trader_file.load(DEMO / "firm.json"))
    found = []
    for name in (MEASURED, TOLD):
        job = OpenJob(Work(demo_survey(name)), uid=uuid4().hex)
        draft = made(job.work.survey, practice, USUAL, TODAY)
        found.append(issuing.issue(database, job, draft.quotation, book=practice.book)[1])
    database.close()
    return found[0], found[1]


@pytest.fixture
def sending(opened: Opened, qtbot: QtBot) -> Iterator[Sending]:
    """Sends papers for a window, with nothing that opens other programs."""
    window = QWidget()
    qtbot.addWidget(window)
    made = Sending(opened().filing, window)
    made.open_url = lambda _url: True
    yield made
    made.tidy()


def test_a_copy_is_saved_byte_for_byte(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot, tmp_path: Path
) -> None:
    asked: list[str] = []
    path = tmp_path / "papers" / "copy.pdf"

    def choose(name: str, then: Callable[[str], None]) -> None:
        asked.append(name)
        then(str(path))

    sending.choose_path = choose
    with qtbot.waitSignal(sending.said, timeout=WAIT) as said:
        sending.save(letters.of_paper(went_out[0]))
    assert path.read_bytes() == went_out[0].pdf
    assert asked == ["Quotation Q-0001 Ines Marlowe.pdf"]
    assert said.args == ["Saved as copy.pdf."]


def test_a_folder_that_takes_nothing_is_said(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("in the way")
    sending.choose_path = lambda _name, then: then(str(tmp_path / "a file" / "copy.pdf"))
    with qtbot.waitSignal(sending.mistaken, timeout=WAIT) as told:
        sending.save(letters.of_paper(went_out[0]))
    assert isinstance(told.args and told.args[0], WorldFault)


def test_a_message_opens_with_the_paper_on_it(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot
) -> None:
    handed: list[Path] = []

    def take(url: QUrl) -> bool:
        handed.append(Path(url.toLocalFile()))
        return True

    sending.open_url = take
    gone = went_out[1]
    with qtbot.waitSignal(sending.said, timeout=WAIT):
        sending.email(letters.of_paper(gone), ADDRESS)
    (path,) = handed
    assert path.suffix == ".eml"
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
    message = BytesParser(policy=policy.default).parsebytes(path.read_bytes())
    assert message["To"].addresses[0].addr_spec == ADDRESS
    assert message["From"].addresses[0].addr_spec == "office@example.com"
    assert message["Subject"] == "Estimate E-0001 from Tarn & Pike"
    (paper,) = message.iter_attachments()  # type: ignore[attr-defined]
    assert paper.get_content() == gone.pdf
    body = message.get_body().get_content()  # type: ignore[attr-defined]
    for words in ("Rosa Quill", "E-0001", *(price for _title, price in gone.offered)):
        assert words in body
    assert "quotation" not in body.lower()
    sending.tidy()
    assert not path.parent.exists()


def test_no_mail_program_is_said(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot
) -> None:
    sending.open_url = lambda _url: False
    with qtbot.waitSignal(sending.mistaken, timeout=WAIT) as told:
        sending.email(letters.of_paper(went_out[0]), ADDRESS)
    assert "no mail program" in str(told.args and told.args[0])


def test_an_address_that_is_none_opens_nothing(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot
) -> None:
    handed: list[QUrl] = []
    sending.open_url = lambda url: bool(handed.append(url)) or True
    with qtbot.waitSignal(sending.mistaken, timeout=WAIT) as told:
        sending.email(letters.of_paper(went_out[0]), "ines@example.com\nBcc: x@example.com")
    assert isinstance(told.args and told.args[0], UserMistake)
    assert not handed


def test_a_short_message_says_which_how_much_and_until_when(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot
) -> None:
    with qtbot.waitSignal(sending.said, timeout=WAIT):
        sending.copy(went_out[1])
    text = QGuiApplication.clipboard().text()
    low, high = (price for _title, price in went_out[1].offered)
    assert text == (
        f"Estimate E-0001 from Tarn & Pike: {low} or {high}, a guide until 25 December 2026. "
        "It is not a fixed price."
    )
    assert " to " in low
    firm = letters.short(went_out[0])
    assert firm.startswith("Quotation Q-0001 from Tarn & Pike: £")
    assert firm.endswith("open until 25 December 2026.")
    assert "stimate" not in firm


def test_every_page_goes_to_the_printer(
    sending: Sending, went_out: tuple[Gone, Gone], qtbot: QtBot, tmp_path: Path
) -> None:
    onto = to_file(tmp_path / "printed.pdf")
    count = len(reader(went_out[0].pdf).pages)
    said: list[str] = []
    sending.said.connect(said.append)
    sending.print_on(letters.of_paper(went_out[0]), onto)
    qtbot.waitUntil(lambda: len(said) == 2, timeout=WAIT)
    assert said == ["Printing…", f"{count} pages went to the printer."]
    printed = reader((tmp_path / "printed.pdf").read_bytes())
    assert len(printed.pages) == count
    # A4 in points: 210 by 297 mm, ISO 216.
    assert float(printed.pages[0].mediabox.width) == pytest.approx(595.3, abs=1)


def test_only_the_pages_asked_for_are_printed(went_out: tuple[Gone, Gone], tmp_path: Path) -> None:
    onto = to_file(tmp_path / "printed.pdf")
    onto.setPrintRange(QPrinter.PrintRange.PageRange)
    onto.setFromTo(2, 2)
    assert printing.print_pages(went_out[0].pdf, onto) == 1


@pytest.mark.qt_log_ignore("Returned false")
def test_a_printer_that_does_not_begin_is_said(went_out: tuple[Gone, Gone], tmp_path: Path) -> None:
    onto = to_file(tmp_path / "no such folder" / "printed.pdf")
    with pytest.raises(WorldFault, match="did not begin"):
        printing.print_pages(went_out[0].pdf, onto)


def to_file(path: Path) -> QPrinter:
    """A printer whose sheets land in a file."""
    onto = printing.printer()
    onto.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    onto.setOutputFileName(str(path))
    onto.setResolution(72)
    return onto


def test_without_a_paper_there_is_nothing_to_send(
    opened: Opened, laid: Callable[[Session], Columns], qtbot: QtBot
) -> None:
    session = opened()
    columns = laid(session)
    columns.check.email()
    assert "nothing has been issued" in columns.check.page.note.text().lower()
    columns.show_wall()
    with qtbot.waitSignal(session.mistaken, timeout=WAIT):
        columns.check.print_paper()


def test_the_ways_to_send_are_reached_by_keys(
    opened: Opened, laid: Callable[[Session], Columns], qtbot: QtBot
) -> None:
    session = opened()
    party = replace(session.work.survey.customer, email=ADDRESS)
    session.apply(edits.name_customer(session.work, party))
    columns = laid(session)
    handed: list[QUrl] = []
    columns.check.sending.open_url = lambda url: bool(handed.append(url)) or True
    page = columns.check.page
    qtbot.waitUntil(page.issue.hasFocus, timeout=WAIT)
    with qtbot.waitSignal(columns.check.issued, timeout=WAIT):
        qtbot.keyClick(page.issue, Qt.Key.Key_Space)
    gone = columns.check.gone_page
    qtbot.keyClick(gone.email, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bool(gone.said.text()), timeout=WAIT)
    assert len(handed) == 1
    assert "Nothing is sent yet" in gone.said.text()
    qtbot.keyClick(gone.email, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    assert gone.copy.hasFocus()
    qtbot.keyClick(gone.copy, Qt.Key.Key_Space)
    assert "Q-0001" in QGuiApplication.clipboard().text()
    columns.check.sending.tidy()
