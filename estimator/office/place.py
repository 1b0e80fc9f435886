"""Where the file is, and when a new one must not be made."""

from __future__ import annotations

from pathlib import Path

from estimator.notices import WorldFault
from estimator.store import manifest

FILE_NAME = "work.perpend"


def usual_folder() -> Path:
    """Return the folder the file is in unless another is named."""
    from platformdirs import user_data_path  # noqa: PLC0415 - wanted only when none is named

    return user_data_path("Perpend", appauthor=False)


def file_in(folder: Path) -> Path:
    """Return the path of the file in its folder."""
    return folder / FILE_NAME


def refuse_if_lost(folder: Path, *, do: str) -> None:
    """See that a file that is not there is not one that went missing.

    A new, empty file in its place would look like a loss, and its first backup like the newest.

    Args:
        folder: Where the file should be.
        do: What to do about it, as the person asking can.

    Raises:
        WorldFault: when there are backups of a file and no file.
    """
    path = file_in(folder)
    if not path.exists() and any(manifest.folder_beside(path).glob("*")):
        raise WorldFault(
            f"{FILE_NAME} is gone from {folder}, and its backups are still there", do=do
        )
