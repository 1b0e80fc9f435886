"""What photographs ask of the drawing they lie under."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from PySide6.QtCore import SignalInstance

    from estimator.desktop.session import Session
    from estimator.desktop.state import Sight
    from estimator.quoting.edits import Edit, Work
    from estimator.survey.survey import Elevation
    from estimator.survey.wall import Wall


class Drawing(Protocol):
    """The drafting, as far as photographs know it."""

    session: Session
    selection: str

    @property
    def picture_changed(self) -> SignalInstance:
        """Told when something of the drawing changed."""

    @property
    def selected(self) -> SignalInstance:
        """Told when a mark was selected."""

    @property
    def side_changed(self) -> SignalInstance:
        """Told when another side of the building is on the board."""

    @property
    def work(self) -> Work:
        """What the drawing shows."""

    @property
    def is_trying(self) -> bool:
        """Whether something is tried out that is not done yet."""

    @property
    def side_id(self) -> str:
        """Id of the side on the board."""

    @property
    def plain(self) -> Elevation:
        """The side on the board with ranges at their likely values."""

    @property
    def wall(self) -> Wall:
        """The side on the board, laid out on its courses."""

    def select(self, mark: str) -> None:
        """Select a mark."""

    def do(self, edit: Edit) -> None:
        """Do an edit."""

    def show_sight(self, sight: Sight) -> None:
        """Follow the session."""
