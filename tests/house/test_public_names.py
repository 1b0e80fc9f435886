"""What a module keeps to itself, other modules leave alone."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def trees() -> Iterator[tuple[str, ast.Module]]:
    for path in sorted((ROOT / "estimator").rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def private_uses(tree: ast.Module) -> Iterator[str]:
    """Private names taken from another module of ours."""
    modules = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("estimator"):
            names = [alias.name for alias in node.names]
            modules |= {alias.asname or alias.name for alias in node.names}
            yield from (name for name in names if is_private(name))
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Attribute)
            and isinstance(node.value, ast.Name)
            and node.value.id in modules
            and is_private(node.attr)
        ):
            yield f"{node.value.id}.{node.attr}"


def is_private(name: str) -> bool:
    # ``_`` by itself is the usual name for looking a sentence up in the screen's language.
    return name.startswith("_") and not name.startswith("__") and name != "_"


def test_no_module_uses_what_another_keeps_to_itself() -> None:
    found = {name: list(private_uses(tree)) for name, tree in trees()}
    assert len(found) > 15
    assert not {name: uses for name, uses in found.items() if uses}


def test_private_uses_are_noticed() -> None:
    tree = ast.parse("from estimator import money\nfrom estimator.units import _x\nmoney._y()\n")
    assert list(private_uses(tree)) == ["_x", "money._y"]
