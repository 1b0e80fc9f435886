"""The middle column: the wall, drawn live from what is known."""
