"""The command that finds customers, jobs, papers and items by whatever is typed."""

from __future__ import annotations

import argparse
import json
from dataclasses import asdict
from typing import Any

from estimator.command.data import opened
from estimator.command.exits import Exit
from estimator.command.speech import complain, say
from estimator.office.place import file_in
from estimator.store import price_books
from estimator.store.search import Hit, Kind, find

SHORT_NAME = 8
"""Letters of a job's name that are shown, as where jobs are listed."""


def add_to(commands: Any) -> None:
    """Add the command that finds things."""
    finding = commands.add_parser(
        "find",
        help="find customers, jobs, papers and items by any word, code or number",
        description="Find customers, jobs, papers and items by the beginnings of words, by parts"
        " of codes, or by telephone number, with or without spaces and accents.",
    )
    finding.add_argument("words", metavar="WORDS", nargs="+", help="what to look for")
    finding.add_argument(
        "--kind",
        metavar="KIND",
        nargs="+",
        action="extend",
        choices=[kind.value for kind in Kind],
        help=f"only these: {', '.join(Kind)}",
    )
    finding.add_argument("--most", type=int, default=50, help="how many (50)")
    finding.add_argument("--json", action="store_true", help="print one JSON object")
    finding.set_defaults(run=find_things)


def find_things(arguments: argparse.Namespace) -> Exit:
    """Print what fits the words, one line each."""
    typed = " ".join(arguments.words)
    kinds = [Kind(kind) for kind in arguments.kind] if arguments.kind else None
    throwaway = getattr(arguments, "throwaway", False)
    is_new = throwaway and not file_in(arguments.data).exists()
    # Looking alone takes no lock, so that one may look while a window has the file.
    with opened(arguments, read_only=not is_new) as database:
        if is_new:
            price_books.installed(database)
        hits = find(database, typed, limit=max(arguments.most, 0), kinds=kinds)
    if arguments.json:
        told = {"words": typed, "found": [asdict(hit) for hit in hits]}
        say(json.dumps(told, indent=1, ensure_ascii=False))
        return Exit.DONE
    _say_hits(typed, hits)
    return Exit.DONE


def _say_hits(typed: str, hits: tuple[Hit, ...]) -> None:
    """Print the hits, and say once what was looked for instead."""
    said = ""
    for hit in hits:
        if hit.searched_for != said:
            said = hit.searched_for
            complain(f"Little fits “{typed}”; searched for “{said}”:")
        say(_line(hit))
    if not hits:
        complain(f"Nothing fits “{typed}”; try the beginning of one word only.")


def _line(hit: Hit) -> str:
    """Return a hit on one line: what it is, what to call it by, its title and where it fits."""
    called = hit.name[:SHORT_NAME] if hit.kind is Kind.JOB else hit.code
    parts = (hit.kind.value.ljust(8), called, hit.title, hit.snippet)
    shown = dict.fromkeys(" ".join(part.split()) or "-" for part in parts[1:])
    return "  ".join((parts[0], *shown))
