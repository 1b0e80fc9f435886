"""A file as it may be after years: ten thousand jobs, their surveys and their papers."""

from __future__ import annotations

import hashlib
import random
from pathlib import Path

from estimator.store.database import open_file
from tests.store.hard_data import THEN

JOBS = 10_000
SURVEY_LETTERS = 1_200
PAPER_BYTES = 1_500


def make(path: Path, jobs: int = JOBS) -> None:
    """Make the file: about 60 MB at ten thousand jobs."""
    chance = random.Random(34)
    words = ("crack", "bed", "brick", "rake", "stitch", "gable", "pier", "lintel")
    with open_file(path) as database:
        raw = database.raw
        raw.execute("PRAGMA synchronous = OFF")
        with database.writing() as connection:
            put = connection.exec_driver_sql
            put("INSERT INTO number_series VALUES ('quotation', 'Q-', ?)", (jobs + 1,))
            for at in range(1, jobs + 1):
                text = " ".join(chance.choices(words, k=8))
                put(
                    "INSERT INTO customers VALUES"
                    " (?, ?, ?, 'person', ?, '', '', '', ?, ?, ?, NULL)",
                    (at, f"c{at}", f"{text[:12]} {at}", f"{at} Wall Lane", text, THEN, THEN),
                )
                put(
                    "INSERT INTO jobs VALUES (?, ?, ?, ?, ?, 'asked', ?, ?, ?, NULL, '')",
                    (at, f"j{at}", at, text, f"{at} Wall Lane", text, THEN, THEN),
                )
                survey = '{"notes": "' + (text * 40)[:SURVEY_LETTERS] + '"}'
                put("INSERT INTO surveys VALUES (?, ?, 1, ?, '', ?)", (at, at, survey, THEN))
                pdf, content = chance.randbytes(PAPER_BYTES), survey[: SURVEY_LETTERS // 2]
                put(
                    "INSERT INTO issued_papers VALUES"
                    " (?, ?, 'quotation', ?, ?, NULL, 100, ?, ?, ?, ?, ?, NULL)",
                    (
                        at,
                        f"Q-{at:05}",
                        at,
                        at,
                        content,
                        _sha(content.encode()),
                        pdf,
                        _sha(pdf),
                        THEN,
                    ),
                )
                put(
                    "INSERT INTO numbers VALUES ('quotation', ?, ?, ?, '', ?)",
                    (at, f"Q-{at:05}", at, THEN),
                )


def _sha(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
