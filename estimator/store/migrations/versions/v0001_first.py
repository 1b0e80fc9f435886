"""The file as it was first made.

A migration is history: it imports nothing of ours and is never changed once a version has gone out.
It runs in one transaction, and ends by telling the file its new version.
"""

from __future__ import annotations

from alembic import op

revision = "0001"
down_revision = None

MAKE = (
    """
    CREATE TABLE catalogue_items (
        id INTEGER NOT NULL,
        kind TEXT NOT NULL,
        code TEXT NOT NULL,
        supplier TEXT NOT NULL,
        made_at TEXT NOT NULL,
        CONSTRAINT pk_catalogue_items PRIMARY KEY (id),
        CONSTRAINT uq_catalogue_items_kind_supplier_code UNIQUE (kind, supplier, code)
    ) STRICT
    """,
    """
    CREATE TABLE customers (
        id INTEGER NOT NULL,
        uid TEXT NOT NULL,
        name TEXT NOT NULL,
        kind TEXT NOT NULL,
        address TEXT NOT NULL,
        telephone TEXT NOT NULL,
        email TEXT NOT NULL,
        vat_number TEXT NOT NULL,
        notes TEXT NOT NULL,
        made_at TEXT NOT NULL,
        changed_at TEXT NOT NULL,
        erased_at TEXT,
        CONSTRAINT pk_customers PRIMARY KEY (id),
        CONSTRAINT uq_customers_uid UNIQUE (uid)
    ) STRICT
    """,
    """
    CREATE TABLE drafts (
        "key" TEXT NOT NULL,
        document TEXT NOT NULL,
        changed_at TEXT NOT NULL,
        CONSTRAINT pk_drafts PRIMARY KEY ("key")
    ) STRICT
    """,
    """
    CREATE TABLE facts (
        name TEXT NOT NULL,
        value TEXT NOT NULL,
        CONSTRAINT pk_facts PRIMARY KEY (name)
    ) STRICT
    """,
    """
    CREATE TABLE number_series (
        series TEXT NOT NULL,
        prefix TEXT NOT NULL,
        next_value INTEGER NOT NULL,
        CONSTRAINT pk_number_series PRIMARY KEY (series),
        CONSTRAINT ck_number_series_next_value CHECK (next_value >= 1)
    ) STRICT
    """,
    """
    CREATE TABLE price_books (
        id INTEGER NOT NULL,
        uid TEXT NOT NULL,
        title TEXT NOT NULL,
        dated TEXT NOT NULL,
        why TEXT NOT NULL,
        made_at TEXT NOT NULL,
        supersedes_id INTEGER,
        CONSTRAINT pk_price_books PRIMARY KEY (id),
        CONSTRAINT uq_price_books_uid UNIQUE (uid),
        CONSTRAINT uq_price_books_supersedes_id UNIQUE (supersedes_id),
        CONSTRAINT fk_price_books_supersedes_id FOREIGN KEY (supersedes_id)
            REFERENCES price_books (id)
    ) STRICT
    """,
    """
    CREATE TABLE batches (
        id INTEGER NOT NULL,
        kind TEXT NOT NULL,
        title TEXT NOT NULL,
        book_id INTEGER,
        made_at TEXT NOT NULL,
        undone_at TEXT,
        CONSTRAINT pk_batches PRIMARY KEY (id),
        CONSTRAINT fk_batches_book_id FOREIGN KEY(book_id) REFERENCES price_books (id)
    ) STRICT
    """,
    """
    CREATE TABLE catalogue_rates (
        id INTEGER NOT NULL,
        item_id INTEGER NOT NULL,
        book_id INTEGER NOT NULL,
        title TEXT NOT NULL,
        grouping TEXT NOT NULL,
        unit TEXT NOT NULL,
        unit_code TEXT NOT NULL,
        pack TEXT NOT NULL,
        pack_size TEXT NOT NULL,
        price_pence INTEGER,
        dated TEXT NOT NULL,
        source TEXT NOT NULL,
        notes TEXT NOT NULL,
        body TEXT NOT NULL,
        confirmed INTEGER NOT NULL,
        dropped INTEGER NOT NULL,
        CONSTRAINT pk_catalogue_rates PRIMARY KEY (id),
        CONSTRAINT uq_catalogue_rates_item_id_book_id UNIQUE (item_id, book_id),
        CONSTRAINT ck_catalogue_rates_price CHECK (price_pence IS NULL OR price_pence >= 0),
        CONSTRAINT ck_catalogue_rates_confirmed CHECK (confirmed IN (0, 1)),
        CONSTRAINT ck_catalogue_rates_dropped CHECK (dropped IN (0, 1)),
        CONSTRAINT fk_catalogue_rates_item_id FOREIGN KEY(item_id) REFERENCES catalogue_items (id),
        CONSTRAINT fk_catalogue_rates_book_id FOREIGN KEY(book_id) REFERENCES price_books (id)
    ) STRICT
    """,
    """
    CREATE INDEX ix_catalogue_rates_book_id ON catalogue_rates (book_id)
    """,
    """
    CREATE TABLE jobs (
        id INTEGER NOT NULL,
        uid TEXT NOT NULL,
        customer_id INTEGER,
        title TEXT NOT NULL,
        site TEXT NOT NULL,
        stage TEXT NOT NULL,
        notes TEXT NOT NULL,
        made_at TEXT NOT NULL,
        changed_at TEXT NOT NULL,
        closed_at TEXT,
        CONSTRAINT pk_jobs PRIMARY KEY (id),
        CONSTRAINT uq_jobs_uid UNIQUE (uid),
        CONSTRAINT fk_jobs_customer_id FOREIGN KEY(customer_id) REFERENCES customers (id)
    ) STRICT
    """,
    """
    CREATE INDEX ix_jobs_changed_at ON jobs (changed_at)
    """,
    """
    CREATE INDEX ix_jobs_customer_id ON jobs (customer_id)
    """,
    """
    CREATE TABLE surveys (
        id INTEGER NOT NULL,
        job_id INTEGER NOT NULL,
        revision INTEGER NOT NULL,
        document TEXT NOT NULL,
        why TEXT NOT NULL,
        made_at TEXT NOT NULL,
        CONSTRAINT pk_surveys PRIMARY KEY (id),
        CONSTRAINT uq_surveys_job_id_revision UNIQUE (job_id, revision),
        CONSTRAINT ck_surveys_revision CHECK (revision >= 1),
        CONSTRAINT fk_surveys_job_id FOREIGN KEY(job_id) REFERENCES jobs (id)
    ) STRICT
    """,
    """
    CREATE TABLE issued_papers (
        id INTEGER NOT NULL,
        number TEXT NOT NULL,
        kind TEXT NOT NULL,
        job_id INTEGER NOT NULL,
        survey_id INTEGER,
        book_id INTEGER,
        total_pence INTEGER,
        content TEXT NOT NULL,
        content_sha256 TEXT NOT NULL,
        pdf BLOB NOT NULL,
        pdf_sha256 TEXT NOT NULL,
        issued_at TEXT NOT NULL,
        supersedes_id INTEGER,
        CONSTRAINT pk_issued_papers PRIMARY KEY (id),
        CONSTRAINT uq_issued_papers_number UNIQUE (number),
        CONSTRAINT uq_issued_papers_supersedes_id UNIQUE (supersedes_id),
        CONSTRAINT ck_issued_papers_content_sha256 CHECK (length(content_sha256) = 64),
        CONSTRAINT ck_issued_papers_pdf_sha256 CHECK (length(pdf_sha256) = 64),
        CONSTRAINT fk_issued_papers_job_id FOREIGN KEY(job_id) REFERENCES jobs (id),
        CONSTRAINT fk_issued_papers_survey_id FOREIGN KEY(survey_id) REFERENCES surveys (id),
        CONSTRAINT fk_issued_papers_book_id FOREIGN KEY(book_id) REFERENCES price_books (id),
        CONSTRAINT fk_issued_papers_supersedes_id FOREIGN KEY (supersedes_id)
            REFERENCES issued_papers (id)
    ) STRICT
    """,
    """
    CREATE INDEX ix_issued_papers_job_id ON issued_papers (job_id)
    """,
    """
    CREATE TABLE numbers (
        series TEXT NOT NULL,
        value INTEGER NOT NULL,
        number TEXT NOT NULL,
        paper_id INTEGER,
        reason TEXT NOT NULL,
        taken_at TEXT NOT NULL,
        CONSTRAINT pk_numbers PRIMARY KEY (series, value),
        CONSTRAINT uq_numbers_number UNIQUE (number),
        CONSTRAINT ck_numbers_explained CHECK ((paper_id IS NULL) = (reason <> '')),
        CONSTRAINT fk_numbers_series FOREIGN KEY(series) REFERENCES number_series (series),
        CONSTRAINT fk_numbers_paper_id FOREIGN KEY(paper_id) REFERENCES issued_papers (id)
    ) STRICT
    """,
    # An issued paper is evidence. Only the erasure of a person, which says so first, may empty one.
    """
    CREATE TRIGGER tr_issued_papers_frozen BEFORE UPDATE ON issued_papers
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
    BEGIN SELECT RAISE(ABORT, 'an issued paper is never changed'); END
    """,
    """
    CREATE TRIGGER tr_issued_papers_kept BEFORE DELETE ON issued_papers
    BEGIN SELECT RAISE(ABORT, 'an issued paper is never thrown away'); END
    """,
    """
    CREATE TRIGGER tr_surveys_frozen BEFORE UPDATE ON surveys
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
    BEGIN SELECT RAISE(ABORT, 'an accepted survey is never changed'); END
    """,
    """
    CREATE TRIGGER tr_surveys_kept BEFORE DELETE ON surveys
    WHEN NOT EXISTS (SELECT 1 FROM facts WHERE name = 'erasing')
    BEGIN SELECT RAISE(ABORT, 'an accepted survey is never thrown away'); END
    """,
    """
    CREATE TRIGGER tr_numbers_kept BEFORE DELETE ON numbers
    BEGIN SELECT RAISE(ABORT, 'a number once taken is never given again'); END
    """,
    """
    CREATE TRIGGER tr_numbers_frozen BEFORE UPDATE ON numbers
    BEGIN SELECT RAISE(ABORT, 'a number once taken stays as it is'); END
    """,
    """
    CREATE TRIGGER tr_number_series_rising BEFORE UPDATE ON number_series
    WHEN NEW.series <> OLD.series OR NEW.prefix <> OLD.prefix OR NEW.next_value < OLD.next_value
    BEGIN SELECT RAISE(ABORT, 'numbers only ever rise'); END
    """,
    """
    CREATE TRIGGER tr_number_series_kept BEFORE DELETE ON number_series
    BEGIN SELECT RAISE(ABORT, 'numbers only ever rise'); END
    """,
    # INSERT OR REPLACE throws the old row away without asking the guards against deletion.
    """
    CREATE TRIGGER tr_issued_papers_once BEFORE INSERT ON issued_papers
    WHEN EXISTS (SELECT 1 FROM issued_papers WHERE id = NEW.id OR number = NEW.number
                 OR supersedes_id = NEW.supersedes_id)
    BEGIN SELECT RAISE(ABORT, 'an issued paper is never replaced'); END
    """,
    """
    CREATE TRIGGER tr_surveys_once BEFORE INSERT ON surveys
    WHEN EXISTS (SELECT 1 FROM surveys WHERE id = NEW.id
                 OR (job_id = NEW.job_id AND revision = NEW.revision))
    BEGIN SELECT RAISE(ABORT, 'an accepted survey is never replaced'); END
    """,
    """
    CREATE TRIGGER tr_numbers_once BEFORE INSERT ON numbers
    WHEN EXISTS (SELECT 1 FROM numbers WHERE number = NEW.number
                 OR (series = NEW.series AND value = NEW.value))
    BEGIN SELECT RAISE(ABORT, 'a number once taken is never given again'); END
    """,
    """
    CREATE TRIGGER tr_number_series_once BEFORE INSERT ON number_series
    WHEN EXISTS (SELECT 1 FROM number_series WHERE series = NEW.series)
    BEGIN SELECT RAISE(ABORT, 'numbers only ever rise'); END
    """,
    "PRAGMA application_id = 0x50455250",
    "PRAGMA user_version = 1",
)


def upgrade() -> None:
    """Make every table, index and guard."""
    for statement in MAKE:
        op.execute(statement)
