"""``data add``: surveys taken into the file, each as a job, or as a later look at a job."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from estimator.command.data import SHORT_UID, opened
from estimator.command.exits import Exit
from estimator.command.speech import say
from estimator.notices import UserMistake
from estimator.store import customers, jobs
from estimator.store.database import Database
from estimator.store.jobs import Job, Stage
from estimator.survey import survey_file
from estimator.survey.survey import Basis, Survey


def add_to(commands: Any) -> None:
    """Add the command."""
    adding = commands.add_parser("add", help="take surveys in, each as a job or as one job's next")
    adding.add_argument("surveys", metavar="SURVEY.json", type=Path, nargs="+")
    adding.add_argument("--job", default="", help="a job that is there already, as listed")
    adding.add_argument("--why", default="", help="why the survey is as it is now")
    adding.set_defaults(run=add)


def add(arguments: argparse.Namespace) -> Exit:
    """Read every survey first, then take them in; a bad one keeps all of them out."""
    surveys = [survey_file.load(path) for path in arguments.surveys]
    if arguments.job and len(surveys) > 1:
        raise UserMistake("a job takes one survey at a time", do="name one survey")
    with opened(arguments) as database:
        for survey in surveys:
            if arguments.job:
                job = jobs.full_uid(database, arguments.job)
                why = arguments.why or "a later survey"
                revision = jobs.accept_survey(database, job, survey, why=why)
            else:
                job, revision = taken_in(database, survey, why=arguments.why).uid, 1
            say(f"{job[:SHORT_UID]}  revision {revision}  {survey.title}")
    return Exit.DONE


def taken_in(database: Database, survey: Survey, *, why: str = "") -> Job:
    """Put a survey into the file as a new job, its customer with it, all of it or nothing.

    Raises:
        WorldFault: when the disk would not take it.
    """
    party = survey.customer
    stage = Stage.ENQUIRY if survey.basis is Basis.TOLD else Stage.SURVEYED
    with database.writing() as connection:
        who = customers.add(connection, customers.from_party(party)) if party.name else None
        job = jobs.add(
            connection,
            Job(
                title=survey.title,
                customer=who.uid if who else None,
                site=party.site or party.address,
                stage=stage,
            ),
        )
        jobs.accept_survey(connection, job.uid, survey, why=why or "the first survey")
    return job
