"""Many rates at once: shown first, all or nothing, and taken back by one undo."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError

from estimator.money import Money
from estimator.notices import UserMistake
from estimator.store import bulk, catalogue, price_books
from estimator.store.book_parts import Entry, Kind, with_body
from estimator.store.bulk import Article, Uplift
from estimator.store.clock import now
from estimator.store.database import Database
from estimator.store.tables import IssuedPapers, Jobs
from tests.store import priced_file

HASH = "0" * 64


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    with priced_file.opened(tmp_path) as opened:
        yield opened


def dump(database: Database) -> list[tuple[object, ...]]:
    """Every row of every table but the list of batches, which tells of undone ones too, and the
    inside of the search indexes, which search compares by what they find.
    """
    tables = database.raw.execute(
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'batches'"
        " AND name NOT GLOB 'search_words*' AND name NOT GLOB 'search_codes*'"
        " AND name <> 'search_vocabulary' ORDER BY name"
    ).fetchall()
    assert len(tables) > 10
    return [
        (name, *row)
        for (name,) in tables
        for row in sorted(database.raw.execute(f'SELECT * FROM "{name}"'), key=repr)
    ]


def article(number: int, price: int = 500, **said: object) -> Article:
    plain = Article(
        f"E-{number}",
        f"Thing {number}",
        "kg",
        "KGM",
        "bag",
        Decimal(25),
        Money(price),
        "Eastmere Supplies",
        "Mortars",
        row=number + 2,
    )
    return replace(plain, **said)


def one(database: Database, code: str) -> Entry:
    (found,) = catalogue.named(database, code)
    return found


# Uplift


def test_an_uplift_is_shown_before_it_is_made(database: Database) -> None:
    before = dump(database)
    shown = {change.new.code: change for change in bulk.preview(database, Uplift(Decimal("2.5")))}
    assert dump(database) == before
    # 4.10 × 1.025 = 4.2025, 23.50 × 1.025 = 24.0875, 11.20 × 1.025 = 11.48, worked by hand.
    assert [str(shown[code].prices[1]) for code in ("bar_1000", "grout", "bar_3000")] == [
        *("4.20", "24.09", "11.48"),
    ]
    bulk.apply(database, Uplift(Decimal("2.5")))
    assert one(database, "grout").price == Money.of("24.09")


def test_half_a_penny_is_rounded_up(database: Database) -> None:
    bulk.apply_import(database, [article(1, 50)], "list")
    bulk.apply(database, Uplift(Decimal(5), "Mortars"))
    # 0.50 × 1.05 = 0.525
    assert one(database, "E-1").price == Money(53)


def test_what_is_bought_rises_and_pay_does_not(database: Database) -> None:
    kinds = {change.new.kind for change in bulk.preview(database, Uplift(Decimal(4)))}
    assert kinds == {Kind.MATERIAL, Kind.BAR, Kind.PLANT, Kind.SETTING}
    settings_lifted = {
        change.new.code
        for change in bulk.preview(database, Uplift(Decimal(4)))
        if change.new.kind is Kind.SETTING
    }
    assert settings_lifted == {"access", "travel", "preliminaries"}


def test_every_sum_of_an_entry_rises_with_it(database: Database) -> None:
    (access,) = bulk.preview(database, Uplift(Decimal(10), "access"))
    assert {name: (old, new) for name, old, new in access.amounts} == {
        "hop_up": (Decimal("6.00"), Decimal("6.60")),
        "tower": (Decimal("48.00"), Decimal("52.80")),
        "tower_a_week": (Decimal("78.00"), Decimal("85.80")),
        "scaffold_a_m2": (Decimal("17.00"), Decimal("18.70")),
        "scaffold_a_week": (Decimal("80.00"), Decimal("88.00")),
    }


def test_pay_rises_where_its_group_is_named(database: Database) -> None:
    bulk.apply(database, Uplift(Decimal(10), "LABOUR"))
    assert price_books.load(database).labour.bricklayer.basic == Decimal("18.70")


def test_an_illustration_made_dearer_is_an_illustration_still(database: Database) -> None:
    bulk.apply(database, Uplift(Decimal(3)))
    assert not one(database, "grout").confirmed


@pytest.mark.parametrize(
    ("uplift", "said"),
    [
        (Uplift(Decimal(501)), "out of bounds"),
        (Uplift(Decimal(-91)), "out of bounds"),
        (Uplift(Decimal(3), "Hats"), "no prices are in the group 'Hats'"),
        (Uplift(Decimal(3), "Work"), "no prices are in the group 'Work'"),
        (Uplift(Decimal("0.001"), "Bars"), "no price changes by that"),
    ],
)
def test_an_uplift_that_can_do_nothing_good_is_refused(
    database: Database, uplift: Uplift, said: str
) -> None:
    before = dump(database)
    with pytest.raises(UserMistake, match=said):
        bulk.apply(database, uplift)
    assert dump(database) == before


# Suppliers' lists


def test_new_changed_and_unchanged_are_told_apart(database: Database) -> None:
    assert bulk.preview_import(database, [article(1), article(2)]).changed == ()
    bulk.apply_import(database, [article(1), article(2), article(3)], "May")
    shown = bulk.preview_import(
        database, [article(1), article(2, 550), article(3, title="Thing three"), article(4)]
    )
    assert [change.new.code for change in shown.new] == ["E-4"]
    assert [(change.new.code, change.prices, change.row) for change in shown.changed] == [
        ("E-2", (Money(500), Money(550)), 4),
        ("E-3", (Money(500), Money(500)), 5),
    ]
    assert shown.unchanged == 1


def test_another_suppliers_code_is_another_article(database: Database) -> None:
    bulk.apply_import(database, [article(1)], "May")
    bulk.apply_import(database, [article(1, 700, supplier="Westmere")], "June")
    assert [entry.price for entry in catalogue.named(database, "E-1")] == [Money(500), Money(700)]


def test_a_list_without_codes_is_known_again_by_titles(database: Database) -> None:
    bulk.apply_import(database, [article(1, code="")], "May")
    shown = bulk.preview_import(database, [article(1, 600, code="")])
    assert [change.prices for change in shown.changed] == [(Money(500), Money(600))]


def test_a_list_that_says_less_takes_nothing_away(database: Database) -> None:
    bulk.apply_import(database, [article(1, notes="ring first")], "May")
    bare = article(1, 600, pack="", group="", notes="")
    bulk.apply_import(database, [bare], "June")
    entry = one(database, "E-1")
    assert (entry.pack, entry.group, entry.notes) == ("bag", "Mortars", "ring first")


def test_the_same_list_again_makes_no_book(database: Database) -> None:
    bulk.apply_import(database, [article(1)], "May")
    before = dump(database)
    assert bulk.apply_import(database, [article(1)], "May again") is None
    assert dump(database) == before


def test_a_material_of_the_engine_takes_the_price_of_its_code(database: Database) -> None:
    sand = article(1, 480, code="sand", title="Sharp sand", supplier="", group="", pack="")
    bulk.apply_import(database, [sand], "own list")
    material = price_books.load(database).materials["sand"]
    assert (str(material.pack_price), material.title, material.pack) == (
        *("4.80", "Sharp sand", "bag"),
    )
    assert one(database, "sand").kind is Kind.MATERIAL


def test_bars_take_a_price_and_keep_their_length(database: Database) -> None:
    bar = article(1, 444, code="bar_1000", supplier="", unit="nr", pack_size=Decimal(1))
    bulk.apply_import(database, [bar], "own list")
    stock = price_books.load(database).bars.stocks[0]
    assert (stock.length_mm, stock.price_pence) == (1000, 444)


def test_our_own_catalogue_read_back_changes_and_confirms_nothing(database: Database) -> None:
    bulk.apply_import(database, [article(1)], "May")
    sold = [
        entry
        for entry in catalogue.entries(database, limit=1000)
        if entry.kind in {Kind.MATERIAL, Kind.BAR, Kind.ITEM} and entry.price is not None
    ]
    back = [
        Article(
            *(entry.code, entry.title, entry.unit, "", "", Decimal(entry.pack_size)),
            *(entry.price or Money(0), entry.supplier, entry.group, entry.notes),
        )
        for entry in sold
    ]
    assert len(back) == 13
    assert bulk.preview_import(database, back) == bulk.Arrival((), (), 13)


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([article(1, -1)], "row 3 has a price below nothing"),
        ([article(1), article(9, code="E-1")], "rows 3 and 11 are both 'E-1'"),
        ([article(1, pack_size=Decimal(0))], "row 3 has nothing in its pack"),
        ([article(1, code="", title=" ")], "row 3 has neither code nor title"),
    ],
)
def test_a_row_that_cannot_be_kept_keeps_the_list_out(
    database: Database, rows: list[Article], said: str
) -> None:
    before = dump(database)
    with pytest.raises(UserMistake, match=said):
        bulk.apply_import(database, [article(5), *rows], "bad")
    assert dump(database) == before


def test_a_list_failing_at_any_row_leaves_no_row_behind(database: Database) -> None:
    """Row 21 of the table of promises: fail at each of 50 rows, 0 rows in."""
    rows = [article(number) for number in range(50)]
    before = list(database.raw.iterdump())
    for number, row in enumerate(rows):
        # By turns on the way into the one table and into the other.
        table, column = (("catalogue_items", "code"), ("catalogue_rates", "title"))[number % 2]
        database.raw.execute(
            f"CREATE TEMP TRIGGER stop BEFORE INSERT ON main.{table}"
            f" WHEN NEW.{column} = '{getattr(row, column)}'"
            " BEGIN SELECT RAISE(ABORT, 'stopped here'); END"
        )
        with pytest.raises(IntegrityError, match="stopped here"):
            bulk.apply_import(database, rows, "stopped")
        database.raw.execute("DROP TRIGGER temp.stop")
    assert list(database.raw.iterdump()) == before
    assert bulk.apply_import(database, rows, "let through") is not None


def test_stopping_half_way_leaves_nothing(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("estimator.store.book_rows.AT_ONCE", 10)
    seen: list[tuple[int, int]] = []

    def stop(done: int, count: int) -> None:
        seen.append((done, count))
        if done == 60:
            raise KeyboardInterrupt

    before = dump(database)
    with pytest.raises(KeyboardInterrupt):
        rows = [article(number) for number in range(50)]
        bulk.apply_import(database, rows, "stopped", progress=stop)
    assert seen == [(done, 100) for done in range(10, 70, 10)]
    assert dump(database) == before


# Undo


def test_one_undo_gives_the_catalogue_back(database: Database) -> None:
    bulk.apply_import(database, [article(number) for number in range(10)], "May")
    before = dump(database)
    rows = [article(number, 600) for number in range(5, 60)]
    batch = bulk.apply_import(database, rows, "June")
    assert batch is not None
    assert bulk.undo(database, batch.id) == batch
    assert dump(database) == before
    undone = price_books.batches(database)[-1]
    assert (undone.title, undone.book, undone.undone_at is None) == ("June", None, False)


def test_only_the_newest_change_is_taken_back(database: Database) -> None:
    older = bulk.apply(database, Uplift(Decimal(2)))
    newer = bulk.apply(database, Uplift(Decimal(3)))
    with pytest.raises(UserMistake, match="later changes rest on it"):
        bulk.undo(database, older.id)
    bulk.undo(database, newer.id)
    with pytest.raises(UserMistake, match="taken back already"):
        bulk.undo(database, newer.id)
    bulk.undo(database)
    with pytest.raises(UserMistake, match="no change of prices to take back"):
        bulk.undo(database)


def test_a_change_a_paper_was_priced_with_stays(database: Database) -> None:
    batch = bulk.apply(database, Uplift(Decimal(2)))
    with database.writing() as connection:
        connection.execute(
            insert(Jobs).values(
                *(),
                id=1,
                uid="j",
                title="",
                site="",
                stage="",
                notes="",
                made_at=now(),
                changed_at=now(),
            )
        )
        connection.execute(
            insert(IssuedPapers).values(
                number="Q-2027-001",
                kind="quotation",
                job_id=1,
                book_id=batch.book,
                content="",
                content_sha256=HASH,
                pdf=b"",
                pdf_sha256=HASH,
                issued_at=now(),
            )
        )
    before = dump(database)
    with pytest.raises(UserMistake, match="Q-2027-001 went out priced with it"):
        bulk.undo(database)
    assert dump(database) == before


# Any order of changes


@pytest.fixture(scope="module")
def much_used(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    """One file for every example, each of which ends where it began."""
    with priced_file.opened(tmp_path_factory.mktemp("much_used")) as opened:
        yield opened


numbers = st.integers(0, 12)
steps = st.one_of(
    st.tuples(
        st.just("change"), st.sampled_from(["sand", "grout", "cement"]), st.integers(0, 9999)
    ),
    st.tuples(st.just("uplift"), st.sampled_from(["", "Bars", "Mortars"]), st.integers(-50, 90)),
    st.tuples(st.just("import"), st.sets(numbers, min_size=1), st.integers(1, 9999)),
    st.tuples(st.just("drop"), numbers, st.none()),
    st.tuples(st.just("confirm"), st.sampled_from(["", "Bars", "Plant"]), st.none()),
    st.tuples(st.just("undo"), st.none(), st.none()),
)


def step(database: Database, kind: str, what: object, amount: object) -> None:
    """Make one change; one that would change nothing is refused, and that is well."""
    if kind == "change":
        entry = one(database, str(what))
        price = f"{Decimal(int(str(amount))).scaleb(-2):f}"
        body = {**json.loads(entry.body), "pack_price": price}
        catalogue.change(database, [with_body(entry, body)], "an edit")
    elif kind == "uplift":
        bulk.apply(database, Uplift(Decimal(int(str(amount))), str(what)))
    elif kind == "import":
        rows = [article(number, int(str(amount)) + number) for number in sorted(what)]  # type: ignore[call-overload]
        bulk.apply_import(database, rows, "a list")
    elif kind == "drop":
        catalogue.change(database, [], "a drop", dropped=catalogue.named(database, f"E-{what}"))
    elif kind == "confirm":
        price_books.confirm(database, group=str(what))
    else:
        bulk.undo(database)


def undo_all(database: Database) -> None:
    while len(price_books.books(database)) > 1:
        bulk.undo(database)


@settings(max_examples=15)
@given(made=st.lists(steps, max_size=12))
def test_earlier_books_never_change_and_undoing_all_gives_the_first(
    much_used: Database, made: list[tuple[str, object, object]]
) -> None:
    undo_all(much_used)
    first = dump(much_used)
    known: dict[str, str] = {}
    for each in made:
        try:
            step(much_used, *each)
        except UserMistake:
            continue
        standing = price_books.books(much_used)
        # A book taken back is gone; every other reads as it did on the day it was made.
        known = {book.uid: known[book.uid] for book in standing if book.uid in known}
        for book in standing:
            text = price_books.document(much_used, book.id)
            assert known.setdefault(book.uid, text) == text
    undo_all(much_used)
    assert dump(much_used) == first
