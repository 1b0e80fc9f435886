"""Rows that are hard to keep: odd letters, long text, every byte, edges of time and money."""

from __future__ import annotations

import hashlib
import json
import sqlite3

THEN = "2024-02-29T23:59:59.999999+00:00"
LATE = "2038-01-20T00:00:00.000000+00:00"
FIRST = "1970-01-01T00:00:00.000000+00:00"
EVERY_BYTE = bytes(range(256)) * 6
LONG = "Rake out to 25 mm; ½ in. bed, £4 / m² – “soft” lime. " * 120
NASTY = (
    "O'Brien & Sons <Ltd>",
    'Quote " and ; DROP TABLE jobs; --',
    "İstanbul ıI ß ſ ÅÅ e\u0301é",
    "مثال \u202eabc\u202c עברית",
    "🧱👩‍🔧 𝄞 \u00a0 trailing  ",
    "line\r\nline\nline\tTab\u2028end",
    "=1+1",
    "",
)


def fill(raw: sqlite3.Connection) -> None:
    """Put the rows into a file of the first version or any later one."""
    raw.execute("BEGIN IMMEDIATE")
    for at, text in enumerate(NASTY, start=1):
        raw.execute(
            "INSERT INTO customers VALUES (?, ?, ?, 'household', ?, ?, ?, '', ?, ?, ?, ?)",
            (at, f"c{at}", text, f"{text}\n1 Wall Lane", f"01632 960{at:03}",
             f"c{at}@example.com", LONG if at == 3 else text, THEN, LATE,
             LATE if at == 8 else None),
        )  # fmt: skip
        raw.execute(
            "INSERT INTO jobs (id, uid, customer_id, title, site, stage, notes, made_at,"
            " changed_at, closed_at) VALUES (?, ?, ?, ?, ?, 'enquiry', ?, ?, ?, ?)",
            (at, f"j{at}", at if at % 2 else None, text, text, text, FIRST, THEN, None),
        )
        raw.execute(
            "INSERT INTO surveys VALUES (?, ?, ?, ?, ?, ?)",
            (
                at,
                (at + 1) // 2,
                2 - at % 2,
                f'{{"notes": "{LONG if at == 1 else at}"}}',
                text,
                THEN,
            ),
        )
    _prices(raw)
    _papers(raw)
    raw.execute("INSERT INTO drafts VALUES ('job/1', ?, ?)", (NASTY[4], THEN))
    raw.execute("INSERT INTO facts VALUES ('kept', ?)", (NASTY[3],))
    if raw.execute("PRAGMA user_version").fetchone()[0] >= 3:
        _desk(raw)
    if raw.execute("PRAGMA user_version").fetchone()[0] >= 4:
        _photos(raw)
    if raw.execute("PRAGMA user_version").fetchone()[0] >= 5:
        _happenings(raw)
    raw.execute("COMMIT")


def _desk(raw: sqlite3.Connection) -> None:
    """What came with the third version: settings, one of them long, and a job with choices."""
    for key, document in (("firm", f'{{"name": "{NASTY[2]}"}}'), ("terms", LONG), ("rules", "")):
        raw.execute("INSERT INTO settings VALUES (?, ?, ?)", (key, document, THEN))
    raw.execute('UPDATE jobs SET choices = \'{"scopes": ["½ “all”"]}\' WHERE id = 3')


def _photos(raw: sqlite3.Connection) -> None:
    """What came with the fourth version: one picture for two jobs, and one of every byte."""
    for job, picture in (
        (1, b"\xff\xd8\xff" + EVERY_BYTE),
        (2, b"\xff\xd8\xff" + EVERY_BYTE),
        (2, b"\x00"),
    ):
        raw.execute(
            "INSERT INTO photos VALUES (NULL, ?, ?, ?, 2000, 1, ?)",
            (job, hashlib.sha256(picture).hexdigest(), picture, THEN),
        )


def _happenings(raw: sqlite3.Connection) -> None:
    """What came with the fifth version: deeds of two jobs, one struck out, odd letters in both."""
    for job, kind, deed in (
        (1, "Paid", _paid(NASTY[4])),
        (2, "Paid", _paid(LONG)),
        (1, "Struck", {"happening": "h1", "kind": "Struck", "why": NASTY[3]}),
    ):
        at = raw.execute("SELECT count(*) FROM happenings").fetchone()[0] + 1
        text = json.dumps(deed, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        told = "\n".join((f"h{at}", f"j{job}", kind, THEN, text))
        raw.execute(
            "INSERT INTO happenings VALUES (?, ?, ?, ?, ?, ?, ?)",
            (at, f"h{at}", job, kind, text, hashlib.sha256(told.encode()).hexdigest(), THEN),
        )


def _paid(note: str) -> dict[str, object]:
    payment = {"amount": "0.01", "how": "cash", "invoice": "", "note": note, "on": "2024-02-29"}
    return {"kind": "Paid", "payment": payment}


def _prices(raw: sqlite3.Connection) -> None:
    """Three books, one after another; a price of nothing, no price, and a very large one."""
    for at in (1, 2, 3):
        raw.execute(
            "INSERT INTO price_books VALUES (?, ?, ?, '2024-02-29', ?, ?, ?)",
            (at, f"b{at}", NASTY[at], NASTY[at], THEN, at - 1 or None),
        )
    for at, price in enumerate((0, None, 2**53 + 1, 1, 999_999_99), start=1):
        raw.execute(
            "INSERT INTO catalogue_items VALUES (?, 'material', ?, ?, ?)",
            (at, f"A-½/{at}", NASTY[0], THEN),
        )
        for book in (1, 2):
            raw.execute(
                "INSERT INTO catalogue_rates VALUES (NULL, ?, ?, ?, '', 'm', 'MTR', '', '1', ?,"
                " '2024-02-29', 'illustrative', ?, '{}', ?, ?)",
                (at, book, NASTY[at], price, NASTY[at], at % 2, int(at == 5 and book == 2)),
            )
    raw.execute("INSERT INTO batches VALUES (1, 'uplift', 'Up 5 %', 2, ?, NULL)", (THEN,))
    raw.execute("INSERT INTO batches VALUES (2, 'import', '', 3, ?, ?)", (THEN, LATE))


def _papers(raw: sqlite3.Connection) -> None:
    """Three papers, one in the place of another, and a number that has no paper."""
    raw.execute("INSERT INTO number_series VALUES ('quotation', 'Q-', 5)")
    for at, total in enumerate((123_456, 1, None), start=1):
        content = f'{{"to": "{NASTY[2]}", "n": {at}}}'
        pdf = b"%PDF-1.7\n" + EVERY_BYTE[at:]
        raw.execute(
            "INSERT INTO issued_papers VALUES (?, ?, 'quotation', 1, 1, 2, ?, ?, ?, ?, ?, ?, ?)",
            (at, f"Q-{at:04}", total, content, hashlib.sha256(content.encode()).hexdigest(),
             pdf, hashlib.sha256(pdf).hexdigest(), THEN, 1 if at == 2 else None),
        )  # fmt: skip
        raw.execute(
            "INSERT INTO numbers VALUES ('quotation', ?, ?, ?, '', ?)", (at, f"Q-{at:04}", at, THEN)
        )
    raw.execute(
        "INSERT INTO numbers VALUES ('quotation', 4, 'Q-0004', NULL, 'printing failed', ?)", (THEN,)
    )
