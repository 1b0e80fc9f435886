"""Type that is read at arm's length, in poor light and with dust on the glasses."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from estimator.documents import styles


@dataclass(frozen=True, slots=True)
class Large:
    """Every style of the papers read on site."""

    alert: ParagraphStyle
    alert_under: ParagraphStyle
    title: ParagraphStyle
    cell: ParagraphStyle
    cell_right: ParagraphStyle
    cell_strong: ParagraphStyle
    text: ParagraphStyle
    """Sentences, which are read standing still."""
    text_strong: ParagraphStyle
    quiet: ParagraphStyle
    head: ParagraphStyle
    head_right: ParagraphStyle


@lru_cache(maxsize=2)
def cells(*, is_large: bool) -> Large:
    """Return the styles of a grid: larger where it is read at arm's length."""
    look = styles.sheet()
    size, leading = (12.5, 16.0) if is_large else (10.0, 13.0)
    read = (10.75, 13.5) if is_large else (10.0, 13.0)

    def like(name: str, size: float, leading: float, **changes: Any) -> ParagraphStyle:
        return ParagraphStyle(name, parent=look.body, fontSize=size, leading=leading, **changes)

    bold: dict[str, Any] = {"fontName": styles.SEMIBOLD}
    quiet: dict[str, Any] = {"textColor": styles.MUTED}
    return Large(
        alert=like("alert", 16, 20, textColor=styles.PAPER, **bold),
        alert_under=like("alert_under", 11.5, 15, textColor=styles.PAPER),
        title=like("large_title", 15, 19, **bold) if is_large else look.title,
        cell=like("large_cell", size, leading),
        cell_right=like("large_right", size, leading, alignment=TA_RIGHT),
        cell_strong=like("large_strong", size, leading, **bold),
        text=like("large_text", *read),
        text_strong=like("large_text_strong", *read, **bold),
        quiet=like("large_quiet", 10.5 if is_large else styles.SMALL, 13.0, **quiet),
        head=like("large_head", styles.SMALL, 11.5, **quiet),
        head_right=like("large_head_right", styles.SMALL, 11.5, alignment=TA_RIGHT, **quiet),
    )
