"""Traces a crack by clicks; between them it follows the joints, or cuts bricks."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class CrackTool(Tool):
    """Traces a crack by clicks; between them it follows the joints, or cuts bricks."""

    name = "crack"
