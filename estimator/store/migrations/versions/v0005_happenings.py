"""What happens to a job once its quotation is out, one deed after another, each hashed.

Deeds are only ever added. An erasure takes a person's words out of them and leaves the figures;
nothing else changes one, and nothing at all throws one away. A photograph that a deed names is kept
as one that a survey names.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
"""

from __future__ import annotations

from alembic import op

revision = "0005"
down_revision = "0004"

MAKE = (
    """
    CREATE TABLE happenings (
        id INTEGER NOT NULL,
        uid TEXT NOT NULL,
        job_id INTEGER NOT NULL,
        kind TEXT NOT NULL,
        document TEXT NOT NULL,
        sha256 TEXT NOT NULL,
        at TEXT NOT NULL,
        CONSTRAINT pk_happenings PRIMARY KEY (id),
        CONSTRAINT uq_happenings_uid UNIQUE (uid),
        CONSTRAINT ck_happenings_sha256 CHECK (length(sha256) = 64),
        CONSTRAINT fk_happenings_job_id FOREIGN KEY (job_id) REFERENCES jobs (id)
    ) STRICT
    """,
    "CREATE INDEX ix_happenings_job_id ON happenings (job_id)",
    "CREATE INDEX ix_happenings_kind ON happenings (kind)",
    """
    CREATE TRIGGER tr_happenings_frozen BEFORE UPDATE ON happenings
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
        OR NEW.id <> OLD.id OR NEW.uid <> OLD.uid OR NEW.job_id <> OLD.job_id
        OR NEW.kind <> OLD.kind OR NEW.at <> OLD.at
    BEGIN SELECT RAISE(ABORT, 'what happened is never changed'); END
    """,
    """
    CREATE TRIGGER tr_happenings_kept BEFORE DELETE ON happenings
    BEGIN SELECT RAISE(ABORT, 'what happened is never thrown away'); END
    """,
    # INSERT OR REPLACE throws the old row away without asking the guards against deletion.
    """
    CREATE TRIGGER tr_happenings_once BEFORE INSERT ON happenings
    WHEN EXISTS (SELECT 1 FROM happenings WHERE id = NEW.id OR uid = NEW.uid)
    BEGIN SELECT RAISE(ABORT, 'what happened is never replaced'); END
    """,
    "DROP TRIGGER tr_photos_kept",
    """
    CREATE TRIGGER tr_photos_kept BEFORE DELETE ON photos
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
        AND (EXISTS (SELECT 1 FROM surveys
                     WHERE job_id = OLD.job_id AND instr(document, OLD.sha256) > 0)
             OR EXISTS (SELECT 1 FROM issued_papers
                        WHERE job_id = OLD.job_id AND instr(content, OLD.sha256) > 0)
             OR EXISTS (SELECT 1 FROM happenings
                        WHERE job_id = OLD.job_id AND instr(document, OLD.sha256) > 0))
    BEGIN SELECT RAISE(ABORT, 'a photograph of a survey is never thrown away'); END
    """,
    "PRAGMA user_version = 5",
)


def upgrade() -> None:
    """Make the table and its guards."""
    for statement in MAKE:
        op.execute(statement)
