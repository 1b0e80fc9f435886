"""Files that are there whole or not at all: written aside, to the disk, then given their name.

``write_whole`` is for what is handed out: papers, lists, whatever a person asked for. ``draft`` and
``name`` are for what belongs to the file. Only files that no connection has open come through here:
opening and closing the live file by hand would silently drop the locks SQLite holds on it.
"""

from __future__ import annotations

import errno
import glob
import hashlib
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from estimator.notices import WorldFault

ASIDE = ".aside"
CHUNK = 1 << 20
CANNOT_SYNC = {errno.EINVAL, errno.EACCES, errno.ENOTSUP}
"""What a shared folder or a drop box says that takes files and cannot flush their names."""


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that a full disk or a power cut leaves the old one as it was.

    Raises:
        WorldFault: when the folder or the disk will not take it.
    """
    try:
        missing = [folder for folder in path.parents if not folder.exists()]
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                Path(aside).chmod(0o644)
                os.fsync(file.fileno())
            Path(aside).replace(path)
        except OSError:
            Path(aside).unlink(missing_ok=True)
            raise
        for folder in (path.parent, *(new.parent for new in missing)):
            _sync_names(folder)
    except OSError as error:
        raise WorldFault(
            f"{path.name} could not be written into {path.parent}",
            why=error.strerror.lower() if error.strerror else "",
            do="check that the folder may be written and the disk is not full",
        ) from error


@contextmanager
def draft(target: Path) -> Iterator[Path]:
    """Yield a private path beside a target to write to; what has no name at the end is gone."""
    written = target.with_name(f".{target.name}{ASIDE}")
    written.unlink(missing_ok=True)
    try:
        # Made first, so that it is private from its first byte on.
        os.close(os.open(written, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        yield written
    finally:
        # What cannot be removed now is swept away by the next that comes along.
        with suppress(OSError):
            written.unlink(missing_ok=True)


def name(written: Path, target: Path) -> None:
    """Give what was written aside its name: content to the disk, name, name to the disk."""
    sync_file(written)
    written.replace(target)
    sync_folder(target.parent)


def write(target: Path, content: bytes) -> None:
    """Write a whole small file."""
    with draft(target) as written:
        written.write_bytes(content)
        name(written, target)


def copy(source: Path, target: Path) -> str:
    """Copy a closed file whole and return the SHA-256 of what was copied."""
    with draft(target) as written:
        sha256 = copy_bytes(source, written)
        name(written, target)
    return sha256


def copy_bytes(source: Path, target: Path) -> str:
    """Copy the bytes of a closed file over another and return their SHA-256."""
    digest = hashlib.sha256()
    with source.open("rb") as came, target.open("wb") as went:
        while chunk := came.read(CHUNK):
            digest.update(chunk)
            went.write(chunk)
    return digest.hexdigest()


def sha256_of(path: Path) -> str:
    """Return the SHA-256 of a closed file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def sync_file(path: Path) -> None:
    """Have the content of a file on the disk before going on."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_folder(path: Path) -> None:
    """Have the names in a folder on the disk, where folders can be synchronised at all."""
    try:
        handle = os.open(path, os.O_RDONLY)
    except PermissionError:
        # Windows opens no folders, and writes their names by itself.
        if os.name != "nt":
            raise
        return
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sweep(live: Path, folder: Path | None = None) -> None:
    """Remove what a killed program left half written of a file, beside it or in a folder."""
    for left in (folder or live.parent).glob(f".{glob.escape(live.stem)}*{ASIDE}"):
        left.unlink(missing_ok=True)


def sweep_names(live: Path, like: str) -> None:
    """Remove second names of a file that a killed program left; SQLite must know it by one."""
    for other in live.parent.glob(f"{glob.escape(live.stem)}{like}*"):
        if live.exists() and other.samefile(live):
            other.unlink()


def _sync_names(folder: Path) -> None:
    """Have the names in a folder on the disk, where it lets itself be asked."""
    try:
        sync_folder(folder)
    except OSError as error:
        if error.errno not in CANNOT_SYNC:
            raise
