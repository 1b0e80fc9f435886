"""Picture the desk on invented jobs, off screen, in both schemes and two sizes.

    python demo/screens.py [FOLDER]            every scene, light and dark, in both sizes
    python demo/screens.py --only call         one scene
    python demo/screens.py --scheme dark       one scheme
    python demo/screens.py --small             the smaller size only
    python demo/screens.py --scale 1.5         with type and targets so much larger
    python demo/screens.py --readme            only the picture the README shows

The folder is ``out/screens`` beside this one unless another is named; ``--readme`` writes
``desk.png`` beside this file and heeds no other option. Every name in here is invented.
"""

from __future__ import annotations

import argparse
import io
import os
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from uuid import uuid4

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import drawn_wall
from gallery import MORE, Story
from make_file import make_file
from PIL import Image
from PySide6.QtCore import (
    QBuffer,
    QDeadlineTimer,
    QEvent,
    QEventLoop,
    QPointF,
    QSettings,
    Qt,
    QTimer,
)
from PySide6.QtGui import QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from estimator.desktop import application, kept
from estimator.desktop.application import Application
from estimator.desktop.state import OpenJob
from estimator.desktop.wall.drawing_board import DrawingBoard
from estimator.quoting import edits
from estimator.quoting.edits import Work
from estimator.quoting.wall_edits import bricks
from estimator.store.database import Database
from estimator.survey.survey import Asked, Party, Treatment

HERE = Path(__file__).resolve().parent
SIZES = ((1366, 768), (1920, 1080))
SCHEMES = ("light", "dark")
LONGEST_WAIT_MS = 60_000
SHARPER = 2
"""Pixels of the README's picture to one of the screen's."""
COLOURS = 256
"""As many as a picture with a palette holds; the grounds then keep their very colours."""
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


def drawn(shown: Application) -> DrawingBoard:
    """Put the wall drawn by hand on the desk, its photograph in the file; return the board."""
    columns = shown.desk.columns
    assert columns is not None
    job = OpenJob(Work(drawn_wall.survey()), uuid4().hex)
    kept_there: list[object] = []

    def keep(database: Database) -> None:
        kept.keep_photo(database, job, drawn_wall.photograph())

    shown.filing.ask(keep, kept_there.append)
    wait_until(lambda: bool(kept_there))
    columns.wall.rail.take("point")
    columns.wall.drafting.select("")
    shown.session.show_job(job)
    shown.desk.show_page(columns)
    columns.look_at_wall()
    rest(shown, 1200)
    return columns.wall.board


def click(board: DrawingBoard, x: float, y: float) -> None:
    """Click on the wall [mm]."""
    assert board.view is not None
    place = QPointF(*board.view.at(x, y)).toPoint()
    QTest.mouseMove(board, place)
    QTest.mouseClick(board, Qt.MouseButton.LeftButton, pos=place)
    wait_for(60)


def selected(mark: str) -> Callable[[Application], None]:
    """Return what selects a mark of the drawn wall."""

    def select(shown: Application) -> None:
        drawn(shown)
        shown.desk.columns.wall.drafting.select(mark)  # type: ignore[union-attr]
        rest(shown)

    return select


def tracing(shown: Application) -> None:
    """A second crack is half traced, the pointer further on."""
    board = drawn(shown)
    shown.desk.columns.wall.rail.take("crack")  # type: ignore[union-attr]
    for place in ((1450.0, 230.0), (1680.0, 530.0)):
        click(board, *place)
    assert board.view is not None
    QTest.mouseMove(board, QPointF(*board.view.at(1570.0, 760.0)).toPoint())
    rest(shown)


def hand_bar(shown: Application) -> None:
    """A bar set by hand is selected, with its sizes."""
    drawn(shown)
    columns = shown.desk.columns
    assert columns is not None
    measure = shown.session.sight.measure(0)
    assert measure is not None
    columns.wall.drafting.select(next(bar.id for bar in measure.bars if bar.hand))
    rest(shown)


def commanded(name: str, moment_ms: int = 1500) -> Callable[[Application], None]:
    """Return what gives a command with the drawn wall on the desk."""

    def give(shown: Application) -> None:
        drawn(shown)
        shown.desk.actions_[name].trigger()
        rest(shown, moment_ms)

    return give


def agreed(shown: Application) -> None:
    """A job that is agreed and planned, with more cracked bricks marked since."""
    found: list[OpenJob] = []

    def put(database: Database) -> OpenJob:
        story = Story.begun(database, "window_lime", Path(tempfile.mkdtemp()))
        # Each step happens as its papers are asked for.
        for _path in (*story.accepted(), *story.planned()):
            pass
        return kept.take_up(database, story.job)

    shown.filing.ask(put, found.append)
    wait_until(lambda: bool(found))
    columns, session = shown.desk.columns, shown.session
    assert columns is not None
    session.show_job(found[0])
    shown.desk.show_page(columns)
    columns.look_at_wall()
    wait_until(lambda: columns.agreeing.following.has_contract)
    places, _bed = MORE["window_lime"]
    session.apply(bricks.mark(session.work, "front", places, Treatment.REPLACE))
    wait_until(lambda: columns.agreeing.valuing.is_anything)
    rest(shown, 1500)


def after(name: str, moment_ms: int = 4000) -> Callable[[Application], None]:
    """Return what gives a command with the agreed job on the desk."""

    def give(shown: Application) -> None:
        agreed(shown)
        shown.desk.actions_[name].trigger()
        rest(shown, moment_ms)

    return give


SCENES = (
    Scene("ringing", ringing),
    Scene("call", call),
    Scene("stop", stop),
    Scene("paper", paper),
    Scene("wall", selected("")),
    Scene("crack", tracing),
    Scene("opening", selected("front/opening/w1")),
    Scene("hand_bar", hand_bar),
    Scene("compare", commanded("compare", 2500)),
    Scene("photo", selected("front/photo/p1")),
    Scene("survey_paper", commanded("survey_paper", 4000)),
    Scene("quotation", commanded("paper", 4000)),
    Scene("agreed", agreed),
    Scene("variation", after("paper")),
    Scene("works", after("works")),
    Scene("account", after("account")),
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


def small_png(shown: Application) -> bytes:
    """Return the desk as it stands, sharp and in few colours."""
    sharp = QPixmap(shown.desk.size() * SHARPER)
    sharp.setDevicePixelRatio(SHARPER)
    shown.desk.render(sharp)
    held = QBuffer()
    held.open(QBuffer.OpenModeFlag.WriteOnly)
    sharp.save(held, "PNG")
    drawn = Image.open(io.BytesIO(held.data().data())).convert("RGB")
    few = drawn.quantize(COLOURS, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE)
    written = io.BytesIO()
    few.save(written, "PNG", optimize=True)
    return written.getvalue()


def picture_for_readme(folder: Path) -> None:
    """Write the one picture the README shows: a call half-way, in light colours."""
    target = HERE / "desk.png"
    with opened(folder, SCHEMES[0], SIZES[0], 1.0) as shown:
        call(shown)
        target.write_bytes(small_png(shown))
    print(f"{target.name}: {target.stat().st_size / 1000:.0f} kB")


def picture_all(asked: argparse.Namespace, folder: Path) -> None:
    """Picture every scene asked for, in the schemes and sizes asked for."""
    asked.folder.mkdir(parents=True, exist_ok=True)
    schemes = (asked.scheme,) if asked.scheme else SCHEMES
    scenes = [scene for scene in SCENES if asked.only in (None, scene.name)]
    for scheme, size in product(schemes, SIZES[:1] if asked.small else SIZES):
        with opened(folder, scheme, size, asked.scale) as shown:
            picture(shown, scenes, asked.folder, f"{scheme}-{size[0]}")


def main() -> None:
    """Picture what is asked for."""
    reader = argparse.ArgumentParser(description="Picture the desk on invented jobs.")
    reader.add_argument("folder", nargs="?", type=Path, default=HERE.parent / "out" / "screens")
    reader.add_argument("--only", choices=[scene.name for scene in SCENES])
    reader.add_argument("--scheme", choices=SCHEMES)
    reader.add_argument("--small", action="store_true", help="the smaller size only")
    reader.add_argument("--scale", type=float, default=1.0)
    reader.add_argument("--readme", action="store_true", help="only the picture the README shows")
    asked = reader.parse_args()
    application.application(["perpend"])
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        make_file(folder)
        if asked.readme:
            picture_for_readme(folder)
        else:
            picture_all(asked, folder)


if __name__ == "__main__":
    main()
