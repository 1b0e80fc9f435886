"""What the program writes down about its own running, and keeps people out of it.

A line holds the time, one of our own fixed sentences, and numbers and names that the file itself
gave. Nothing a person typed can get in: not as a message, not through another library, and not
through an exception, of which only the class and the places in our own code are kept. What does
not fit is left out without a word, so a careless line loses its detail and gives nothing away.
"""

from __future__ import annotations

import logging
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from enum import Enum
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import Any

import estimator
from estimator import resources
from estimator.notices import UserMistake, WorldFault
from estimator.whole_file import write_whole

NAME = "perpend"
FOLDER = "logs"
FILE = "perpend.log"
LARGEST = 999_999_999
"""A larger number may be a telephone number."""
FIT_TEXT = re.compile(r"[0-9a-f]{32}|[A-Z]-[0-9]{4,9}")
"""A name the file gave, or the number of a paper."""
DATED = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T")
LIBRARIES = frozenset({"alembic", "babel", "openpyxl", "PIL", "reportlab", "sqlalchemy"})
DEEPEST = 5
"""Exceptions behind an exception that are told."""
COMMANDS = frozenset(
    {
        *("price", "add", "backup", "check", "confirm-prices", "erase", "export", "export-prices"),
        *("find", "import-prices", "issue", "jobs", "keep-list", "paper", "papers"),
        *("price-history", "restore", "undo", "uplift", "where", "desk"),
    }
)
"""Words of our own that may stand in a line; any other word stays out."""
FACTS = frozenset(
    {
        *("command", "exit", "version", "customer", "job", "paper", "jobs", "surveys", "drafts"),
        *("kept", "emptied", "copies", "due", "written_anew"),
    }
)
"""What a line may tell, besides its sentence."""


class Said(Enum):
    """Every sentence there is."""

    STARTED = "started"
    ENDED = "ended"
    MISTAKE = "ended with a mistake in what was given"
    WORLD = "ended because the disk or the folder was in the way"
    CRASHED = "ended by a fault in the program"
    EXPORTED = "handed over what is held about a customer"
    ERASURE_SHOWN = "showed what an erasure would remove"
    ERASED = "erased a customer"
    DUE_LISTED = "listed whose details are due for a look"
    LIBRARY = "a library warned"


def note(said: Said, /, **facts: Any) -> None:
    """Write a line, where a log is kept at all."""
    logging.getLogger(NAME).info(said, extra={"facts": facts})


class Kept:
    """Keeps a log in a folder while a command runs, and tells how it ended.

    Whatever is raised goes on as it was.
    """

    def __init__(self, folder: Path, command: str) -> None:
        self._folder, self._command = folder, command
        self._handler: logging.Handler | None = None

    def __enter__(self) -> None:
        self._handler = set_up(self._folder)
        note(Said.STARTED, command=self._command)

    def __exit__(self, kind: object, error: BaseException | None, trace: object) -> None:
        logger = logging.getLogger(NAME)
        if error is None:
            note(Said.ENDED, command=self._command)
        elif isinstance(error, WorldFault):
            logger.info(Said.WORLD, exc_info=error)
        elif isinstance(error, UserMistake):
            logger.info(Said.MISTAKE, exc_info=error)
        elif isinstance(error, Exception):
            logger.error(Said.CRASHED, exc_info=error)
        if self._handler is not None:
            take_down(self._handler)


def set_up(folder: Path, *, today: date | None = None) -> logging.Handler:
    """Keep a log under a folder from now on: five files of 1 MB, for 30 days.

    A folder that is not there or may not be written to gets no log; the program runs all the same.
    """
    told = resources.data("keeping.json")["logs"]
    place = folder / FOLDER
    now = today or datetime.now(UTC).date()
    handler: logging.Handler = logging.NullHandler()
    with suppress(OSError, WorldFault):
        # A folder that is not there is not made for this: the command may only be asking.
        place.mkdir(mode=0o700, exist_ok=True)
        _drop_old(place, before=now - timedelta(days=told["days"]))
        handler = _Quiet(
            place / FILE,
            maxBytes=told["bytes"],
            backupCount=told["files"] - 1,
            encoding="utf-8",
            delay=False,
        )
        (place / FILE).chmod(0o600)
    handler.addFilter(OnlyOurs())
    handler.setFormatter(Guarded())
    # On the root, because the libraries' warnings come there too; the filter makes them ours.
    logging.getLogger().addHandler(handler)
    logging.getLogger(NAME).setLevel(logging.INFO)
    return handler


def take_down(handler: logging.Handler) -> None:
    """Stop keeping a log."""
    logging.getLogger().removeHandler(handler)
    handler.close()


class _Quiet(RotatingFileHandler):
    """Says nothing when the disk is full: the usual complaint would print what was to be logged."""

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802 - the library's name
        """Leave the line out."""


class OnlyOurs(logging.Filter):
    """Lets through our own sentences, and of other libraries that they warned at all."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Tell whether a line is written."""
        return isinstance(record.msg, Said) or record.levelno >= logging.WARNING


class Guarded(logging.Formatter):
    """Makes each line anew from what is known to be harmless; nothing else is copied."""

    def format(self, record: logging.LogRecord) -> str:
        """Return one line."""
        moment = datetime.fromtimestamp(record.created, UTC).isoformat(timespec="seconds")
        said = record.msg if isinstance(record.msg, Said) else Said.LIBRARY
        parts = [moment, record.levelname if record.levelno in LEVELS else "OTHER", said.value]
        if said is Said.LIBRARY:
            library = record.name.split(".")[0]
            parts.append(library if library in LIBRARIES else "another")
        facts = getattr(record, "facts", None)
        parts += _fit(facts) if isinstance(facts, Mapping) else ()
        if record.exc_info and record.exc_info[1] is not None:
            parts.append(_told(record.exc_info[1]))
        return " ".join(parts)


LEVELS = (logging.DEBUG, logging.INFO, logging.WARNING, logging.ERROR, logging.CRITICAL)


def _fit(facts: Mapping[str, Any]) -> list[str]:
    """Return the facts that can give nobody away."""
    told: list[str] = []
    for name, value in facts.items():
        is_number = isinstance(value, int) and abs(value) <= LARGEST
        is_name = isinstance(value, str) and FIT_TEXT.fullmatch(value) is not None
        is_command = name == "command" and value in COMMANDS
        if name in FACTS and (is_number or is_name or is_command):
            told.append(f"{name}={value}")
    return told


def _told(error: BaseException) -> str:
    """Return the class of an exception and of those behind it, with the places in our own code."""
    told: list[str] = []
    behind: BaseException | None = error
    while behind is not None and len(told) < DEEPEST:
        places = " < ".join(_places(behind))
        told.append(f"{type(behind).__name__} at {places or 'no place of ours'}")
        behind = behind.__cause__ or behind.__context__
    return f"[{'; after '.join(told)}]"


def _places(error: BaseException) -> Iterator[str]:
    """Yield where in our own code an exception passed through."""
    ours = Path(estimator.__file__).resolve().parent
    step = error.__traceback__
    while step is not None:
        code = step.tb_frame.f_code
        with suppress(ValueError):
            place = Path(code.co_filename).resolve().relative_to(ours)
            yield f"{place.as_posix()}:{step.tb_lineno}"
        step = step.tb_next


def _drop_old(place: Path, *, before: date) -> None:
    """Drop the lines that are too old, and files with none left."""
    for path in place.glob(f"{FILE}*"):
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines(keepends=True)
        young = [line for line in lines if DATED.match(line) and line[:10] >= before.isoformat()]
        if not young:
            path.unlink()
        elif len(young) < len(lines):
            write_whole(path, "".join(young).encode("utf-8"))
            path.chmod(0o600)
