"""What is done with what is in sight: the next thing, and the paper printed or sent."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from estimator.desktop.agreed.keeping import Papers
    from estimator.desktop.columns import Columns
    from estimator.desktop.papers.check import CheckColumn
    from estimator.desktop.papers.survey_column import SurveyColumn


class InSight:
    """Finds the button or the paper that is meant by what the columns show."""

    def __init__(self, columns: Columns) -> None:
        """Look at these columns."""
        self._columns = columns

    def next_thing(self) -> None:
        """Do what the one filled button does: write the paper, issue it, send it."""
        columns = self._columns
        button = columns.money.foot.button
        if columns.is_at_job:
            of_job = (columns.agreeing, columns.working, columns.accounting)
            button = next((one for part in of_job if (one := part.next_button)), button)
        elif columns.has_survey_paper:
            button = columns.survey.page.email
        elif columns.has_paper:
            check = columns.check
            is_checked = check.pages.currentWidget() is check.page
            button = check.page.issue if is_checked else check.gone_page.email
        if button.isEnabled():
            button.click()

    def print_paper(self) -> None:
        """Print the paper in the middle, or else the last that was issued."""
        self._holder.print_paper()

    def email_paper(self) -> None:
        """Put the paper in the middle into a message, or else the last that was issued."""
        self._holder.email()

    @property
    def _holder(self) -> Papers | SurveyColumn | CheckColumn:
        """Who prints and sends the paper that is meant."""
        columns = self._columns
        if columns.is_at_job and columns.has_paper:
            return columns.agreeing.papers
        return columns.survey if columns.has_survey_paper else columns.check
