"""Files are written whole or not at all: aside, to the disk, then renamed over the old one."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from estimator.notices import WorldFault


def write_whole(path: Path, content: bytes) -> None:
    """Write a file so that a full disk or a power cut leaves the old one as it was.

    Raises:
        WorldFault: when the folder or the disk will not take it.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            Path(aside).chmod(0o644)
            Path(aside).replace(path)
        except OSError:
            Path(aside).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise WorldFault(
            f"{path.name} could not be written into {path.parent}",
            why=error.strerror.lower() if error.strerror else "",
            do="check that the folder may be written and the disk is not full",
        ) from error
