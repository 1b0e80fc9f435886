"""Start-up, step by step.

1. Qt and the colour of the ground; the bare window is shown. Nothing else is loaded before that.
2. The shipped type, the menus and the strip; the survey and the questions: the first stands open
   and the cursor is in it.
3. The pricing engine, the wall, the money and the papers; then the other pages.
4. In the file's thread: the database library, the file itself (lock, checks, migration), the
   firm's rates; then the job that was open last, unless somebody has begun to type.
5. In the workers: the engine once more, for ranges and papers.

At the end the open job is kept, the file closed and the workers ended.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

from PySide6.QtCore import QObject, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from estimator import __version__
from estimator.desktop.desk import Desk
from estimator.desktop.ending import Ending
from estimator.desktop.theme.look import LOOK, load_fonts, system_scheme
from estimator.desktop.theme.tokens import Scheme

DESKTOP_ID = "perpend"


class Application(QObject):
    """Everything that runs: the window, the file, the workers, the open job."""

    def __init__(self, folder: Path, settings: QSettings) -> None:
        """Make the window; ``start`` shows it."""
        super().__init__()
        self.folder, self.settings = folder, settings
        scheme = settings.value("scheme")
        chosen = Scheme(scheme) if scheme in {one.value for one in Scheme} else system_scheme()
        self._scheme = chosen
        LOOK.ground(chosen)
        self.desk = Desk(settings)
        self._ended = ExitStack()
        # What was entered first is closed last, when the file's thread has ended.
        self._ended_last = self._ended.enter_context(ExitStack())

    def start(self) -> None:
        """Show the window now, and furnish it as soon as it is on the screen."""
        self.desk.painted.connect(self.furnish)
        self.desk.show()

    def furnish(self) -> None:
        """Open the first question, and go on loading in the turns after."""
        load_fonts()
        LOOK.apply(self._scheme, scale=_scale(self.settings))
        self.desk.build()
        # Loaded only now: the window is on the screen while this comes in.
        from estimator.desktop.columns import Columns  # noqa: PLC0415
        from estimator.desktop.filing import Filing  # noqa: PLC0415
        from estimator.desktop.session import Session  # noqa: PLC0415

        self.filing = Filing(self.folder, self)
        self.session = Session(self.filing, parent=self, prices_later=True)
        self.columns = Columns(self.session)
        self._ended.callback(self.session.close)
        self.desk.furnish(self.session, self.columns)
        QTimer.singleShot(0, self, self.complete)

    def complete(self) -> None:
        """Load the pricing engine; bring the wall, the money and all commands."""
        self.desk.complete(self.session, self.columns)
        QTimer.singleShot(0, self, self.open_up)

    def open_up(self) -> None:
        """Bring the other pages, open the file and start the workers."""
        from estimator.desktop.places import Places  # noqa: PLC0415 - as above
        from estimator.desktop.tidying import Tidying  # noqa: PLC0415

        self.places = Places(self.desk, self.session, self)
        self.tidying = Tidying(self)
        self._ended_last.callback(self.tidying.stop)
        self._ended.callback(self.places.watch.stop)
        self.filing.open()
        self.session.workers.warm()

    def end(self) -> None:
        """Keep everything, close the file, end the workers; what was not begun needs no end."""
        self._ended.close()


def run(arguments: Sequence[str] | None = None) -> int:
    """Open the desk and return when it is closed."""
    words = list(sys.argv if arguments is None else ["perpend", *arguments])
    app = application(words)
    folder = folder_in(words)
    started = Application(folder, QSettings("Perpend", "desk"))
    ending = Ending()
    ending.asked.connect(started.desk.close)
    started.start()
    code = app.exec()
    started.end()
    ending.stop()
    return code


def application(words: Sequence[str]) -> QApplication:
    """Return Qt's application, named."""
    found = QApplication.instance()
    app = found if isinstance(found, QApplication) else QApplication(list(words))
    app.setApplicationName("Perpend")
    app.setApplicationVersion(__version__)
    app.setDesktopFileName(DESKTOP_ID)
    return app


def folder_in(words: Sequence[str]) -> Path:
    """Return the folder asked for with ``--data``, or the usual one."""
    if "--data" in words[:-1]:
        return Path(words[words.index("--data") + 1])
    from estimator.office.place import usual_folder  # noqa: PLC0415 - wanted only when none is

    return usual_folder()


def _scale(settings: QSettings) -> float:
    try:
        return min(max(float(str(settings.value("scale", 1.0))), 1.0), 2.0)
    except ValueError:
        return 1.0
