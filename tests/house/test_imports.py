"""The rooms import downward only, and no two parts import each other."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
START = {"__init__", "__main__"}
"""Files that belong to no room."""


def modules() -> dict[str, ast.Module]:
    """Every module of the program by its dotted name."""
    found = {}
    for path in sorted((ROOT / "estimator").rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        found[name] = ast.parse(path.read_text(encoding="utf-8"))
    return found


def imported(tree: ast.Module) -> Iterator[str]:
    """The dotted names a module imports, ``from a import b`` as both ``a`` and ``a.b``."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def room(name: str) -> str:
    """The room a module lies in: the part after ``estimator``."""
    return f"{name}.".split(".")[1]


def test_the_import_contract_holds() -> None:
    # The contract is written in pyproject.toml; the linter's own words say which import breaks it.
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run(
        [linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_contract_names_every_room() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = settings["tool"]["importlinter"]["contracts"][0]["layers"]
    named = {
        part.strip().removeprefix("estimator.")
        for layer in layers
        for part in layer.replace("|", ":").split(":")
    }
    assert {room(name) for name in modules()} - START - {""} == named


def test_no_two_rooms_import_each_other() -> None:
    pairs = {
        (room(name), room(target))
        for name, tree in modules().items()
        for target in imported(tree)
        if target.startswith("estimator.") and room(target) != room(name)
    }
    assert not {pair for pair in pairs if pair[::-1] in pairs}


def part(name: str) -> str:
    """The part of the desk a module lies in; empty for what stands at its top, and elsewhere."""
    names = name.split(".")
    is_part = names[:2] == ["estimator", "desktop"] and (ROOT / Path(*names[:3])).is_dir()
    return names[2] if is_part and len(names) > 2 else ""


def test_no_two_parts_of_the_desk_import_each_other() -> None:
    pairs = {
        (part(name), part(target))
        for name, tree in modules().items()
        for target in imported(tree)
        if part(name) and part(target) and part(name) != part(target)
    }
    assert ("works", "agreed") in pairs
    assert not {pair for pair in pairs if pair[::-1] in pairs}


def test_no_two_modules_import_each_other() -> None:
    known = modules()
    pairs = {
        (name, target)
        for name, tree in known.items()
        for target in imported(tree)
        if target in known and target != name
    }
    assert pairs
    assert not {pair for pair in pairs if pair[::-1] in pairs}
