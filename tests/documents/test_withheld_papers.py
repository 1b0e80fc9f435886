"""Work on the wall that no agreed paper covers: the gang leaves it, and nobody claims it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from estimator.contract.agreed_work import not_agreed
from estimator.contract.so_far import SoFar
from estimator.contract.variation import Standing
from estimator.contract.works import Built
from estimator.documents import as_built_paper, buying_paper, completion_paper, programme_paper
from estimator.documents import site_sheet as paper
from estimator.documents.agreed_content import Bigs, Ledger, Prose
from estimator.documents.works_content import Alert, Framed, Plate
from estimator.works.as_built import as_built
from estimator.works.withheld import withheld, withheld_marks, work_agreed
from tests.documents import made_up
from tests.documents import works_fixtures as works
from tests.documents.reading import flat, pages
from tests.works import made_up as jobs

JOB = "quoin_cavity"


def sheet_text(so_far: SoFar) -> str:
    made = paper.render(so_far, trader=made_up.trader(), number="S-0001", date=works.DATE)
    return flat("\n".join(pages(made)))


def completion_text(so_far: SoFar) -> str:
    made = completion_paper.render(
        so_far, trader=made_up.trader(), number="S-0002", date=works.DONE, pictures={}
    )
    return flat("\n".join(pages(made)))


def test_work_that_is_not_agreed_is_framed_on_the_first_page_of_the_site_sheet() -> None:
    """Found wanting: bars of a crack that was declined stood among the others, to be cut."""
    so_far = jobs.declined_then_agreed()
    assert not_agreed(so_far)
    made = paper.content_of(so_far, trader=made_up.trader(), number="S-0001", date=works.DATE)
    alert, framed, plate = made.parts[:3]
    assert isinstance(alert, Alert)
    assert isinstance(framed, Framed)
    assert isinstance(plate, Plate)
    assert "Not agreed yet: do not build it" in framed.title
    bars = next(one for one in framed.items if "bar" in one)
    assert "Bar 1, bed under course 4" in bars
    printed = paper.render(so_far, trader=made_up.trader(), number="S-0001", date=works.DATE)
    assert flat("do not build it") in flat(pages(printed)[0])


def test_each_bar_that_is_not_agreed_says_so_in_its_row_and_no_other_does() -> None:
    so_far = jobs.declined_then_agreed()
    made = paper.content_of(so_far, trader=made_up.trader(), number="S-0001", date=works.DATE)
    rows = [row for grid in works.grids(made, "bars") for row in grid.rows]
    told = {str(row.cells[1]) for row in rows if "Not agreed" in row.under}
    crack = replace(so_far, variations=(replace(so_far.variations[0], standing=Standing.AGREED),))
    agreed = {bar.course for bar in work_agreed(works.planned(JOB)).measure.bars}
    more = {bar.course for bar in work_agreed(crack).measure.bars} - agreed
    assert told == {str(course) for course in more}


def test_what_is_not_agreed_is_on_no_line_of_what_was_done() -> None:
    """Found wanting: the completion paper claimed metres of bar nobody had agreed to."""
    so_far = jobs.declined_then_agreed()
    patched = works.planned(JOB)
    patched = replace(
        patched,
        variations=(jobs.valued(patched, jobs.with_a_patch(jobs.survey(JOB))),),
    )

    def done(one: SoFar) -> dict[str, str]:
        made = completion_paper.content_of(
            one, trader=made_up.trader(), number="S-0002", date=works.DONE, pictures={}
        )
        (ledger,) = [part for part in made.parts if isinstance(part, Ledger)]
        return {line.text: line.figures[0] for line in ledger.lines}

    # What was done is what it would be if the crack had never been drawn.
    assert done(so_far) == done(patched)
    text = completion_text(so_far)
    assert flat("ask nothing for it") in text
    assert flat("Bar 1, bed under course 4") in text


def test_a_bar_not_agreed_is_among_the_bars_only_where_it_was_noted_as_set() -> None:
    so_far = jobs.declined_then_agreed()
    alone = withheld_marks(withheld(so_far))
    (mark, *_others) = sorted(mark for mark in alone if "/bar/" in mark)
    assert not alone & {bar.id for bar in work_agreed(so_far).measure.bars}
    noted = replace(so_far, built=(Built(mark, works.START, "bar set"),))
    assert alone & {bar.id for bar in work_agreed(noted).measure.bars} == {mark}


@pytest.mark.parametrize("make", [works.planned, works.under_way])
def test_nothing_is_framed_where_all_is_agreed(make: object) -> None:
    so_far = make(JOB)  # type: ignore[operator]
    made = paper.content_of(so_far, trader=made_up.trader(), number="S-0001", date=works.DATE)
    assert not [part for part in made.parts if isinstance(part, Framed)]
    done = completion_paper.content_of(
        so_far, trader=made_up.trader(), number="", date=works.DONE, pictures={}
    )
    assert not [one for one in done.parts if isinstance(one, Prose) and one.key == "withheld"]


def test_what_was_sent_and_not_answered_is_not_started() -> None:
    so_far = works.planned(JOB)
    sent = jobs.valued(so_far, jobs.with_a_crack_below(), "a", Standing.SENT)
    text = sheet_text(replace(so_far, variations=(sent,)))
    assert flat("Sent, and no answer yet: V-0001") in text


def test_agreed_work_the_drawing_lacks_is_not_left_out_without_asking() -> None:
    """A variation that leaves work out is declined, and stands on the wall of the next."""
    so_far = works.planned(JOB)
    seen = jobs.survey(JOB)
    side, *others = seen.elevations
    fewer = replace(seen, elevations=(replace(side, bricks=side.bricks[1:]), *others))
    less = jobs.valued(so_far, fewer, "a", Standing.SENT)
    patch = jobs.valued(replace(so_far, variations=(less,)), jobs.with_a_patch(fewer), "b")
    now = replace(so_far, variations=(replace(less, standing=Standing.DECLINED), patch))
    assert any(not one.is_more for one in withheld(now))
    assert flat("Ring before you leave it out") in sheet_text(now)
    assert flat("Ask us about it") in completion_text(now)


def test_of_bricks_only_some_of_which_are_agreed_nobody_is_told_to_leave_all() -> None:
    """Two of four found bricks were allowed for in the contract; nothing says which two."""
    from tests.contract import made_up as contracts  # noqa: PLC0415 - another set of jobs
    from tests.contract.test_agreed_work import two  # noqa: PLC0415

    given, first, second = two()
    told = ((first, Standing.DECLINED), (second, Standing.AGREED))
    job = contracts.answered(given, *told)
    (one,) = withheld(job)
    assert one.is_some_of
    assert withheld_marks((one,)) == frozenset()
    assert flat("2 nr of these, ask the office which") in sheet_text(job)


def test_the_record_of_what_was_built_plans_and_misses_nothing_that_is_not_agreed() -> None:
    """Found wanting: bars that nobody agreed to were missing bars, and their checks missing."""
    so_far = jobs.declined_then_agreed()
    built = as_built(so_far)
    alone = withheld_marks(withheld(so_far))
    bars = {mark for mark in alone if "/bar/" in mark}
    assert bars
    assert not bars & {mark.mark for mark in built.marks}
    assert not bars & {point.mark for point in built.missing}
    made = as_built_paper.content_of(
        so_far, trader=made_up.trader(), number="", date=works.DONE, pictures={}
    )
    (bigs,) = [part for part in made.parts if isinstance(part, Bigs)]
    figures = {one.label: one.figure for one in bigs.items}
    count = len(work_agreed(so_far).measure.bars)
    assert figures["Bars noted"] == f"0 of {count}"


PACKS, DAYS = "Counted in here, and not agreed yet", "The days allow for this"


def buying_text(so_far: SoFar) -> str:
    made = buying_paper.render(so_far, trader=made_up.trader(), number="S-0003", date=works.DATE)
    return flat("\n".join(pages(made)))


def programme_text(so_far: SoFar) -> str:
    made = programme_paper.render(so_far, trader=made_up.trader(), number="S-0004", date=works.DATE)
    return flat("\n".join(pages(made)))


def test_packs_and_days_that_allow_for_what_is_not_agreed_say_so() -> None:
    """Found wanting: bars for a crack that was declined were bought with the others, unsaid."""
    so_far = jobs.declined_then_agreed()
    bars = next(one for one in withheld(so_far) if one.marks)
    assert flat(PACKS) in buying_text(so_far)
    assert flat(bars.places[0]) in buying_text(so_far)
    assert flat(DAYS) in programme_text(so_far)
    assert flat(bars.places[0]) in programme_text(so_far)


def test_packs_and_days_of_agreed_work_alone_say_nothing_of_it() -> None:
    so_far = works.planned(JOB)
    assert not withheld(so_far)
    assert flat(PACKS) not in buying_text(so_far)
    assert flat(DAYS) not in programme_text(so_far)
