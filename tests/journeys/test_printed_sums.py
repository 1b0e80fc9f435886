"""Every figure that is printed is added up again, from the paper alone, as a customer would.

Nothing of the program is asked but where its words stand on the page: rows are read off the PDF,
and what stands over a sum has to come to it, on every paper and from one to the next.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from estimator.documents import styles
from tests.documents.reading import placed
from tests.journeys.test_gallery import JOBS, gallery

__all__ = ["gallery"]

POUNDS = re.compile(r"^[+\u2212]?£?\d[\d,]*\.\d\d$")
TITLES = (
    *("The work", "When it is paid", "What changes", "The contract sum", "What it is for"),
    *("What is credited", "Invoices, credits and payments", "What is open", "Every line"),
    *("From the quotation to the final sum", "What was invoiced", "What was paid", "The balance"),
    *(
        "Labour",
        "Materials and plant",
        "Against the contract sum",
        "Not agreed, so not counted",
        "Your answer",
    ),
    *("How to pay", "Your right to cancel"),
)


@dataclass(frozen=True)
class Row:
    """One printed row: its words, and its sums from left to right."""

    words: str
    sums: tuple[Decimal, ...]

    @property
    def last(self) -> Decimal:
        return self.sums[-1]


def pounds(text: str) -> Decimal:
    return Decimal(re.sub("[£,+]", "", text).replace("\u2212", "-"))


@cache
def tables(path: Path) -> dict[str, tuple[Row, ...]]:
    """The rows with sums of each table of a paper, by its title."""
    styles.sheet()
    runs = defaultdict(list)
    for run in placed(path.read_bytes()):
        runs[(run.page, -round(run.base))].append(run)
    found: dict[str, list[Row]] = defaultdict(list)
    title = ""
    for place in sorted(runs):
        row = [one.text.strip() for one in sorted(runs[place], key=lambda one: one.left)]
        words = " ".join(one for one in row if not POUNDS.match(one)).strip()
        title = next((one for one in row if one in TITLES), title)
        sums = tuple(pounds(one) for one in row if POUNDS.match(one))
        if sums:
            found[title].append(Row(words, sums))
    return {key: tuple(rows) for key, rows in found.items()}


def papers(gallery: Path, job: str, kind: str) -> list[Path]:
    return sorted((gallery / job).glob(f"??-?-????-{kind}.pdf"))


def named(rows: tuple[Row, ...], words: str) -> Row:
    return next(one for one in rows if one.words.startswith(words))


def before(rows: tuple[Row, ...], words: str) -> Iterator[Row]:
    """The rows over the one that begins so."""
    for row in rows:
        if row.words.startswith(words):
            return
        yield row


def column(rows: Iterator[Row]) -> Decimal:
    return sum((row.last for row in rows), Decimal(0))


@pytest.mark.parametrize("job", JOBS)
def test_the_confirmation_adds_up_and_so_do_its_stages(gallery: Path, job: str) -> None:
    (path,) = papers(gallery, job, "confirmation")
    made = tables(path)
    work, stages = made["The work"], made["When it is paid"]
    net = named(work, "Before VAT").last
    assert column(before(work, "Before VAT")) == net
    vat = sum((row.last for row in work if row.words.startswith("VAT at")), Decimal(0))
    assert net + vat == named(work, "Total").last == column(iter(stages[:3]))


@pytest.mark.parametrize("job", JOBS)
def test_each_variation_adds_up_line_by_line_and_group_by_group(gallery: Path, job: str) -> None:
    found = papers(gallery, job, "variation")
    assert len(found) == 3
    sum_so_far = None
    for path in found:
        made = tables(path)
        lines = made["What changes"]
        net = named(lines, "This variation").last
        over = (
            tuple(before(lines, "Added"))
            if any(row.words == "Added" for row in lines)
            else tuple(before(lines, "This variation"))
        )
        # A heading has its sum alone; a line has a rate, or two sums, before it.
        assert column(row for row in over if len(row.sums) == 1) == net, path
        assert column(row for row in over if len(row.sums) > 1) == net, path
        split = [row.last for row in lines if row.words in ("Added", "Left out")]
        assert not split or sum(split) == net
        climb = made["The contract sum"]
        accepted, change, after = (
            named(climb, words).sums for words in ("As accepted", "This variation", "With this")
        )
        agreed = [row.sums for row in climb if re.match(r"V-\d{4}: ", row.words)]
        before_it = tuple(map(sum, zip(accepted, *agreed, strict=True)))
        if agreed:
            assert named(climb, "Before this variation").sums == before_it
        assert tuple(map(sum, zip(before_it, change, strict=True))) == after
        if len(after) == 3:
            assert after[0] + after[1] == after[2]
        assert sum_so_far is None or before_it == sum_so_far
        # The third was declined, and is in no sum after it.
        sum_so_far = after


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize(
    ("kind", "title"), [("invoice", "What it is for"), ("credit-note", "What is credited")]
)
def test_invoices_and_credit_notes_add_up(gallery: Path, job: str, kind: str, title: str) -> None:
    for path in papers(gallery, job, kind):
        rows = tables(path)[title]
        net = named(rows, "Before VAT").last
        assert column(before(rows, "Before VAT")) == net, path
        vat = sum((row.last for row in rows if row.words.startswith("VAT at")), Decimal(0))
        gross = named(rows, "Total").last
        assert net + vat == gross
        kept = [row.last for row in rows if "kept back by you under" in row.words.lower()]
        if kept:
            (paid,) = [row.last for row in rows if row.words in ("To pay", "Credited to you")]
            assert gross + kept[0] == paid


@pytest.mark.parametrize("job", JOBS)
def test_the_statement_runs_from_line_to_line_to_what_is_open(gallery: Path, job: str) -> None:
    (path,) = papers(gallery, job, "statement")
    made = tables(path)
    balance = Decimal(0)
    for row in made["Invoices, credits and payments"]:
        change, after = row.sums
        is_paid = row.words.startswith("Payment")
        balance += -change if is_paid else change
        assert after == balance, row
    still_open = made["What is open"]
    assert column(before(still_open, "Open together")) == balance
    assert named(still_open, "Open together").last == balance
    whole = made["Against the contract sum"]
    rest = named(whole, "Not invoiced yet").last
    assert named(whole, "The contract sum").last - named(whole, "Invoiced").last == rest


@pytest.mark.parametrize("job", JOBS)
def test_the_final_account_adds_up_in_every_table(gallery: Path, job: str) -> None:
    (path,) = papers(gallery, job, "final-account")
    made = tables(path)
    climb = made["From the quotation to the final sum"]
    *steps, final = (row.sums for row in climb)
    assert tuple(map(sum, zip(*steps, strict=True))) == final
    *asked, struck = (row.sums for row in made["What was invoiced"])
    assert tuple(map(sum, zip(*asked, strict=True))) == struck
    *paid, together = made["What was paid"]
    assert column(iter(paid)) == together.last
    rows = made["The balance"]
    (left,) = [
        row.last
        for row in rows
        if row.words.startswith(("Nothing", "Still to pay", "To pay later"))
    ]
    assert sum(row.last for row in rows[: rows.index(named(rows, "Paid")) + 1]) == left
    lines = made["Every line"]
    over = tuple(before(lines, "Before VAT"))
    heads = [row for row in over if re.match(r"(As accepted|V-\d{4}: )", row.words)]
    assert sum(row.last for row in heads) == named(lines, "Before VAT").last == final[0]
    assert column(row for row in over if row not in heads) == final[0]
    assert named(lines, "Total").last == final[-1]


@pytest.mark.parametrize("job", JOBS)
def test_papers_agree_from_one_to_the_next(gallery: Path, job: str) -> None:
    """Quotation, confirmation, variations, statement and final account: one sum."""
    (confirmed,) = papers(gallery, job, "confirmation")
    accepted = named(tables(confirmed)["The work"], "Total").last
    variations = [tables(path)["The contract sum"] for path in papers(gallery, job, "variation")]
    assert all(named(one, "As accepted").sums[-1] == accepted for one in variations)
    agreed = named(variations[1], "With this variation").sums[-1]
    (account,) = papers(gallery, job, "final-account")
    (stated,) = papers(gallery, job, "statement")
    assert named(tables(account)["Every line"], "Total").last == agreed
    assert named(tables(stated)["Against the contract sum"], "The contract sum").last == agreed
    # Invoices less credit notes, read from the papers themselves, are what the account says.
    asked = sum(
        named(tables(path)["What it is for"], "Total").last
        for path in papers(gallery, job, "invoice")
    )
    back = sum(
        named(tables(path)["What is credited"], "Total").last
        for path in papers(gallery, job, "credit-note")
    )
    assert asked - back == named(tables(account)["What was invoiced"], "Invoiced").last


@pytest.mark.parametrize("job", JOBS)
def test_a_daywork_sheet_adds_up_with_its_percentages(gallery: Path, job: str) -> None:
    (path,) = papers(gallery, job, "daywork-sheet")
    made = tables(path)
    labour, spent = made["Labour"], made["Materials and plant"]
    hours = tuple(before(labour, "Labour at cost"))
    assert column(iter(hours)) == named(labour, "Labour at cost").last
    added = sum(row.last for row in labour[len(hours) :])
    goods = sum(row.last for row in spent if " at cost" in row.words or " % on " in row.words)
    assert added + goods == named(spent, "This sheet").last


QUANTITY = re.compile(r"([\d,.]+) (?:m²|m|nr|kg|days?|visits?|weeks?)(?: |$)")


@pytest.mark.parametrize("job", JOBS)
def test_every_accepted_line_is_its_quantity_times_its_rate(gallery: Path, job: str) -> None:
    """As the final account says of itself under the table."""
    (path,) = papers(gallery, job, "final-account")
    accepted = before(tables(path)["Every line"], "V-")
    tried = 0
    for row in accepted:
        quantities = QUANTITY.findall(row.words)
        if len(row.sums) == 2 and quantities:
            rate, amount = row.sums
            worth = Decimal(quantities[-1].replace(",", "")) * rate
            assert abs(worth - amount) <= Decimal("0.005"), row
            tried += 1
    assert tried > 10
