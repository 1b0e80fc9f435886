"""The figures inside entries: found, named, and put back without touching anything else."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest

from estimator import resources
from estimator.desktop.price_book.figure import (
    figures_of,
    main_figure,
    rate_words,
    sources_of,
    with_figure,
)
from estimator.money import Money
from estimator.notices import UserMistake
from estimator.pricing import price_book
from estimator.store import book_parts
from estimator.store.book_parts import Entry, Kind

PARTS = book_parts.taken_apart(resources.path("price_book.json").read_text(encoding="utf-8"))
ENTRIES = {(one.kind, one.code): one for one in PARTS.entries}


def entry(kind: Kind, code: str) -> Entry:
    return ENTRIES[kind, code]


def test_putting_a_figure_back_changes_nothing_that_counts() -> None:
    for one in PARTS.entries:
        for figure in figures_of(one):
            same = with_figure(one, figure.path, figure.value)
            assert json.loads(same.body) == json.loads(one.body), one.code
            assert (same.key, same.title, same.group) == (one.key, one.title, one.group)


def test_another_figure_changes_that_figure_alone() -> None:
    for one in PARTS.entries:
        found = figures_of(one)
        for place, figure in enumerate(found):
            changed = figures_of(with_figure(one, figure.path, figure.value + 1))
            differ = [now.value - was.value for now, was in zip(changed, found, strict=True)]
            assert differ == [int(at == place) for at in range(len(found))], one.code


def test_every_figure_of_an_entry_has_a_name_of_its_own() -> None:
    for one in PARTS.entries:
        labels = [figure.label for figure in figures_of(one)]
        assert len(labels) == len(set(labels)), (one.code, labels)
        assert all("_" not in label for label in labels)


def test_the_book_still_prices_with_a_changed_output() -> None:
    output = entry(Kind.OUTPUT, "lap_bar")
    changed = with_figure(output, figures_of(output)[0].path, Decimal("0.2"))
    entries = tuple(changed if one.key == output.key else one for one in PARTS.entries)
    text = book_parts.put_together(book_parts.Parts(PARTS.title, PARTS.dated, False, entries))
    assert price_book.read(text) != price_book.shipped()


def test_the_figure_in_the_table_is_the_price_or_the_only_hours() -> None:
    sand, lap = (
        main_figure(entry(Kind.MATERIAL, "sand")),
        main_figure(entry(Kind.OUTPUT, "lap_bar")),
    )
    assert sand is not None and sand.path == ("pack_price",) and sand.is_money
    assert lap is not None and lap.value == Decimal("0.1") and not lap.is_money
    assert main_figure(entry(Kind.OUTPUT, "replace_brick")) is None


def test_hours_are_told_from_the_softest_mortar_to_the_hardest() -> None:
    # 0.4 + 0.35 in lime, 0.65 + 0.35 in hard cement.
    assert rate_words(entry(Kind.OUTPUT, "replace_brick")) == "0.75 to 1 h"
    assert rate_words(entry(Kind.OUTPUT, "lap_bar")) == "0.1 h"
    assert rate_words(entry(Kind.SETTING, "travel")) == "£0.55"
    assert rate_words(entry(Kind.SETTING, "timing")) == ""


def test_sources_are_found_in_every_step() -> None:
    assert sources_of(entry(Kind.OUTPUT, "cut_slot")) == ("us_cost_book", "house")
    assert sources_of(entry(Kind.SETTING, "repointing")) == ("us_cost_book", "house")


def test_an_article_is_priced_in_whole_pence() -> None:
    article = Entry(Kind.ITEM, "A1", "Ties", "Example Supplies", price=Money.of("6.20"))
    assert with_figure(article, (), Decimal("6.45")).price == Money.of("6.45")
    with pytest.raises(UserMistake, match="penny"):
        with_figure(article, (), Decimal("6.455"))
