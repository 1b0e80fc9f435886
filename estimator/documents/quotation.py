"""The quotation or estimate as a PDF."""

from __future__ import annotations

from estimator.documents import pdf
from estimator.documents.paper import content_of
from estimator.notices import UserMistake
from estimator.quoting.quotation import Quotation

KNOWN = ("GB", "GBP")
"""The country whose consumer law the papers keep to, and its money."""


def render(quotation: Quotation) -> bytes:
    """Return the paper as an A4 PDF; the same quotation always gives the same bytes.

    Raises:
        ValueError: when there is no option, so no price to put on paper.
        UserMistake: for prices under another country's law or in other money.
    """
    if (quotation.country, quotation.currency) != KNOWN:
        raise UserMistake(
            "no paper is made from this price book",
            why=f"it is for {quotation.country} in {quotation.currency}, and the papers keep to "
            "the law of the United Kingdom, in pounds",
            do="leave the paper out, or use a price book for GB in GBP",
        )
    return pdf.lay_out(content_of(quotation))
