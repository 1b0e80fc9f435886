"""The only reader of ``resources/``: facts, rules, rates, words and fonts that ship as data."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

NAMES = (
    "bonds.json",
    "brick_formats.json",
    "contract.json",
    "enquiry.json",
    "fonts/SourceSansPro-Regular.ttf",
    "fonts/SourceSansPro-Semibold.ttf",
    "fonts/OFL.txt",
    "icons/add.svg",
    "icons/back.svg",
    "icons/caution.svg",
    "icons/close.svg",
    "icons/done.svg",
    "icons/find.svg",
    "icons/less.svg",
    "icons/more.svg",
    "icons/perpend.svg",
    "icons/stop.svg",
    "icons/tool_area.svg",
    "icons/tool_bar.svg",
    "icons/tool_brick.svg",
    "icons/tool_crack.svg",
    "icons/tool_opening.svg",
    "icons/tool_photo.svg",
    "icons/tool_point.svg",
    "icons/tool_thin_bed.svg",
    "icons/tool_wall.svg",
    "keeping.json",
    "mortars.json",
    "price_book.json",
    "rules.json",
    "sources.json",
    "tax.json",
    "triage.json",
    "wording.json",
    "works.json",
)
"""Every resource there is; a test opens each from a built wheel."""


@cache
def folder() -> Path:
    """Return the folder that holds the resources, in a wheel or in the source tree.

    >>> (folder() / "rules.json").exists()
    True
    """
    here = Path(__file__).resolve().parent
    packed = here / "_resources"
    return packed if packed.is_dir() else here.parent / "resources"


def path(name: str) -> Path:
    """Return the path of a resource.

    Raises:
        KeyError: when the name is not in ``NAMES``.
    """
    if name not in NAMES:
        raise KeyError(f"no resource is called {name}")
    return folder() / name


@cache
def data(name: str) -> Any:
    """Return a JSON resource; callers turn it into typed values and never change it.

    >>> isinstance(data("sources.json"), dict)
    True
    """
    return json.loads(path(name).read_text(encoding="utf-8"))
