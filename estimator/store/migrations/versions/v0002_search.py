"""Words to search by, kept in step with the tables by the file itself.

``search_entries`` holds one row for everything that can be found, and two indexes lie over it: one
of whole words, one of every three letters in a row, for codes and parts of words. Triggers keep
``search_entries`` in step, so no way of writing to the file can forget to, and note in
``search_due`` what the indexes have yet to learn; they are told before each change is accepted.
A trigger may not tell them itself, as a file whose schema is not trusted may touch no virtual table
from one, and ours never is. Only functions of SQLite itself are used, for the same reason.

The id of an entry is its kind times 2**40 plus the id of the row it stands for. An index is read in
the order of ids, so one kind is one stretch of it, found without looking at the others.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
A later one that rebuilds a table loses the table's triggers, and has to make them again.
"""

from __future__ import annotations

from alembic import op

revision = "0002"
down_revision = "0001"

STRETCH = 1 << 40
CUSTOMER, JOB, PAPER, ITEM = 1, 2, 3, 4
INDEXES = ("search_words", "search_codes")
MARKS = (" ", "-", "/", ".", "(", ")", "+", "_", ",")


def plain(column: str) -> str:
    """Return the SQL for a code or telephone number without its spaces and marks."""
    for mark in MARKS:
        column = f"replace({column}, '{mark}', '')"
    return f"lower({column})"


TABLES = (
    """
    CREATE TABLE search_entries (
        id INTEGER NOT NULL,
        kind TEXT NOT NULL,
        ref_id INTEGER NOT NULL,
        code TEXT NOT NULL,
        title TEXT NOT NULL,
        body TEXT NOT NULL,
        plain TEXT NOT NULL,
        CONSTRAINT pk_search_entries PRIMARY KEY (id)
    ) STRICT
    """,
    """
    CREATE TABLE search_due (
        id INTEGER NOT NULL,
        code TEXT,
        title TEXT,
        body TEXT,
        plain TEXT,
        CONSTRAINT pk_search_due PRIMARY KEY (id)
    ) STRICT
    """,
    "CREATE INDEX ix_search_entries_kind_plain ON search_entries (kind, plain)",
    """
    CREATE VIRTUAL TABLE search_words USING fts5 (
        title, body, code, content='search_entries', content_rowid='id',
        prefix='1 2 3', tokenize='unicode61 remove_diacritics 2'
    )
    """,
    """
    CREATE VIRTUAL TABLE search_codes USING fts5 (
        plain, title, content='search_entries', content_rowid='id', tokenize='trigram'
    )
    """,
    "CREATE VIRTUAL TABLE search_vocabulary USING fts5vocab ('search_words', 'row')",
)

# What an index holds of an entry can only be taken out by saying it again, so the words as they
# were are kept until then; a new entry was nothing before.
DUE = "INSERT INTO search_due (id, code, title, body, plain) VALUES"
WERE = f"{DUE} (OLD.id, OLD.code, OLD.title, OLD.body, OLD.plain) ON CONFLICT (id) DO NOTHING"
NOTHING_YET = f"{DUE} (NEW.id, NULL, NULL, NULL, NULL) ON CONFLICT (id) DO NOTHING"
NOTED = (
    f"""
    CREATE TRIGGER tr_search_entries_added AFTER INSERT ON search_entries
    BEGIN {NOTHING_YET}; END
    """,
    f"""
    CREATE TRIGGER tr_search_entries_changed AFTER UPDATE ON search_entries
    BEGIN {WERE}; END
    """,
    f"""
    CREATE TRIGGER tr_search_entries_gone AFTER DELETE ON search_entries
    BEGIN {WERE}; END
    """,
)

CUSTOMERS = f"""
    SELECT {CUSTOMER * STRETCH} + id, 'customer', id, telephone, name,
        trim(address || char(10) || telephone || char(10) || email || char(10) || notes, char(10)),
        {plain("telephone")}
    FROM customers WHERE erased_at IS NULL
"""
JOBS = f"""
    SELECT {JOB * STRETCH} + id, 'job', id, '', title,
        trim(site || char(10) || notes, char(10)), ''
    FROM jobs WHERE true
"""
PAPERS = f"""
    SELECT {PAPER * STRETCH} + id, 'paper', id, number, number, kind, {plain("number")}
    FROM issued_papers WHERE true
"""
# The newest price book that speaks of an item says what it is called, and whether it is dropped.
ITEMS = f"""
    SELECT {ITEM * STRETCH} + catalogue_items.id, 'item', catalogue_items.id,
        catalogue_items.code, catalogue_rates.title,
        trim(catalogue_items.supplier || char(10) || catalogue_rates.grouping || char(10)
            || catalogue_rates.notes, char(10)),
        {plain("catalogue_items.code")}
    FROM catalogue_items JOIN catalogue_rates ON catalogue_rates.item_id = catalogue_items.id
    WHERE catalogue_rates.dropped = 0 AND catalogue_rates.book_id = (
        SELECT max(newest.book_id) FROM catalogue_rates AS newest
        WHERE newest.item_id = catalogue_items.id
    )
"""
INTO = "INSERT INTO search_entries (id, kind, ref_id, code, title, body, plain)"
# A change that touches no word, such as a new price, leaves the indexes alone.
OR_CHANGE = """
    ON CONFLICT (id) DO UPDATE SET
        code = excluded.code, title = excluded.title, body = excluded.body, plain = excluded.plain
    WHERE code <> excluded.code OR title <> excluded.title
        OR body <> excluded.body OR plain <> excluded.plain
"""


def followed(*, table: str, kind: int, select: str, one: str, key: str) -> list[str]:
    """Return the triggers that keep the entries of one kind in step with one table.

    Args:
        table: The table followed.
        kind: Its number among the kinds.
        select: What makes entries from it.
        one: The column of the select that tells one entry from another.
        key: The column of the table that holds the same.
    """

    def step(row: str) -> str:
        this = f"{row}.{key}"
        return f"""
            DELETE FROM search_entries WHERE id = {kind * STRETCH} + {this}
                AND NOT EXISTS ({select} AND {one} = {this});
            {INTO} {select} AND {one} = {this} {OR_CHANGE};
        """

    def trigger(name: str, when: str, body: str) -> str:
        return f"CREATE TRIGGER tr_{table}_{name} AFTER {when} ON {table} BEGIN {body} END"

    return [
        trigger("found", "INSERT", step("NEW")),
        trigger("refound", "UPDATE", step("OLD") + step("NEW")),
        trigger("lost", "DELETE", step("OLD")),
    ]


def everything() -> list[str]:
    """Return every statement, in order."""
    made = list(TABLES)
    made += [f"{INTO} {select}" for select in (CUSTOMERS, JOBS, PAPERS, ITEMS)]
    made += [f"INSERT INTO {index} ({index}) VALUES ('rebuild')" for index in INDEXES]
    made += NOTED
    made += followed(table="customers", kind=CUSTOMER, select=CUSTOMERS, one="id", key="id")
    made += followed(table="jobs", kind=JOB, select=JOBS, one="id", key="id")
    made += followed(table="issued_papers", kind=PAPER, select=PAPERS, one="id", key="id")
    rates = "catalogue_rates.item_id"
    made += followed(table="catalogue_rates", kind=ITEM, select=ITEMS, one=rates, key="item_id")
    items = "catalogue_items.id"
    made += followed(table="catalogue_items", kind=ITEM, select=ITEMS, one=items, key="id")
    return [*made, "PRAGMA user_version = 2"]


def upgrade() -> None:
    """Make the indexes, fill them with what is there, and have them follow it."""
    for statement in everything():
        op.execute(statement)
