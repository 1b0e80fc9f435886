"""Measure the shape of Python code: how long, how deep, how typed, how documented.

Files are parsed, never run.  "Code lines" of a function leave its docstring out.
"""

from __future__ import annotations

import ast
import io
import tokenize
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

Function = ast.FunctionDef | ast.AsyncFunctionDef
Definition = Function | ast.ClassDef
BLOCKS = (ast.If, ast.For, ast.AsyncFor, ast.While, ast.With, ast.AsyncWith, ast.Try, ast.Match)
BROAD = {"Exception", "BaseException"}
TO_DO = ("TO" + "DO", "FIX" + "ME", "X" * 3, "HA" + "CK")
"""The marks of unfinished work, in parts so that this file carries none."""


@dataclass(frozen=True, slots=True)
class FunctionShape:
    """One function or method."""

    where: str
    code_lines: int
    nesting: int
    is_typed: bool


@dataclass(frozen=True, slots=True)
class FileShape:
    """One file and all it defines."""

    name: str
    lines: int
    functions: tuple[FunctionShape, ...]
    class_lines: dict[str, int]
    documented: dict[str, bool]
    """Every public definition, and whether it has a docstring."""
    globals: tuple[str, ...]
    broad_excepts: tuple[str, ...]
    to_do_marks: tuple[str, ...]


def percentile(values: list[int], share: float) -> int:
    """Return the nearest-rank percentile, 0 of nothing."""
    ordered = sorted(values)
    rank = max(1, -int(-len(ordered) * share // 1))
    return ordered[rank - 1] if ordered else 0


def doc_lines(node: ast.AST) -> int:
    """Count the lines of a definition's docstring."""
    if not isinstance(node, Definition | ast.Module) or ast.get_docstring(node) is None:
        return 0
    text = node.body[0]
    return (text.end_lineno or text.lineno) - text.lineno + 1


def depth(node: ast.AST) -> int:
    """Return the deepest block below a node; an ``elif`` goes no deeper than its ``if``."""
    deepest = 0
    for child in ast.iter_child_nodes(node):
        if isinstance(child, Definition | ast.Lambda):
            continue
        is_elif = isinstance(node, ast.If) and isinstance(child, ast.If) and node.orelse == [child]
        step = isinstance(child, BLOCKS) and not is_elif
        deepest = max(deepest, depth(child) + step)
    return deepest


def is_typed(node: Function, *, in_class: bool) -> bool:
    """Say whether every parameter and the result is annotated, ``self`` and ``cls`` apart."""
    static = any(
        isinstance(mark, ast.Name) and mark.id == "staticmethod" for mark in node.decorator_list
    )
    positional = node.args.posonlyargs + node.args.args
    if in_class and not static:
        positional = positional[1:]
    rest = [extra for extra in (node.args.vararg, node.args.kwarg) if extra]
    given = all(item.annotation for item in positional + node.args.kwonlyargs + rest)
    return given and node.returns is not None


def definitions(node: ast.AST, prefix: str = "") -> Iterator[tuple[str, Definition, ast.AST]]:
    """Yield every definition with its dotted name and what holds it."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, Definition):
            yield prefix + child.name, child, node
            yield from definitions(child, f"{prefix}{child.name}.")
        else:
            yield from definitions(child, prefix)


def is_public(name: str, holder: ast.AST, node: Definition) -> bool:
    """Say whether a definition is offered to others; a property's setter is not a second one."""
    marks = {mark.attr for mark in node.decorator_list if isinstance(mark, ast.Attribute)}
    hidden = any(part.startswith("_") for part in name.split("."))
    return not hidden and not isinstance(holder, Function) and not marks & {"setter", "deleter"}


def broad_handlers(tree: ast.Module) -> Iterator[int]:
    """Yield the lines of handlers that catch everything."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ExceptHandler):
            caught = (
                {name.id for name in ast.walk(node.type) if isinstance(name, ast.Name)}
                if node.type
                else BROAD
            )
            if caught & BROAD:
                yield node.lineno


def to_do_marks(source: str) -> Iterator[int]:
    """Yield the lines whose comment says that something is unfinished."""
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT and any(mark in token.string for mark in TO_DO):
            yield token.start[0]


def measure(path: Path, root: Path) -> FileShape:
    """Measure one file; names are given from ``root`` on."""
    source = path.read_text(encoding="utf-8")
    tree = ast.parse(source)
    name = path.relative_to(root).as_posix()
    found = list(definitions(tree))
    documented = {
        f"{name}:{dotted}": ast.get_docstring(node) is not None
        for dotted, node, holder in found
        if is_public(dotted, holder, node)
    }
    if tree.body:
        documented[name] = ast.get_docstring(tree) is not None
    functions = tuple(
        FunctionShape(
            f"{name}:{dotted}",
            (node.end_lineno or node.lineno) - node.lineno + 1 - doc_lines(node),
            depth(node),
            is_typed(node, in_class=isinstance(holder, ast.ClassDef)),
        )
        for dotted, node, holder in found
        if isinstance(node, Function)
    )
    return FileShape(
        name,
        source.count("\n"),
        functions,
        {
            f"{name}:{dotted}": (node.end_lineno or node.lineno) - node.lineno + 1
            for dotted, node, _ in found
            if isinstance(node, ast.ClassDef)
        },
        documented,
        tuple(f"{name}:{node.lineno}" for node in ast.walk(tree) if isinstance(node, ast.Global)),
        tuple(f"{name}:{line}" for line in broad_handlers(tree)),
        tuple(f"{name}:{line}" for line in to_do_marks(source)),
    )


def measure_tree(root: Path, *folders: str) -> tuple[FileShape, ...]:
    """Measure every Python file of some folders under ``root``."""
    return tuple(
        measure(path, root) for folder in folders for path in sorted((root / folder).rglob("*.py"))
    )
