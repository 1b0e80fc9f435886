"""Sets, moves, lengthens and leaves out bars by hand."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class BarTool(Tool):
    """Sets, moves, lengthens and leaves out bars by hand."""

    name = "bar"
