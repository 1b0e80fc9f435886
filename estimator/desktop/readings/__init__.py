"""Readings of a crack that is being watched."""
