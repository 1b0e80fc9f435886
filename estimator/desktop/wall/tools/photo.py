"""Marks known points on a photograph, so that it lies square under the drawing."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class PhotoTool(Tool):
    """Marks known points on a photograph, so that it lies square under the drawing."""

    name = "photo"
