"""Saves the side on the board as a drawing an engineer's own program opens."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from estimator.desktop.courier import Courier
from estimator.desktop.language import _
from estimator.desktop.papers.asking import carry
from estimator.desktop.papers.file_out import ask_where
from estimator.desktop.papers.recorded import elevation_svg
from estimator.desktop.state import knows_wall
from estimator.exchange import email_draft
from estimator.notices import UserMistake
from estimator.survey.survey import Basis
from estimator.whole_file import write_whole

if TYPE_CHECKING:
    from estimator.desktop.wall.drafting import Drafting


class ElevationFile(QObject):
    """Asks where a drawing is to go, has it made by the workers, and writes it."""

    said = Signal(str)
    """Where it was saved."""
    mistaken = Signal(object)
    """A ``UserMistake``: why it was not."""

    def __init__(self, drafting: Drafting, parent: QWidget) -> None:
        """Save what is drawn there, as it is when it is asked for."""
        super().__init__(parent)
        self._drafting, self._parent = drafting, parent
        self._courier = Courier(self)
        self.choose_path: Callable[[str, Callable[[str], None]], None] = self._choose
        """Asks where the drawing is to go."""

    def save(self) -> None:
        """Save the side on the board with the option in front where the person chooses."""
        side = self._drafting.elevation
        survey = self._drafting.session.work.survey
        if side is None or not knows_wall(survey):
            self.mistaken.emit(
                UserMistake(
                    _("nothing is known of the wall yet, so there is no drawing of it"),
                    do=_("answer the first questions, or draw the wall"),
                )
            )
            return
        name = email_draft.file_name(f"{survey.title} {side.name}").removesuffix(".pdf") + ".svg"
        self.choose_path(name, lambda path: self._make(Path(path)))

    def _make(self, path: Path) -> None:
        session, side = self._drafting.session, self._drafting.elevation
        if side is None:
            return
        survey = session.work.survey
        title = f"{survey.title}: {side.name}"
        if survey.basis is Basis.TOLD:
            title = _("{title} – sizes as told, nothing measured").format(title=title)

        def done(made: bytes) -> None:
            carry(self._courier, lambda: self._write(path, made))

        def failed(error: BaseException) -> None:
            carry(self._courier, lambda: self._failed(error))

        session.workers.run(
            elevation_svg,
            survey,
            self._drafting.side,
            session.sight.measure(self._drafting.option),
            title,
            on_done=done,
            on_failed=failed,
        )

    def _write(self, path: Path, made: bytes) -> None:
        def write(_file: Path) -> None:
            write_whole(path, made)

        def written(_done: None) -> None:
            if isValid(self):
                self.said.emit(
                    _("The drawing is saved as {name} in {folder}.").format(
                        name=path.name, folder=path.parent
                    )
                )

        def refused(mistake: UserMistake) -> None:
            if isValid(self):
                self.mistaken.emit(mistake)

        # Beside the file: a drawing can be saved even where the file could not be opened.
        self._drafting.session.filing.beside(write, written, on_mistake=refused)

    def _failed(self, error: BaseException) -> None:
        if isinstance(error, UserMistake):
            self.mistaken.emit(error)
        else:
            self._drafting.session.filing.broke.emit(error)

    def _choose(self, name: str, then: Callable[[str], None]) -> None:
        title, kind = _("Save the drawing"), _("Drawings (*.svg)")
        ask_where(self._parent, name, title, kind, then)
