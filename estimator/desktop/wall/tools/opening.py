"""Draws openings: drag a box for a window, a door or a vent."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class OpeningTool(Tool):
    """Draws openings: drag a box for a window, a door or a vent."""

    name = "opening"
