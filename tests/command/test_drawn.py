"""The survey's paper and the walls as drawings, from the command line."""

from __future__ import annotations

import hashlib
import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pypdf
import pytest
from PIL import Image

from estimator.command import main
from estimator.office.place import FILE_NAME
from estimator.store import jobs, photos
from estimator.store.database import open_file
from estimator.survey import survey_file
from tests.exchange.ubl_rules import schema_faults

DEMO = Path(__file__).resolve().parents[2] / "demo"
NOT_AT_HAND = "not at hand"


def picture() -> bytes:
    written = io.BytesIO()
    Image.new("RGB", (40, 30), (120, 60, 40)).save(written, "JPEG")
    return written.getvalue()


JPEG = picture()
NAME = hashlib.sha256(JPEG).hexdigest()


def photographed(folder: Path) -> Path:
    """The window's survey, with one photograph named in it."""
    told = json.loads((DEMO / "window_lime.json").read_text(encoding="utf-8"))
    one = {"id": "p", "elevation": told["elevations"][0]["id"], "picture": NAME}
    told["photos"] = [{**one, "width_px": 40, "height_px": 30}]
    told["perpend_survey"] = survey_file.VERSION
    path = folder / "survey.json"
    path.write_text(json.dumps(told), encoding="utf-8")
    return path


def words_of(path: Path) -> str:
    return " ".join("".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())


def pictures_in(path: Path) -> int:
    return sum(len(page.images) for page in pypdf.PdfReader(path).pages)


def test_a_survey_is_written_with_its_walls(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper, drawings = tmp_path / "made" / "survey.pdf", tmp_path / "drawings"
    words = ["price", str(DEMO / "terrace.json"), "--survey-paper", str(paper)]
    assert main.run([*words, "--elevation-svg", str(drawings)]) == main.Exit.DONE
    out = capsys.readouterr().out
    assert f"Written: {paper}" in out
    assert "Street front" in words_of(paper)
    (drawing,) = drawings.iterdir()
    assert f"Written: {drawing}" in out
    assert ElementTree.parse(drawing).getroot().tag.endswith("svg")


def test_a_wall_without_a_price_has_its_survey_all_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper = tmp_path / "survey.pdf"
    words = ["price", str(DEMO / "refer.json"), "--survey-paper", str(paper)]
    assert main.run(words) == main.Exit.NO_PRICE
    assert "engineer" in words_of(paper)


def test_photographs_come_from_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    survey, paper = photographed(tmp_path), tmp_path / "survey.pdf"
    words = ["price", str(survey), "--survey-paper", str(paper)]
    assert main.run(words) == main.Exit.DONE
    assert NOT_AT_HAND in words_of(paper) and not pictures_in(paper)
    (tmp_path / f"{NAME}.jpg").write_bytes(JPEG)
    assert main.run([*words, "--photos", str(tmp_path)]) == main.Exit.DONE
    assert NOT_AT_HAND not in words_of(paper) and pictures_in(paper) == 1


def test_a_photograph_that_was_changed_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    survey, paper = photographed(tmp_path), tmp_path / "survey.pdf"
    (tmp_path / f"{NAME}.jpg").write_bytes(JPEG + b"\0")
    words = ["price", str(survey), "--survey-paper", str(paper), "--photos", str(tmp_path)]
    assert main.run(words) == main.Exit.MISTAKE
    assert "is not the photograph that the survey names" in capsys.readouterr().err
    assert not paper.exists()


def test_a_folder_that_is_not_there_is_told_plainly(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["price", str(DEMO / "terrace.json"), "--photos", str(tmp_path / "none")]
    assert main.run(words) == main.Exit.MISTAKE
    assert "There is no folder" in capsys.readouterr().err


def test_the_photographs_of_a_job_are_found_in_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    survey = survey_file.load(photographed(tmp_path))
    with open_file(tmp_path / FILE_NAME) as database:
        job = jobs.add(database, jobs.Job("Window")).uid
        jobs.accept_survey(database, job, survey, why="taken in")
        photos.keep(database, job, JPEG, width_px=40, height_px=30)
    paper = tmp_path / "survey.pdf"
    words = ["price", "--job", job, "--data", str(tmp_path), "--survey-paper", str(paper)]
    assert main.run(words) == main.Exit.DONE
    assert pictures_in(paper) == 1


def test_each_choice_of_a_quotation_is_written_as_ubl(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["price", str(DEMO / "terrace.json"), "--firm", str(DEMO / "firm.json")]
    assert main.run([*words, "--ubl", str(tmp_path)]) == main.Exit.DONE
    found = sorted(tmp_path.iterdir())
    assert [path.name.rsplit("-", 1)[1] for path in found] == ["local.xml", "panel.xml"]
    assert all(schema_faults(path.read_bytes()) == [] for path in found)
    assert f"Written: {found[0]}" in capsys.readouterr().out


def test_an_estimate_is_not_written_as_ubl(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["price", str(DEMO / "phone_call.json"), "--ubl", str(tmp_path)]
    assert main.run(words) == main.Exit.MISTAKE
    assert "range" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
