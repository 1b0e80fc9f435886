"""Backups as they lie in a folder, each with its manifest: what it holds and its hash."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from estimator import whole_file
from estimator.notices import Notice
from estimator.store import thinning

FOLDER = "backups"
ENDING = ".json"
REPLACED = "-replaced-"
"""In the name of what a restore put aside."""
WORTH_THINNING = thinning.LAST + thinning.DAYS + thinning.MONTHS + 12
"""Thinning reads every backup it keeps; with a dozen to spare it does so at each twelfth."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What is known of a backup, written beside it."""

    sequence: int
    """Its place in the order of making; clocks jump, this does not."""
    version: int
    counts: dict[str, int]
    """How many rows each table has."""
    size: int
    sha256: str
    made_at: datetime
    why: str
    program: str


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup with its manifest, and what is to be said about its making."""

    path: Path
    manifest: Manifest
    notices: tuple[Notice, ...] = ()

    @property
    def sequence(self) -> int:
        """Its place in the order of making."""
        return self.manifest.sequence

    @property
    def made_at(self) -> datetime:
        """When the clock said it was made."""
        return self.manifest.made_at


def folder_beside(live: Path) -> Path:
    """Return the folder the backups of a file lie in."""
    return live.resolve().parent / FOLDER


def manifest_path(backup: Path) -> Path:
    """Return the path of the manifest of a backup."""
    return backup.with_name(backup.name + ENDING)


def write_manifest(backup: Path, manifest: Manifest) -> None:
    """Write the manifest of a backup."""
    told = asdict(manifest) | {"made_at": manifest.made_at.astimezone(UTC).isoformat()}
    text = json.dumps(told, indent=1, sort_keys=True, ensure_ascii=False)
    whole_file.write(manifest_path(backup), text.encode())


def manifest_of(backup: Path) -> Manifest | None:
    """Return the manifest of a backup, or None where it has none that can be read."""
    try:
        told = json.loads(manifest_path(backup).read_bytes())
        return _manifest(told)
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None


def backups_in(folder: Path) -> tuple[Backup, ...]:
    """Return the backups of a folder that have a manifest, in the order of making."""
    found = []
    for described in folder.glob(f"*{ENDING}"):
        path = described.with_name(described.name.removesuffix(ENDING))
        manifest = manifest_of(path) if path.is_file() else None
        if manifest is not None:
            found.append(Backup(path, manifest))
    return tuple(sorted(found, key=lambda backup: (backup.sequence, backup.path.name)))


def is_good(backup: Backup) -> bool:
    """Read a backup through and tell whether it is as it was made."""
    try:
        if backup.path.stat().st_size != backup.manifest.size:
            return False
        return whole_file.sha256_of(backup.path) == backup.manifest.sha256
    except OSError:
        return False


def thin(folder: Path) -> tuple[Backup, ...]:
    """Remove the backups that may go, once there are enough of them, and return them."""
    backups = backups_in(folder)
    if len(backups) < WORTH_THINNING:
        return ()
    dropped = thinning.to_drop(backups, is_good)
    for backup in dropped:
        backup.path.unlink(missing_ok=True)
        manifest_path(backup.path).unlink(missing_ok=True)
    return dropped


def _manifest(told: dict[str, Any]) -> Manifest:
    made_at = datetime.fromisoformat(told["made_at"])
    if made_at.tzinfo is None:
        raise ValueError("a moment needs its zone")
    return Manifest(
        sequence=int(told["sequence"]),
        version=int(told["version"]),
        counts={str(name): int(count) for name, count in told["counts"].items()},
        size=int(told["size"]),
        sha256=str(told["sha256"]),
        made_at=made_at,
        why=str(told["why"]),
        program=str(told["program"]),
    )
