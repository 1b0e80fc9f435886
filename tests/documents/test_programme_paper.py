"""The programme on paper: days where they belong, holidays crossed, cold told, none made up."""

from __future__ import annotations

import datetime
import re
from dataclasses import replace

import pypdfium2
import pytest

from estimator.contract.works import Nation, Plan
from estimator.documents import programme_paper, styles
from estimator.documents.agreed_content import Bigs
from estimator.documents.works_content import Chart
from estimator.works.programme import TaskKind, finish, programme
from tests.documents import made_up
from tests.documents import works_fixtures as works
from tests.documents.reading import flat, pages, placed

CHRISTMAS = Plan(datetime.date(2026, 12, 24), ("Ada Pike", "Ben Tarn"))
SCALE = 3


def content(plan: Plan, name: str = "terrace", scope: str = "panel") -> list[object]:
    made = programme_paper.content_of(
        works.planned(name, scope, plan), trader=made_up.trader(), number="", date=works.DATE
    )
    return list(made.parts)


def chart(plan: Plan, name: str = "terrace", scope: str = "panel") -> Chart:
    return next(one for one in content(plan, name, scope) if isinstance(one, Chart))


def render(plan: Plan | None, name: str = "terrace", scope: str = "panel") -> bytes:
    so_far = replace(works.planned(name, scope), plan=plan)
    return programme_paper.render(so_far, trader=made_up.trader(), number="", date=works.DATE)


def test_bank_holidays_are_marked_with_their_names() -> None:
    # GOV.UK bank holidays, England and Wales, from memory: Christmas Day, Friday 25 December 2026;
    # Boxing Day falls on a Saturday, its substitute is Monday 28; New Year's Day, Friday 1 January.
    shown = dict(chart(CHRISTMAS).holidays)
    assert list(shown) == [
        datetime.date(2026, 12, 25),
        datetime.date(2026, 12, 28),
        datetime.date(2027, 1, 1),
    ]
    assert "Christmas" in shown[datetime.date(2026, 12, 25)]
    said = flat(pages(render(CHRISTMAS))[0])
    assert flat("25 December (Christmas Day)") in said
    assert "bankholidayorclosed" in said


def test_the_holidays_are_those_of_the_nation() -> None:
    # GOV.UK, from memory: 2 January is a holiday in Scotland alone; in 2027 it is a Saturday,
    # kept on Monday 4.
    scottish = replace(CHRISTMAS, nation=Nation.SCOTLAND, start=datetime.date(2026, 12, 30))
    assert datetime.date(2027, 1, 4) in dict(chart(scottish).holidays)
    english = replace(CHRISTMAS, start=datetime.date(2026, 12, 30))
    assert datetime.date(2027, 1, 4) not in dict(chart(english).holidays)


def test_closed_days_are_marked_and_days_off_of_the_week_are_not_holidays() -> None:
    closed = datetime.date(2026, 12, 15)
    plan = replace(works.PLAN, closed=(closed, datetime.date(2026, 12, 19)))
    assert [day for day, _why in chart(plan).holidays] == [closed]


def _columns(paper: bytes) -> list[int]:
    """Columns of the page in which the full colour of a day on site is seen."""
    with pypdfium2.PdfDocument(paper) as opened:
        image = opened[0].render(scale=SCALE).to_pil().convert("RGB")
    wanted = tuple(round(255 * part) for part in styles.ACT.rgb())
    wide, high = image.size
    pixels = image.load()
    return [
        x
        for x in range(wide)
        if sum(pixels[x, y] == wanted for y in range(high)) >= 10 * SCALE  # a bar is 13 pt high
    ]


def _runs(columns: list[int]) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for x in columns:
        if found and x - found[-1][1] <= 1:
            found[-1] = (found[-1][0], x)
        else:
            found.append((x, x))
    # The key under the chart and rounded ends are narrow.
    return [run for run in found if run[1] - run[0] > 5 * SCALE]


def test_a_visit_over_christmas_is_drawn_only_on_days_somebody_is_there() -> None:
    tasks = programme(works.planned("terrace", "panel", CHRISTMAS))
    (visit, *_more) = [one for one in tasks if one.kind is TaskKind.VISIT]
    assert visit.first == datetime.date(2026, 12, 24)
    assert visit.last > datetime.date(2026, 12, 28)
    runs = _runs(_columns(render(CHRISTMAS)))
    key = [run for run in runs if run[0] < (styles.MARGIN + 60) * SCALE]
    assert len(runs) - len(key) == 2
    # From 24 to 29 December lie four days on which nobody works.
    before, after = (run for run in runs if run not in key)
    day = (styles.WIDTH - 172) / 14 * SCALE
    assert 3.7 * day < after[0] - before[1] < 4.3 * day


@pytest.mark.parametrize("name", ["terrace", "quoin_cavity", "window_lime"])
def test_every_task_has_its_row_and_its_bar(name: str) -> None:
    so_far = works.planned(name, "panel")
    tasks, said = programme(so_far), flat(pages(render(works.PLAN, name))[0])
    drawn = chart(works.PLAN, name).tasks
    assert [(one.title, one.first, one.last) for one in drawn] == [
        (one.title, one.first, one.last) for one in tasks
    ]
    for one in tasks:
        assert flat(one.title) in said
    done = finish(so_far)
    assert done is not None
    assert flat(f"last day {done:%a} {done.day} {done:%b}") in said
    bigs = next(one for one in content(works.PLAN, name) if isinstance(one, Bigs))
    assert bigs.items[1].figure == f"{done:%a} {done.day} {done:%b}"
    assert bigs.items[1].under == str(done.year)


def test_half_a_day_is_drawn_as_half_a_day() -> None:
    drawn = chart(works.PLAN).tasks
    tasks = programme(works.planned("terrace", "panel"))
    assert [one.is_half for one in drawn] == [one.is_worked and one.days % 1 != 0 for one in tasks]
    assert any(one.is_half for one in drawn)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        # NHBC Standards 3.2.5: not below 3 °C; lime producers' guidance: not below 5 °C.
        ("terrace", "Cement, lime and sand 1:1:6: not below 3 °C"),
        ("window_lime", "Hydraulic lime and sand 1:3: not below 5 °C"),
    ],
)
def test_cold_that_stops_the_work_is_told_by_its_mortar(name: str, words: str) -> None:
    said = flat(pages(render(works.PLAN, name))[0])
    assert flat(words) in said
    assert flat("Weather permitting") in said


def test_what_is_not_planned_yet_has_no_days() -> None:
    said = "\n".join(pages(render(None)))
    assert "No day is set yet" in said
    assert not re.search(r"(Mon|Tue|Wed|Thu|Fri) \d", said)


def test_an_early_start_within_the_time_to_cancel_is_said() -> None:
    plan = Plan(datetime.date(2026, 11, 30))
    # A household has fourteen days: Consumer Contracts Regulations 2013, reg. 30, from memory.
    assert flat("The customer may still cancel") in flat(
        "".join(pages(render(plan, "window_lime")))
    )
    assert flat("may still cancel") not in flat("".join(pages(render(works.PLAN, "window_lime"))))


def test_a_programme_of_a_year_fits_its_page() -> None:
    plan = replace(works.PLAN, not_before=(("look_in/1", datetime.date(2027, 11, 1)),))
    made = render(plan, "window_lime")
    assert max(run.right for run in placed(made)) <= styles.PAGE_WIDTH - styles.MARGIN + 2.5
    assert "Nov 2027" in flat("".join(pages(made))).replace("Nov2027", "Nov 2027")
