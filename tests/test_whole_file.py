import errno
import os
from pathlib import Path

import pytest

from estimator import whole_file
from estimator.notices import WorldFault
from estimator.whole_file import write_whole


def test_a_file_is_written_with_its_folders(tmp_path: Path) -> None:
    write_whole(tmp_path / "new" / "paper.pdf", b"paper")
    assert (tmp_path / "new" / "paper.pdf").read_bytes() == b"paper"
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["paper.pdf"]


def test_a_fault_while_writing_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "paper.pdf"
    target.write_bytes(b"old")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(WorldFault, match=r"paper\.pdf could not be written .* because no space"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["paper.pdf"]


def test_a_folder_that_is_a_file_is_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("here", encoding="utf-8")
    with pytest.raises(WorldFault, match="check that the folder may be written"):
        write_whole(tmp_path / "taken" / "paper.pdf", b"paper")


def test_new_folders_are_on_the_disk_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    synced = []
    monkeypatch.setattr(whole_file, "sync_folder", synced.append)
    write_whole(tmp_path / "new" / "newer" / "paper.pdf", b"paper")
    assert synced == [tmp_path / "new" / "newer", tmp_path / "new", tmp_path]


@pytest.mark.parametrize("code", sorted(whole_file.CANNOT_SYNC))
def test_a_folder_that_cannot_be_flushed_takes_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    def cannot(_folder: Path) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(whole_file, "sync_folder", cannot)
    write_whole(tmp_path / "paper.pdf", b"paper")
    assert (tmp_path / "paper.pdf").read_bytes() == b"paper"


def test_a_folder_that_fails_to_be_flushed_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_folder: Path) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    monkeypatch.setattr(whole_file, "sync_folder", fails)
    with pytest.raises(WorldFault, match="could not be written"):
        write_whole(tmp_path / "paper.pdf", b"paper")
