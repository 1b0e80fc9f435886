"""Finding things: whatever is typed is safe, what is written is found, and the index keeps step."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection

from estimator.store import indexing, migrations, search
from estimator.store.database import Database, open_file
from estimator.store.search import Hit, Kind, find

BOOK = "INSERT INTO price_books VALUES (?, ?, 'Rates', '2026-01-01', '', '', ?)"
ITEM = "INSERT INTO catalogue_items VALUES (?, 'material', ?, ?, '')"
RATE = """
    INSERT INTO catalogue_rates VALUES
    (?, ?, ?, ?, ?, 'm', 'MTR', '', '', 100, '', '', ?, '{}', 0, ?)
"""
CUSTOMER = "INSERT INTO customers VALUES (?, ?, ?, 'private', ?, ?, ?, '', ?, '', '', NULL)"
JOB = """
    INSERT INTO jobs
    (id, uid, customer_id, title, site, stage, notes, made_at, changed_at, closed_at)
    VALUES (?, ?, ?, ?, ?, 'asked', ?, '', '', NULL)
"""
PAPER = """
    INSERT INTO issued_papers VALUES
    (?, ?, 'quotation', ?, NULL, NULL, 100, '{}', ?, x'00', ?, '', NULL)
"""
ITEMS = (
    ("HB-6/1000", "Hallam Fixings", "Helical bar 6 mm", "bars", ""),
    ("HB-8/1000", "Hallam Fixings", "Helical bar 8mm", "bars", "in the bed joints"),
    ("HB-100", "Hallam Fixings", "Helical bar 100 mm", "bars", ""),
    ("LP 25", "Ébène & Fils", "Lime putty, café au lait", "mortar", "about £5 a tub"),
    ("CH-05", "Tor Tools", "Plugging chisel ½ in", "tools", ""),
    ("CH-15", "Tor Tools", "Plugging chisel 1 1/2 in", "tools", ""),
    ("", "", "Repointing, flush", "work", "50% up on last year"),
    ("", "", "Crackstitching of bed joints", "work", "per m²"),
    ("x_y", "", "Weep vent", "vents", ""),
)


def filled(connection: Connection) -> None:
    run = connection.exec_driver_sql
    run(BOOK, (1, "b1", None))
    for number, (code, supplier, title, group, notes) in enumerate(ITEMS, 1):
        run(ITEM, (number, code or f"w{number}", supplier))
        run(RATE, (number, number, 1, title, group, notes, 0))
    run(CUSTOMER, (1, "c1", "Zoë O'Hara", "4 Mill Lane\nHexham", "01632 960 123", "zoe@x.org", ""))
    run(CUSTOMER, (2, "c2", "Bartlett Homes", "", "+44 1632 960456", "", "rings after six"))
    run(JOB, (1, "j1", 1, "Gable crack", "4 Mill Lane, Hexham", "bar by the gate is locked"))
    run(PAPER, (1, "Q-0042", 1, "0" * 64, "0" * 64))


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Database]:
    with open_file(tmp_path_factory.mktemp("search") / "work.perpend") as opened:
        with opened.writing() as connection:
            filled(connection)
        yield opened


@pytest.fixture
def fresh(tmp_path: Path) -> Iterator[Database]:
    with open_file(tmp_path / "work.perpend") as opened:
        yield opened


def titles(hits: tuple[Hit, ...]) -> list[str]:
    return [hit.title for hit in hits]


FOUND = (
    ("h", "Helical bar 6 mm"),
    ("heli", "Helical bar 8mm"),
    ("HELICAL BAR", "Helical bar 6 mm"),
    ("bar helic", "Helical bar 6 mm"),
    ("6 mm", "Helical bar 6 mm"),
    ("6mm", "Helical bar 6 mm"),
    ("8 mm", "Helical bar 8mm"),
    ("bar 8 mm", "Helical bar 8mm"),
    ("8mm", "Helical bar 8mm"),
    ("cafe", "Lime putty, café au lait"),
    ("café", "Lime putty, café au lait"),
    ("cafe\u0301", "Lime putty, café au lait"),
    ("ebene", "Lime putty, café au lait"),
    ("£5", "Lime putty, café au lait"),
    ("£", "Lime putty, café au lait"),
    ("5 a tub", "Lime putty, café au lait"),
    ("½", "Plugging chisel ½ in"),
    ("1/2", "Plugging chisel ½ in"),
    ("chisel 1/2in", "Plugging chisel ½ in"),
    ("½", "Plugging chisel 1 1/2 in"),
    ("1½", "Plugging chisel 1 1/2 in"),
    ("m2", "Crackstitching of bed joints"),
    ("titching", "Crackstitching of bed joints"),
    ("%", "Repointing, flush"),
    ("hb6", "Helical bar 6 mm"),
    ("HB-6/1000", "Helical bar 6 mm"),
    ("hb 6 1000", "Helical bar 6 mm"),
    ("6100", "Helical bar 6 mm"),
    ("lp25", "Lime putty, café au lait"),
    ("x_y", "Weep vent"),
    ("zoe", "Zoë O'Hara"),
    ("o'hara", "Zoë O'Hara"),
    ("01632960123", "Zoë O'Hara"),
    ("01632 960123", "Zoë O'Hara"),
    ("+44 (0)1632 960-123", "Zoë O'Hara"),
    ("960 123", "Zoë O'Hara"),
    ("01632 960 456", "Bartlett Homes"),
    ("zoe@x.org", "Zoë O'Hara"),
    ("mill lane", "Gable crack"),
    ("gate", "Gable crack"),
    ("Q-0042", "Q-0042"),
    ("q0042", "Q-0042"),
    ("042", "Q-0042"),
)


@pytest.mark.parametrize(("typed", "title"), FOUND)
def test_what_is_written_is_found_however_it_is_typed(
    database: Database, typed: str, title: str
) -> None:
    found = titles(find(database, typed))
    assert title in found


def test_a_figure_with_its_unit_is_whole(database: Database) -> None:
    assert "Helical bar 100 mm" not in titles(find(database, "10 mm"))
    assert "Helical bar 100 mm" in titles(find(database, "10"))


@pytest.mark.parametrize(
    ("typed", "meant", "title"),
    [
        ("helcial", "helical", "Helical bar 6 mm"),
        ("repiontng", "repointing", "Repointing, flush"),
        ("chizel ½", "chisel ½", "Plugging chisel ½ in"),
        ("chiz", "chisel", "Plugging chisel ½ in"),
        ("hexam", "hexham", "Gable crack"),
    ],
)
def test_a_slip_is_put_right_and_said(
    database: Database, typed: str, meant: str, title: str
) -> None:
    hits = find(database, typed)
    assert title in titles(hits)
    assert {hit.searched_for for hit in hits} == {meant}


def test_a_word_that_is_there_is_no_slip(database: Database) -> None:
    assert {hit.searched_for for hit in find(database, "putty")} == {""}
    assert find(database, "qqqqqqqq") == ()
    # Figures are sizes or codes; a near one is another thing.
    assert find(database, "77777") == ()


def test_the_title_comes_before_the_notes(database: Database) -> None:
    assert titles(find(database, "joints", kinds=[Kind.ITEM])) == [
        "Crackstitching of bed joints",
        "Helical bar 8mm",
    ]


def test_a_hit_says_where_the_word_stands(database: Database) -> None:
    (hit,) = find(database, "hexham", kinds=[Kind.CUSTOMER])
    assert hit == Hit(Kind.CUSTOMER, 1, "01632 960 123", "Zoë O'Hara", "Hexham", "c1")


def test_kinds_share_the_room(database: Database) -> None:
    few = find(database, "bar", limit=3)
    assert {hit.kind for hit in few} == {Kind.CUSTOMER, Kind.JOB, Kind.ITEM}
    assert {hit.kind for hit in find(database, "bar", kinds=[Kind.JOB])} == {Kind.JOB}
    assert find(database, "bar", kinds=[]) == ()
    assert len(find(database, "bar")) == 5


@pytest.mark.parametrize(
    ("found", "limit", "shares"),
    [([9, 9, 9], 9, [3, 3, 3]), ([1, 0, 90], 50, [1, 0, 49]), ([50, 50], 5, [3, 2]), ([], 5, [])],
)
def test_shares(found: list[int], limit: int, shares: list[int]) -> None:
    assert search._shares(found, limit) == shares


PIECES = (
    *"\"'*^(){}[]:;,.-+/\\%_&|~`!?<>=$£€½¼@# \t\n\r\x00\x01\x07\x1b\x7f\u200b\u202e\ufeff\ufffe",
    *("AND", "OR", "NOT", "NEAR", "NEAR(a b, 2)", "title:", "-title :", "{title body}:", '""'),
    *("* *", "a*", "rank", "'; DROP TABLE customers; --", "?1", ":x", "%s", "{0}", "\U0001f9f1"),
    *("👩‍👩‍👧", "\ud800", "\udfff", "é", "e\u0301", "ﷺ", "文", "ß", "İ", "١٢٣", "²", "½in", "1/2"),
    *("helical", "bar", "10mm", "10", "mm", "HB-6/1000", "01632 960123", "+44", "a" * 300, "b c "),
)


def test_five_thousand_of_anything_raise_nothing(database: Database) -> None:
    chance = random.Random(20260728)
    letters = "".join(map(chr, range(32, 127)))
    for _each in range(5000):
        pieces = chance.choices(PIECES, k=chance.randint(0, 6))
        pieces += chance.choices(letters, k=chance.randint(0, 4))
        pieces += map(chr, chance.choices(range(0x11000), k=chance.randint(0, 2)))
        chance.shuffle(pieces)
        typed = "".join(pieces)
        hits = find(database, typed, limit=chance.choice([1, 50]))
        assert isinstance(hits, tuple), ascii(typed)


@given(st.text(st.characters(exclude_categories=()), max_size=40))
def test_any_text_at_all_is_safe(database: Database, typed: str) -> None:
    assert len(find(database, typed)) <= 50


def in_step(database: Database) -> None:
    """The entries are what the tables say, worked out anew here, and the indexes hold them all."""
    raw = database.raw
    wanted = set()
    for key, name, *body in raw.execute(
        "SELECT id, name, address, telephone, email, notes FROM customers WHERE erased_at IS NULL"
    ):
        wanted.add(("customer", key, body[1], name, "\n".join(body).strip("\n")))
    for key, title, site, notes in raw.execute("SELECT id, title, site, notes FROM jobs"):
        wanted.add(("job", key, "", title, f"{site}\n{notes}".strip("\n")))
    newest: dict[int, Any] = {}
    for row in raw.execute("SELECT * FROM catalogue_rates ORDER BY book_id"):
        newest[row[1]] = row
    for key, _kind, code, supplier, _made in raw.execute("SELECT * FROM catalogue_items"):
        if key in newest and not newest[key][15]:
            _id, _item, _book, title, group, *_others = newest[key]
            body = f"{supplier}\n{group}\n{newest[key][12]}".strip("\n")
            wanted.add(("item", key, code, title, body))
    kept = raw.execute("SELECT kind, ref_id, code, title, body FROM search_entries")
    assert set(kept) == wanted
    assert raw.execute("SELECT count(*) FROM search_due").fetchone() == (0,)
    for index in indexing.INDEXES:
        # Compares every word of the index with the entries; raises where they differ.
        raw.execute(f"INSERT INTO {index} ({index}, rank) VALUES ('integrity-check', 1)")


WORDS = st.sampled_from(["", "lime", "Lime putty", "½ café", "01632 960 1", "x-1", "a\nb"])
SMALL = st.integers(1, 3)
EDITS = st.one_of(
    st.tuples(st.just("INSERT OR IGNORE INTO customers SELECT ?, ?, ?, '', ?, ?, ?, '', ?, '', '',"
                      " NULL"), SMALL, SMALL.map(str), WORDS, WORDS, WORDS, WORDS, WORDS),
    st.tuples(st.just("UPDATE customers SET name = ?, notes = ? WHERE id = ?"),
              WORDS, WORDS, SMALL),
    st.tuples(st.just("UPDATE customers SET erased_at = 'now' WHERE id = ?"), SMALL),
    st.tuples(st.just("UPDATE customers SET erased_at = NULL WHERE id = ?"), SMALL),
    st.tuples(st.just("DELETE FROM customers WHERE id = ?"), SMALL),
    st.tuples(st.just("INSERT OR IGNORE INTO jobs SELECT ?, ?, NULL, ?, ?, '', ?, '', '', NULL,"
                      " ''"), SMALL, SMALL.map(str), WORDS, WORDS, WORDS),
    st.tuples(st.just("UPDATE jobs SET title = ?, site = ? WHERE id = ?"), WORDS, WORDS, SMALL),
    st.tuples(st.just("DELETE FROM jobs WHERE id = ?"), SMALL),
    st.tuples(st.just("INSERT OR IGNORE INTO catalogue_items SELECT ?, '', ?, ?, ''"),
              SMALL, WORDS, WORDS),
    st.tuples(st.just("UPDATE OR IGNORE catalogue_items SET code = ? WHERE id = ?"), WORDS, SMALL),
    st.tuples(st.just("INSERT OR IGNORE INTO catalogue_rates SELECT NULL, id, ?, ?, ?, '', '', '',"
                      " '', 1, '', '', ?, '', 0, ? FROM catalogue_items WHERE id = ?"),
              SMALL, WORDS, WORDS, WORDS, st.integers(0, 1), SMALL),
    st.tuples(st.just("UPDATE catalogue_rates SET title = ?, dropped = ? WHERE item_id = ?"
                      " AND book_id = ?"), WORDS, st.integers(0, 1), SMALL, SMALL),
    st.tuples(st.just("UPDATE OR IGNORE catalogue_rates SET book_id = ? WHERE book_id = ?"),
              SMALL, SMALL),
    st.tuples(st.just("DELETE FROM catalogue_rates WHERE item_id = ? AND book_id = ?"),
              SMALL, SMALL),
)  # fmt: skip


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(st.lists(EDITS, max_size=6), max_size=5))
def test_the_index_is_in_step_after_any_edits(fresh: Database, edits: list[list[Any]]) -> None:
    with fresh.writing() as connection:
        for table in ("catalogue_rates", "catalogue_items", "price_books", "jobs", "customers"):
            connection.exec_driver_sql(f"DELETE FROM {table}")
        for number in (1, 2, 3):
            connection.exec_driver_sql(BOOK, (number, f"b{number}", None))
    for change in edits:
        with fresh.writing() as connection:
            for statement, *values in change:
                connection.exec_driver_sql(statement, tuple(values))
        in_step(fresh)


def test_a_change_taken_back_leaves_no_trace(fresh: Database) -> None:
    with pytest.raises(RuntimeError), fresh.writing() as connection:
        filled(connection)
        raise RuntimeError
    in_step(fresh)
    assert find(fresh, "helical") == ()


def test_a_new_price_leaves_the_words_alone(database: Database) -> None:
    with database.reading() as connection:
        connection.exec_driver_sql("SELECT 1")
    raw = database.raw
    raw.execute("BEGIN IMMEDIATE")
    raw.execute("UPDATE catalogue_rates SET price_pence = 200")
    assert raw.execute("SELECT count(*) FROM search_due").fetchone() == (0,)
    raw.execute("ROLLBACK")


def test_only_the_newest_name_of_an_item_is_found(fresh: Database) -> None:
    with fresh.writing() as connection:
        connection.exec_driver_sql(BOOK, (1, "b1", None))
        connection.exec_driver_sql(BOOK, (2, "b2", 1))
        connection.exec_driver_sql(ITEM, (1, "a", ""))
        connection.exec_driver_sql(RATE, (1, 1, 1, "Old name", "", "", 0))
        connection.exec_driver_sql(RATE, (2, 1, 2, "New name", "", "", 0))
    assert find(fresh, "old") == ()
    assert titles(find(fresh, "new")) == ["New name"]
    with fresh.writing() as connection:
        connection.exec_driver_sql("UPDATE catalogue_rates SET dropped = 1 WHERE book_id = 2")
    assert find(fresh, "name") == ()


def test_the_erased_are_found_no_more_and_nothing_is_left_of_them(fresh: Database) -> None:
    with fresh.writing() as connection:
        connection.exec_driver_sql(CUSTOMER, (1, "c1", "Quillfeather", "", "01632 960 777", "", ""))
        connection.exec_driver_sql(CUSTOMER, (2, "c2", "Bartlett", "", "", "", ""))
    assert len(find(fresh, "quillf")) == 1
    with fresh.writing() as connection:
        connection.exec_driver_sql(
            "UPDATE customers SET name = '', telephone = '', erased_at = 'now' WHERE id = 1"
        )
        indexing.forget(connection)
    assert find(fresh, "quillf") == find(fresh, "960777") == ()
    content = fresh.path.read_bytes().lower()
    assert b"bartlett" in content
    assert b"feather" not in content
    assert b"960777" not in content


def test_a_file_of_the_first_version_is_filled_in(tmp_path: Path) -> None:
    file = tmp_path / "old.perpend"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(migrations, "HEAD", 1)
        patch.setattr(migrations.upgrade, "__kwdefaults__", {"to": 1})
        open_file(file).close()
    raw = sqlite3.connect(file, isolation_level=None)
    raw.execute(CUSTOMER, (1, "c1", "Zoë", "", "01632 960 123", "", ""))
    raw.execute(BOOK, (1, "b1", None))
    raw.execute(ITEM, (1, "HB-6", ""))
    raw.execute(RATE, (1, 1, 1, "Helical bar", "", "", 0))
    raw.close()
    with open_file(file) as database:
        in_step(database)
        assert titles(find(database, "heli")) == ["Helical bar"]
        assert titles(find(database, "960123")) == ["Zoë"]
        assert database.raw.execute("PRAGMA quick_check").fetchone() == ("ok",)


@pytest.mark.parametrize("limit", [1, 2, 3, 4, 50])
@pytest.mark.parametrize("kinds", [[Kind.CUSTOMER, Kind.ITEM], [Kind.JOB], list(Kind)])
def test_looking_at_all_kinds_at_once_misses_none(
    fresh: Database, limit: int, kinds: list[Kind]
) -> None:
    with fresh.writing() as connection:
        connection.exec_driver_sql(BOOK, (1, "b1", None))
        for number in range(1, 4):
            connection.exec_driver_sql(CUSTOMER, (number, f"c{number}", "Lime", "", "", "", ""))
            connection.exec_driver_sql(JOB, (number, f"j{number}", None, "Lime", "", ""))
            connection.exec_driver_sql(ITEM, (number, f"i{number}", ""))
            connection.exec_driver_sql(RATE, (number, number, 1, "Lime", "", "", 0))
    hits = find(fresh, "lime", limit=limit, kinds=kinds)
    there = [kind for kind in kinds if kind is not Kind.PAPER]
    assert len(hits) == len({(hit.kind, hit.ref_id) for hit in hits})
    assert len(hits) == min(limit, 3 * len(there))
    assert {hit.kind for hit in hits} <= set(there)
    if limit >= len(there):
        assert {hit.kind for hit in hits} == set(there)
