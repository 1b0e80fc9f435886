"""What people read is plain, and no file tells of the machine it was written on."""

from __future__ import annotations

import ast
import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from estimator import resources

ROOT = Path(__file__).resolve().parents[2]
SPEAKING = {"Notice", "UserMistake", "WorldFault", "Reason", "Outcome", "Step"}
"""Calls whose text a person reads."""
BANNED = re.compile(
    r"\b(?:submit\w*|records?|entit(?:y|ies)|(?:in)?valid|please|sorry|oops|ok|forbidden|illegal"
    r"|caused by)\b|\b(?:e\.g|i\.e)\.|\betc\b",
    re.IGNORECASE,
)
"""Words of offices and machines; and a crack is "often seen with", never "caused by"."""
OUT_OF_CUSTOMERS_SIGHT = {"sources.json", "tax.json"}
"""Titles of documents, and of laws, are printed as they are called."""
KEYS = {"source", "sources", "key", "code"}
"""Fields that hold keys, not words."""
MADE = {
    *(".venv", "out", "build", "dist", "__pycache__", ".mypy_cache", ".ruff_cache"),
    *(".pytest_cache", ".hypothesis", ".benchmarks", ".import_linter_cache"),
}
"""Folders that tools make, as .gitignore has them."""
PLACES = re.compile(r"/(?:home|root|tmp|Users)/\w|[A-Z]:\\Users")
HOSTS = tuple(
    ".".join(parts)
    for parts in (
        ("pypi", "org"),
        ("pythonhosted", "org"),
        ("npmjs", "org"),
        ("npmjs", "com"),
        ("deb", "debian", "org"),
        ("anaconda", "org"),
        ("proxy", "golang", "org"),
        ("crates", "io"),
    )
)
"""Hosts of package registries, in parts so that this file names none."""


def words_of(value: Any, key: str = "") -> Iterator[str]:
    """Every text in a JSON value that is not a key."""
    if isinstance(value, str) and key not in KEYS:
        yield value
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from words_of(inner, name)
    elif isinstance(value, list):
        for inner in value:
            yield from words_of(inner, key)


def spoken(tree: ast.Module) -> Iterator[str]:
    """Every literal text inside a call that speaks to people."""
    for node in ast.walk(tree):
        called = getattr(node, "func", None)
        if getattr(called, "id", getattr(called, "attr", "")) in SPEAKING:
            yield from (
                part.value
                for part in ast.walk(node)
                if isinstance(part, ast.Constant) and isinstance(part.value, str)
            )


def tracked() -> list[Path]:
    """Every file under version control; where there is none, every file not made by a tool."""
    if (ROOT / ".git").exists() and shutil.which("git"):
        listed = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
        )
        found = [ROOT / name for name in listed.stdout.split("\0") if name]
    else:
        found = [path for path in ROOT.rglob("*") if not MADE & set(path.relative_to(ROOT).parts)]
    return [path for path in found if path.is_file()]


@pytest.mark.parametrize(
    "name",
    [
        name
        for name in resources.NAMES
        if name.endswith(".json") and name not in OUT_OF_CUSTOMERS_SIGHT
    ],
)
def test_resources_are_worded_plainly(name: str) -> None:
    assert not [text for text in words_of(resources.data(name)) if BANNED.search(text)]


def test_what_the_program_says_is_worded_plainly() -> None:
    said = {
        (path.name, text)
        for path in (ROOT / "estimator").rglob("*.py")
        for text in spoken(ast.parse(path.read_text(encoding="utf-8")))
    }
    assert not {(name, text) for name, text in said if BANNED.search(text)}


@pytest.mark.parametrize("text", ["Please wait", "an invalid date", "walls, e.g. a gable", "OK"])
def test_office_words_are_noticed(text: str) -> None:
    assert BANNED.search(text)


@pytest.mark.parametrize("text", ["a broken brick", "the book", "token", "Often seen with clay"])
def test_trade_words_are_let_through(text: str) -> None:
    assert not BANNED.search(text)


def text_of(path: Path) -> str:
    """The text of a file, or nothing of a picture or a font."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_no_file_names_a_place_on_the_machine() -> None:
    home = f"{ROOT.parent.as_posix()}/"
    # A checkout right under / has no telling parent folder.
    telling = home if len(ROOT.parent.parts) > 1 else "\0"
    named = {
        path.name: PLACES.findall(text_of(path))
        for path in tracked()
        if PLACES.search(text_of(path)) or telling in text_of(path)
    }
    assert not named


def test_no_file_names_a_package_registry() -> None:
    assert not {path.name for path in tracked() for host in HOSTS if host in text_of(path)}


def test_no_resource_is_broken_json() -> None:
    for path in sorted((ROOT / "resources").glob("*.json")):
        json.loads(path.read_text(encoding="utf-8"))
