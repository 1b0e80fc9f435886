"""The paper of a survey, and its elevations as drawings for an engineer's program."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from pathlib import Path

from estimator.notices import UserMistake
from estimator.quoting.quotation import Quotation
from estimator.survey.survey import Survey
from estimator.whole_file import write_whole


def photographs_in(folder: Path, survey: Survey) -> dict[str, bytes]:
    """Return the photographs a survey names that lie in a folder, each called by its SHA-256.

    Raises:
        UserMistake: for a folder that is not there, or a file that is not the picture it is
            called by.
    """
    if not folder.is_dir():
        raise UserMistake(f"there is no folder {folder}", do="name the folder of the photographs")
    found = {}
    for name in dict.fromkeys(photo.picture for photo in survey.photos):
        path = folder / f"{name}.jpg"
        if not re.fullmatch("[0-9a-f]{64}", name) or not path.is_file():
            continue
        try:
            found[name] = path.read_bytes()
        except OSError as fault:
            raise UserMistake(
                f"{path} cannot be read", do="look whether you may open it"
            ) from fault
        if hashlib.sha256(found[name]).hexdigest() != name:
            raise UserMistake(
                f"{path} is not the photograph that the survey names",
                why="photographs are called by what is in them, and this one was changed",
                do="put the kept picture back, or take the file out of the folder",
            )
    return found


def write_survey_paper(quotation: Quotation, path: Path, pictures: Mapping[str, bytes]) -> Path:
    """Write the paper of a survey and return where it lies.

    It shows the work of the first option, and the wall alone where no price may be given.

    Raises:
        WorldFault: when the disk will not take it.
    """
    from estimator.documents import survey_paper  # noqa: PLC0415 - slower than pricing

    measure = quotation.options[0].measure if quotation.options else None
    paper = survey_paper.render(
        quotation.survey, measure, quotation.trader, pictures, quotation.date
    )
    write_whole(path, paper)
    return path


def write_elevations(quotation: Quotation, folder: Path) -> tuple[Path, ...]:
    """Write each elevation as SVG at its true size, and return where they lie.

    Raises:
        WorldFault: when the folder will not take them.
    """
    from estimator.drawing.picture import picture_of  # noqa: PLC0415 - not needed for pricing
    from estimator.exchange import elevation_svg  # noqa: PLC0415 - as above

    survey = quotation.survey
    measure = quotation.options[0].measure if quotation.options else None
    written = []
    for number, elevation in enumerate(survey.elevations):
        picture = picture_of(survey, number, measure)
        if picture is not None:
            path = folder / f"{elevation_stem(number, elevation.id)}.svg"
            drawing = elevation_svg.write(picture, title=f"{survey.title}: {elevation.name}")
            write_whole(path, drawing.encode("utf-8"))
            written.append(path)
    return tuple(written)


def elevation_stem(number: int, name: str) -> str:
    """Return a file name for an elevation that every disk takes, no two of a survey alike.

    >>> elevation_stem(0, "front"), elevation_stem(1, "Bay / left")
    ('elevation-1-front', 'elevation-2-Bay-left')
    """
    plain = re.sub(r"[^\w.-]+", "-", name).strip(".-")[:60]
    return f"elevation-{number + 1}-{plain}".rstrip("-")
