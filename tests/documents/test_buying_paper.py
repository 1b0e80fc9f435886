"""The buying list on paper: whole packs by counter, and only what a variation added."""

from __future__ import annotations

from decimal import Decimal

import pytest

from estimator.contract.so_far import SoFar
from estimator.documents import buying_paper
from estimator.documents.agreed_content import AgreedPaper, Bigs
from estimator.money import Money, total
from estimator.works.buying_list import buying_list, more_to_buy
from estimator.works.suppliers import MOST_LETTERS, folded
from tests.documents import made_up
from tests.documents import works_fixtures as works
from tests.documents.reading import flat, pages
from tests.works.made_up import JOBS

SUPPLIERS = {"facing_brick": "Reclaimed Brick Yard", "grout": "Fixings by Post"}


def content(so_far: SoFar, suppliers: dict[str, str] | None = None) -> AgreedPaper:
    return buying_paper.content_of(
        so_far, trader=made_up.trader(), number="", date=works.DATE, suppliers=suppliers
    )


def text(so_far: SoFar, suppliers: dict[str, str] | None = None) -> str:
    made = buying_paper.render(
        so_far, trader=made_up.trader(), number="", date=works.DATE, suppliers=suppliers
    )
    return flat("\n".join(pages(made)))


def pounds(cell: object) -> Money:
    return Money(int(Decimal(str(cell).replace(",", "")) * 100))


@pytest.mark.parametrize("name", JOBS)
def test_every_pack_has_its_row_its_box_and_its_cost_and_they_add_up(name: str) -> None:
    so_far = works.planned(name)
    listed = buying_list(so_far)
    (grid,) = works.grids(content(so_far), "buying")
    rows = list(grid.rows)
    wanted = [(f"{one.packs} ×", one.title) for group in listed.groups for one in group.things]
    assert [(row.cells[1], row.cells[2]) for row in rows] == wanted
    assert len(works.boxes(content(so_far), "buying")) == len(rows)
    assert total(pounds(row.cells[5]) for row in rows) == listed.cost
    bigs = next(one for one in content(so_far).parts if isinstance(one, Bigs))
    assert pounds(bigs.items[-1].figure.removeprefix("£")) == listed.cost


def test_things_stand_under_the_counter_they_come_from() -> None:
    so_far = works.planned("quoin_cavity")
    (grid,) = works.grids(content(so_far, SUPPLIERS), "buying")
    under = {group.title: [row.cells[2] for row in group.rows] for group in grid.groups}
    assert set(under) == {"At the merchant's", *SUPPLIERS.values()}
    assert under["Reclaimed Brick Yard"] == ["Facing brick to match, sought singly"]
    for group in grid.groups:
        assert pounds(group.beside) == total(pounds(row.cells[5]) for row in group.rows)


def test_a_counter_is_printed_as_its_name_is_typed_once() -> None:
    typed = {
        "facing_brick": "<b>Reclaimed</b> & <font color='red'>Brick</font> Yard",
        "grout": "W" * MOST_LETTERS,
        "bar_1500": "&amp; <para>",
        "bar_3000": "&AMP;  <Para>\n",
        "sand": "<a href='https://example.com'>",
    }
    so_far = works.planned("quoin_cavity")
    (grid,) = works.grids(content(so_far, typed), "buying")
    titles = [group.title for group in grid.groups]
    assert len(titles) == len({folded(title) for title in titles})
    said = text(so_far, typed)
    for title in titles:
        assert said.count(flat(title)) == 1
    assert titles[0] == "W" * MOST_LETTERS


def test_what_a_variation_added_is_listed_by_itself() -> None:
    so_far = works.under_way("quoin_cavity")
    more = more_to_buy(so_far, "a")
    assert more.groups
    (grid,) = works.grids(content(so_far), "more")
    assert grid.title == "Only what V-0001 added"
    assert [row.cells[2] for row in grid.rows] == [
        one.title for group in more.groups for one in group.things
    ]


def test_nothing_is_listed_twice_before_anything_was_varied() -> None:
    assert not list(works.grids(content(works.planned()), "more"))
    assert "Onlywhat" not in text(works.planned())


def test_it_says_by_when_and_what_to_look_at() -> None:
    said = text(works.planned("quoin_cavity"))
    assert "Mon14Dec" in said
    assert flat("Take a sound brick along") in said
    assert flat("Look at the date") in said
