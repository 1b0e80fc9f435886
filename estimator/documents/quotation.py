"""The quotation or estimate as a PDF."""

from __future__ import annotations

from estimator.documents import pdf
from estimator.documents.paper import content_of
from estimator.quoting.quotation import Quotation


def render(quotation: Quotation) -> bytes:
    """Return the paper as an A4 PDF; the same quotation always gives the same bytes.

    Raises:
        ValueError: when there is no option, so no price to put on paper.
    """
    return pdf.lay_out(content_of(quotation))
