"""Photographs stay with what names them, go with the person, and are shown only when whole."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estimator.notices import UserMistake
from estimator.store import backup, drafts, issued, jobs, people, person_export, photos, restore
from estimator.store.database import Database, open_file
from estimator.store.faults import DamagedFile
from estimator.store.issued import Origin
from estimator.survey.survey import Photo, Survey
from tests.store import people_made_up as made_up
from tests.store import work
from tests.store.people_made_up import LATELY, LONG_AGO, TODAY, Made
from tests.store.work import at_nine

FRONT = b"\xff\xd8\xff the front " + bytes(range(256)) * 40
SIDE = b"\xff\xd8\xff the side "
FACE = b"\xff\xd8\xff somebody's face behind the window"


@pytest.fixture
def database(quick: Path) -> Iterator[Database]:
    path = quick / "work.perpend"
    path.write_bytes(made_up.fresh())
    with open_file(path) as opened:
        yield opened


def keep(database: Database, job: str, picture: bytes) -> str:
    return photos.keep(database, job, picture, width_px=2000, height_px=1500, now=at_nine)


def showing(survey: Survey, *pictures: str) -> Survey:
    """A survey with photographs of its first elevation."""
    shown = tuple(
        Photo(f"p{at}", survey.elevations[0].id, picture, 2000, 1500, caption=f"caption {at}")
        for at, picture in enumerate(pictures)
    )
    return replace(survey, photos=shown)


def accept(database: Database, job: str, *pictures: str) -> int:
    survey = showing(work.demo(), *pictures)
    return jobs.accept_survey(database, job, survey, why="with photographs", now=at_nine)


def test_a_photograph_comes_back_to_the_byte(database: Database) -> None:
    job = work.job_in(database)
    name = keep(database, job, FRONT)
    assert photos.load(database, job, name) == FRONT
    (listed,) = photos.every(database, job)
    assert (listed.sha256, listed.width_px, listed.height_px) == (name, 2000, 1500)
    assert (listed.size, listed.added_at) == (len(FRONT), at_nine())


def test_one_taken_in_twice_is_there_once_and_jobs_keep_their_own(database: Database) -> None:
    one, two = work.job_in(database), work.job_in(database)
    assert keep(database, one, FRONT) == keep(database, one, FRONT)
    assert len(photos.every(database, one)) == 1
    name = keep(database, one, FRONT)
    assert photos.load(database, two, name) is None
    keep(database, two, FRONT)
    assert photos.drop_unused(database, one, []) == (name,)
    assert photos.load(database, two, name) == FRONT


def test_of_a_job_there_is_not_nothing_is_kept(database: Database) -> None:
    for ask in (
        lambda: keep(database, "0" * 32, FRONT),
        lambda: photos.load(database, "0" * 32, "0" * 64),
        lambda: photos.every(database, "0" * 32),
        lambda: photos.drop_unused(database, "0" * 32, []),
    ):
        with pytest.raises(UserMistake, match="there is no job"):
            ask()


@pytest.mark.parametrize(("picture", "width"), [(b"", 10), (FRONT, 0)])
def test_what_is_no_kept_copy_is_refused(database: Database, picture: bytes, width: int) -> None:
    job = work.job_in(database)
    with pytest.raises(ValueError, match="small copy"):
        photos.keep(database, job, picture, width_px=width, height_px=10)


def test_only_what_nothing_names_is_thrown_away(database: Database) -> None:
    job = work.job_in(database)
    old, on_desk, typed, loose = (keep(database, job, FRONT + bytes([at])) for at in range(4))
    accept(database, job, old)
    accept(database, job)
    drafts.keep(database, f"survey/{job}", json.dumps({"photos": [{"picture": typed}]}))
    assert photos.drop_unused(database, job, [on_desk]) == (loose,)
    assert {one.sha256 for one in photos.every(database, job)} == {old, on_desk, typed}
    # The first revision still shows it, though the newest does not.
    assert photos.load(database, job, old) == FRONT + b"\x00"


def test_the_file_itself_keeps_a_photograph_of_a_survey(database: Database) -> None:
    job = work.job_in(database)
    name = keep(database, job, FRONT)
    accept(database, job, name)
    for act in (
        "DELETE FROM photos",
        "UPDATE photos SET jpeg = x'00'",
        "INSERT OR REPLACE INTO photos SELECT id, job_id, sha256, x'00', 1, 1, '' FROM photos",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="a photograph"):
            database.raw.execute(act)
    assert photos.load(database, job, name) == FRONT


def test_a_photograph_on_an_issued_paper_is_kept_by_the_paper_too(database: Database) -> None:
    made, front, _side, _face = photographed(database, LATELY)
    # As if no survey named it any more.
    database.raw.execute("INSERT INTO facts VALUES ('erasing', '')")
    database.raw.execute("UPDATE surveys SET document = '{}'")
    database.raw.execute("DELETE FROM facts WHERE name = 'erasing'")
    assert front not in photos.drop_unused(database, made.job, [])
    with pytest.raises(sqlite3.IntegrityError, match="never thrown away"):
        database.raw.execute("DELETE FROM photos WHERE sha256 = ?", (front,))


def spoil(database: Database) -> None:
    """Change a byte of every photograph, as a failing disk does, past the file's own guard."""
    raw = database.raw
    (guard,) = raw.execute(
        "SELECT sql FROM sqlite_schema WHERE name = 'tr_photos_frozen'"
    ).fetchone()
    raw.execute("DROP TRIGGER tr_photos_frozen")
    raw.execute("UPDATE photos SET jpeg = x'ffd8ff00'")
    raw.execute(guard)


def test_a_changed_photograph_is_told_and_not_shown(database: Database) -> None:
    job = work.job_in(database)
    name = keep(database, job, FRONT)
    assert photos.damaged(database) == ()
    spoil(database)
    with pytest.raises(DamagedFile, match="no longer as it was taken in"):
        photos.load(database, job, name)
    assert photos.damaged(database) == ((job, name),)


def photographed(database: Database, when: datetime) -> tuple[Made, str, str, str]:
    """A customer with a paper that names one photograph, a survey that names two, and a third."""

    def now() -> datetime:
        return when

    made = made_up.customer(database, issued_at=when)
    front, side, face = (keep(database, made.job, one) for one in (FRONT, SIDE, FACE))
    words = json.dumps(made_up.CANARIES)
    quoted = made_up.quoted(words)
    survey = showing(quoted.survey, front)
    revision = jobs.accept_survey(database, made.job, survey, why="photographed", now=now)
    issued.issue(
        database,
        replace(quoted, survey=survey),
        origin=Origin(made.job, revision),
        make_pdf=made_up.plain_pdf,
        now=now,
    )
    jobs.accept_survey(database, made.job, showing(survey, front, side), why="more", now=now)
    return made, front, side, face


def test_everything_held_about_a_person_holds_their_photographs(database: Database) -> None:
    made, front, side, face = photographed(database, LATELY)
    other = work.job_in(database)
    keep(database, other, b"\xff\xd8\xff another's")
    export = person_export.export_customer(database, made.uid)
    assert [one.jpeg for one in export.photos] == [FRONT, SIDE, FACE]
    told = json.loads(export.as_json())["jobs"][0]["photographs"]
    assert [one["sha256"] for one in told] == [front, side, face]
    assert [one["jpeg"] for one in told] == [one.name for one in export.photos]
    assert len({one.name for one in export.photos}) == 3
    assert not {"id", "job_id"} & {*told[0]}


def test_an_erasure_takes_all_photographs_but_those_of_a_paper_tax_needs(
    database: Database,
) -> None:
    made, front, _side, _face = photographed(database, LATELY)
    other = work.job_in(database)
    theirs = keep(database, other, FRONT)
    assert people.to_erase(database, made.uid, today=TODAY).photos == 2
    assert len(photos.every(database, made.job)) == 3
    done = people.erase_customer(database, made.uid, today=TODAY)
    assert done.photos == 2
    assert [one.sha256 for one in photos.every(database, made.job)] == [front]
    assert photos.load(database, other, theirs) == FRONT
    left = database.path.read_bytes()
    assert SIDE not in left
    assert FACE not in left
    # Once the tax office may ask no more, the last goes with its paper.
    later = datetime(2040, 1, 1, tzinfo=UTC).date()
    assert people.erase_customer(database, made.uid, today=later).photos == 1
    assert photos.every(database, made.job) == ()


def test_an_erasure_takes_the_photographs_of_old_papers_and_every_caption(
    database: Database,
) -> None:
    made, *_ = photographed(database, LONG_AGO)
    assert people.erase_customer(database, made.uid, today=TODAY).photos == 3
    assert photos.every(database, made.job) == ()
    documents = [row[0] for row in database.raw.execute("SELECT document FROM surveys")]
    assert [one for one in documents if "caption 0" in one] == []
    # What was measured stays, and the survey can still be read.
    assert [one.caption for one in jobs.survey(database, made.job).photos] == ["", ""]


def test_a_backup_carries_photographs_and_a_restore_brings_them_back(quick: Path) -> None:
    path = quick / "work.perpend"
    path.write_bytes(made_up.fresh())
    with open_file(path) as database:
        job = work.job_in(database)
        name = keep(database, job, FRONT)
        made = backup.back_up(database, now=at_nine(), forced=True, why="a test")
        assert made is not None
        assert made.manifest.counts["photos"] == 1
        photos.drop_unused(database, job, [])
        assert photos.load(database, job, name) is None
    restore.restore(path, made.path, now=at_nine())
    with open_file(path) as database:
        assert photos.load(database, job, name) == FRONT
