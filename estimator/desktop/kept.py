"""What the desk asks of the file; every function here runs in the file's own thread."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from estimator.desktop.state import OpenJob, stage_now
from estimator.notices import UserMistake
from estimator.office import practice as firm
from estimator.office.place import file_in, refuse_if_lost
from estimator.quoting.edits import Work
from estimator.store import (
    backup,
    clock,
    customers,
    desk,
    facts,
    issued,
    jobs,
    photos,
    price_books,
)
from estimator.store.database import Database, open_or_look
from estimator.store.place import synced_folder
from estimator.store.within import Place
from estimator.survey import survey_file
from estimator.takeoff.scope import ALL, USUAL, Scope, own
from estimator.takeoff.scope import Work as Kind

if TYPE_CHECKING:
    from estimator.exchange.photographs import TakenIn

FIRM, RULES, VALIDITY = firm.FIRM, firm.RULES, firm.VALIDITY
"""Names of settings."""
practice = firm.practice


def opened(folder: Path) -> Database:
    """Open the file in its folder, or make one where there is none and no backups of one.

    Raises:
        WorldFault: when it cannot be opened: what happened, and what to do.
    """
    path = file_in(folder)
    refuse_if_lost(folder, do="restore one, or move the backups away to begin anew")
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    database = open_or_look(path, before_migration=backup.before_migration(clock.now))
    if not database.is_read_only:
        price_books.installed(database)
    return database


def warning_of_place(database: Database) -> str:
    """Return a warning of a synchronised or network folder, once; nothing elsewhere."""
    warning = synced_folder(database.path)
    if database.is_read_only or not warning:
        return ""
    return warning if facts.once(database, "told of a synchronised folder") else ""


def keep_working(database: Database, job: OpenJob) -> datetime.datetime:
    """Keep the job as it stands, half typed or not, and say when it was safe."""
    with database.writing() as connection:
        if not _is_filed(connection, job.uid):
            jobs.add(connection, jobs.Job(title_of(job), uid=job.uid))
        desk.keep_working(connection, job.uid, _document(job))
        desk.note_open(connection, job.uid)
    return clock.now()


def accept(database: Database, job: OpenJob) -> OpenJob:
    """Make the job as it stands a revision of its survey, its customer known; return it anew."""
    with database.writing() as connection:
        if not _is_filed(connection, job.uid):
            return job
        who = _customer(connection, job)
        filed = jobs.find(connection, job.uid)
        stage = jobs.Stage(stage_now(replace(job, stage=filed.stage.value)))
        changed = replace(
            filed,
            stage=stage,
            title=title_of(job),
            customer=who or None,
            site=job.work.survey.customer.site,
            choices=choices_text(job.work),
        )
        desk.saved_all(connection, changed, job.work.survey, why="worked on")
        numbers = tuple(one.number for one in issued.list_papers(connection, job=job.uid))
    return replace(job, customer=who, papers=numbers, stage=stage.value)


def keep_photo(database: Database, job: OpenJob, taken: TakenIn) -> None:
    """Keep a photograph of a job; a job new to the file is put there first."""
    with database.writing() as connection:
        if not _is_filed(connection, job.uid):
            jobs.add(connection, jobs.Job(title_of(job), uid=job.uid))
        photos.keep(
            connection,
            job.uid,
            taken.picture,
            width_px=taken.width_px,
            height_px=taken.height_px,
        )


def photo(database: Database, uid: str, name: str) -> bytes | None:
    """Return a photograph of a job by the hash of its picture, None where there is none."""
    with database.reading() as connection:
        return photos.load(connection, uid, name) if _is_filed(connection, uid) else None


def photos_of(database: Database, job: OpenJob) -> dict[str, bytes]:
    """Return the pictures of all photographs of a survey that the file has, by their hashes."""
    return pictures(database, job.uid, sorted({one.picture for one in job.work.survey.photos}))


def pictures(database: Database, uid: str, names: Iterable[str]) -> dict[str, bytes]:
    """Return those photographs of a job that the file has, by the hashes of their pictures."""
    found = {name: photo(database, uid, name) for name in names}
    return {name: picture for name, picture in found.items() if picture is not None}


def drop_unused_photos(database: Database, job: OpenJob) -> tuple[str, ...]:
    """Throw away pictures no survey names; only once nothing of the job can be undone any more."""
    if database.is_read_only:
        return ()
    with database.writing() as connection:
        if not _is_filed(connection, job.uid):
            return ()
        names = {one.picture for one in job.work.survey.photos}
        return photos.drop_unused(connection, job.uid, names)


def open_job(database: Database, uid: str) -> OpenJob:
    """Return a job as it was left, with whatever was half typed.

    Raises:
        UserMistake: when there is no such job, or it has nothing to show.
    """
    with database.reading() as connection:
        filed = jobs.find(connection, uid)
        half_typed = desk.working(connection, uid)
        numbers = tuple(one.number for one in issued.list_papers(connection, job=uid))
        if half_typed is None:
            work = _chosen(Work(jobs.survey(connection, uid)), filed.choices)
        else:
            told = json.loads(half_typed)
            work = _chosen(Work(survey_file.read(json.dumps(told["survey"]))), told["choices"])
    return OpenJob(work, uid, filed.customer or "", filed.stage.value, numbers)


def take_up(database: Database, uid: str) -> OpenJob:
    """Return a job to be put on the desk, and remember that it is the one to come back to.

    Raises:
        UserMistake: when there is no such job, or it has nothing to show.
    """
    job = open_job(database, uid)
    if not database.is_read_only:
        desk.note_open(database, uid)
    return job


def last_open(database: Database) -> OpenJob | None:
    """Return the job that was on the desk last, if there still is one."""
    uid = desk.last_open(database)
    if not uid:
        return None
    try:
        return open_job(database, uid)
    except UserMistake:
        return None


def back_up(database: Database) -> datetime.datetime | None:
    """Back the file up, and say when; None where nothing changed since the last time."""
    made = backup.back_up(database, now=clock.now(), why="by hand")
    return None if made is None else made.made_at


def back_up_when_due(database: Database) -> None:
    """Back the file up unless its newest backup is young."""
    backup.back_up_when_due(database, now=clock.now(), why="while at work")


def title_of(job: OpenJob) -> str:
    """Return what a job is called in a list: what is on it, and where."""
    survey = job.work.survey
    where = next((line for line in (*survey.customer.site, *survey.customer.address) if line), "")
    return ", ".join(part for part in (survey.title, where) if part)[:200]


def choices_text(work: Work) -> str:
    """Return what is offered and which rules are the job's own, as JSON."""
    scopes = [
        {"key": one.key, "title": one.title, "works": sorted(kind.name for kind in one.works)}
        for one in work.scopes
    ]
    return json.dumps({"scopes": scopes, "rules": dict(work.rule_changes)})


def _chosen(work: Work, choices: str) -> Work:
    if not choices:
        return work
    told = json.loads(choices)
    scopes = tuple(_scope(one) for one in told["scopes"]) or USUAL
    return replace(work, scopes=scopes, rule_changes=tuple(told["rules"].items()))


def _scope(told: dict[str, object]) -> Scope:
    usual = ALL.get(str(told["key"]))
    works = frozenset(Kind[str(name)] for name in told["works"])  # type: ignore[attr-defined]
    if usual is not None and usual.works == works:
        return usual
    return own(str(told["title"]), works, key=str(told["key"]))


def _document(job: OpenJob) -> str:
    survey = json.loads(survey_file.write(job.work.survey))
    return json.dumps({"survey": survey, "choices": choices_text(job.work)})


def _is_filed(place: Place, uid: str) -> bool:
    try:
        jobs.find(place, uid)
    except UserMistake:
        return False
    return True


def _customer(place: Place, job: OpenJob) -> str:
    """Return the customer's name in the file, added or changed to what the job says.

    Somebody else's name typed over a known customer is another customer: those the file knows
    from other jobs keep their names there. Where this job alone is theirs, it puts the name right.
    """
    party = job.work.survey.customer
    if not party.name.strip():
        return ""
    told = customers.from_party(party)
    known = _known(place, job.customer)
    if known is None:
        return customers.add(place, told).uid
    is_renamed = known.name.strip().casefold() != told.name.strip().casefold()
    if is_renamed and desk.has_other_jobs(place, known.uid, than=job.uid):
        return customers.add(place, told).uid
    customers.change(place, replace(told, uid=known.uid, notes=known.notes))
    return known.uid


def _known(place: Place, uid: str) -> customers.Customer | None:
    """Return the customer a job was for, unless a backup put back knows none of that name."""
    try:
        return customers.find(place, uid) if uid else None
    except UserMistake:
        return None
