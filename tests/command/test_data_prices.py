"""The commands for prices, typed as a person types them."""

from __future__ import annotations

from pathlib import Path

import pytest

from estimator.command import main
from estimator.command.exits import Exit
from estimator.office.place import file_in
from estimator.store import catalogue, price_books
from estimator.store.database import open_file

LIST = """\
Code,Description,Unit,Net price
L1,"Lime mortar, 25kg bag",bag,9.50
T1,Wall tie,each,0.35
"""
DEARER = LIST.replace("9.50", "9.80") + "S1,Slate,each,1.20\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def asked(folder: Path, capsys: pytest.CaptureFixture[str]) -> object:
    def ask(*words: object) -> tuple[int, str]:
        ended = main.run(["data", *map(str, words), "--data", str(folder)])
        printed = capsys.readouterr()
        return ended, printed.out + printed.err

    return ask


@pytest.fixture
def supplied(tmp_path: Path) -> Path:
    path = tmp_path / "eastmere.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def count(folder: Path) -> int:
    with open_file(file_in(folder)) as database:
        return len(price_books.books(database))


def test_a_list_is_shown_and_not_written(asked, supplied: Path, folder: Path) -> None:
    ended, said = asked("import-prices", supplied, "--supplier", "Eastmere")
    assert ended == Exit.DONE
    for told in (
        *("CSV in UTF-8, cells parted by commas", "price: Net price", "2 new", "0 changed"),
        *("row 2  L1  Lime mortar, 25kg bag  9.50", "Nothing is written yet"),
    ):
        assert told in said
    assert count(folder) == 1


def test_a_list_is_taken_in_after_a_backup_and_undone(asked, supplied: Path, folder: Path) -> None:
    asked("import-prices", supplied, "--supplier", "Eastmere", "--yes")
    assert (count(folder), len(list((folder / "backups").glob("*.json")))) == (2, 1)
    with open_file(file_in(folder)) as database:
        (lime,) = catalogue.named(database, "L1")
    assert (lime.supplier, lime.unit, lime.unit_code, lime.pack_size) == (
        *("Eastmere", "kg", "KGM", "25"),
    )
    assert asked("undo") == (Exit.DONE, "Taken back: eastmere.csv\n")
    assert count(folder) == 1


def test_old_and_new_price_are_shown_when_a_list_comes_again(asked, supplied: Path) -> None:
    asked("import-prices", supplied, "--supplier", "Eastmere", "--yes")
    supplied.write_text(DEARER, encoding="utf-8")
    said = asked("import-prices", supplied, "--supplier", "Eastmere", "--yes")[1]
    assert "1 new\n" in said
    assert "1 changed\n  row 2  L1  Lime mortar, 25kg bag  9.80, was 9.50\n" in said
    assert "1 unchanged\n" in said
    history = asked("price-history", "L1")[1].splitlines()
    assert [line.split()[1] for line in history[1:]] == ["9.50", "9.80"]


def test_rows_that_cannot_be_taken_keep_a_list_out_unless_left_out(
    asked, supplied: Path, folder: Path
) -> None:
    supplied.write_text(LIST + "B1,Brick,each,dear\n", encoding="utf-8")
    ended, said = asked("import-prices", supplied, "--yes")
    assert ended == Exit.MISTAKE
    assert "row 4, Net price: 'dear' is no price" in said
    assert "rows that cannot be taken: 1; nothing is written" in said.lower()
    assert count(folder) == 1
    ended, said = asked("import-prices", supplied, "--yes", "--leave-out")
    assert (ended, count(folder)) == (Exit.DONE, 2)


@pytest.mark.parametrize("name", ["out.csv", "out.xlsx"])
def test_the_catalogue_written_out_reads_back_to_the_same(
    asked, supplied: Path, tmp_path: Path, name: str
) -> None:
    asked("import-prices", supplied, "--supplier", "Eastmere", "--yes")
    ended, said = asked("export-prices", tmp_path / name)
    assert (ended, said.endswith(", 14 prices\n")) == (Exit.DONE, True)
    said = asked("import-prices", tmp_path / name, "--yes")[1]
    for told in ("0 new", "0 changed", "14 unchanged", "No price has changed."):
        assert told in said


def test_an_export_must_say_what_it_is(asked, tmp_path: Path) -> None:
    assert asked("export-prices", tmp_path / "out.pdf")[0] == Exit.MISTAKE
    assert not (tmp_path / "out.pdf").exists()


def test_an_uplift_is_shown_made_and_undone(asked, folder: Path) -> None:
    said = asked("uplift", "2.5%", "--group", "bars")[1]
    assert "bar_1000  Helical bar, stainless steel, 6 mm, 1000 mm: 4.10 to 4.20" in said
    assert count(folder) == 1
    assert asked("uplift", "-3", "--group", "bars", "--yes")[0] == Exit.DONE
    assert "3.98" in asked("price-history", "bar_1000")[1]
    assert asked("undo")[1] == "Taken back: bars -3 per cent\n"


def test_sums_of_one_entry_are_named(asked) -> None:
    assert "Access: hop up 6.00 to 6.60, tower 48.00 to 52.80," in asked("uplift", "10")[1]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("uplift", "a lot"), "'a lot' is no percentage; write it as 2.5."),
        (("uplift", "NaN"), "'NaN' is no percentage"),
        (("uplift", "5", "--group", "hats"), "No prices are in the group 'hats'"),
        (("undo",), "There is no change of prices to take back"),
        (("price-history", "zz"), "The catalogue has no code 'zz'"),
        (("confirm-prices", "zz"), "No rate not yet confirmed is called that"),
        (("import-prices", "nowhere.csv"), "The list 'nowhere.csv' could not be read"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_sentence(asked, words: object, said: str) -> None:
    ended, printed = asked(*words)
    assert ended == Exit.MISTAKE
    assert printed.startswith(said)
    assert len(printed.splitlines()) == 1


def test_rates_are_listed_until_they_are_ones_own(asked, folder: Path) -> None:
    listed = asked("confirm-prices")[1]
    assert "  bricklayer  Bricklayer (grade)  17.00\n" in listed
    assert listed.endswith(" not yet confirmed.\n")
    assert asked("confirm-prices", "grout")[1].startswith("1 confirmed as your own.")
    assert asked("confirm-prices", "--group", "Bars")[1].startswith("3 confirmed")
    assert asked("confirm-prices", "--all")[1].endswith("All rates are your own.\n")
    with open_file(file_in(folder)) as database:
        assert price_books.load(database).confirmed


def test_a_row_taken_as_a_heading_is_told(asked, supplied: Path) -> None:
    supplied.write_text(LIST + "Sundries,,,\n", encoding="utf-8")
    ended, said = asked("import-prices", supplied)
    assert ended == Exit.DONE
    assert "Taken as headings of groups, not as articles: row 4" in said
