"""Hours booked against hours priced, and what is offered from them."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from decimal import Decimal

import pytest

from estimator.contract.works import Booking, Completion, Used
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing.outputs import hours_of
from estimator.pricing.price_book import read, shipped
from estimator.takeoff.lines import Conditions, Item
from estimator.works import own_rates, settings, track_record
from estimator.works.credibility import factor_of, mean_of_logs
from estimator.works.day_work import hours_of as measured_hours
from estimator.works.own_rates import OwnOutput, compared, job_done, job_hours, taken_up
from estimator.works.track_record import Finished, TrackRecord, record_of
from tests.works import made_up

DAY = datetime.date(2026, 12, 1)
DONE = Completion(DAY, "Ada")


def booked(item: Item | None, hours: str, done: str = "0", day: int = 0) -> Booking:
    return Booking(DAY + datetime.timedelta(days=day), item, Decimal(hours), Decimal(done))


def own(item: Item, factor: str) -> OwnOutput:
    one = Decimal(1)
    output = shipped().output(item)
    return OwnOutput(item, "", output.unit, 1, one, one, one, one, one, Decimal(factor))


def test_unfinished_work_counts_up_to_the_last_word_on_how_much() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        bookings=(
            booked(Item.CUT_SLOT, "1"),
            booked(Item.CUT_SLOT, "1", "10", day=1),
            booked(Item.CUT_SLOT, "0.5", day=2),
            booked(Item.SET_BAR, "2"),
            booked(None, "3"),
        ),
    )
    [slot] = job_hours(job_done(so_far), shipped())
    assert (slot.item, slot.booked, slot.done) == (Item.CUT_SLOT, 2, 10)
    assert slot.priced == Decimal("1.7990")


def test_a_finished_job_without_a_word_did_all_of_it() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        bookings=(booked(Item.CUT_SLOT, "2.5"), booked(Item.CUT_SLOT, "0.5")),
        completion=DONE,
    )
    [slot] = job_hours(job_done(so_far), shipped())
    assert slot.done == Decimal("14.65")
    assert slot.priced == Decimal("2.6355")
    assert slot.booked == 3


def test_hours_are_priced_at_the_book_of_today_and_not_at_the_contracts() -> None:
    dear = made_up.BOOK.replace('"any": "0.1094"', '"any": "0.2094"', 1)
    so_far = replace(
        made_up.accepted("terrace", book=dear), bookings=(booked(Item.CUT_SLOT, "2", "10"),)
    )
    assert job_hours(job_done(so_far), shipped())[0].priced == Decimal("1.7990")


def test_jobs_before_the_last_update_count_no_more() -> None:
    so_far = replace(made_up.accepted("terrace"), bookings=(booked(Item.CUT_SLOT, "2", "10"),))
    job = job_done(so_far)
    assert compared([job], shipped(), since=DAY) == ()
    [found] = compared([job], shipped(), since=DAY - datetime.timedelta(days=1))
    assert found.jobs == 1
    assert "counts for Z = 0.14" in found.working


def test_what_is_accepted_changes_those_outputs_alone() -> None:
    written = own_rates.taken_up(made_up.BOOK, [own(Item.CUT_SLOT, "1.25")])
    before, after = json.loads(made_up.BOOK), json.loads(written)
    changed = [
        one["item"]
        for old, one in zip(before["outputs"], after["outputs"], strict=True)
        if old != one
    ]
    assert changed == ["cut_slot"]
    assert {key for key in before if before[key] != after[key]} == {"outputs"}
    # 0.1094, 0.0105 and 0.06 h/m times 1.25, each rounded to a ten thousandth.
    hours = [step["hours"]["any"] for step in after["outputs"][0]["steps"]]
    assert hours == ["0.1368", "0.0131", "0.0750"]
    assert read(written).output(Item.CUT_SLOT).steps[0].source == own_rates.OWN_SOURCE
    assert json.loads(own_rates.taken_up(made_up.BOOK, ())) == before


@pytest.mark.parametrize(
    "factors", [{"rake": "1.2"}, {"point": "0.8"}, {"rake": "1.5", "point": "0.7"}]
)
@pytest.mark.parametrize("mortar", ["lime", "cement-lime", "hard cement"])
def test_raking_and_pointing_of_a_panel_move_each_by_its_own_factor(
    factors: dict[str, str], mortar: str
) -> None:
    items = {"rake": Item.RAKE_OUT, "point": Item.REPOINT}
    book = read(
        own_rates.taken_up(made_up.BOOK, [own(items[key], one) for key, one in factors.items()])
    )
    at = Conditions(mortar=mortar, bond="flemish", joint_m_per_m2="18")
    for key, item in items.items():
        then, now = (hours_of(one.output(item), one.repointing, at) for one in (shipped(), book))
        assert float(now / then) == pytest.approx(float(factors.get(key, "1")), rel=2e-4)


def test_hours_after_the_last_word_on_a_finished_job_went_into_all_of_it() -> None:
    """Found wanting: 3 m were told, 4 h came after, and all 5 h were held against the 3 m."""
    so_far = replace(
        made_up.accepted("terrace"),
        bookings=(booked(Item.CUT_SLOT, "1", "3"), booked(Item.CUT_SLOT, "4", day=1)),
        completion=DONE,
    )
    [slot] = job_hours(job_done(so_far), shipped())
    assert (slot.done, slot.booked) == (Decimal("14.65"), 5)
    told_last = replace(so_far, bookings=so_far.bookings[::-1][:1] + so_far.bookings[:1])
    assert job_hours(job_done(told_last), shipped()) == (slot,)
    less = replace(so_far, bookings=so_far.bookings[:1])
    [slot] = job_hours(job_done(less), shipped())
    assert (slot.done, slot.booked) == (3, 1)


def test_of_one_job_it_is_said_that_it_counts() -> None:
    one = own(Item.CUT_SLOT, "1")
    assert "it counts for Z" in one.working
    assert "they count for Z" in replace(one, jobs=2).working


def test_no_work_is_taken_up_that_takes_no_time() -> None:
    """Found wanting: a slip of the finger, and cutting out cost nothing from then on."""
    text = taken_up(made_up.BOOK, [own(Item.CUT_SLOT, "0.0001")])
    hours = [one for step in read(text).outputs[Item.CUT_SLOT].steps for one in step.hours.values()]
    before = shipped().outputs[Item.CUT_SLOT].steps
    assert [bool(one) for one in hours] == [bool(h) for step in before for h in step.hours.values()]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        ("0.96", "1.1", "between 4 % less and 10 % more than was quoted"),
        ("1.1", "1.1", "about 10 % more than was quoted"),
        ("1", "1.2", "between 0 % more and 20 % more than was quoted"),
    ],
)
def test_a_record_is_told_as_more_or_less_than_was_quoted(low: str, high: str, words: str) -> None:
    """Found wanting: nothing costs "between -4 % and +10 % of" anything."""
    some = Decimal(1)
    record = TrackRecord(20, 20, Decimal(low), some, Decimal(high), some, some, some)
    assert words in record.words


def test_credibility_grows_with_jobs_and_never_comes_to_all() -> None:
    found = [factor_of(jobs, Decimal(6)) for jobs in range(200)]
    assert found == sorted(found)
    assert found[0] == 0
    assert found[-1] < 1
    with pytest.raises(ValueError, match="above nothing"):
        mean_of_logs([])


def test_a_record_waits_for_twenty_finished_jobs() -> None:
    jobs = [Finished(Money.of(100), Money.of(104 + place)) for place in range(20)]
    assert record_of(jobs[:19], shipped().ranges) is None
    record = record_of(jobs, shipped().ranges)
    assert record is not None
    assert "Of 20 finished jobs" in record.words
    # All of them dearer than quoted: no room is left below, and the book's own 10 % is halved.
    assert record.rates_low_percent == 5
    ranges = read(track_record.taken_up(made_up.BOOK, record)).ranges
    assert ranges.rates_low_percent == 5
    assert ranges.rates_high_percent == record.rates_high_percent


def test_a_finished_job_is_compared_at_cost() -> None:
    so_far = replace(
        made_up.accepted("terrace"),
        bookings=(booked(Item.CUT_SLOT, "4"), booked(Item.SET_BAR, "8"), booked(None, "5")),
    )
    assert track_record.of_job(so_far) is None
    done = track_record.of_job(replace(so_far, completion=DONE))
    chosen = made_up.option("terrace", "local")
    hours = sum(measured_hours(chosen.measure, shipped()).values())
    # 33.64 an hour is the gang's rate of the shipped book (published check in test_wage_rates).
    assert done == Finished(Money.of(hours * Decimal("33.64")), Money.of(12 * Decimal("33.64")))
    spent = Booking(DAY, None, Decimal(0), used=(Used("sand", Decimal(1), Money.of("88.20")),))
    with_goods = track_record.of_job(
        replace(so_far, completion=DONE, bookings=(*so_far.bookings, spent))
    )
    assert with_goods is not None
    assert with_goods.actual == Money.of("88.20") + done.actual
    bought = sum(one.cost.pence for one in chosen.offer.buying)
    assert with_goods.quoted == done.quoted + Money(bought)


def test_settings_may_be_changed_and_nonsense_is_refused() -> None:
    usual = settings.shipped()
    quiet = settings.with_tool(usual, "grinder", Decimal(4))
    assert quiet.vibration.tools["grinder"].m_s2 == 4
    assert usual.vibration.tools["grinder"].m_s2 == 8
    for key, value in (("spoon", Decimal(4)), ("grinder", Decimal(0)), ("grinder", Decimal(101))):
        with pytest.raises(UserMistake):
            settings.with_tool(usual, key, value)
