"""What is withheld is what nobody agreed to, by place where places tell."""

from __future__ import annotations

from estimator.works.site_work import site_work
from estimator.works.withheld import withheld, withheld_marks, work_agreed
from tests.documents import works_fixtures as works
from tests.works import made_up

JOB = "quoin_cavity"


def test_bars_withheld_are_those_the_declined_crack_brought_whatever_their_numbers() -> None:
    so_far = made_up.declined_then_agreed()
    before = {(bar.course, bar.left_mm) for bar in site_work(made_up.accepted(JOB)).measure.bars}
    bars = {bar.id: bar for bar in site_work(so_far).measure.bars}
    alone = withheld_marks(withheld(so_far))
    told = {(bars[mark].course, bars[mark].left_mm) for mark in alone if mark in bars}
    assert told == {(bar.course, bar.left_mm) for bar in bars.values()} - before
    assert told


def test_work_agreed_is_the_work_of_the_site_where_all_is_agreed() -> None:
    so_far = works.under_way(JOB)
    assert withheld(so_far) == ()
    assert work_agreed(so_far) == site_work(so_far)
