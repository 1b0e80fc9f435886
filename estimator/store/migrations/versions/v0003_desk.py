"""What a firm sets, and what is chosen for one job.

A setting is one JSON text by its name: the firm itself, its terms, its rules, how its window looks.
The choices of a job are the scopes it is priced for and the rules changed for it alone. SQLite adds
a column without touching a row, so every trigger of the table stays as it was.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
"""

from __future__ import annotations

from alembic import op

revision = "0003"
down_revision = "0002"

MAKE = (
    """
    CREATE TABLE settings (
        "key" TEXT NOT NULL,
        document TEXT NOT NULL,
        changed_at TEXT NOT NULL,
        CONSTRAINT pk_settings PRIMARY KEY ("key")
    ) STRICT
    """,
    "ALTER TABLE jobs ADD COLUMN choices TEXT DEFAULT '' NOT NULL",
    "PRAGMA user_version = 3",
)


def upgrade() -> None:
    """Make the table and the column."""
    for statement in MAKE:
        op.execute(statement)
