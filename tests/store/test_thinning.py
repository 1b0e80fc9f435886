"""Thinning never lets the last good backup go, whatever is broken and whatever the clock says."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.store.thinning import DAYS, LAST, MONTHS, to_drop

START = datetime(2026, 1, 1, 8, tzinfo=UTC)


@dataclass(frozen=True)
class Made:
    sequence: int
    made_at: datetime
    good: bool = True


def is_good(one: Made) -> bool:
    return one.good


def thinned(backups: list[Made]) -> list[Made]:
    gone = set(to_drop(backups, is_good))
    return [one for one in backups if one not in gone]


def day_of(one: Made) -> str:
    return f"{one.made_at:%Y-%m-%d}"


def month_of(one: Made) -> str:
    return f"{one.made_at:%Y-%m}"


@pytest.mark.parametrize("seed", range(2))
def test_800_days_with_one_in_ten_bad_keep_a_good_one_in_every_slot(seed: int) -> None:
    chance = random.Random(seed)
    kept: list[Made] = []
    good: list[Made] = []
    days: dict[str, None] = {}
    months: dict[str, None] = {}
    for day in range(800):
        for hour in (0, 3, 6):
            moment = START + timedelta(days=day, hours=hour)
            made = Made(day * 10 + hour, moment, good=chance.random() >= 0.1)
            if made.good:
                good.append(made)
                days[day_of(made)] = months[month_of(made)] = None
            kept = thinned([*kept, made])
        sound = [one for one in kept if one.good]
        where = f"seed {seed}, day {day}"
        assert sound, where
        assert sound[-LAST:] == good[-LAST:], where
        assert set(list(days)[-DAYS:]) <= {day_of(one) for one in sound}, where
        assert set(list(months)[-MONTHS:]) <= {month_of(one) for one in sound}, where
        assert len(sound) <= LAST + DAYS + MONTHS, where


@pytest.mark.parametrize("seed", range(2))
def test_the_last_good_one_is_never_the_one_to_go(seed: int) -> None:
    chance = random.Random(seed)
    kept: list[Made] = []
    survived = 0
    for day in range(300):
        made = Made(day, START + timedelta(days=day), good=chance.random() >= 0.8)
        # One in twenty of what was sound yesterday is unreadable today.
        kept = [Made(o.sequence, o.made_at, o.good and chance.random() >= 0.05) for o in kept]
        before = [*kept, made]
        kept = thinned(before)
        had = any(one.good for one in before)
        survived += had
        assert any(one.good for one in kept) == had, f"seed {seed}, day {day}"
    assert survived > 200


def test_where_none_is_good_none_goes() -> None:
    bad = [Made(number, START + timedelta(hours=number), good=False) for number in range(100)]
    assert to_drop(bad, is_good) == ()


def test_the_only_good_one_stays_however_old_it_is() -> None:
    old = Made(0, START)
    bad = [Made(number, START + timedelta(days=number), good=False) for number in range(1, 400)]
    assert old in thinned([old, *bad])


@pytest.mark.parametrize(
    "jump", [timedelta(days=-365), timedelta(days=365), datetime(2038, 1, 20, tzinfo=UTC) - START]
)
def test_a_clock_that_jumps_makes_nothing_go_but_the_usual(jump: timedelta) -> None:
    before = [Made(number, START + timedelta(days=number)) for number in range(40)]
    kept = thinned(before)
    jumped = Made(40, START + timedelta(days=40) + jump)
    gone = set(kept) - set(thinned([*kept, jumped]))
    assert len(gone) <= 1
    assert jumped in thinned([*kept, jumped])


def test_a_long_holiday_makes_nothing_go() -> None:
    kept = thinned([Made(number, START + timedelta(days=number)) for number in range(40)])
    after = Made(40, START + timedelta(days=900))
    assert len(thinned([*kept, after])) >= len(kept)


@given(
    st.lists(
        st.tuples(st.datetimes(timezones=st.just(UTC)), st.booleans()), min_size=1, max_size=120
    )
)
def test_any_history_keeps_the_last_ten_good(history: list[tuple[datetime, bool]]) -> None:
    backups = [Made(place, moment, good) for place, (moment, good) in enumerate(history)]
    good = [one for one in backups if one.good]
    kept = thinned(backups)
    assert set(good[-LAST:]) <= set(kept)
    assert thinned(kept) == kept
