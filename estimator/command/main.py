"""The program without a window: read what was asked, do it, say how it went.

In order: the words typed become a ``Request``; rates, rules and the firm's name are read; the
survey is read, judged, measured and priced; papers are written if asked; then the result is
printed. Exit codes: 0 priced; 1 a fault in the program; 2 something given cannot be used; 3 no
price is given, because the wall needs somebody else first.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import traceback
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NoReturn

import estimator
from estimator.command import as_json, drawn, price, summary
from estimator.command.exits import Exit
from estimator.command.price import Request
from estimator.command.speech import complain, knows_every_letter, say
from estimator.notices import UserMistake
from estimator.quoting.offering import Practice
from estimator.quoting.quotation import Quotation
from estimator.takeoff import scope

DEBUG = "PERPEND_DEBUG"
EXAMPLE = """\
example:
  python -m estimator price demo/window_lime.json --firm demo/firm.json --pdf out
"""


class _Parser(argparse.ArgumentParser):
    """Says what was mistyped in one plain sentence, like every other mistake."""

    def error(self, message: str) -> NoReturn:
        said = message.replace("invalid choice", "unknown word")
        raise UserMistake(
            f"the command was not understood: {said}",
            do="see python -m estimator price --help",
        )


def parser(*, with_data: bool = True) -> argparse.ArgumentParser:
    """Return what may be typed; the data commands load slowly, so only where one is asked for."""
    top = _Parser(
        prog="python -m estimator",
        description="Measure, price and quote the repair of cracked brickwork.",
        epilog=EXAMPLE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"Perpend {estimator.__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)
    if with_data:
        from estimator.command import data  # noqa: PLC0415

        data.add_to(commands)
    else:
        commands.add_parser("data", help="look after customers, jobs, prices and papers")
    _add_pricing(commands)
    return top


def _add_pricing(commands: Any) -> None:
    """Add what may be asked of a price."""
    pricing = commands.add_parser(
        "price",
        help="price the survey of a wall",
        description="Price the survey of a wall, and write the paper for the customer.",
        epilog=EXAMPLE + "\nexit codes: 0 priced, 2 something given cannot be used, 3 no price "
        "is given\nbecause the wall needs somebody else first",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    pricing.add_argument(
        "survey", metavar="SURVEY.json", type=Path, nargs="?", help="what was seen or told"
    )
    pricing.add_argument("--job", default="", help="a job in the file, in place of a survey")
    pricing.add_argument(
        "--data", metavar="FOLDER", type=Path, help="the folder the file is in, with --job"
    )
    pricing.add_argument("--json", action="store_true", help="print one JSON object")
    pricing.add_argument("--pdf", metavar="FOLDER", type=Path, help="write the paper into a folder")
    _add_drawn(pricing)
    pricing.add_argument("--book", metavar="FILE", type=Path, help="another price book")
    pricing.add_argument("--firm", metavar="FILE", type=Path, help="whose name is on the paper")
    pricing.add_argument(
        "--scope",
        metavar="SCOPE",
        nargs="+",
        action="extend",
        help=f"what to offer, side by side: {', '.join(scope.ALL)} (usually local panel)",
    )
    pricing.add_argument("--number", default="", help="number on the paper (the survey's own)")
    pricing.add_argument(
        "--date", metavar="YYYY-MM-DD", default="", help="date on the paper (the survey's own)"
    )


def _add_drawn(pricing: argparse.ArgumentParser) -> None:
    """Add what may be drawn of a survey."""
    pricing.add_argument(
        "--survey-paper", metavar="FILE", type=Path, help="write the survey as a PDF, wall by wall"
    )
    pricing.add_argument(
        "--elevation-svg",
        metavar="FOLDER",
        type=Path,
        help="write each wall as a drawing in millimetres into a folder",
    )
    pricing.add_argument(
        "--ubl",
        metavar="FOLDER",
        type=Path,
        help="write each choice of the quotation into a folder as UBL 2.3, for other programs",
    )
    pricing.add_argument(
        "--photos",
        metavar="FOLDER",
        type=Path,
        help="photographs for the survey's paper, each called by its SHA-256 with .jpg; those of "
        "a job in the file are found there",
    )


def asked(options: argparse.Namespace) -> Request:
    """Turn the words typed into a request.

    Raises:
        UserMistake: for a scope there is not.
    """
    keys: list[str] = options.scope or [one.key for one in scope.USUAL]
    return Request(
        survey=options.survey,
        book=options.book,
        firm=options.firm,
        papers=options.pdf,
        survey_paper=options.survey_paper,
        elevations=options.elevation_svg,
        ubl=options.ubl,
        photos=options.photos,
        scopes=tuple(price.scope_named(key) for key in keys),
        number=options.number,
        date=options.date,
        job=options.job,
    )


def answer(options: argparse.Namespace) -> Exit:
    """Price what was asked about and print the result."""
    request = asked(options)
    quotation, practice, pictures = _priced(request, options)
    papers = _written(request, quotation, pictures)
    if options.json:
        result = as_json.of(quotation, practice.rules)
        # Spelling letters out would change what another program reads.
        say(json.dumps(result, indent=1, ensure_ascii=not knows_every_letter()))
    else:
        say(summary.of(quotation))
        for path in papers:
            say(f"Written: {path}")
    return Exit.DONE if quotation.options else Exit.NO_PRICE


def _written(
    request: Request, quotation: Quotation, pictures: Mapping[str, bytes]
) -> tuple[Path, ...]:
    """Write every paper and drawing asked for, and return where they lie."""
    papers: list[Path] = []
    if request.papers:
        papers += price.write_papers(quotation, request.papers)
    if request.survey_paper:
        papers.append(drawn.write_survey_paper(quotation, request.survey_paper, pictures))
    if request.elevations:
        papers += drawn.write_elevations(quotation, request.elevations)
    if request.ubl:
        papers += price.write_ubl(quotation, request.ubl)
    return tuple(papers)


def _priced(
    request: Request, options: argparse.Namespace
) -> tuple[Quotation, Practice, Mapping[str, bytes]]:
    """Price the survey file named, or the job in the file, and find its photographs."""
    if not request.job:
        practice = price.practice(request)
        quotation = price.quoted(request, practice)
        return quotation, practice, _photographs(request, quotation)
    if request.survey is not None:
        raise UserMistake("a survey and a job are both named", do="name one of the two")
    from estimator.command import data, filed  # noqa: PLC0415

    with data.folder_of(options) as folder:
        quotation, practice = filed.quoted(request, folder)
        pictures = filed.photographs(request, folder, quotation.survey)
        return quotation, practice, {**pictures, **_photographs(request, quotation)}


def _photographs(request: Request, quotation: Quotation) -> dict[str, bytes]:
    return drawn.photographs_in(request.photos, quotation.survey) if request.photos else {}


def run(arguments: Sequence[str] | None = None) -> int:
    """Run the program once and return its exit code."""
    try:
        words = sys.argv[1:] if arguments is None else arguments
        options = parser(with_data=list(words[:1]) == ["data"]).parse_args(words)
        if options.command == "data":
            from estimator.command import data  # noqa: PLC0415

            return data.run(options)
        return answer(options)
    except UserMistake as mistake:
        complain(_sentence(str(mistake)))
        return Exit.MISTAKE
    except BrokenPipeError:
        # Whoever read our output has stopped; keep the interpreter from complaining at the end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    except KeyboardInterrupt:
        complain("Stopped.")
        return Exit.FAULT
    except Exception as fault:  # noqa: BLE001 - the outer edge, where a person reads what is left
        if os.environ.get(DEBUG):
            traceback.print_exc()
        complain(
            f"Something in the program went wrong ({type(fault).__name__}); "
            f"run it again with {DEBUG}=1 to see where, and tell whoever looks after it."
        )
        return Exit.FAULT


def _sentence(words: str) -> str:
    """Return the words as one line, with a capital unless it starts with a field's own name."""
    line = " ".join(words.split())
    return line[:1].upper() + line[1:] if line.split(" ")[0].isalpha() else line
