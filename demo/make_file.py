"""Put the invented jobs into a file of their own, and issue the papers that may be issued.

    python demo/make_file.py [FOLDER]

The folder is ``out/file`` beside this one unless another is named; a file that is there already is
left alone. Every name in here is invented.
"""

from __future__ import annotations

import argparse
from pathlib import Path

from make_papers import FIRM, HERE, surveys
from photograph import photographed

from estimator.command import main
from estimator.office.place import file_in
from estimator.store import jobs, photos, settings
from estimator.store.database import Database, open_file


def make_file(folder: Path) -> Path:
    """Take every invented survey in as a job, and issue the quotations and estimates."""
    path = file_in(folder)
    if path.exists():
        return path
    for survey in surveys():
        main.run(["data", "add", str(survey), "--data", str(folder)])
    with open_file(path) as database:
        settings.keep(database, "firm", FIRM.read_text(encoding="utf-8"))
        photograph_drawn(database)
        every = [row.uid for row in jobs.list_jobs(database)]
    for job in every:
        # One of them must be referred and gets no paper; the command says so.
        main.run(["data", "issue", job, "--firm", str(FIRM), "--data", str(folder)])
    return path


def photograph_drawn(database: Database) -> None:
    """Take a photograph of each wall that was drawn, as the desk does when one is dropped on it."""
    for row in jobs.list_jobs(database):
        survey = jobs.survey(database, row.uid)
        if not survey.drawn:
            continue
        survey, taken = photographed(survey)
        with database.writing() as connection:
            photos.keep(
                connection,
                row.uid,
                taken.picture,
                width_px=taken.width_px,
                height_px=taken.height_px,
            )
            jobs.accept_survey(connection, row.uid, survey, why="a photograph taken in")


def run() -> None:
    """Read the folder from the command line and fill it."""
    reader = argparse.ArgumentParser(description="Put the invented jobs into a file.")
    reader.add_argument("folder", nargs="?", type=Path, default=HERE.parent / "out" / "file")
    folder: Path = reader.parse_args().folder
    print(f"The jobs are in {make_file(folder).resolve()}")


if __name__ == "__main__":
    run()
