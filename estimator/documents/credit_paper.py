"""A credit note: what it takes back of which invoice, why, and the tax with it.

Source for what stands on it: Value Added Tax Regulations 1995, regulation 15C, from memory; for the
reverse charge HMRC's VATREVCON39200, as read.
"""

from __future__ import annotations

from collections.abc import Iterator

from estimator.contract.account import CreditNote
from estimator.contract.so_far import SoFar
from estimator.documents import agreed_pages, agreed_words
from estimator.documents.agreed_content import AgreedPaper, Big, Bigs, Part, Prose
from estimator.documents.agreed_words import Named, day, figure, money
from estimator.documents.content import Sum, Text
from estimator.documents.invoice_paper import lines_of, party_facts, tax_notes, tax_rows, warnings
from estimator.documents.wording import say
from estimator.quoting.quotation import Trader


def render(so_far: SoFar, note: CreditNote, *, trader: Trader) -> bytes:
    """Return a credit note as an A4 PDF; the same input always gives the same bytes.

    Raises:
        ValueError: before anything was accepted.
    """
    return agreed_pages.lay_out(content_of(so_far, note, trader=trader))


def content_of(so_far: SoFar, note: CreditNote, *, trader: Trader) -> AgreedPaper:
    """Return all that the paper says."""
    parts: list[Part] = [
        Bigs(
            (
                Big(
                    say("invoice.to_credit"),
                    money(note.payable),
                    agreed_words.tax_words(note.taxes),
                ),
                Big(say("invoice.against"), note.invoice),
            )
        )
    ]
    if note.why.strip():
        parts.append(Prose("why", say("invoice.why"), (Text(note.why.strip()),)))
    parts += [
        lines_of(say("invoice.credit_lines"), note.lines, note.taxes, tuple(_sums(note))),
        *tax_notes(note.taxes, is_credit=True),
        Prose("effect", "", (Text(say("invoice.credit_effect", amount=money(note.payable))),)),
    ]
    named = Named(
        heading=say("invoice.credit_heading"),
        under=say("invoice.credit_under", number=note.invoice),
        number=note.number,
        facts=tuple(_facts(so_far, note)),
        warnings=tuple(warnings(note.number, note.taxes, trader)),
    )
    return agreed_words.paper(so_far, trader, named, parts)


def _facts(so_far: SoFar, note: CreditNote) -> Iterator[tuple[str, str]]:
    yield from agreed_words.numbered(note.number, note.date)
    of = next((one for one in so_far.invoices if one.number == note.invoice), None)
    dated = day(of.date) if of is not None else ""
    if dated:
        yield (
            say("invoice.against"),
            say("invoice.against_value", number=note.invoice, date=dated),
        )
    yield from party_facts(so_far, note.taxes)


def _sums(note: CreditNote) -> Iterator[Sum]:
    yield from tax_rows(note.net, note.gross, note.taxes)
    if note.deduction:
        yield Sum(say("invoice.deduction_credit"), (figure(-note.deduction),))
        yield Sum(say("invoice.to_credit"), (figure(note.payable),), is_final=True)
