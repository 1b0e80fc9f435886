"""Three invented jobs from the quotation to the last penny: every paper there, and all agreeing."""

from __future__ import annotations

import csv
import importlib.util
import io
import sys
import warnings
from decimal import Decimal
from functools import cache
from pathlib import Path

import pypdf
import pytest

from estimator.contract.so_far import SoFar
from estimator.contract.statement import final_account
from estimator.contract.variation import Standing
from estimator.documents.formats import money
from estimator.office import contracts
from estimator.store import issued, jobs
from estimator.store.database import open_file
from tests.exchange.ubl_rules import Rules, schema_faults

with warnings.catch_warnings():
    # The reading library's own use of older Python.
    warnings.simplefilter("ignore")
    import vobject

ROOT = Path(__file__).resolve().parents[2]
JOBS = ("quoin_cavity", "terrace", "window_lime")
KINDS = (
    *("quotation", "confirmation", "invoice", "site-sheet", "variation"),
    *("confirmation-of-a-variation", "daywork-sheet", "completion", "as-built-record"),
    *("credit-note", "statement", "final-account"),
)


@pytest.fixture(scope="module")
def gallery(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gallery")
    with pytest.MonkeyPatch.context() as patch:
        # It asks its neighbour for the invented firm.
        patch.syspath_prepend(str(ROOT / "demo"))
        spec = importlib.util.spec_from_file_location("gallery", ROOT / "demo" / "gallery.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        patch.setitem(sys.modules, "gallery", module)
        spec.loader.exec_module(module)
        for _path in module.make_gallery(folder):
            pass
    return folder


@cache
def text_of(path: Path) -> str:
    """Return the words of a PDF, blanks as they come made one."""
    pages = pypdf.PdfReader(path).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def of_kind(folder: Path, kind: str) -> list[Path]:
    return sorted(folder.glob(f"??-?-????-{kind}.pdf"))


def job_of(gallery: Path, place: int) -> SoFar:
    with open_file(gallery / "work.perpend") as database:
        # Jobs are added one after another; the list has the last changed first.
        rows = sorted(jobs.list_jobs(database), key=lambda row: row.changed_at)
        titles = [row.title for row in rows]
        assert len(titles) == len(JOBS)
        found = [contracts.so_far(database, row.uid) for row in rows]
    return sorted(found, key=lambda one: one.contract.quotation)[place]  # type: ignore[union-attr]


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_paper_is_there(gallery: Path, name: str, kind: str) -> None:
    found = of_kind(gallery / name, kind)
    assert found
    for path in found:
        assert len(pypdf.PdfReader(path).pages) >= 1
        assert "Tarn & Pike" in text_of(path)


@pytest.mark.parametrize("place", range(len(JOBS)))
def test_every_paper_has_the_same_sums(gallery: Path, place: int) -> None:
    """Original, each agreed variation, sum: found in the words of every paper that tells them."""
    so_far, folder = job_of(gallery, place), gallery / JOBS[place]
    account = final_account(so_far)
    contract = so_far.contract
    assert contract is not None
    whole = money(account.price.total)
    assert whole in text_of(of_kind(folder, "final-account")[0])
    assert money(contract.total) in text_of(of_kind(folder, "confirmation")[0])
    agreed = [one for one in so_far.variations if one.standing is Standing.AGREED]
    assert [one.number for one in agreed] == [line.number for line in account.variations]
    assert sum(line.net.pence for line in account.variations) == (so_far.net - contract.net).pence
    second = text_of(of_kind(folder, "variation")[1])
    assert whole in second


@pytest.mark.parametrize("place", range(len(JOBS)))
def test_what_was_declined_is_told_and_counts_nowhere(gallery: Path, place: int) -> None:
    so_far, folder = job_of(gallery, place), gallery / JOBS[place]
    (declined,) = (one for one in so_far.variations if one.standing is Standing.DECLINED)
    final = text_of(of_kind(folder, "final-account")[0])
    assert declined.number in final
    assert "declined" in final
    assert declined.number not in text_of(of_kind(folder, "statement")[0])


@pytest.mark.parametrize("name", JOBS)
def test_the_ledger_comes_to_nothing_once_all_is_paid(gallery: Path, name: str) -> None:
    (path,) = (gallery / name).glob("*ledger.csv")
    rows = list(csv.DictReader(io.StringIO(path.read_text("utf-8-sig"), newline="")))
    assert Decimal(rows[-1]["Balance"]) == 0


@pytest.mark.parametrize("name", JOBS)
def test_open_formats_keep_to_their_standards(gallery: Path, name: str) -> None:
    rules = Rules()
    for path in (gallery / name).glob("*.ubl.xml"):
        document = path.read_bytes()
        assert schema_faults(document) == []
        if b"<Quotation" not in document:
            assert rules.broken(document) == []


@pytest.mark.parametrize("name", JOBS)
def test_the_second_calendar_moves_the_first(gallery: Path, name: str) -> None:
    first, second = sorted((gallery / name).glob("*.ics"))
    told = []
    for path in (first, second):
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            (calendar,) = vobject.readComponents(path.read_bytes().decode())
        told.append({one.uid.value: int(one.sequence.value) for one in calendar.vevent_list})
    assert told[0].keys() <= told[1].keys()
    assert all(told[1][uid] > number for uid, number in told[0].items())


def test_nothing_in_the_file_is_otherwise_than_it_was_issued(gallery: Path) -> None:
    with open_file(gallery / "work.perpend") as database:
        assert issued.verify(database) == ()


@pytest.mark.parametrize("name", JOBS)
def test_the_buying_list_stands_by_the_counters_the_firm_goes_to(gallery: Path, name: str) -> None:
    found = sorted((gallery / name).glob("??-buying-list-*.pdf"))
    assert len(found) == 2
    for path in found:
        said = text_of(path)
        assert said.index("Fixings by Post") < said.index("Helical bar")
        assert "At the merchant's" in said
        is_bricks = "Facing brick to match" in said
        assert ("Eastmere Reclamation Yard" in said) == is_bricks
