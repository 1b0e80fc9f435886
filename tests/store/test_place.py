"""Folders that other programs or machines write to are noticed; ordinary ones are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from estimator.store.place import synced_folder

NOWHERE = Path("/nowhere")


@pytest.mark.parametrize(
    "folder",
    ["Sync", "filesync", "My Cloud", "cloud-files", "WorkDrive", "Drive", "Shared", "mirror"],
)
def test_names_of_folders_kept_in_step_are_noticed(folder: str) -> None:
    warning = synced_folder(Path("/srv/ines") / folder / "jobs" / "work.perpend", mounts=NOWHERE)
    assert folder in warning


@pytest.mark.parametrize(
    "folder", ["jobs", "Documents", "driveway repairs", "Mrs Driver", "shareholders", "syncopation"]
)
def test_ordinary_folders_are_not(folder: str) -> None:
    assert synced_folder(Path("/srv/ines") / folder / "work.perpend", mounts=NOWHERE) == ""


@pytest.mark.parametrize("kind", ["nfs4", "cifs", "fuse.sshfs", "9p"])
def test_network_mounts_are_noticed(tmp_path: Path, kind: str) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text(f"/dev/vda / ext4 rw 0 0\nhost:/x /mnt/the\\040office {kind} rw 0 0\nshort\n")
    office = Path("/mnt/the office/work.perpend")
    assert "a network folder" in synced_folder(office, mounts=mounts)
    assert synced_folder(Path("/mnt/the house/work.perpend"), mounts=mounts) == ""
    assert "a network folder" in synced_folder(Path("//host/jobs/work.perpend"), mounts=mounts)


def test_a_link_into_such_a_folder_is_followed(tmp_path: Path) -> None:
    (tmp_path / "cloud").mkdir()
    (tmp_path / "jobs").symlink_to(tmp_path / "cloud")
    assert "cloud" in synced_folder(tmp_path / "jobs" / "work.perpend", mounts=NOWHERE)
