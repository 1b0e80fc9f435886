"""Workbooks written by hand, part by part, as no spreadsheet would write them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
OPEN = "urn:oasis:names:tc:opendocument:xmlns"


def packed(parts: Mapping[str, str | bytes], *, squeezed: bool = True) -> bytes:
    """An archive of parts, the same bytes on any day and any machine where it is not squeezed."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in parts.items():
            entry = zipfile.ZipInfo(name)
            entry.create_system = 3
            entry.compress_type = zipfile.ZIP_DEFLATED if squeezed else zipfile.ZIP_STORED
            archive.writestr(entry, content)
    return out.getvalue()


def relations(kind: str, targets: Mapping[str, str]) -> str:
    each = "".join(
        f'<Relationship Id="{key}" Type="{OFFICE}/{kind}" Target="{target}"/>'
        for key, target in targets.items()
    )
    return f'<Relationships xmlns="{PACKAGE}/relationships">{each}</Relationships>'


def xlsx_parts(rows: str, *, sheets: int = 1, shared: str = "") -> dict[str, str | bytes]:
    names = [f"sheet{number}" for number in range(1, sheets + 1)]
    listed = "".join(
        f'<sheet name="{name}" sheetId="{at}" r:id="r{name}"/>' for at, name in enumerate(names, 1)
    )
    targets = {f"r{name}": f"worksheets/{name}.xml" for name in names}
    related = relations("worksheet", targets)
    sheet = f'<worksheet xmlns="{MAIN}"><sheetData>{rows}</sheetData></worksheet>'
    parts: dict[str, str | bytes] = {
        "[Content_Types].xml": f'<Types xmlns="{PACKAGE}/content-types"/>',
        "_rels/.rels": relations("officeDocument", {"rId1": "xl/workbook.xml"}),
        "xl/workbook.xml": (
            f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>{listed}</sheets></workbook>'
        ),
        "xl/_rels/workbook.xml.rels": related,
    }
    if shared:
        parts["xl/sharedStrings.xml"] = shared
        parts["xl/_rels/workbook.xml.rels"] = related.replace(
            "</Rel",
            f'<Relationship Id="s" Type="{OFFICE}/sharedStrings" Target="sharedStrings.xml"/></Rel',
            1,
        )
    return parts | {f"xl/worksheets/{name}.xml": sheet for name in names}


def xlsx(rows: str, *, sheets: int = 1, shared: str = "") -> bytes:
    return packed(xlsx_parts(rows, sheets=sheets, shared=shared))


def row(number: int, *cells: str) -> str:
    """One row of inline texts, or of numbers where they are figures."""
    made = "".join(
        f"<c><v>{cell}</v></c>"
        if cell.replace(".", "").isdigit()
        else f'<c t="inlineStr"><is><t>{cell}</t></is></c>'
        for cell in cells
    )
    return f'<row r="{number}">{made}</row>'


def ods(table: str, *, before: str = "", squeezed: bool = True) -> bytes:
    names = "".join(f' xmlns:{name}="{OPEN}:{name}:1.0"' for name in ("office", "table", "text"))
    return packed(
        {
            "mimetype": "application/vnd.oasis.opendocument.spreadsheet",
            "content.xml": (
                f"{before}<office:document-content{names}><office:body><office:spreadsheet>"
                f'<table:table table:name="Prices">{table}</table:table>'
                "</office:spreadsheet></office:body></office:document-content>"
            ),
            "META-INF/manifest.xml": f'<m:manifest xmlns:m="{OPEN}:manifest:1.0"/>',
        },
        squeezed=squeezed,
    )


def ods_row(*cells: str, across: int = 1, down: int = 1) -> str:
    made = "".join(
        f'<table:table-cell table:number-columns-repeated="{across}" office:value-type="string">'
        f"<text:p>{cell}</text:p></table:table-cell>"
        for cell in cells
    )
    return f'<table:table-row table:number-rows-repeated="{down}">{made}</table:table-row>'
