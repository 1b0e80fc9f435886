"""Exact numbers of whatever is selected on the wall, below the board."""
