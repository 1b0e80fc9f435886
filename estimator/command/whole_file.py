"""Files are written whole or not at all: aside, to the disk, then named, the name to the disk."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path

from estimator.notices import WorldFault
from estimator.store.whole import sync_folder

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


def _sync_names(folder: Path) -> None:
    """Have the names in a folder on the disk, where it lets itself be asked."""
    try:
        sync_folder(folder)
    except OSError as error:
        if error.errno not in CANNOT_SYNC:
            raise
