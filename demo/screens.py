"""Picture the desk on invented jobs, off screen, in both schemes and two sizes.

    python demo/screens.py [FOLDER] [--only SCENE] [--scale 1.0]

The folder is ``out/screens`` beside this one unless another is named. ``--readme`` writes the ones
the README shows into this folder. Every name in here is invented.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import product
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from make_file import make_file
from PySide6.QtCore import QDeadlineTimer, QEvent, QEventLoop, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from estimator.desktop import application
from estimator.desktop.application import Application
from estimator.quoting import edits
from estimator.survey.survey import Asked, Party

HERE = Path(__file__).resolve().parent
SIZES = ((1366, 768), (1920, 1080))
SCHEMES = ("light", "dark")
LONGEST_WAIT_MS = 60_000
CALLER = Party("Ines Marlowe", address=("14 Tarn Street", "Eastmere"), telephone="01632 960417")
ANSWERS = (
    Asked("warning", ("none",)),
    Asked("place", ("under_window",)),
    Asked("shape", ("stepped",)),
    Asked("width", amount=2.0, unit="mm", said="2 mm"),
    Asked("count", ("one",)),
    Asked("house", ("to_1945",)),
    Asked("growing", ("same",)),
    Asked("length", amount=18.0, unit="course", said="18 courses"),
)


@dataclass(frozen=True, slots=True)
class Scene:
    """One moment of the desk, and how to get there."""

    name: str
    set_up: Callable[[Application], None]


def wait_until(is_so: Callable[[], bool]) -> None:
    """Let the program run until something is so."""
    deadline = QDeadlineTimer(LONGEST_WAIT_MS)
    loop = QEventLoop()
    timer = QTimer()
    timer.timeout.connect(lambda: loop.quit() if is_so() or deadline.hasExpired() else None)
    timer.start(5)
    loop.exec()
    if not is_so():
        raise TimeoutError("the desk did not come to rest")


def rest(shown: Application, moment_ms: int = 400) -> None:
    """Let ranges settle and pictures be drawn."""
    wait_until(lambda: not shown.session.sight.is_settling)
    wait_for(moment_ms)


def wait_for(moment_ms: int) -> None:
    """Let the program run for a while."""
    loop = QEventLoop()
    QTimer.singleShot(moment_ms, loop.quit)
    loop.exec()


def call(shown: Application) -> None:
    """A call half-way: eight answers, the ninth asked."""
    shown.desk.new_call()
    session = shown.session
    session.apply(edits.name_customer(session.work, CALLER))
    for asked in ANSWERS:
        session.apply(edits.answer(session.work, asked))
    rest(shown)
    shown.desk.columns.questions.next_question()  # type: ignore[union-attr]
    rest(shown)


def ringing(shown: Application) -> None:
    """The telephone has just rung."""
    shown.desk.new_call()
    rest(shown)


def stop(shown: Application) -> None:
    """A caller tells of loose bricks."""
    call(shown)
    session = shown.session
    session.apply(edits.answer(session.work, Asked("warning", ("loose", "leaning"))))
    rest(shown)


def paper(shown: Application) -> None:
    """The estimate lies beside the desk, to be checked."""
    call(shown)
    shown.desk.actions_["paper"].trigger()
    rest(shown, 4000)


def page(name: str) -> Callable[[Application], None]:
    """Return what brings a page to the front."""

    def turn(shown: Application) -> None:
        shown.desk.actions_[name].trigger()
        rest(shown, 1500)

    return turn


SCENES = (
    Scene("ringing", ringing),
    Scene("call", call),
    Scene("stop", stop),
    Scene("paper", paper),
    Scene("jobs", page("jobs")),
    Scene("price_book", page("price_book")),
    Scene("settings", page("settings")),
    Scene("backups", page("restore")),
)


@contextmanager
def opened(folder: Path, scheme: str, size: tuple[int, int], scale: float) -> Iterator[Application]:
    """Open the whole program on a file, dressed and sized."""
    settings = QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat)
    settings.setValue("scheme", scheme)
    settings.setValue("scale", scale)
    shown = Application(folder, settings)
    shown.desk.resize(*size)
    shown.start()
    wait_until(lambda: getattr(shown, "session", None) is not None and shown.filing.is_open)
    rest(shown)
    try:
        yield shown
    finally:
        shown.desk.close()
        shown.end()
        shown.desk.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def picture(shown: Application, scenes: Sequence[Scene], folder: Path, ending: str) -> None:
    """Bring each scene to the desk and keep a picture of it."""
    for scene in scenes:
        scene.set_up(shown)
        target = folder / f"{scene.name}-{ending}.png"
        shown.desk.grab().save(str(target))
        print(target)


def main() -> None:
    """Picture every scene asked for."""
    reader = argparse.ArgumentParser(description="Picture the desk on invented jobs.")
    reader.add_argument("folder", nargs="?", type=Path, default=HERE.parent / "out" / "screens")
    reader.add_argument("--only", choices=[scene.name for scene in SCENES])
    reader.add_argument("--scheme", choices=SCHEMES)
    reader.add_argument("--small", action="store_true", help="the smaller size only")
    reader.add_argument("--scale", type=float, default=1.0)
    asked = reader.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    application.application(["perpend"])
    schemes = (asked.scheme,) if asked.scheme else SCHEMES
    scenes = [scene for scene in SCENES if asked.only in (None, scene.name)]
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        make_file(folder)
        for scheme, size in product(schemes, SIZES[:1] if asked.small else SIZES):
            with opened(folder, scheme, size, asked.scale) as shown:
                picture(shown, scenes, asked.folder, f"{scheme}-{size[0]}")


if __name__ == "__main__":
    main()
