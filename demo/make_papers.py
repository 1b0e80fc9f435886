"""Price the invented jobs in this folder, and write their papers and the papers of their surveys.

    python demo/make_papers.py [FOLDER]

The folder is ``out`` beside this one unless another is named. Every name in here is invented.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from photograph import photographed

from estimator.command import drawn, price
from estimator.command.price import Request
from estimator.quoting.quotation import Quotation

HERE = Path(__file__).resolve().parent
FIRM = HERE / "firm.json"


def surveys() -> Iterator[Path]:
    """Yield the survey of each invented job."""
    yield from (path for path in sorted(HERE.glob("*.json")) if path != FIRM)


def headline(quotation: Quotation) -> str:
    """Say in one line what came of a job."""
    if not quotation.options:
        return f"no price: {quotation.assessment.route.value}"
    totals = []
    for option in quotation.options:
        if option.spread is None:
            totals.append(f"£{option.offer.total.pounds:,}")
        else:
            low, high = option.spread.low, option.spread.high
            totals.append(f"£{low.pounds:,.0f} to £{high.pounds:,.0f}")
    return f"{quotation.paper.value}: {', or '.join(totals)}"


def recorded(quotation: Quotation, folder: Path, name: str) -> Iterator[Path]:
    """Write the paper of a survey; of a drawn wall with a photograph, and its sides as drawings."""
    target, pictures = folder / f"survey-{name}.pdf", {}
    if quotation.survey.drawn:
        survey, taken = photographed(quotation.survey)
        quotation, pictures = replace(quotation, survey=survey), {taken.sha256: taken.picture}
        yield from drawn.write_elevations(quotation, folder)
    yield drawn.write_survey_paper(quotation, target, pictures)


def make_papers(folder: Path) -> None:
    """Price every invented job and write its paper."""
    for path in surveys():
        request = Request(path, firm=FIRM)
        quotation = price.quoted(request, price.practice(request))
        print(f"{quotation.survey.title}\n  {headline(quotation)}")
        papers = price.write_papers(quotation, folder)
        for paper in (*papers, *recorded(quotation, folder, path.stem)):
            print(f"  {paper}")


def main() -> None:
    """Read the folder from the command line and fill it."""
    reader = argparse.ArgumentParser(description="Price the invented jobs, write their papers.")
    reader.add_argument("folder", nargs="?", type=Path, default=HERE.parent / "out")
    folder: Path = reader.parse_args().folder
    make_papers(folder)
    print(f"\nThe papers are in {folder.resolve()}")


if __name__ == "__main__":
    main()
