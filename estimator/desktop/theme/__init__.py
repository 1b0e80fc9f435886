"""Colours, type, shapes and icons: the one place that says how the desk looks."""
