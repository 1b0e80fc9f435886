"""The commands about people: hand over what is held, erase it, see what is due for a look."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

from estimator import logs
from estimator.command.data import SHORT_UID, opened
from estimator.command.exits import Exit
from estimator.command.speech import complain, say
from estimator.logs import Said
from estimator.money import Money
from estimator.store import backup, copies, people, person_export, retention
from estimator.store.copies import Copy
from estimator.store.people import Erased, Paper, Person
from estimator.store.retention import Due
from estimator.store.thinning import MONTHS
from estimator.whole_file import write_whole


def add_to(commands: Any) -> None:
    """Add the commands about people."""
    export = commands.add_parser(
        "export", help="write out everything held about a customer, to hand over"
    )
    export.add_argument("customer", metavar="CUSTOMER", help="part of the name, or as listed")
    export.add_argument("--to", metavar="FOLDER", type=Path, required=True, help="where to")
    export.set_defaults(run=export_customer)

    erase = commands.add_parser(
        "erase",
        help="take a customer out of the file, but for what tax needs",
        description="Say what would go, what would stay and until when; with --yes, do it.",
    )
    erase.add_argument("customer", metavar="CUSTOMER", help="part of the name, or as listed")
    erase.add_argument("--yes", action="store_true", help="do it, after a backup")
    erase.set_defaults(run=erase_customer)

    due = commands.add_parser("keep-list", help="list customers whose details are due for a look")
    due.set_defaults(run=list_due)


def export_customer(arguments: argparse.Namespace) -> Exit:
    """Write everything held about a customer into a folder."""
    with opened(arguments) as database:
        person = people.person(database, arguments.customer)
        export = person_export.export_customer(database, person.uid)
    # Named after the file's own name for them: a folder of exports then tells nobody who is in it.
    stem = f"customer-{person.uid[:SHORT_UID]}"
    files = {
        f"{stem}.txt": export.as_text().encode("utf-8"),
        f"{stem}.json": export.as_json().encode("utf-8"),
        **{paper.name: paper.pdf for paper in export.papers},
        **{photo.name: photo.jpeg for photo in export.photos},
    }
    for name, content in files.items():
        write_whole(arguments.to / name, content)
        say(f"Written: {arguments.to / name}")
    logs.note(Said.EXPORTED, customer=person.uid, kept=len(export.papers))
    return Exit.DONE


def erase_customer(arguments: argparse.Namespace) -> Exit:
    """Say what an erasure takes and leaves, and do it when told to."""
    today = _today()
    with opened(arguments) as database:
        person = people.person(database, arguments.customer)
        if not arguments.yes:
            _say_all(_plan(person, people.to_erase(database, person.uid, today=today)))
            _say_all(_held(copies.still_holding(database, person.uid)))
            say("")
            say(
                "Nothing has been erased yet. To do it, after a backup:"
                f" data erase {person.uid[:SHORT_UID]} --yes"
            )
            logs.note(Said.ERASURE_SHOWN, customer=person.uid)
            return Exit.DONE
        complain("Making a backup first.")
        made = backup.back_up(database, now=datetime.now(UTC), forced=True, why="before an erasure")
        for notice in made.notices if made else ():
            complain(notice.text)
        complain("Erasing, and writing the file and its indexes anew.")
        done = people.erase_customer(database, person.uid, today=today)
        held = copies.still_holding(database, person.uid)
    _say_all(_plan(person, done))
    _say_all(_held(held))
    say("")
    say("Erased.")
    if not done.is_written_anew:
        complain("There was no room to write the file anew; what was erased is blank in it.")
    logs.note(
        Said.ERASED,
        customer=person.uid,
        jobs=done.jobs,
        kept=len(done.kept),
        emptied=len(done.emptied),
        copies=len(held),
    )
    return Exit.DONE


def list_due(arguments: argparse.Namespace) -> Exit:
    """List whose details have no more reason to be here; nothing is removed."""
    with opened(arguments) as database:
        due = retention.due(database, today=_today())
    months = retention.keeping().unaccepted_months
    if not due:
        say(f"Nobody is due: no enquiry or quotation has lain untouched for {months} months.")
    for one in due:
        say(_due_line(one))
    if due:
        say("")
        say("Nothing has been removed. See what would go with: data erase, and the first letters.")
    logs.note(Said.DUE_LISTED, due=len(due))
    return Exit.DONE


def _plan(person: Person, plan: Erased) -> Iterator[str]:
    """Yield what goes, what stays and until when."""
    yield f"{person.name} ({person.uid[:SHORT_UID]})"
    yield ""
    yield "Goes:"
    yield "  name, address, telephone, e-mail, VAT number and notes"
    if plan.jobs:
        yield f"  title, site and notes of {_counted(plan.jobs, 'job')}"
    if plan.surveys:
        yield (
            f"  names and remarks in {_counted(plan.surveys, 'survey')}; what was measured stays"
        )
    if plan.happenings:
        what = _counted(plan.happenings, "thing")
        yield f"  names and remarks in {what} that happened since; figures and days stay"
    if plan.drafts:
        yield f"  {_counted(plan.drafts, 'draft')}"
    if plan.photos:
        yield f"  {_counted(plan.photos, 'photograph')}"
    yield from _papers(
        "Papers emptied; only number, date and total stay, as tax needs them no more:",
        plan.emptied,
    )
    yield from _papers("Papers that stay as they went out, because tax needs them:", plan.kept)
    if plan.open_jobs:
        shown = ", ".join(uid[:SHORT_UID] for uid in plan.open_jobs)
        yield ""
        yield f"Not finished yet, and left without a name or a site: {shown}"
    if plan.mentions:
        yield ""
        yield "Named elsewhere, and left for you to look at:"
        yield from (f"  {place}" for place in plan.mentions)


def _papers(heading: str, papers: Sequence[Paper]) -> Iterator[str]:
    if not papers:
        return
    yield ""
    yield heading
    for paper in papers:
        total = "" if paper.total_pence is None else f", £{Money(paper.total_pence).pounds:,}"
        yield f"  {paper.number} of {paper.issued.isoformat()}{total}, until {paper.until}"


def _held(held: Sequence[Copy]) -> Iterator[str]:
    """Yield which copies still hold the person, and when they go."""
    if not held:
        return
    yield ""
    yield "Copies made before still hold them, and are left as they are:"
    for copy in held:
        yield f"  {copy.path}" + ("" if copy.goes_by_itself else " (never goes by itself)")
    if any(copy.goes_by_itself for copy in held):
        yield (
            f"Backups go as new ones are made, at the latest when there are some of {MONTHS} later"
            " months. Restoring one brings the person back: erase them again then."
        )


def _due_line(due: Due) -> str:
    """Return one line of the list."""
    parts = [
        f"{due.uid[:SHORT_UID]}  {due.last_touched.isoformat()}  {due.name}:",
        f"{_counted(due.jobs, 'job')}, {_counted(due.surveys, 'survey')}",
    ]
    if due.papers_emptied:
        parts.append(f", {_counted(due.papers_emptied, 'paper')} to be emptied")
    if due.papers_kept:
        parts.append(f", {_counted(due.papers_kept, 'paper')} kept until {due.kept_until}")
    return " ".join(parts).replace(" ,", ",")


def _counted(count: int, what: str) -> str:
    """Return a number of things in words.

    >>> _counted(1, "job"), _counted(3, "job")
    ('1 job', '3 jobs')
    """
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _say_all(lines: Iterator[str]) -> None:
    for line in lines:
        say(line)


def _today() -> date:
    """Return the date where the user is."""
    return datetime.now().astimezone().date()
