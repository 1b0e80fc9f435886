"""One writer at a time, by a lock the system itself takes back when a program dies.

The lock lies on a small file beside the real file, so that two names for one file share it. What
the small file says is only for people: whether it is held is asked of the system, so a stale one
never locks anybody out.
"""

from __future__ import annotations

import errno
import json
import os
import socket
import stat
import sys
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from estimator.notices import WorldFault
from estimator.store.faults import FileInUse, MayNotWrite

FAR_BEHIND = 1 << 30
"""Where the byte is that is locked on systems that will not let a locked byte be read."""
MOST_TOLD = 4096


def lock_path(path: Path) -> Path:
    """Return the small file that the lock for a file lies on."""
    real = path.resolve()
    return real.with_name(real.name + ".lock")


@dataclass
class Lock:
    """The lock on one file, held until closed or until the program ends."""

    path: Path
    _held: int | None = field(default=None, repr=False)

    def take(self) -> None:
        """Take the lock.

        Raises:
            FileInUse: when another program holds it, with who that is.
            MayNotWrite: when the folder lets nobody make the small file.
            WorldFault: when the small file cannot be made for another reason.
        """
        handle = _opened(lock_path(self.path), self.path.name)
        if not _try(handle):
            holder = _holder(handle)
            os.close(handle)
            raise FileInUse(
                f"{self.path.name} is open already", why=holder, do="go on in that window"
            )
        self._held = handle
        _tell(handle)

    def close(self) -> None:
        """Let the lock go; the small file stays, empty of meaning."""
        if self._held is not None:
            os.close(self._held)
            self._held = None


def _opened(name: Path, of: str) -> int:
    """Open the small file, making it; never follow a link to somebody else's file."""
    try:
        handle = _open(name)
    except OSError as error:
        raise _refused(error, name, of) from error
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise _in_the_way(name)
    return handle


def _open(name: Path) -> int:
    """Open or make the small file, first taking back leave that was lost on our own one."""
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        return os.open(name, flags, 0o600)
    except PermissionError:
        # Who may change its mode owns it; whether it is held is still asked of the system.
        name.chmod(0o600)
        return os.open(name, flags, 0o600)


def _refused(error: OSError, name: Path, of: str) -> WorldFault:
    """Say why the small file could not be opened or made."""
    if not name.parent.is_dir():
        return WorldFault(f"there is no folder {name.parent}", do="make it, or choose another")
    if error.errno in {errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOENT}:
        return MayNotWrite(
            f"the folder of {of} may not be written to",
            do="open the file to read only, or ask for leave to write there",
        )
    if error.errno in {errno.ENOSPC, errno.EDQUOT}:
        return WorldFault(f"the disk of {of} is full", do="free some space and try again")
    if error.errno == errno.ENAMETOOLONG:
        return WorldFault(f"the name {of[:40]}… is too long", do="choose a shorter one")
    return _in_the_way(name)


def _in_the_way(name: Path) -> WorldFault:
    """Say that something else has the small file's name."""
    return WorldFault(f"{name.name} is in the way", do="move it to another folder and try again")


def _tell(handle: int) -> None:
    """Write who holds the lock; it is held all the same when a full disk keeps this empty."""
    started = datetime.now(UTC).isoformat(timespec="seconds")
    told = {"pid": os.getpid(), "host": socket.gethostname(), "since": started}
    with suppress(OSError):
        os.ftruncate(handle, 0)
        os.lseek(handle, 0, os.SEEK_SET)
        os.write(handle, json.dumps(told).encode())


def _try(handle: int) -> bool:
    """Ask the system for the lock, without waiting."""
    try:
        if sys.platform == "win32":
            import msvcrt  # noqa: PLC0415 - there only

            os.lseek(handle, FAR_BEHIND, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl  # noqa: PLC0415 - there only

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _holder(handle: int) -> str:
    """Say who holds the lock, as far as the small file tells."""
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        told = json.loads(os.read(handle, MOST_TOLD))
        return f"program {int(told['pid'])} on {str(told['host'])[:60]} holds it"
    except (ValueError, KeyError, TypeError, OSError, RecursionError):
        return "another program holds it"
