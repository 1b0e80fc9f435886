"""Draws an area to repoint: a panel, out to the openings, or freehand."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class AreaTool(Tool):
    """Draws an area to repoint: a panel, out to the openings, or freehand."""

    name = "area"
