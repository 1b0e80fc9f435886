"""Telling the indexes of words what has changed, in the same transaction as the change."""

from __future__ import annotations

from sqlalchemy import Connection

TAKE_OUT = (
    """
    INSERT INTO search_words (search_words, rowid, title, body, code)
    SELECT 'delete', id, title, body, code FROM search_due WHERE title IS NOT NULL
    """,
    """
    INSERT INTO search_codes (search_codes, rowid, plain, title)
    SELECT 'delete', id, plain, title FROM search_due WHERE title IS NOT NULL
    """,
)
PUT_IN = (
    """
    INSERT INTO search_words (rowid, title, body, code)
    SELECT id, title, body, code FROM search_entries WHERE id IN (SELECT id FROM search_due)
    """,
    """
    INSERT INTO search_codes (rowid, plain, title)
    SELECT id, plain, title FROM search_entries WHERE id IN (SELECT id FROM search_due)
    """,
)
INDEXES = ("search_words", "search_codes")


def catch_up(connection: Connection) -> None:
    """Bring the indexes in step with what was written so far."""
    if connection.exec_driver_sql("SELECT 1 FROM search_due LIMIT 1").first() is None:
        return
    for statement in (*TAKE_OUT, *PUT_IN, "DELETE FROM search_due"):
        connection.exec_driver_sql(statement)


def forget(connection: Connection) -> None:
    """Write the indexes anew, so that no trace is left in them of words taken out.

    An index marks a word as gone and drops it only at some later tidying; that will not do for a
    person who asked to be erased.
    """
    catch_up(connection)
    for index in INDEXES:
        connection.exec_driver_sql(f"INSERT INTO {index} ({index}) VALUES ('rebuild')")
