import os
from pathlib import Path

import pytest

from estimator.command.whole_file import write_whole
from estimator.notices import WorldFault


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
