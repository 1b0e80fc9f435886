"""What the desk holds: the job that is open, and what is seen of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from estimator.quoting.edits import Work
from estimator.survey import enquiry
from estimator.survey.survey import Basis, Survey
from estimator.survey.triage import Assessment

if TYPE_CHECKING:
    from estimator.quoting.offering import Practice
    from estimator.quoting.outlook import Outlook
    from estimator.quoting.quotation import Option
    from estimator.takeoff.lines import Measure


@dataclass(frozen=True, slots=True)
class OpenJob:
    """The job on the desk."""

    work: Work
    uid: str
    """What the file calls it, from its first edit on."""
    customer: str = ""
    """The known customer it is for; empty for a new one."""
    stage: str = "enquiry"
    """A value of ``store.jobs.Stage``."""
    papers: tuple[str, ...] = ()
    """Numbers of the papers issued for it, the first first."""


def knows_wall(survey: Survey) -> bool:
    """Whether anything of the wall was told, measured or drawn; all of it may still be a guess."""
    if not survey.elevations:
        return False
    if survey.asked or survey.drawn or survey.basis is Basis.MEASURED:
        return True
    guess = enquiry.surveyed(replace(survey, elevations=()))
    return survey.elevations != guess.elevations


def stage_now(job: OpenJob) -> str:
    """Return how far a job has come: an enquiry is surveyed once its wall is drawn or measured.

    What came later – an offer, an order – stays, whoever draws on.
    """
    survey = job.work.survey
    has_survey = bool(survey.elevations) and (survey.drawn or survey.basis is Basis.MEASURED)
    return "surveyed" if job.stage == "enquiry" and has_survey else job.stage


@dataclass(frozen=True, slots=True)
class Sight:
    """All that is shown of a job at one moment: triage, prices, and how sure they are."""

    job: OpenJob
    priced_by: Practice | None
    """Rates, rules and name it was priced by; None before the first price."""
    assessment: Assessment
    options: tuple[Option, ...] = ()
    """Each choice at likely values; none where the route allows no price."""
    outlook: Outlook | None = None
    """Low, likely and high, and what to ask next; None while it is not worked out."""
    is_settling: bool = False
    """Whether a newer outlook is on its way; the one shown is of the answers before."""
    problem: str = ""
    """Why there is no price, in a plain sentence."""

    @property
    def work(self) -> Work:
        """What the price follows from."""
        return self.job.work

    def measure(self, option: int) -> Measure | None:
        """Return the measured work of one of the options, the last for a number beyond them."""
        if not self.options:
            return None
        return self.options[min(option, len(self.options) - 1)].measure

    @property
    def practice(self) -> Practice:
        """Rates, rules and name it was priced by.

        Raises:
            RuntimeError: before the first price.
        """
        if self.priced_by is None:
            raise RuntimeError("nothing has been priced yet")
        return self.priced_by
