"""Gathers every sentence of the screen into a template, and brings the translations up to date.

    python packaging/messages.py             gather, update, compile
    python packaging/messages.py --check     say what is not up to date, and change nothing

A new language is begun by copying ``perpend.pot`` to ``LANGUAGE/LC_MESSAGES/perpend.po``; the
compiled catalogue is named in ``estimator/resources.py`` and in ``pyproject.toml``.
"""

from __future__ import annotations

import argparse
import io
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent.parent
SOURCES = ROOT / "estimator" / "desktop"
LOCALE = ROOT / "resources" / "locale"
TEMPLATE = LOCALE / "perpend.pot"
KEYWORDS = {"_": None, "counted": (1, 2), "in_context": ((1, "c"), 2)}


def gathered() -> Catalog:
    """Return every sentence found in the desk's sources, with where it stands."""
    catalog = Catalog(project="Perpend", charset="utf-8", fuzzy=False)
    found = extract_from_dir(
        SOURCES, method_map=[("**.py", "python")], keywords=KEYWORDS, comment_tags=("Translators:",)
    )
    for name, _line, message, comments, context in found:
        # No line numbers: they would change with every edit of a file.
        catalog.add(message, locations=[(name, 0)], auto_comments=comments, context=context)
    return catalog


def as_text(catalog: Catalog, *, is_template: bool = False) -> bytes:
    """Return a catalogue as a .po file; the template goes without the moment it was made."""
    held = io.BytesIO()
    write_po(
        held,
        catalog,
        sort_output=True,
        omit_header=is_template,
        include_lineno=False,
        width=100,
    )
    return held.getvalue()


def updated(path: Path, template: Catalog) -> Catalog:
    """Return a translation with the sentences there are now."""
    with path.open("rb") as held:
        catalog = read_po(held, locale=path.parent.parent.name)
    written = catalog.creation_date
    catalog.update(template, no_fuzzy_matching=True)
    # The moment the template was made would differ at every run.
    catalog.creation_date = written
    return catalog


def main() -> int:
    """Gather and write, or only compare."""
    parser = argparse.ArgumentParser(description="Gather the sentences of the screen.")
    parser.add_argument("--check", action="store_true", help="change nothing; 1 if out of date")
    asked = parser.parse_args()
    template = gathered()
    wanted = {TEMPLATE: as_text(template, is_template=True)}
    for path in sorted(LOCALE.glob("*/LC_MESSAGES/perpend.po")):
        catalog = updated(path, template)
        wanted[path] = as_text(catalog)
        compiled = io.BytesIO()
        write_mo(compiled, catalog)
        wanted[path.with_suffix(".mo")] = compiled.getvalue()
    stale = [
        path for path, text in wanted.items() if not path.exists() or path.read_bytes() != text
    ]
    for path in stale:
        print(path.relative_to(ROOT))
        if not asked.check:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(wanted[path])
    return 1 if stale and asked.check else 0


if __name__ == "__main__":
    sys.exit(main())
