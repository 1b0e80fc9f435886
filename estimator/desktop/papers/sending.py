"""What is done with a paper that is ready: saved, printed, mailed, told in a line."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices, QGuiApplication
from PySide6.QtWidgets import QWidget

from estimator.desktop.courier import Courier
from estimator.desktop.filing import Filing
from estimator.desktop.language import _, counted
from estimator.desktop.papers import letters
from estimator.desktop.papers.asking import ask, carry
from estimator.desktop.papers.file_out import ask_where
from estimator.desktop.papers.letters import Enclosed
from estimator.notices import UserMistake
from estimator.whole_file import write_whole

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

    from estimator.desktop.papers.issuing import Gone


class Sending(QObject):
    """Sends papers on; what comes of it is said by signals."""

    said = Signal(str)
    """What was done."""
    mistaken = Signal(object)
    """A ``UserMistake``: what could not be done, and what to do."""

    def __init__(self, filing: Filing, parent: QWidget) -> None:
        """Open nothing yet."""
        super().__init__(parent)
        self._filing, self._parent = filing, parent
        self._courier = Courier(self)
        self._pool = ThreadPoolExecutor(1, "print")
        self.destroyed.connect(_ended(self._pool))
        self._folders: list[tempfile.TemporaryDirectory[str]] = []
        self.open_url: Callable[[QUrl], bool] = QDesktopServices.openUrl
        """Hands a file to the program that belongs to it."""
        self.choose_path: Callable[[str, Callable[[str], None]], None] = self._choose
        """Asks where a copy is to go."""
        app = QGuiApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.tidy)

    def save(self, enclosed: Enclosed) -> None:
        """Save a copy where the person chooses."""
        self.choose_path(enclosed.name, lambda path: self._save(enclosed, Path(path)))

    def email(self, enclosed: Enclosed, address: str) -> None:
        """Open a draft with the paper on it in the person's own mail program."""

        def write(_file: object) -> Path:
            made = letters.email(enclosed, to=address, at=datetime.now().astimezone())
            # Made by the system so that nobody else can look into it.
            folder = tempfile.TemporaryDirectory(prefix="perpend-", ignore_cleanup_errors=True)
            self._folders.append(folder)
            path = Path(folder.name) / f"{Path(enclosed.name).stem}.eml"
            write_whole(path, made)
            return path

        ask(
            self,
            self._filing,
            write,
            lambda path: self._open(path, address),
            on_mistake=self.mistaken.emit,
        )

    def copy(self, gone: Gone) -> None:
        """Put a short message about the paper on the clipboard."""
        QGuiApplication.clipboard().setText(letters.short(gone))
        self.said.emit(_("A short message is copied. Paste it where you write to them."))

    def print_paper(self, enclosed: Enclosed) -> None:
        """Have a printer chosen, and print."""
        # Loaded only here: looking for printers takes long on some systems.
        from estimator.desktop.papers import printing  # noqa: PLC0415

        onto = printing.printer()
        printing.ask(onto, self._parent.window(), lambda: self.print_on(enclosed, onto))

    def print_on(self, enclosed: Enclosed, onto: QPrinter) -> None:
        """Print on a printer that was chosen."""
        from estimator.desktop.papers import printing  # noqa: PLC0415 - as above

        def over(job: Future[int]) -> None:
            carry(self._courier, lambda: self._printed(job))

        self.said.emit(_("Printing…"))
        self._pool.submit(printing.print_pages, enclosed.pdf, onto).add_done_callback(over)

    def tidy(self) -> None:
        """Take drafts away that were handed to a mail program."""
        for folder in self._folders:
            folder.cleanup()
        self._folders.clear()

    def _save(self, enclosed: Enclosed, path: Path) -> None:
        ask(
            self,
            self._filing,
            lambda _file: write_whole(path, enclosed.pdf),
            lambda _done: self.said.emit(_("Saved as {name}.").format(name=path.name)),
            on_mistake=self.mistaken.emit,
        )

    def _open(self, path: Path, address: str) -> None:
        if not self.open_url(QUrl.fromLocalFile(str(path))):
            self.mistaken.emit(
                UserMistake(
                    _("no mail program opened the message"),
                    do=_("save a copy of the paper and put it into a message yourself"),
                )
            )
        elif address:
            self.said.emit(_("The message is open in your mail program. Nothing is sent yet."))
        else:
            self.said.emit(_("The message is open in your mail program. Write in who it goes to."))

    def _choose(self, name: str, then: Callable[[str], None]) -> None:
        ask_where(self._parent, name, _("Save a copy"), _("Papers (*.pdf)"), then)

    def _printed(self, job: Future[int]) -> None:
        error = None if job.cancelled() else job.exception()
        if isinstance(error, UserMistake):
            self.mistaken.emit(error)
        elif error is not None:
            self._filing.broke.emit(error)
        elif not job.cancelled():
            self.said.emit(
                counted(
                    "{n} page went to the printer.",
                    "{n} pages went to the printer.",
                    job.result(),
                )
            )


def _ended(pool: ThreadPoolExecutor) -> Callable[[], None]:
    """Return what ends a pool without holding on to who had it."""
    return lambda: pool.shutdown(wait=False, cancel_futures=True)
