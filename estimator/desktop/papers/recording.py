"""Has the paper of the survey made: photographs from the file, the rest by the workers."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from estimator.desktop.papers.asking import ask
from estimator.desktop.papers.drafting import Making
from estimator.desktop.papers.recorded import recorded
from estimator.desktop.session import Session

if TYPE_CHECKING:
    from estimator.store.database import Database

Pictures = dict[str, bytes]


class Recording(Making):
    """The survey as it stands now, as a paper: ``done`` brings its PDF."""

    def __init__(
        self, session: Session, option: Callable[[], int], parent: QObject | None = None
    ) -> None:
        """Make nothing before it is asked for.

        Args:
            session: Whose survey.
            option: Says which of the options is drawn, the first being 0.
            parent: Who it belongs to.
        """
        super().__init__(session, parent)
        self._option = option
        self.pdf: bytes | None = None
        """The paper; None while it is being made."""
        self._uid = ""
        self._pictures: Pictures = {}
        self._looked_for: frozenset[str] = frozenset()

    @property
    def lost(self) -> frozenset[str]:
        """Hashes of the photographs the file was asked for and does not have, or not whole."""
        return self._looked_for - self._pictures.keys()

    def follows_from(self) -> tuple[object, ...]:
        """Return what was seen, what of it is drawn, whose name is on it, and the day."""
        sight, at = self.session.sight, self._option()
        practice = sight.practice
        scope = sight.options[min(at, len(sight.options) - 1)].offer.scope if sight.options else ""
        rules = practice.rules if sight.options else ""
        return sight.work.survey, scope, rules, practice.trader, self.session.today()

    def begin(self) -> None:
        """Forget the paper before."""
        self.pdf = None

    def take(self, made_now: object) -> None:
        """Keep the paper."""
        assert isinstance(made_now, bytes)
        self.pdf = made_now

    def order(self) -> None:
        """Have it made once the photographs are there."""
        job = self.session.job
        if job.uid != self._uid:
            self._uid, self._pictures, self._looked_for = job.uid, {}, frozenset()
        wanted = frozenset(one.picture for one in job.work.survey.photos)
        if wanted <= self._looked_for or not self.session.filing.is_open:
            self._print()
            return
        asked = self.asked

        def read(database: Database) -> Pictures:
            return pictures(database, job.uid, wanted)

        def came(found: Pictures) -> None:
            if asked is self.asked:
                self._pictures, self._looked_for = found, wanted
                self._print()

        ask(self, self.session.filing, read, came)

    def forget(self) -> None:
        """Hold no photographs while nobody looks at the paper."""
        self.rest()
        self._uid, self._pictures, self._looked_for = "", {}, frozenset()

    def _print(self) -> None:
        sight = self.session.sight
        self.hand_out(
            recorded,
            sight.work.survey,
            sight.measure(self._option()),
            sight.practice.trader,
            self._pictures,
            self.session.today(),
        )


def pictures(database: Database, uid: str, names: frozenset[str]) -> Pictures:
    """Return the photographs of a job that the file has whole, by hash; in the file's thread.

    One that is damaged is left out, and the paper says that it is not at hand: it is wanted most
    when something is wrong, and must not hang on one picture.
    """
    # Loads the database library.
    from estimator.desktop import kept  # noqa: PLC0415
    from estimator.store.faults import DamagedFile  # noqa: PLC0415

    found: Pictures = {}
    for name in sorted(names):
        try:
            picture = kept.photo(database, uid, name)
        except DamagedFile:
            continue
        if picture is not None:
            found[name] = picture
    return found
