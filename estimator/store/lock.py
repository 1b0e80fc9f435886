"""One writer at a time, by a lock the system itself takes back when a program dies.

The lock lies on a small file beside the real file, so that two names for one file share it. What
the small file says is only for people: whether it is held is asked of the system, so a stale one
never locks anybody out.
"""

from __future__ import annotations

import json
import os
import socket
import sys
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

from estimator.notices import WorldFault
from estimator.store.faults import FileInUse


def lock_path(path: Path) -> Path:
    """Return the small file that the lock for a file lies on."""
    real = path.resolve()
    return real.with_name(real.name + ".lock")


@dataclass
class Lock:
    """The lock on one file, held until closed or until the program ends."""

    path: Path
    _held: IO[str] | None = field(default=None, repr=False)

    def take(self) -> None:
        """Take the lock.

        Raises:
            FileInUse: when another program holds it, with who that is.
            WorldFault: when the small file cannot be made.
        """
        name = lock_path(self.path)
        try:
            handle = os.fdopen(os.open(name, os.O_RDWR | os.O_CREAT, 0o600), "r+", encoding="utf-8")
        except OSError as error:
            raise WorldFault(
                f"the folder of {self.path.name} may not be written to",
                do="open the file to read only, or ask for leave to write there",
            ) from error
        if not _try(handle):
            holder = _holder(handle)
            handle.close()
            raise FileInUse(
                f"{self.path.name} is open already", why=holder, do="go on in that window"
            )
        handle.seek(0)
        handle.truncate()
        started = datetime.now(UTC).isoformat(timespec="seconds")
        json.dump({"pid": os.getpid(), "host": socket.gethostname(), "since": started}, handle)
        handle.flush()
        self._held = handle

    def close(self) -> None:
        """Let the lock go; the small file stays, empty of meaning."""
        if self._held is not None:
            self._held.close()
            self._held = None


def _try(handle: IO[str]) -> bool:
    """Ask the system for the lock, without waiting."""
    try:
        if sys.platform == "win32":
            import msvcrt  # noqa: PLC0415 - there only

            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415 - there only

            fcntl.flock(handle.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _holder(handle: IO[str]) -> str:
    """Say who holds the lock, as far as the small file tells."""
    try:
        told = json.loads(handle.read(4096))
        return f"program {int(told['pid'])} on {str(told['host'])[:60]} holds it"
    except (ValueError, KeyError, TypeError, OSError):
        return "another program holds it"
