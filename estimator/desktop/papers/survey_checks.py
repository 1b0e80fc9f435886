"""What is worth a look before the paper of a survey is printed; none of it keeps the paper back."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.desktop.language import _, counted
from estimator.desktop.papers.checks import ADDRESS, FIRM, NAME, WALL, Problem
from estimator.desktop.state import Sight
from estimator.survey.ranges import Range
from estimator.survey.survey import Answer, Basis, Crack, Elevation, Survey

NOT_SEEN, BASIS, PHOTOS = "not_seen", "basis", "photos"
"""Where a line leads to, beside the fields of a quotation and the marks on the wall."""
Cracked = tuple[Elevation, Crack]


def to_look_at(sight: Sight, *, lost: frozenset[str] = frozenset()) -> tuple[Problem, ...]:
    """Return what is missing or unsaid, in the order of the paper.

    Args:
        sight: The job as it stands.
        lost: Hashes of photographs the file does not have.
    """
    survey = sight.work.survey
    is_told = survey.basis is Basis.TOLD
    return (
        *_names(survey, firm=sight.practice.trader.name),
        *(_told(survey) if is_told else _measured(survey)),
        *_photographs(survey, lost),
        *_out_of_sight(survey),
    )


def kind(survey: Survey) -> str:
    """Return what the paper is: a record, and of what."""
    if survey.basis is Basis.TOLD:
        return _("What was told. Nothing was measured, and the paper says so.")
    return _("What was seen and measured. It offers no price.")


def _names(survey: Survey, *, firm: str) -> Iterator[Problem]:
    party = survey.customer
    if not party.name.strip():
        yield Problem(NAME, _("The customer's name is not on it."))
    if not any(line.strip() for line in (*party.address, *party.site)):
        yield Problem(ADDRESS, _("It does not say where the wall is."))
    if not firm.strip():
        yield Problem(FIRM, _("Your firm's name is not on it."))


def _told(survey: Survey) -> Iterator[Problem]:
    said = _("Sizes are told, not measured.")
    if survey.drawn:
        said = _("The wall was drawn by hand, and its sizes still count as told, not measured.")
    yield Problem(BASIS, said)


def _measured(survey: Survey) -> Iterator[Problem]:
    """Yield what somebody at the wall could have measured and did not."""
    cracks: list[Cracked] = [(side, one) for side in survey.elevations for one in side.cracks]
    if not cracks:
        yield Problem(WALL, _("No crack is drawn."))
    bare = [one for one in cracks if isinstance(one[1].width_mm, Range)]
    if bare:
        said = counted(
            "1 crack has no width measured.", "{n} cracks have no width measured.", len(bare)
        )
        yield Problem(_mark(bare[0]), said)
    once = [one for one in cracks if one not in bare and not one[1].widths]
    if once:
        said = counted(
            "1 crack has its width at one place only.",
            "{n} cracks have their width at one place only.",
            len(once),
        )
        yield Problem(_mark(once[0]), said)
    unseen = [one for one in cracks if one[1].both_faces is Answer.NOT_SURE]
    if unseen:
        said = counted(
            "1 crack was not looked for indoors.",
            "{n} cracks were not looked for indoors.",
            len(unseen),
        )
        yield Problem(_mark(unseen[0]), said)
    beds = [one for one in survey.elevations if one.brickwork.bed_usual_mm is None]
    if beds:
        said = counted(
            "On 1 side the bed joints were not measured.",
            "On {n} sides the bed joints were not measured.",
            len(beds),
        )
        yield Problem(f"{beds[0].id}/outline", said)


def _mark(cracked: Cracked) -> str:
    side, crack = cracked
    return f"{side.id}/crack/{crack.id}"


def _photographs(survey: Survey, lost: frozenset[str]) -> Iterator[Problem]:
    if not survey.photos:
        yield Problem(PHOTOS, _("No photograph."))
    gone = sum(one.picture in lost for one in survey.photos)
    if gone:
        said = counted(
            "1 photograph is not in the file, or not whole, so it is not printed.",
            "{n} photographs are not in the file, or not whole, so they are not printed.",
            gone,
        )
        yield Problem(PHOTOS, said)
    wordless = sum(not one.caption.strip() for one in survey.photos)
    if wordless:
        said = counted(
            "1 photograph does not say what it shows.",
            "{n} photographs do not say what they show.",
            wordless,
        )
        yield Problem(PHOTOS, said)


def _out_of_sight(survey: Survey) -> Iterator[Problem]:
    if not survey.not_seen.strip():
        yield Problem(NOT_SEEN, _("Nothing is written down as out of sight."))
