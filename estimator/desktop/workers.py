"""Two processes beside the window that run the engine, so that the window never waits for it.

Nothing here knows a window: a process that works has neither Qt nor the database in it. Each
process has a thread on this side that hands it one piece of work at a time. That keeps an outdated
request from holding a process for longer than one piece, and a process that dies from taking the
other with it, which the standard library's own pool of processes cannot do.
"""

from __future__ import annotations

import copyreg
import datetime
import io
import multiprocessing
import os
import pickle
import signal
from collections import deque
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import lru_cache
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from threading import Condition, Thread
from types import MappingProxyType
from typing import Any

from estimator.pricing.risk import Plan
from estimator.quoting.offering import Practice
from estimator.quoting.outlook import Outlook, gathered_slices, slice_of
from estimator.survey.survey import Survey
from estimator.takeoff.scope import Scope

WORKERS = 2
SLICES = 8
"""Pieces a range is worked out in: an outdated one is soon over, and handing over costs little."""
TRIES = 2
NO_PROCESS = (OSError, RuntimeError)
"""What is raised where a process cannot be started, or is gone."""
BEHIND = 5
"""How far the workers stand behind the window when the system shares out time."""

Piece = tuple[Callable[..., Any], tuple[Any, ...]]


class WorkerLost(RuntimeError):
    """The process died over a piece of work, and so did the one that took its place."""


@dataclass(slots=True, eq=False)
class _Request:
    """Pieces of work with one answer."""

    pieces: deque[tuple[int, Piece]]
    on_done: Callable[[Any], None]
    on_failed: Callable[[BaseException], None]
    last: Callable[[Sequence[Any]], Piece] | None = None
    """Makes one more piece out of what all the others gave."""
    given: dict[int, Any] = field(default_factory=dict)
    awaited: int = 0
    is_over: bool = False

    @property
    def is_waiting(self) -> bool:
        """Whether a piece of it is still to be begun."""
        return bool(self.pieces) and not self.is_over


class Ticket:
    """What one request can be called back with."""

    def __init__(self, request: _Request, changed: Condition) -> None:
        """Hold the request."""
        self._request, self._changed = request, changed

    def cancel(self) -> None:
        """Drop the request: pieces not begun are never run, and nobody is called any more."""
        with self._changed:
            self._request.is_over = True


class Workers:
    """Runs the engine in other processes; they start at the first request, or when warmed.

    Callbacks come in a thread of the pool and must return at once.
    """

    def __init__(self, count: int = WORKERS) -> None:
        """Start nothing yet."""
        self._changed = Condition()
        self._outlook: _Request | None = None
        self._jobs: deque[_Request] = deque()
        self._count = count
        self._hands: list[_Hand] = []
        self._is_closed = False

    def warm(self) -> None:
        """Start the processes and have them load the engine."""
        with self._changed:
            if not self._hands and not self._is_closed:
                self._hands = [_Hand(self._next, self._took) for _hand in range(self._count)]
                for hand in self._hands:
                    hand.thread.start()

    def outlook(
        self,
        survey: Survey,
        practice: Practice,
        scopes: Sequence[Scope],
        date: datetime.date,
        *,
        on_done: Callable[[Outlook], None],
        on_failed: Callable[[BaseException], None],
    ) -> Ticket:
        """Work out the range and what to ask next; takes the place of an outlook still unanswered.

        Args:
            survey: What is known.
            practice: Rates, rules and name.
            scopes: What is offered.
            date: Day the tax is of.
            on_done: Gets the outlook.
            on_failed: Gets a ``UserMistake``, or what else went wrong.
        """
        plan = Plan.of(survey, practice.book.ranges)
        pieces = [
            (slice_of, (survey, practice, tuple(scopes), date, part))
            for part in plan.slices(SLICES)
        ]
        request = _Request(
            deque(enumerate(pieces)),
            on_done,
            on_failed,
            last=lambda given: (gathered_slices, (tuple(given), practice)),
            awaited=len(pieces),
        )
        with self._changed:
            if self._outlook is not None:
                self._outlook.is_over = True
            self._outlook = request
        return self._handed_in(request)

    def run(
        self,
        function: Callable[..., Any],
        *arguments: Any,
        on_done: Callable[[Any], None],
        on_failed: Callable[[BaseException], None],
    ) -> Ticket:
        """Run a function of a module, such as one that makes a paper; outlooks go first."""
        request = _Request(deque([(0, (function, arguments))]), on_done, on_failed, awaited=1)
        with self._changed:
            self._jobs.append(request)
        return self._handed_in(request)

    def processes(self) -> tuple[int, ...]:
        """Return the ids of the processes that run now."""
        return tuple(pid for hand in self._hands if (pid := hand.pid) is not None)

    def close(self) -> None:
        """End all processes; requests still unanswered stay so."""
        with self._changed:
            self._is_closed = True
            self._changed.notify_all()
        for hand in self._hands:
            hand.stop()
        for hand in self._hands:
            hand.thread.join()

    def _handed_in(self, request: _Request) -> Ticket:
        self.warm()
        with self._changed:
            self._changed.notify_all()
        return Ticket(request, self._changed)

    def _next(self) -> tuple[_Request, int, Piece] | None:
        """Wait for a piece of work; none at the end."""
        with self._changed:
            self._changed.wait_for(lambda: self._is_closed or self._waiting() is not None)
            request = self._waiting()
            if self._is_closed or request is None:
                return None
            return request, *request.pieces.popleft()

    def _waiting(self) -> _Request | None:
        """Return the request whose turn it is."""
        while self._jobs and not self._jobs[0].is_waiting:
            self._jobs.popleft()
        if self._outlook is not None and self._outlook.is_waiting:
            return self._outlook
        return self._jobs[0] if self._jobs else None

    def _took(self, request: _Request, place: int, found: Any) -> None:
        """Take what a piece gave, an error included, and call back when all are there."""
        with self._changed:
            if request.is_over or self._is_closed:
                return
            request.given[place] = found
            request.awaited -= 1
            failed = isinstance(found, _Failed)
            if not failed and request.awaited:
                return
            if not failed and request.last is not None:
                given = [request.given[at] for at in sorted(request.given)]
                request.pieces.append((len(given), request.last(given)))
                request.last, request.awaited = None, 1
                self._changed.notify_all()
                return
            request.is_over = True
        if failed:
            request.on_failed(found.error)
        else:
            request.on_done(found)


@dataclass(frozen=True, slots=True)
class _Failed:
    """What a piece of work raised."""

    error: BaseException


class _Hand:
    """One process and the thread that hands it work."""

    def __init__(
        self,
        following: Callable[[], tuple[_Request, int, Piece] | None],
        took: Callable[[_Request, int, Any], None],
    ) -> None:
        """Make the thread; it starts the process itself, which takes longer than a frame."""
        self._following, self._took = following, took
        self._process: SpawnProcess | None = None
        self._line: Connection | None = None
        self._is_stopped = False
        self.thread = Thread(target=self._run, name="engine", daemon=True)

    @property
    def pid(self) -> int | None:
        """The process that works for it now."""
        process = self._process
        return process.pid if process is not None else None

    def stop(self) -> None:
        """End the process, whatever it is at: it holds nothing that could be lost."""
        self._is_stopped = True
        process = self._process
        if process is not None and process.pid is not None:
            process.kill()

    def _run(self) -> None:
        with suppress(*NO_PROCESS):  # said when there is work, if it fails then as well
            self._begin()
        while (work := self._following()) is not None:
            request, place, piece = work
            self._took(request, place, self._given(piece))
        self._end()

    def _given(self, piece: Piece) -> Any:
        """Return what a piece gives in the process, which is started again if it dies."""
        try:
            message = packed(piece)
        except (pickle.PicklingError, TypeError, AttributeError) as error:
            return _Failed(error)
        for _try in range(TRIES):
            try:
                if self._line is None:
                    self._begin()
                assert self._line is not None
                self._line.send_bytes(message)
                return opened(self._line.recv_bytes())
            except (EOFError, *NO_PROCESS):
                self._end()
            if self._is_stopped:
                break
        return _Failed(WorkerLost("the process that worked it out has died twice"))

    def _begin(self) -> None:
        spawning = multiprocessing.get_context("spawn")
        ours, theirs = spawning.Pipe()
        process = spawning.Process(target=serve, args=(theirs,), name="engine", daemon=True)
        process.start()
        theirs.close()
        self._process, self._line = process, ours
        if self._is_stopped:
            process.kill()

    def _end(self) -> None:
        if self._process is not None and self._line is not None:
            self._line.close()
            self._process.kill()
            self._process.join()
        self._process = self._line = None


def _read_only(table: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(table)


class _Packer(pickle.Pickler):
    """Packs what crosses to another process, with the practice packed only once."""

    dispatch_table = copyreg.dispatch_table | {
        MappingProxyType: lambda table: (_read_only, (dict(table),))
    }

    def persistent_id(self, value: object) -> bytes | None:
        """Put the bytes of a practice in its place."""
        return _packed_practice(value) if isinstance(value, Practice) else None


class _Opener(pickle.Unpickler):
    def persistent_load(self, known: bytes) -> Practice:
        """Return the same practice for the same bytes: what was worked out for it is kept by it."""
        return _opened_practice(known)


class _PlainPacker(pickle.Pickler):
    dispatch_table = _Packer.dispatch_table


def packed(value: object) -> bytes:
    """Return a value as bytes for another process of this program."""
    into = io.BytesIO()
    _Packer(into, pickle.HIGHEST_PROTOCOL).dump(value)
    return into.getvalue()


def opened(data: bytes) -> Any:
    """Return a value that this program packed.

    >>> opened(packed(("a", 1)))
    ('a', 1)
    """
    return _Opener(io.BytesIO(data)).load()


@lru_cache(maxsize=2)
def _packed_practice(practice: Practice) -> bytes:
    into = io.BytesIO()
    _PlainPacker(into, pickle.HIGHEST_PROTOCOL).dump(practice)
    return into.getvalue()


@lru_cache(maxsize=2)
def _opened_practice(data: bytes) -> Practice:
    practice = pickle.loads(data)
    assert isinstance(practice, Practice)
    return practice


def serve(line: Connection) -> None:
    """Do pieces of work in this process until the other end is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if hasattr(os, "nice"):
        # On a small machine the window and two workers want the same two cores: it goes first.
        os.nice(BEHIND)
    while True:
        try:
            message = line.recv_bytes()
        except (EOFError, OSError):
            return
        answer = _answer(message)
        try:
            line.send_bytes(answer)
        except OSError:
            return


def _answer(message: bytes) -> bytes:
    try:
        function, arguments = opened(message)
        return packed(function(*arguments))
    except Exception as error:  # noqa: BLE001 - whatever it was must reach the person
        return packed(_Failed(_fit_to_cross(error)))


def _fit_to_cross(error: Exception) -> Exception:
    """Return the error, or its words where it cannot cross to another process."""
    try:
        opened(packed(error))
    except (pickle.PicklingError, TypeError, AttributeError):
        return RuntimeError(f"{type(error).__name__}: {error}")
    return error
