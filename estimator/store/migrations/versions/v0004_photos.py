"""The photographs of a job, each by the hash of its bytes.

A survey names a photograph by that hash. While an accepted survey or an issued paper of its job
names it, the file throws it away for nothing but the erasure of a person; it never changes one.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
"""

from __future__ import annotations

from alembic import op

revision = "0004"
down_revision = "0003"

MAKE = (
    """
    CREATE TABLE photos (
        id INTEGER NOT NULL,
        job_id INTEGER NOT NULL,
        sha256 TEXT NOT NULL,
        jpeg BLOB NOT NULL,
        width_px INTEGER NOT NULL,
        height_px INTEGER NOT NULL,
        added_at TEXT NOT NULL,
        CONSTRAINT pk_photos PRIMARY KEY (id),
        CONSTRAINT uq_photos_job_id_sha256 UNIQUE (job_id, sha256),
        CONSTRAINT ck_photos_sha256 CHECK (length(sha256) = 64),
        CONSTRAINT ck_photos_size CHECK (width_px >= 1 AND height_px >= 1),
        CONSTRAINT fk_photos_job_id FOREIGN KEY (job_id) REFERENCES jobs (id)
    ) STRICT
    """,
    """
    CREATE TRIGGER tr_photos_frozen BEFORE UPDATE ON photos
    BEGIN SELECT RAISE(ABORT, 'a photograph is never changed'); END
    """,
    """
    CREATE TRIGGER tr_photos_kept BEFORE DELETE ON photos
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
        AND (EXISTS (SELECT 1 FROM surveys
                     WHERE job_id = OLD.job_id AND instr(document, OLD.sha256) > 0)
             OR EXISTS (SELECT 1 FROM issued_papers
                        WHERE job_id = OLD.job_id AND instr(content, OLD.sha256) > 0))
    BEGIN SELECT RAISE(ABORT, 'a photograph of a survey is never thrown away'); END
    """,
    # INSERT OR REPLACE throws the old row away without asking the guards against deletion.
    """
    CREATE TRIGGER tr_photos_once BEFORE INSERT ON photos
    WHEN EXISTS (SELECT 1 FROM photos WHERE id = NEW.id
                 OR (job_id = NEW.job_id AND sha256 = NEW.sha256))
    BEGIN SELECT RAISE(ABORT, 'a photograph is never replaced'); END
    """,
    "PRAGMA user_version = 4",
)


def upgrade() -> None:
    """Make the table and its guards."""
    for statement in MAKE:
        op.execute(statement)
