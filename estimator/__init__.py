"""Perpend measures, prices and quotes the repair of cracked brickwork."""

__version__ = "0.1.0"
