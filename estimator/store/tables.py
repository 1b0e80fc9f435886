"""The tables of the file, typed; a test compares them with what the migrations make.

Constraints carry names from the first, because SQLite can only change what has one. Rows never
leave this room: the stores hand out frozen values.
"""

from __future__ import annotations

from sqlalchemy import CheckConstraint, ForeignKey, Index, MetaData, UniqueConstraint
from sqlalchemy import Text as SqlText
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from estimator.store.columns import Bytes, Flag, Key, Moment, Pence, Text

NAMING = {
    "pk": "pk_%(table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
}


class Base(DeclarativeBase):
    """All tables share one set of names and are strict about types."""

    metadata = MetaData(naming_convention=NAMING)


class Customers(Base):
    """People and firms asked for work; erased ones keep their row and nothing personal."""

    __tablename__ = "customers"
    __table_args__ = (UniqueConstraint("uid"),)
    id: Mapped[Key]
    uid: Mapped[Text]
    name: Mapped[Text]
    kind: Mapped[Text]
    address: Mapped[Text]
    telephone: Mapped[Text]
    email: Mapped[Text]
    vat_number: Mapped[Text]
    notes: Mapped[Text]
    made_at: Mapped[Moment]
    changed_at: Mapped[Moment]
    erased_at: Mapped[Moment | None]


class Jobs(Base):
    """One piece of work, from the first call to the account."""

    __tablename__ = "jobs"
    __table_args__ = (
        UniqueConstraint("uid"),
        Index(None, "changed_at", "id", "customer_id", "stage"),
    )
    id: Mapped[Key]
    uid: Mapped[Text]
    customer_id: Mapped[int | None] = mapped_column(ForeignKey("customers.id"), index=True)
    title: Mapped[Text]
    site: Mapped[Text]
    stage: Mapped[Text]
    notes: Mapped[Text]
    made_at: Mapped[Moment]
    changed_at: Mapped[Moment]
    closed_at: Mapped[Moment | None]
    choices: Mapped[Text] = mapped_column(server_default="")
    """The scopes it is priced for and the rules changed for it alone, as JSON."""


class Surveys(Base):
    """Every accepted revision of the survey of a job; none is ever changed."""

    __tablename__ = "surveys"
    __table_args__ = (
        UniqueConstraint("job_id", "revision"),
        CheckConstraint("revision >= 1", name="revision"),
    )
    id: Mapped[Key]
    job_id: Mapped[int] = mapped_column(ForeignKey("jobs.id"))
    revision: Mapped[int]
    document: Mapped[Text]
    why: Mapped[Text]
    made_at: Mapped[Moment]


class Drafts(Base):
    """What is half typed, kept within seconds so that nothing typed is lost."""

    __tablename__ = "drafts"
    key: Mapped[str] = mapped_column(SqlText, primary_key=True)
    document: Mapped[Text]
    changed_at: Mapped[Moment]


class Settings(Base):
    """What the firm set, one JSON text by its name."""

    __tablename__ = "settings"
    key: Mapped[str] = mapped_column(SqlText, primary_key=True)
    document: Mapped[Text]
    changed_at: Mapped[Moment]


class PriceBooks(Base):
    """Dated sets of rates, one after another; each holds only what it changed."""

    __tablename__ = "price_books"
    __table_args__ = (UniqueConstraint("uid"), UniqueConstraint("supersedes_id"))
    id: Mapped[Key]
    uid: Mapped[Text]
    title: Mapped[Text]
    dated: Mapped[Text]
    why: Mapped[Text]
    made_at: Mapped[Moment]
    supersedes_id: Mapped[int | None] = mapped_column(ForeignKey("price_books.id"))


class CatalogueItems(Base):
    """Whatever has a rate: a grade, an output, a material, plant, a bar, a setting."""

    __tablename__ = "catalogue_items"
    __table_args__ = (UniqueConstraint("kind", "supplier", "code"),)
    id: Mapped[Key]
    kind: Mapped[Text]
    code: Mapped[Text]
    supplier: Mapped[Text]
    made_at: Mapped[Moment]


class CatalogueRates(Base):
    """What an item is called and costs from one price book on, until a later one says otherwise."""

    __tablename__ = "catalogue_rates"
    __table_args__ = (
        UniqueConstraint("item_id", "book_id"),
        CheckConstraint("price_pence IS NULL OR price_pence >= 0", name="price"),
        CheckConstraint("confirmed IN (0, 1)", name="confirmed"),
        CheckConstraint("dropped IN (0, 1)", name="dropped"),
    )
    id: Mapped[Key]
    item_id: Mapped[int] = mapped_column(ForeignKey("catalogue_items.id"))
    book_id: Mapped[int] = mapped_column(ForeignKey("price_books.id"), index=True)
    title: Mapped[Text]
    grouping: Mapped[Text]
    unit: Mapped[Text]
    unit_code: Mapped[Text]
    pack: Mapped[Text]
    pack_size: Mapped[Text]
    price_pence: Mapped[Pence | None]
    dated: Mapped[Text]
    source: Mapped[Text]
    notes: Mapped[Text]
    body: Mapped[Text]
    """The entry as a price book file writes it, as JSON."""
    confirmed: Mapped[Flag]
    dropped: Mapped[Flag]


class IssuedPapers(Base):
    """Papers that went out: never changed, only superseded."""

    __tablename__ = "issued_papers"
    __table_args__ = (
        UniqueConstraint("number"),
        UniqueConstraint("supersedes_id"),
        CheckConstraint("length(content_sha256) = 64", name="content_sha256"),
        CheckConstraint("length(pdf_sha256) = 64", name="pdf_sha256"),
    )
    id: Mapped[Key]
    number: Mapped[Text]
    kind: Mapped[Text]
    job_id: Mapped[int] = mapped_column(ForeignKey("jobs.id"), index=True)
    survey_id: Mapped[int | None] = mapped_column(ForeignKey("surveys.id"))
    book_id: Mapped[int | None] = mapped_column(ForeignKey("price_books.id"))
    total_pence: Mapped[Pence | None]
    content: Mapped[Text]
    """All that the paper says, with its prices, as JSON."""
    content_sha256: Mapped[Text]
    pdf: Mapped[Bytes]
    pdf_sha256: Mapped[Text]
    issued_at: Mapped[Moment]
    supersedes_id: Mapped[int | None] = mapped_column(ForeignKey("issued_papers.id"))


class PaperLines(Base):
    """What a list tells of each issued paper, so that no PDF is read for it.

    The file's own triggers write it; no store does.
    """

    __tablename__ = "paper_lines"
    id: Mapped[int] = mapped_column(ForeignKey("issued_papers.id"), primary_key=True)
    job_id: Mapped[int] = mapped_column(index=True)
    number: Mapped[Text]
    kind: Mapped[Text]
    total_pence: Mapped[Pence | None]
    issued_at: Mapped[Moment]
    valid_until: Mapped[Text]
    """Last day an offer stands, read out of the content; empty where it does not say."""


class Photos(Base):
    """Photographs of a job, each by the hash of its bytes; none is ever changed."""

    __tablename__ = "photos"
    __table_args__ = (
        UniqueConstraint("job_id", "sha256"),
        CheckConstraint("length(sha256) = 64", name="sha256"),
        CheckConstraint("width_px >= 1 AND height_px >= 1", name="size"),
    )
    id: Mapped[Key]
    job_id: Mapped[int] = mapped_column(ForeignKey("jobs.id"))
    sha256: Mapped[Text]
    jpeg: Mapped[Bytes]
    width_px: Mapped[int]
    height_px: Mapped[int]
    added_at: Mapped[Moment]


class Happenings(Base):
    """What happened to a job once its quotation was out; only ever added to."""

    __tablename__ = "happenings"
    __table_args__ = (
        UniqueConstraint("uid"),
        CheckConstraint("length(sha256) = 64", name="sha256"),
    )
    id: Mapped[Key]
    uid: Mapped[Text]
    job_id: Mapped[int] = mapped_column(ForeignKey("jobs.id"), index=True)
    kind: Mapped[Text] = mapped_column(index=True)
    document: Mapped[Text]
    """The deed, as JSON."""
    sha256: Mapped[Text]
    """Of all that the other columns say."""
    at: Mapped[Moment]


class NumberSeries(Base):
    """A run of numbers: quotations, estimates, variations, invoices."""

    __tablename__ = "number_series"
    __table_args__ = (CheckConstraint("next_value >= 1", name="next_value"),)
    series: Mapped[str] = mapped_column(SqlText, primary_key=True)
    prefix: Mapped[Text]
    next_value: Mapped[int]


class Numbers(Base):
    """Every number ever taken, with its paper or the reason it has none."""

    __tablename__ = "numbers"
    __table_args__ = (
        UniqueConstraint("number"),
        CheckConstraint("(paper_id IS NULL) = (reason <> '')", name="explained"),
    )
    series: Mapped[str] = mapped_column(
        SqlText, ForeignKey("number_series.series"), primary_key=True
    )
    value: Mapped[int] = mapped_column(primary_key=True)
    number: Mapped[Text]
    paper_id: Mapped[int | None] = mapped_column(ForeignKey("issued_papers.id"))
    reason: Mapped[Text]
    taken_at: Mapped[Moment]


class Batches(Base):
    """Changes to many rates at once, each with the price book it made, taken back by one undo."""

    __tablename__ = "batches"
    id: Mapped[Key]
    kind: Mapped[Text]
    title: Mapped[Text]
    book_id: Mapped[int | None] = mapped_column(ForeignKey("price_books.id"))
    made_at: Mapped[Moment]
    undone_at: Mapped[Moment | None]


class Facts(Base):
    """Small facts about the file itself."""

    __tablename__ = "facts"
    name: Mapped[str] = mapped_column(SqlText, primary_key=True)
    value: Mapped[Text]


for _table in Base.metadata.tables.values():
    _table.dialect_options["sqlite"]["strict"] = True
