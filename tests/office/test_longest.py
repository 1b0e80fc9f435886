"""The longest texts that are taken still fit the papers that hold them."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest

from estimator.contract import drafting, invoicing, valuation
from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Manner
from estimator.contract.daywork import DayworkSheet, Hours, Spent
from estimator.contract.deeds import BuiltThere, DayworkKept
from estimator.contract.lengths import LONGEST_NAME, LONGEST_TEXT, LONGEST_WHY
from estimator.contract.variation import Standing, ValuedBy
from estimator.contract.works import Built, Completion
from estimator.money import Money
from estimator.office import contracts
from estimator.store.database import Database
from estimator.store.kept_papers import PaperKind
from tests.office import under_way
from tests.store import work

DAY, TRADER = under_way.DAY, under_way.TRADER


@pytest.mark.parametrize("letters", ["W", "word "])
def test_every_paper_is_laid_out_however_much_was_typed(database: Database, letters: str) -> None:
    """Found wanting: daywork sheet, variation and final account could not be laid out."""
    name, text = (letters * LONGEST_TEXT)[:LONGEST_NAME], (letters * LONGEST_TEXT)[:LONGEST_TEXT]
    issuing = {"trader": TRADER, "date": DAY, "now": work.at_nine}
    job, paper = under_way.offered(database)
    so_far = under_way.accept(database, job, paper.number, accepted_by=name)
    contracts.confirm(database, job, **issuing)
    hours = (Hours(DAY, name, name, Decimal(2), Money.of(20)),)
    spent = (Spent(name, name, Money.of(8)),)
    sheet = DayworkSheet("d", "", name, hours, spent, spent, *[Decimal(15)] * 3, name, DAY)
    contracts.do(database, job, DayworkKept(sheet), now=work.at_nine)
    contracts.sheet(database, job, PaperKind.DAYWORK_SHEET, key="d", **issuing)
    assert so_far.contract is not None
    own = drafting.one_sum("own_line", name, Money.of(40), ValuedBy.FAIR_RATE, text[:LONGEST_WHY])
    made = drafting.drawn_up(
        so_far,
        valuation.value(so_far, under_way.found(work.demo()), so_far.contract.scope),
        date=DAY,
        asked_by=name,
        reason=text,
        revision=1,
        title=name,
        added=(own, drafting.daywork_line(sheet)),
    )
    contracts.draft(database, job, made, now=work.at_nine)
    contracts.send_variation(database, job, made.key, how=Manner.EMAIL, **issuing)
    said = {"who": name, "how": Manner.TELEPHONE, "words": text, "now": work.at_nine}
    contracts.answer(database, job, made.key, Standing.AGREED, **said)
    contracts.confirm(database, job, made.key, **issuing)
    built = Built("front/bar/1", DAY, name, name, 35, text)
    contracts.do(database, job, BuiltThere(built), now=work.at_nine)
    done = Completion(DAY + datetime.timedelta(days=20), name, (text, text))
    come_to = contracts.complete(database, job, done, trader=TRADER, now=work.at_nine).so_far
    bill = invoicing.next_invoice(come_to, InvoiceFor.FINAL, date=done.on)
    come_to = contracts.invoice(database, job, bill, trader=TRADER, now=work.at_nine).so_far
    note = invoicing.credit_of(
        come_to, come_to.invoices[0].number, date=done.on, why=text[:LONGEST_WHY]
    )
    contracts.credit(database, job, note, trader=TRADER, now=work.at_nine)
    for kind in (PaperKind.STATEMENT, PaperKind.FINAL_ACCOUNT, PaperKind.AS_BUILT):
        assert contracts.sheet(database, job, kind, **issuing).pdf.startswith(b"%PDF")
