"""The works on the desk: planned, done, noted, and what they took."""
