"""Marks cracked bricks by click or by stroke."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class BrickTool(Tool):
    """Marks cracked bricks by click or by stroke."""

    name = "brick"
