"""The confirmation of a contract: who accepted what and how, until when it may be cancelled."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest

from estimator.contract.account import InvoiceFor
from estimator.contract.contract import Contract, Made, Manner
from estimator.contract.so_far import SoFar
from estimator.contract.works import Completion, Plan
from estimator.documents import confirmation
from estimator.documents.agreed_content import AgreedPaper, Ledger
from estimator.documents.content import Acceptance, CancelForm, Section
from estimator.money import Money, total
from estimator.survey.survey import CustomerKind
from tests.documents import agreed_fixtures as jobs
from tests.documents import made_up
from tests.documents.reading import flat, pages

DATE = datetime.date(2026, 11, 26)


def content(contract: Contract, date: datetime.date = DATE) -> AgreedPaper:
    return confirmation.content_of(
        SoFar(contract=contract), trader=made_up.trader(), number="S-0001", date=date
    )


def text_of(contract: Contract, date: datetime.date = DATE) -> str:
    made = confirmation.render(
        SoFar(contract=contract), trader=made_up.trader(), number="S-0001", date=date
    )
    return flat("\n".join(pages(made)))


def section(of: AgreedPaper, key: str) -> str:
    return "".join(repr(p.blocks) for p in of.parts if isinstance(p, Section) and p.key == key)


def part(of: AgreedPaper, kind: type) -> object | None:
    return next((one for one in of.parts if isinstance(one, kind)), None)


def test_it_says_who_accepted_what_how_and_when_at_which_price() -> None:
    text = text_of(jobs.contract())
    for one in (
        "Ines Marlowe accepted “Stitch, and point where we cut” of our quotation Q-0147 on "
        "26 November 2026, by telephone.",
        "£583.32",
        "with VAT",
        "1 working day",
        "£37.00 before VAT, the rate promised in the quotation",
        "Nothing is added or left out unless you and we agree it first",
    ):
        assert flat(one) in text, one


@pytest.mark.parametrize(
    ("how", "words"),
    [
        (Manner.SIGNED, "in writing, signed"),
        (Manner.EMAIL, "by e-mail"),
        (Manner.MESSAGE, "by message"),
        (Manner.TELEPHONE, "by telephone"),
        (Manner.IN_PERSON, "by word of mouth"),
    ],
)
def test_only_what_was_spoken_is_signed_again(how: Manner, words: str) -> None:
    made = content(jobs.contract(how=how, kind=CustomerKind.BUSINESS))
    assert words in repr(made.parts)
    assert (part(made, Acceptance) is not None) is how.is_spoken


def test_stages_add_up_to_the_price_and_the_last_takes_the_balance() -> None:
    # The dossier's value 48: 30 / 40 / 30 of 4,417.08 are 1,325.12, 1,766.83 and 1,325.13. The
    # parts are taken before tax, so that every invoice carries its own.
    whole = replace(jobs.contract(), net=Money.of("3680.90"), total=Money.of("4417.08"), lines=())
    stages = next(
        one for one in content(whole).parts if isinstance(one, Ledger) and one.key == "stages"
    )
    sums = [Money.of(line.figures[-1].replace(",", "")) for line in stages.lines]
    assert [str(one) for one in sums] == ["1325.12", "1766.83", "1325.13"]
    assert total(sums) == whole.total


@pytest.mark.parametrize("made", [jobs.contract(), jobs.contract(registered=False)])
def test_what_is_confirmed_is_what_will_be_invoiced(made: Contract) -> None:
    so_far = SoFar(contract=made)
    for asks_for in (InvoiceFor.DEPOSIT, InvoiceFor.STAGE):
        so_far = jobs.invoiced(so_far, asks_for, DATE)
    so_far = replace(so_far, completion=Completion(DATE, "Ned Ashby"))
    so_far = jobs.invoiced(so_far, InvoiceFor.FINAL, DATE)
    stages = next(
        one for one in content(made).parts if isinstance(one, Ledger) and one.key == "stages"
    )
    shown = [Money.of(line.figures[-1].replace(",", "")) for line in stages.lines]
    assert shown == [one.payable for one in so_far.invoices]


def test_without_stages_nothing_is_paid_before_the_work_is_done() -> None:
    text = text_of(jobs.contract(stages=()))
    assert flat("Nothing to pay before the work is done.") in text
    assert "Deposit" not in text


def test_the_last_day_to_cancel_is_said_to_a_household() -> None:
    # Consumer Contracts Regulations 2013, reg. 30, from memory: 14 days after the day it was made;
    # the dossier's values 55 and 56.
    for agreed, last in (
        (datetime.date(2026, 11, 25), "9 December 2026"),
        (datetime.date(2026, 12, 18), "1 January 2027"),
        (datetime.date(2027, 2, 15), "1 March 2027"),
    ):
        made = replace(jobs.contract(), accepted_on=agreed)
        text = text_of(made, agreed)
        assert flat(f"The last day on which you may cancel is {last}.") in text
        assert flat(f"We start after {last}") in text


def test_a_notice_given_late_runs_from_the_paper_that_gives_it() -> None:
    # The same, reg. 31: 14 days from the day the customer is told, within a year.
    made = jobs.contract()
    made = replace(made, cancelling=replace(made.cancelling, notice_given=None))
    text = text_of(made, datetime.date(2026, 12, 1))
    assert flat("This paper gives you the notice of that right.") in text
    assert flat("you may cancel is 15 December 2026") in text


def test_an_early_start_that_was_asked_for_is_not_asked_for_again() -> None:
    made = jobs.contract()
    early = replace(made.cancelling, early_start=datetime.date(2026, 11, 26))
    asked = content(replace(made, cancelling=early))
    assert "On 26 November 2026 you asked us in writing to start" in section(asked, "start")
    signing = part(asked, Acceptance)
    assert isinstance(signing, Acceptance)
    assert not any("Start on or before" in tick for tick in signing.ticks)
    plain = part(content(made), Acceptance)
    assert isinstance(plain, Acceptance)
    assert any("Start on or before 10 December 2026" in tick for tick in plain.ticks)


def test_the_form_is_filled_in_with_what_is_known() -> None:
    # The same, schedule 3 part B: to, notice, service, ordered on, name, address, signature, date.
    form = part(content(jobs.contract()), CancelForm)
    assert isinstance(form, CancelForm)
    assert form.to.value == "Tarn & Pike, 3 Kiln Yard, Eastmere Vale, office@example.com"
    values = {one.label.split()[0]: one.value for one in form.fields}
    assert values["Goods*/service*"].endswith("quotation Q-0147")
    assert values["Ordered"] == "26 November 2026"
    assert values["Name"] == "Ines Marlowe"
    assert values["Signature"] == values["Date"] == ""


@pytest.mark.parametrize("kind", CustomerKind)
def test_only_households_are_told_of_cancelling_and_only_others_of_interest(
    kind: CustomerKind,
) -> None:
    made = content(jobs.contract(kind=kind))
    household = kind is CustomerKind.HOUSEHOLD
    assert (part(made, CancelForm) is not None) is household
    assert bool(section(made, "cancel")) is household
    assert ("Bank rate" in section(made, "paying")) is not household
    assert ("comes back to you" in section(made, "paying")) is household


def test_an_urgent_repair_says_that_there_is_no_right_and_gives_no_form() -> None:
    # The same, reg. 28.
    made = jobs.contract()
    made = replace(
        made, cancelling=replace(made.cancelling, is_urgent=True, made=Made.AT_THEIR_HOME)
    )
    shown = content(made)
    assert "no right to cancel the repair itself" in section(shown, "cancel")
    assert part(shown, CancelForm) is None


def test_a_contractor_is_told_of_retention_deduction_and_reverse_charge() -> None:
    text = text_of(jobs.trade(jobs.contract()))
    for one in (
        "VAT: reverse charge",
        "paid by you to HMRC",
        "You keep back 5 % of each invoice before VAT.",
        "the rest 6 months later",
        "the deduction under the Construction Industry Scheme, on labour only",
    ):
        assert flat(one) in text, one


def test_a_trader_without_vat_says_so_and_shows_no_number() -> None:
    text = text_of(jobs.contract(registered=False))
    assert flat("no VAT to add") in text
    assert flat("We are not registered for VAT") in text
    assert "VATno." not in text
    assert flat("£486.10") in text


def test_a_planned_start_is_said() -> None:
    planned = SoFar(contract=jobs.contract(), plan=Plan(datetime.date(2026, 12, 14)))
    made = confirmation.content_of(planned, trader=made_up.trader(), number="S-0001", date=DATE)
    assert "We start on 14 December 2026." in section(made, "start")


def test_nothing_is_confirmed_before_anything_was_accepted() -> None:
    with pytest.raises(ValueError, match="accepted"):
        confirmation.render(SoFar(), trader=made_up.trader(), number="S-0001", date=DATE)
