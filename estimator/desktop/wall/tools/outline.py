"""Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

from __future__ import annotations

from estimator.desktop.wall.tools.tool import Tool


class WallTool(Tool):
    """Draws the outline: pull its sides and corners, its gable, its ground and damp course."""

    name = "wall"
