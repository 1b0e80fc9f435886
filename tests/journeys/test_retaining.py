"""A retention contract with another contractor, in the real window, every sum worked by hand.

By the trade dossier, sections 4.2 to 4.4 and 8 (values 38 to 43, 48, 49): stages of 30, 40 and
30 %, the last taking the balance; 5 % kept back before tax, half released on completion and half
at the end; the deduction a fifth of the price before tax less materials at cost; VAT accounted for
by the customer, shown and not charged. The contract sum is £387.43, its materials £81.38.

    deposit    30 % of 387.43 = 116.229             116.23
               5 % kept back = 5.8115                -5.81   net 110.42, VAT 22.08 by them
               materials 81.38 x 110.42 / 387.43 = 23.19
               a fifth of 87.23 = 17.45                      92.97 to pay
    next part  70 % of 387.43 = 271.20, less 116.23 154.97
               5 % of 271.20 = 13.56, less 5.81      -7.75   net 147.22, VAT 29.44 by them
               materials 30.92, a fifth of 116.30 = 23.26    123.96 to pay
    final      387.43 less 271.20                   116.23
               5 % of 387.43 = 19.37, of which 9.69 is
               released and 9.68 stays; 13.56 - 9.68 = 3.88  net 120.11
               VAT 20 % of 377.75 = 75.55, less 51.52 = 24.03 by them
               materials 79.35, a fifth of 298.40 = 59.68,
               less 40.71 = 18.97                            101.14 to pay
    last half  VAT 20 % of 387.43 = 77.49, less 75.55 = 1.94 by them, net 9.68
               a fifth of 387.43 - 81.38 = 61.21,
               less 59.68 = 1.53                             8.15 to pay
    in all     paid 92.97 + 123.96 + 101.14 + 8.15 = 326.22, deducted 61.21, together 387.43
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Retention
from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account
from estimator.money import Money, total
from estimator.office import contracts
from estimator.office.place import file_in
from estimator.store import issued, jobs
from estimator.store.database import open_file
from estimator.store.kept_papers import PaperKind
from tests.journeys.killed import killed, papers_kept
from tests.journeys.retaining_by_hand import CUSTOMER

pytestmark = pytest.mark.slow

SUM, MATERIALS = "387.43", "81.38"
BY_HAND = (
    # What for, date, due, before tax, kept back by it, VAT they account for, deducted, to pay
    (InvoiceFor.DEPOSIT, "2026-12-01", "2026-12-31", "110.42", "5.81", "22.08", "17.45", "92.97"),
    (InvoiceFor.STAGE, "2026-12-10", "2027-01-09", "147.22", "7.75", "29.44", "23.26", "123.96"),
    (InvoiceFor.FINAL, "2026-12-14", "2027-01-13", "120.11", "-3.88", "24.03", "18.97", "101.14"),
    (InvoiceFor.RETENTION, "2027-12-14", "2028-01-13", "9.68", "-9.68", "1.94", "1.53", "8.15"),
)
RESTS_ON = "the rates that ship have changed: work the table above anew"


@pytest.fixture(scope="module")
def left(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """What the killed process left behind, and what it told."""
    folder = tmp_path_factory.mktemp("retaining")
    return folder, killed("retaining_by_hand", folder, longest_s=300)


@pytest.fixture(scope="module")
def so_far(left: tuple[Path, dict[str, Any]]) -> SoFar:
    folder, told = left
    with open_file(file_in(folder)) as database:
        assert issued.verify(database) == ()
        found = contracts.so_far(database, told["uid"])
        assert jobs.find(database, told["uid"]).stage is jobs.Stage.DONE
    assert found.contract is not None
    assert str(found.contract.net) == SUM, RESTS_ON
    assert str(found.contract.materials_cost) == MATERIALS, RESTS_ON
    return found


@pytest.fixture(scope="module")
def papers(left: tuple[Path, dict[str, Any]]) -> dict[PaperKind, list[str]]:
    """The words of every paper that was kept, by kind."""
    folder, told = left
    kept = papers_kept(folder, told["uid"])
    return {kind: [words for _number, words in found] for kind, found in kept.items()}


def test_the_terms_typed_at_acceptance_are_those_of_the_contract(so_far: SoFar) -> None:
    assert so_far.contract is not None
    assert so_far.contract.due_days == 30
    assert so_far.contract.retention == Retention(Decimal(5), 12)
    assert so_far.contract.terms.reverse_charge


def test_every_invoice_comes_to_the_sums_worked_by_hand(so_far: SoFar) -> None:
    assert len(so_far.invoices) == len(BY_HAND)
    for told, row in zip(so_far.invoices, BY_HAND, strict=True):
        [line] = told.taxes
        assert not line.charged
        assert told.gross == told.net
        assert (
            told.asks_for,
            told.date.isoformat(),
            told.due.isoformat(),
            *map(str, (told.net, told.retained, line.amount, told.deduction, told.payable)),
        ) == row


def test_the_pages_show_those_sums_before_anything_is_issued(
    left: tuple[Path, dict[str, Any]],
) -> None:
    pages = [dict(rows) for rows in left[1]["rows"]]
    for rows, (_for, _on, _due, net, kept, _vat, deducted, payable) in zip(
        pages, BY_HAND, strict=True
    ):
        assert rows["Before VAT"] == f"£{net}"
        assert rows["Reverse charge: customer to account for VAT at 20 %"] == "£0.00"
        assert rows["Kept back for the tax office"] == f"−\N{NO-BREAK SPACE}£{deducted}"
        assert rows["To pay"] == f"£{payable}"
        released = rows.get("Released of what was kept back")
        assert rows.get("5 % kept back", "").removeprefix("−\N{NO-BREAK SPACE}£") == (
            "" if released else kept
        )
        assert released == (f"£{kept.removeprefix('-')}" if kept.startswith("-") else None)


def test_the_last_half_is_offered_on_its_day_and_not_a_day_early(
    left: tuple[Path, dict[str, Any]],
) -> None:
    """Twelve months from completion on 14 December 2026."""
    assert left[1]["offered_early"] is False
    assert left[1]["kept"] == ["£9.68, due on 14 December 2027"]


def test_nothing_is_lost_to_rounding_and_the_account_is_settled(so_far: SoFar) -> None:
    account = final_account(so_far)
    assert account.is_settled
    assert str(account.price.total) == SUM
    assert (str(account.paid), str(account.deducted)) == ("326.22", "61.21")
    assert account.paid + account.deducted == Money.of(SUM)
    assert account.retained == Money(0)
    taxes = total(line.amount for one in so_far.invoices for line in one.taxes)
    assert str(taxes) == "77.49"


def test_the_invoices_say_what_the_law_wants_said(papers: dict[PaperKind, list[str]]) -> None:
    """VAT Regulations 1995, reg. 14, and gov.uk VATREVCON37100: the words "reverse charge", whose
    it is to account for the VAT, and its amount, left out of what is to pay."""
    assert len(papers[PaperKind.INVOICE]) == len(BY_HAND)
    for words, (_for, _on, _due, net, kept, vat, deducted, payable) in zip(
        papers[PaperKind.INVOICE], BY_HAND, strict=True
    ):
        assert "everse charge" in words
        for amount in (net, kept.removeprefix("-"), vat, deducted, payable):
            assert amount in words, amount
        assert CUSTOMER in words
        assert "GB123456789" in words


def test_the_final_account_ends_with_nothing(papers: dict[PaperKind, list[str]]) -> None:
    [words] = papers[PaperKind.FINAL_ACCOUNT]
    for amount in (SUM, "326.22", "61.21", "92.97", "123.96", "101.14", "8.15"):
        assert amount in words, amount
    assert "Nothing is owed either way" in words
