"""Every kept bad survey file is refused in one plain sentence that says where and what."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from estimator.notices import UserMistake, WorldFault
from estimator.survey import survey_file
from estimator.survey.limits import MOST_BYTES
from tests.bad_surveys import make
from tests.bad_surveys.good import good

FOLDER = Path(make.__file__).parent
INDEX = json.loads((FOLDER / "index.json").read_text(encoding="utf-8"))
MOST_LETTERS = 300
MACHINE_WORDS = re.compile(
    r"\w+(?:Error|Exception)\b|Traceback|\b(?:NoneType|dict|str|int|float|tuple|bool|object|utf8)\b"
    r"|\b(?:invalid|valid|please|sorry|record|entity|oops|illegal)\b"
)


def said_of(path: Path) -> str:
    with pytest.raises(UserMistake) as caught:
        survey_file.load(path)
    assert not isinstance(caught.value, WorldFault)
    return str(caught.value)


def assert_plain(sentence: str) -> None:
    assert sentence.endswith(".")
    assert not re.search(r"[.!?]\s", sentence), "more than one sentence"
    assert sentence.isprintable(), "a line end or a letter nobody can see"
    assert len(sentence) <= MOST_LETTERS
    assert not MACHINE_WORDS.search(sentence)


def test_the_survey_they_are_made_from_is_good() -> None:
    assert survey_file.read(json.dumps(good())).reference == "Q-0200"


def test_there_are_200_and_more_and_each_is_in_the_index() -> None:
    files = {path.stem for path in FOLDER.glob("*.json")} - {"index"}
    assert len(files) >= 200
    assert files == set(INDEX)


@pytest.mark.parametrize("name", sorted(INDEX))
def test_a_bad_survey_is_refused_in_one_plain_sentence(name: str) -> None:
    sentence = said_of(FOLDER / f"{name}.json")
    assert INDEX[name] in sentence
    assert_plain(sentence)


def test_the_kept_files_are_those_the_script_makes() -> None:
    for name, content, fragment in make.every():
        assert (FOLDER / f"{name}.json").read_bytes() == content
        assert INDEX[name] == fragment


def test_a_file_over_5_mb_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "large.json"
    path.write_bytes(b"[" + b" " * MOST_BYTES + b"]")
    assert said_of(path).startswith("the survey file is larger than 5 MB; divide the work")


def test_a_text_over_5_mb_only_in_bytes_is_refused() -> None:
    with pytest.raises(UserMistake, match="larger than 5 MB"):
        survey_file.read('"' + "é" * (MOST_BYTES // 2) + '"')


def test_a_byte_order_mark_is_let_pass(tmp_path: Path) -> None:
    path = tmp_path / "marked.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(good()).encode())
    assert survey_file.load(path).reference == "Q-0200"


def test_a_missing_file_is_a_fault_of_the_world(tmp_path: Path) -> None:
    with pytest.raises(
        WorldFault, match=r"there is no file 'gone\.json'; check its name"
    ) as caught:
        survey_file.load(tmp_path / "gone.json")
    assert_plain(str(caught.value).replace("gone.json", "gone"))


def test_a_folder_is_a_fault_of_the_world(tmp_path: Path) -> None:
    with pytest.raises(WorldFault, match="is a folder; choose a survey file inside it"):
        survey_file.load(tmp_path)


def test_a_file_that_may_not_be_read_is_a_fault_of_the_world(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(self: Path, mode: str) -> None:
        raise PermissionError(13, "denied", str(self))

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(WorldFault, match="may not be read; ask its owner"):
        survey_file.load(tmp_path / "locked.json")


def test_a_broken_disk_is_a_fault_of_the_world(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(self: Path, mode: str) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "open", fail)
    with pytest.raises(WorldFault, match="could not be read; check the disk"):
        survey_file.load(tmp_path / "disk.json")


def test_a_name_no_disk_can_hold_is_a_fault_of_the_world() -> None:
    with pytest.raises(WorldFault, match="could not be read"):
        survey_file.load(Path("a\0b.json"))
