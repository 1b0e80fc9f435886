"""What a firm sets, what is chosen for one job, and what a list tells of a paper.

A setting is one JSON text by its name: the firm itself, its terms, its rules, how its window looks.
The choices of a job are the scopes it is priced for and the rules changed for it alone. SQLite adds
a column without touching a row, so every trigger of the table stays as it was.

A row of the papers carries its PDF, and reading two hundred of them for their dates would take a
twentieth of a second. So ``paper_lines`` says what a list tells of each; triggers keep it in step,
so no way of writing a paper can forget to. Until when an offer stands is read out of what the paper
says. The file lets no function for JSON into its triggers, so it is found by its name: no text on
the paper can look like it, because a quotation mark within one is written with a stroke before it.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
"""

from __future__ import annotations

from alembic import op

revision = "0003"
down_revision = "0002"

NAME = """'"valid_until":"'"""
COLUMNS = "id, job_id, number, kind, total_pence, issued_at, valid_until"


def told(row: str) -> str:
    """Return the SQL for what a list tells of a paper."""
    until = f"""
        CASE WHEN instr({row}.content, {NAME}) = 0 THEN ''
        ELSE substr({row}.content, instr({row}.content, {NAME}) + length({NAME}), 10) END
    """
    plain = ("id", "job_id", "number", "kind", "total_pence", "issued_at")
    return ", ".join([*(f"{row}.{name}" for name in plain), until])


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
    # The page of jobs is gone through in this order; stage and customer tell whether one is on it.
    "DROP INDEX ix_jobs_changed_at",
    """
    CREATE INDEX ix_jobs_changed_at_id_customer_id_stage
        ON jobs (changed_at, id, customer_id, stage)
    """,
    """
    CREATE TABLE paper_lines (
        id INTEGER NOT NULL,
        job_id INTEGER NOT NULL,
        number TEXT NOT NULL,
        kind TEXT NOT NULL,
        total_pence INTEGER,
        issued_at TEXT NOT NULL,
        valid_until TEXT NOT NULL,
        CONSTRAINT pk_paper_lines PRIMARY KEY (id),
        CONSTRAINT fk_paper_lines_id FOREIGN KEY (id) REFERENCES issued_papers (id)
    ) STRICT
    """,
    "CREATE INDEX ix_paper_lines_job_id ON paper_lines (job_id)",
    f"INSERT INTO paper_lines ({COLUMNS}) SELECT {told('issued_papers')} FROM issued_papers",
    f"""
    CREATE TRIGGER tr_issued_papers_told AFTER INSERT ON issued_papers
    BEGIN INSERT INTO paper_lines ({COLUMNS}) VALUES ({told("NEW")}); END
    """,
    f"""
    CREATE TRIGGER tr_issued_papers_retold AFTER UPDATE ON issued_papers
    BEGIN UPDATE paper_lines SET ({COLUMNS}) = ({told("NEW")}) WHERE id = OLD.id; END
    """,
    "PRAGMA user_version = 3",
)


def upgrade() -> None:
    """Make the tables, the column and the triggers, and tell of the papers there are."""
    for statement in MAKE:
        op.execute(statement)
