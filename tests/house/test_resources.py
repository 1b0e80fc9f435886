"""Data that ships: all there, all cited, and all readable from a built wheel."""

from __future__ import annotations

import importlib.util
import json
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from estimator import resources, sources

ROOT = Path(__file__).resolve().parents[2]
JSON_NAMES = [name for name in resources.NAMES if name.endswith(".json")]
CITING = {"source", "described_in"}
"""Fields that hold the key of a source."""
OPEN_ALL = """
import json
from estimator import resources
assert resources.folder().name == "_resources", resources.folder()
for name in resources.NAMES:
    assert resources.path(name).read_bytes(), name
    if name.endswith(".json"):
        resources.data(name)
print(len(resources.NAMES))
"""


def cited(value: Any) -> Iterator[str]:
    """Every source key cited anywhere in a JSON value."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in CITING or key.endswith("_source"):
                yield from [inner] if isinstance(inner, str) and inner else []
            elif key == "sources" and isinstance(inner, dict):
                yield from inner.values()
            else:
                yield from cited(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from cited(inner)


@pytest.mark.parametrize("name", resources.NAMES)
def test_every_resource_exists(name: str) -> None:
    assert resources.path(name).stat().st_size > 0


def test_every_resource_is_mapped_into_the_wheel() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    mapped = settings["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    packed = {
        f"resources/{name.split('/')[0]}": f"estimator/_resources/{name.split('/')[0]}"
        for name in resources.NAMES
    }
    assert mapped == packed


def test_nothing_lies_in_resources_unnamed() -> None:
    there = {
        path.relative_to(ROOT / "resources").as_posix()
        for path in (ROOT / "resources").rglob("*")
        if path.is_file()
    }
    # The template of the screen's sentences is for translators, and ships with the sources only.
    assert there - {"locale/perpend.pot"} == set(resources.NAMES)


@pytest.mark.parametrize("name", JSON_NAMES)
def test_every_source_cited_is_known(name: str) -> None:
    assert set(cited(resources.data(name))) <= set(sources.all_sources())


def test_citations_are_found_at_any_depth() -> None:
    nested = {
        "a": [{"source": "x"}, {"handbook_source": "y"}],
        "b": {"c": {"source": "z"}},
        "d": {"sources": {"lime": "w"}},
    }
    assert list(cited(nested)) == ["x", "y", "z", "w"]


@pytest.mark.slow
@pytest.mark.skipif(not importlib.util.find_spec("hatchling"), reason="needs hatchling to build")
def test_every_resource_opens_from_a_built_wheel(tmp_path: Path) -> None:
    build = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        str(ROOT),
        "--no-deps",
        "--no-build-isolation",
        "--quiet",
        "--disable-pip-version-check",
        "-w",
        str(tmp_path),
    ]
    built = subprocess.run(build, capture_output=True, text=True, check=False)
    assert built.returncode == 0, built.stderr
    with zipfile.ZipFile(next(tmp_path.glob("perpend-*.whl"))) as wheel:
        wheel.extractall(tmp_path / "unpacked")
    read = subprocess.run(
        # Isolated, so that neither this checkout nor an editable install can answer instead.
        [
            sys.executable,
            "-I",
            "-c",
            f"import sys; sys.path.insert(0, {str(tmp_path / 'unpacked')!r})" + OPEN_ALL,
        ],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
    )
    assert read.returncode == 0, read.stderr
    assert json.loads(read.stdout) == len(resources.NAMES)
