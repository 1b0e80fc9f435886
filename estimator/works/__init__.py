"""The works: when they are done, by what sheet, what was built, and what it took."""
