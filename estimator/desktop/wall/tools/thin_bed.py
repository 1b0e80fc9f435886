"""Marks where a bed is thin by a stroke along it."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class ThinBedTool(Tool):
    """Marks where a bed is thin by a stroke along it."""

    name = "thin_bed"
