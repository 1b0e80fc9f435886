"""The house budgets: figures measured on well-kept trees, none of them to be crossed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.house import measure
from tests.house.measure import FileShape, FunctionShape

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ("masonry/", "takeoff/", "pricing/", "money.py")
"""Rooms where every public definition is documented."""
OUTER_EDGE = {
    "estimator/command/main.py",
    "estimator/desktop/filing.py",
    "estimator/desktop/workers.py",
}
"""Files that may catch everything, because a person, or a thread of theirs, stands beyond."""
DRAWERS = {"utils", "util", "misc", "helpers", "helper", "common"}
"""Names that exclude nothing and so attract everything."""


@pytest.fixture(scope="module")
def shipped() -> tuple[FileShape, ...]:
    return measure.measure_tree(ROOT, "estimator")


@pytest.fixture(scope="module")
def everything() -> tuple[FileShape, ...]:
    return measure.measure_tree(ROOT, "estimator", "tests", "demo")


@pytest.fixture(scope="module")
def functions(shipped: tuple[FileShape, ...]) -> list[FunctionShape]:
    return [function for file in shipped for function in file.functions]


def test_there_is_code_to_measure(shipped: tuple[FileShape, ...]) -> None:
    assert len(shipped) > 15


def test_no_function_is_over_50_code_lines(everything: tuple[FileShape, ...]) -> None:
    long = {
        item.where: item.code_lines
        for file in everything
        for item in file.functions
        if item.code_lines > 50
    }
    assert not long


def test_nine_functions_in_ten_are_25_code_lines_or_fewer(functions: list[FunctionShape]) -> None:
    assert measure.percentile([item.code_lines for item in functions], 0.9) <= 25


def test_no_file_is_over_600_lines(everything: tuple[FileShape, ...]) -> None:
    assert not {file.name: file.lines for file in everything if file.lines > 600}


def test_nine_files_in_ten_are_400_lines_or_fewer(shipped: tuple[FileShape, ...]) -> None:
    assert measure.percentile([file.lines for file in shipped], 0.9) <= 400


def test_no_class_is_over_300_lines(everything: tuple[FileShape, ...]) -> None:
    assert not {
        name: lines
        for file in everything
        for name, lines in file.class_lines.items()
        if lines > 300
    }


def test_nothing_is_nested_over_three_deep(everything: tuple[FileShape, ...]) -> None:
    assert not {
        item.where: item.nesting
        for file in everything
        for item in file.functions
        if item.nesting > 3
    }


def test_every_function_is_annotated(functions: list[FunctionShape]) -> None:
    assert not [item.where for item in functions if not item.is_typed]


def test_every_public_definition_of_the_engine_is_documented(
    shipped: tuple[FileShape, ...],
) -> None:
    bare = [
        name
        for file in shipped
        for name, has in file.documented.items()
        if not has and file.name.removeprefix("estimator/").startswith(ENGINE)
    ]
    assert not bare


def test_85_in_100_public_definitions_are_documented(shipped: tuple[FileShape, ...]) -> None:
    marks = [has for file in shipped for has in file.documented.values()]
    assert sum(marks) >= 0.85 * len(marks)


def test_nothing_is_global(everything: tuple[FileShape, ...]) -> None:
    assert not [place for file in everything for place in file.globals]


def test_nothing_is_marked_unfinished(everything: tuple[FileShape, ...]) -> None:
    assert not [place for file in everything for place in file.to_do_marks]


def test_only_the_outer_edge_catches_everything(shipped: tuple[FileShape, ...]) -> None:
    assert not [
        place for file in shipped for place in file.broad_excepts if file.name not in OUTER_EDGE
    ]


def test_no_module_is_a_drawer(everything: tuple[FileShape, ...]) -> None:
    names = {part for file in everything for part in Path(file.name).with_suffix("").parts}
    assert not names & DRAWERS


def test_measuring_tells_good_from_bad(tmp_path: Path) -> None:
    (tmp_path / "bad.py").write_text(
        "def f(a):\n    global b\n    for c in a:\n        if c:\n            pass\n"
        "        elif a:\n            pass\n    try:\n        b = 1\n    except Exception:\n"
        "        pass\n",
        encoding="utf-8",
    )
    bad = measure.measure(tmp_path / "bad.py", tmp_path)
    assert bad.functions == (FunctionShape("bad.py:f", 11, 2, is_typed=False),)
    assert bad.globals == ("bad.py:2",)
    assert bad.broad_excepts == ("bad.py:10",)
    assert bad.documented == {"bad.py:f": False, "bad.py": False}
