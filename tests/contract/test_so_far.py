"""What a job has come to follows from its deeds alone, and no deed that makes no sense is taken."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.contract import drafting, keeping
from estimator.contract.account import (
    CreditNote,
    Invoice,
    InvoiceFor,
    InvoiceLine,
    Paying,
    Payment,
)
from estimator.contract.allowed import check
from estimator.contract.contract import Manner
from estimator.contract.daywork import DayworkSheet, Hours
from estimator.contract.deeds import (
    Accepted,
    Answered,
    CalledOff,
    Completed,
    Confirmed,
    Credited,
    DayworkKept,
    Deed,
    Drafted,
    Happening,
    Invoiced,
    Paid,
    Sent,
    Struck,
)
from estimator.contract.so_far import SoFar, so_far
from estimator.contract.variation import Standing, ValuedBy, Variation
from estimator.contract.works import Completion
from estimator.money import Money, total
from estimator.notices import UserMistake
from estimator.takeoff.scope import LOCAL
from tests.contract import made_up
from tests.takeoff.walls import upright, wall

CONTRACT = made_up.contract(made_up.survey(wall(upright("a", 1120))))
ACCEPTED = Accepted(CONTRACT)
DAY, NOON = made_up.DAY, made_up.NOON


def variation(key: str = "a", pounds: int = 100, item: str = "own_line") -> Variation:
    line = drafting.one_sum(item, "Sum", Money.of(pounds), ValuedBy.FAIR_RATE, "")
    return Variation(key, DAY, "Sum", "x", (), "", (line,), Decimal(0), LOCAL, 2, "")


def sent(key: str = "a", number: str = "V-0001") -> Sent:
    return Sent(key, number, DAY, Manner.EMAIL)


def answer(what: Standing, key: str = "a", how: Manner = Manner.EMAIL) -> Answered:
    return Answered(key, what, "Ines Marlowe", how, NOON)


def bill(on: datetime.date) -> Invoice:
    lines = (InvoiceLine("Deposit", Money.of(100)),)
    return Invoice("I-0001", InvoiceFor.DEPOSIT, on, on, on, lines, (), Money(0), 1)


def happened(deeds: Sequence[Deed]) -> tuple[Happening, ...]:
    return tuple(Happening(str(place), NOON, deed) for place, deed in enumerate(deeds))


def come_to(*deeds: Deed) -> SoFar:
    return so_far(happened(deeds))


def refused(deed: Deed, *before: Deed) -> str:
    with pytest.raises(UserMistake) as caught:
        check(happened(before), deed)
    return str(caught.value)


def taken(deed: Deed, *before: Deed) -> SoFar:
    """Check a deed and take it in."""
    check(happened(before), deed)
    return come_to(*before, deed)


OUT = (ACCEPTED, Drafted(variation()), sent())
YES, NO = answer(Standing.AGREED), answer(Standing.DECLINED)


# -- folding


def test_of_no_deeds_nothing_comes() -> None:
    assert so_far(()) == SoFar()
    with pytest.raises(ValueError, match="nothing has been accepted"):
        _net = SoFar().net


def test_only_a_yes_moves_the_sum() -> None:
    for number in range(1, len(OUT) + 1):
        assert come_to(*OUT[:number]).net == CONTRACT.net
    assert come_to(*OUT, NO).net == CONTRACT.net
    assert come_to(*OUT, YES).net == CONTRACT.net + Money.of(100)


def test_a_draft_is_drawn_up_anew_and_what_went_out_stays() -> None:
    again = Drafted(variation(pounds=120))
    assert come_to(ACCEPTED, Drafted(variation()), again).varied("a").variation.net == Money.of(120)
    assert come_to(*OUT, again).varied("a").variation.net == Money.of(100)


def test_a_yes_by_word_of_mouth_wants_confirming() -> None:
    spoken = answer(Standing.AGREED, how=Manner.TELEPHONE)
    assert come_to(*OUT, spoken).varied("a").wants_confirming
    assert not come_to(*OUT, YES).varied("a").wants_confirming
    done = come_to(*OUT, spoken, Confirmed("a", "S-0001", DAY))
    assert not done.varied("a").wants_confirming


def test_what_was_struck_out_no_longer_counts_and_the_rest_does() -> None:
    paid = Paid(Payment(DAY, Money.of(50), Paying.CASH))
    job = come_to(ACCEPTED, paid, paid, Struck("1", "typed twice"))
    assert [one.amount for one in job.payments] == [Money.of(50)]


def test_a_contract_after_a_cancelled_one_begins_without_its_variations() -> None:
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    cancelled = come_to(*OUT, YES, off)
    assert cancelled.called_off is not None
    anew = taken(Accepted(replace(CONTRACT, quotation="Q-0002")), *OUT, YES, off)
    assert (anew.called_off, anew.variations, anew.net) == (None, (), CONTRACT.net)


def test_a_contract_after_a_cancelled_one_is_not_complete_before_it_is_begun() -> None:
    """Found wanting: its final invoice could be written, and the job stood as done."""
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    before = (ACCEPTED, Completed(Completion(DAY, "Ada")), off)
    assert come_to(*before).completion is not None
    assert taken(Accepted(replace(CONTRACT, quotation="Q-0002")), *before).completion is None


@settings(max_examples=60)
@given(st.permutations(range(4)), st.lists(st.sampled_from(Standing), min_size=4, max_size=4))
def test_the_order_of_answers_does_not_matter(order: list[int], told: list[Standing]) -> None:
    made = [variation(key, 10**place) for place, key in enumerate("abcd")]
    first = made_up.answered(CONTRACT, *zip(made, told, strict=True))
    other = made_up.answered(CONTRACT, *zip(made, told, strict=True), order=order)
    assert first.net == other.net
    assert first.net == CONTRACT.net + total(
        one.net for one, standing in zip(made, told, strict=True) if standing is Standing.AGREED
    )


@settings(max_examples=150)
@given(st.data())
def test_deeds_that_were_checked_fold_and_come_back_from_the_file(data: st.DataObject) -> None:
    choices = st.one_of(
        st.builds(lambda key, sum_: Drafted(variation(key, sum_)), keys(), st.integers(1, 99)),
        st.builds(lambda key, no: sent(key, f"V-{no:04d}"), keys(), st.integers(1, 4)),
        st.builds(lambda key, what: answer(what, key), keys(), st.sampled_from(Standing)),
        st.builds(lambda key: Confirmed(key, "S-0001", DAY), keys()),
        st.builds(lambda place: Struck(str(place), "a slip"), st.integers(0, 8)),
        st.just(CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)),
        st.just(ACCEPTED),
    )
    kept: list[Happening] = []
    for deed in [ACCEPTED, *data.draw(st.lists(choices, max_size=14))]:
        try:
            check(kept, deed)
        except (UserMistake, ValueError):
            continue
        kept.append(Happening(str(len(kept)), NOON, keeping.read(keeping.written(deed))))
        job = so_far(kept)
        # At every step, as if the program were killed there, the sum is that of what is agreed.
        if job.contract is not None:
            assert job.net == job.contract.net + total(
                line.amount for one in job.agreed for line in one.variation.lines
            )
        numbers = [one.number for one in job.variations if one.number]
        assert len(numbers) == len(set(numbers))


def keys() -> st.SearchStrategy[str]:
    return st.sampled_from("abc")


# -- what makes no sense


def test_nothing_comes_before_a_contract() -> None:
    for deed in (Drafted(variation()), sent(), YES, Completed(Completion(DAY, "Ada"))):
        assert "nothing has been agreed" in refused(deed)


def test_an_option_is_accepted_once() -> None:
    assert "accepted already" in refused(ACCEPTED, ACCEPTED)


@pytest.mark.parametrize("deed", [sent("z"), answer(Standing.AGREED, "z")])
def test_a_variation_nobody_drew_up_is_refused(deed: Deed) -> None:
    assert "no such variation" in refused(deed, *OUT)


def test_what_was_not_sent_has_no_answer() -> None:
    text = refused(YES, ACCEPTED, Drafted(variation()))
    assert "cannot be agreed now" in text
    assert "send it first" in text


def test_what_went_out_is_neither_sent_nor_changed_again() -> None:
    assert "went out already" in refused(sent("a", "V-0002"), *OUT)
    assert "went out already" in refused(Drafted(variation(pounds=1)), *OUT)
    with pytest.raises(ValueError, match="only once"):
        check(happened((*OUT, Drafted(variation("b")))), sent("b", "V-0001"))


def test_an_answer_names_somebody() -> None:
    assert "nobody is named" in refused(replace(YES, who=" "), *OUT)


@pytest.mark.parametrize("after", [Standing.DECLINED, Standing.WITHDRAWN, Standing.SENT])
def test_what_is_agreed_stays_agreed(after: Standing) -> None:
    assert "cannot be" in refused(answer(after), *OUT, YES)


def test_who_declined_may_come_round_to_it_while_nothing_was_drawn_up_since() -> None:
    assert taken(YES, *OUT, NO).net == CONTRACT.net + Money.of(100)
    # A later draft may hold the same work, which was free to be offered again.
    text = refused(YES, *OUT, NO, Drafted(variation("b")))
    assert "cannot be agreed any more" in text
    assert taken(YES, *OUT[:2], Drafted(variation("b")), OUT[2], NO).net > CONTRACT.net


def test_what_was_taken_back_is_not_agreed() -> None:
    assert "cannot be agreed now" in refused(YES, *OUT, answer(Standing.WITHDRAWN))


def test_only_what_is_agreed_is_confirmed() -> None:
    assert "not agreed" in refused(Confirmed("a", "S-0001", DAY), *OUT)
    assert taken(Confirmed("", "S-0001", DAY), ACCEPTED).contract_confirmed_by == "S-0001"


def test_of_a_variation_without_a_number_no_sentence_begins_with_nothing() -> None:
    """Found wanting: " went out already" and " is not agreed"."""
    drafted = (ACCEPTED, Drafted(variation()))
    assert refused(Confirmed("a", "S-0001", DAY), *drafted).startswith("this variation is not")
    back = (*drafted, answer(Standing.WITHDRAWN))
    for deed in (sent(), Drafted(variation())):
        assert refused(deed, *back).startswith("this variation was taken back")


@pytest.mark.parametrize("text", ["W" * 501, "word " * 101])
def test_a_name_too_long_for_a_column_is_refused(text: str) -> None:
    """Found wanting: a page that could not be laid out ended the program's work on it."""
    told = refused(Accepted(replace(CONTRACT, accepted_by=text)))
    assert "letters; shorten it to 500" in told
    assert len(told) < 120
    check(happened((ACCEPTED,)), Drafted(variation()))
    assert "shorten it to 500" in refused(Drafted(replace(variation(), title=text)), ACCEPTED)


def test_a_text_too_long_for_a_paper_is_refused() -> None:
    spoken = replace(YES, words="w" * 4000)
    check(happened(OUT), spoken)
    assert "has 4,001 letters; shorten" in refused(replace(spoken, words="w" * 4001), *OUT)
    hours = DayworkSheet(
        "d",
        "",
        "Prop",
        (Hours(DAY, "A" * 501, "", Decimal(1), Money(1)),),
        (),
        (),
        *[Decimal(0)] * 3,
    )
    assert "has 501 letters" in refused(DayworkKept(hours), ACCEPTED)


@pytest.mark.parametrize(
    "deed",
    [
        Completed(Completion(DAY - datetime.timedelta(days=1), "Ada")),
        CalledOff(DAY - datetime.timedelta(days=365), "Ines Marlowe", Manner.EMAIL),
        Sent("a", "V-0001", DAY - datetime.timedelta(days=1), Manner.EMAIL),
        Invoiced(bill(DAY - datetime.timedelta(days=1))),
    ],
)
def test_nothing_is_dated_before_it_was_accepted(deed: Deed) -> None:
    """Found wanting: with last year's date the retention fell due before the work was agreed."""
    assert "lies before 2026-11-25, when it was accepted" in refused(deed, *OUT[:2])


def test_nothing_is_credited_before_it_was_invoiced() -> None:
    later = bill(DAY + datetime.timedelta(days=5))
    note = CreditNote("C-0001", DAY, "I-0001", "Wrong", later.lines, later.taxes)
    text = refused(Credited(note), ACCEPTED, Invoiced(later))
    assert "lies before 2026-11-30, when it was invoiced" in text
    taken(Credited(replace(note, date=later.date)), ACCEPTED, Invoiced(later))


def test_after_a_cancelling_nothing_is_varied() -> None:
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    for deed in (Drafted(variation("b")), YES, Completed(Completion(DAY, "Ada"))):
        assert "is cancelled" in refused(deed, *OUT, off)
    assert taken(answer(Standing.WITHDRAWN), *OUT, off).variations[0].number == "V-0001"
    assert "cancelled already" in refused(off, *OUT, off)


def test_a_draft_of_a_cancelled_contract_is_left_as_it_is() -> None:
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL)
    text = refused(Struck("1", "slip"), ACCEPTED, Drafted(variation()), off, ACCEPTED)
    assert "its contract was cancelled" in text


def test_slips_are_struck_out_with_a_reason_and_papers_are_not() -> None:
    paid = Paid(Payment(DAY, Money.of(50), Paying.CASH))
    assert "without a reason" in refused(Struck("1", " "), ACCEPTED, paid)
    assert "nothing to strike" in refused(Struck("9", "slip"), ACCEPTED, paid)
    assert "nothing to strike" in refused(Struck("1", "x"), ACCEPTED, paid, Struck("1", "slip"))
    for place in range(len(OUT)):
        assert "struck out" in refused(Struck(str(place), "slip"), *OUT)


# -- daywork


def sheet(hours: str = "3", signed_by: str = "") -> DayworkSheet:
    worked = (Hours(DAY, "Ned", "bricklayer", Decimal(hours), Money.of(18)),)
    return DayworkSheet("d", "", "Dig", worked, (), (), *map(Decimal, (110, 15, 15)), signed_by)


CHARGED = (*(ACCEPTED, DayworkKept(sheet()), Drafted(variation("a", item="daywork_d")), sent("a")),)


def test_hours_that_were_charged_are_not_changed_and_may_still_be_signed() -> None:
    assert "charged in V-0001" in refused(DayworkKept(sheet("4")), *CHARGED)
    signed = replace(sheet(signed_by="Ines Marlowe"), signed_on=DAY + datetime.timedelta(1))
    assert taken(DayworkKept(signed), *CHARGED).daywork == (signed,)


def test_hours_are_charged_once() -> None:
    again = Drafted(variation("b", item="daywork_d"))
    assert "charged in V-0001" in refused(again, *CHARGED)
    assert len(taken(again, *CHARGED, NO).variations) == 2


def test_a_sheet_that_was_charged_is_not_struck_out() -> None:
    """Found wanting: the hours were gone, and the customer was still charged for them."""
    assert "charged in V-0001" in refused(Struck("1", "slip"), *CHARGED)
    assert taken(Struck("1", "slip"), *CHARGED, NO).daywork == ()


def test_hours_go_out_as_they_stand_on_their_sheet() -> None:
    """Found wanting: five hours on the sheet the customer signed, three in what was sent."""
    drafted = replace(variation("a"), lines=(drafting.daywork_line(sheet("3")),))
    before = (ACCEPTED, DayworkKept(sheet("3")), Drafted(drafted))
    check(happened(before), sent("a"))
    assert "no longer those of their sheet" in refused(sent("a"), *before, DayworkKept(sheet("5")))
    assert "no longer those of their sheet" in refused(sent("a"), *before, Struck("1", "slip"))
    again = replace(drafted, lines=(drafting.daywork_line(sheet("5")),))
    check(happened((*before, DayworkKept(sheet("5")), Drafted(again))), sent("a"))


@pytest.mark.parametrize("owed", [Money(-1), CONTRACT.net + Money(1)])
def test_no_more_is_owed_for_what_was_done_than_for_all_of_it(owed: Money) -> None:
    off = CalledOff(DAY, "Ines Marlowe", Manner.EMAIL, owed=owed)
    assert "cannot be owed" in refused(off, ACCEPTED)
    assert taken(replace(off, owed=CONTRACT.net), ACCEPTED).due == CONTRACT.net
